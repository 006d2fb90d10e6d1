"""What stands on paper: lines, areas, lettering, dimensions, views and page frames. No PDF in here.

Paper coordinates everywhere: millimetres, origin at the bottom left of the page, y up. A drawing is an
immutable tuple of marks; it can be measured, shifted and checked before anything is written.
"""
