"""Sheet numbers, as the sheets use them. The work names sheets too and stands to the left, so they live there."""

from __future__ import annotations

from packet.work.sheet_numbers import binding_order, board_sheet, sheet_number, snap_tables_sheet

__all__ = ["binding_order", "board_sheet", "sheet_number", "snap_tables_sheet"]
