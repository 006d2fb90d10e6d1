"""What the site's keys come to. Metres per second, newtons, kilograms, degrees Celsius; lengths in mm."""

from __future__ import annotations

from dataclasses import dataclass

from packet.description.terms import Compass, Grip, Harm


@dataclass(frozen=True, slots=True)
class Wind:
    """What the wind loads rest on. `speed` in m/s, `anchor_capacity` in N; the rest are plain factors."""

    speed: float
    terrain: int | None
    exposure: float
    drag: float
    uplift: float
    uplift_open: float
    friction: float
    load_factor: float
    weight_factor: float
    anchor_capacity: float | None
    wet_factor: float
    strike_share: float


@dataclass(frozen=True, slots=True)
class Lift:
    """A lift: hands `reach` mm before the ankles, from `height` up by `travel`, turned by `turn` degrees."""

    reach: float
    height: float
    travel: float
    turn: float
    per_minute: float
    hours: float
    grip: Grip


@dataclass(frozen=True, slots=True)
class Air:
    """`fresh` in m3/s for each person, `warmer` in K."""

    people: int
    fresh: float
    warmer: float
    discharge: float


@dataclass(frozen=True, slots=True)
class Taping:
    """`least` in degrees Celsius, `spread` in K."""

    least: float
    spread: float


@dataclass(frozen=True, slots=True)
class Passage:
    """A clear opening (width, height) and the length behind it, mm; None where that is not given."""

    name: str
    opening: tuple[float, float]
    length: float | None


@dataclass(frozen=True, slots=True)
class Transport:
    """Every opening on the way."""

    openings: tuple[Passage, ...]


@dataclass(frozen=True, slots=True)
class Site:
    """Distances in mm; `conductivity` in W/(m K), masses of tape in kg/m2; `wind_from` and `uphill` None where the
    project does not say."""

    ground_sheet: float
    stake_out: float
    trench: float
    wind_from: Compass | None
    uphill: Compass | None
    inspect_days: int
    conductivity: float
    strapping_mass: float
    foil_mass: float


@dataclass(frozen=True, slots=True)
class Caution:
    """A safety message of the project's own."""

    hazard: str
    consequence: str
    avoid: str
    harm: Harm
    certain: bool = False


@dataclass(frozen=True, slots=True)
class Cautions:
    """Messages that come on top of those of the packet."""

    extra: tuple[Caution, ...]
