"""Keys of the project file on spoiled parts: what may be mended, and how. All of it assumptions."""

from typing import Annotated

from packet.description.kinds import Length, Number
from packet.description.section import Section


class Repair(Section):
    """What is still good when a part is spoiled."""

    free_gap: Annotated[float, Length(("0", "3"), ("0", "75"), ("3/4", "20"))]
    """How much wider the gap at a free edge, such as a door's, may become when a narrow leaf takes that place."""
    packer: Annotated[float, Length(("0", "3"), ("0", "75"), ("1", "25"))]
    """The widest packer that may be glued to a short edge; the strip must still reach well past it."""
    least_packer: Annotated[float, Length(("1/16", "2"), ("1", "50"), ("3/16", "5"))]
    """The narrowest packer that can be cut from a board."""
    glue_hold: Annotated[float, Number((1, 168), (1, 168), ("hours", "hours"), default=("24", "24"))]
    """How long a glued packer is left alone before the leaf is touched again, in hours."""
