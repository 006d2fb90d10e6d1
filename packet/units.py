"""Lengths, masses and angles: parse what people write, format what people read.

Inside the program every length is in millimetres, every mass in kilograms, every angle in degrees.
Numbers are rounded here, when they are formatted, and nowhere else. Inch sizes are exact (25.4 mm).
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from enum import StrEnum
from fractions import Fraction

INCH = 25.4
FOOT = 304.8
YARD = 914.4
POUND = 0.45359237  # kg, exact (international avoirdupois pound)
POUND_PER_CUBIC_FOOT = POUND / (FOOT / 1000) ** 3  # kg/m3
GRAVITY = 9.80665  # m/s2, exact (standard gravity)
POUND_FORCE = POUND * GRAVITY  # N, exact
MILE_PER_HOUR = 0.44704  # m/s, exact
FAHRENHEIT_STEP = 5 / 9  # K, exact
CUBIC_FOOT_PER_MINUTE = (FOOT / 1000) ** 3 / 60  # m3/s
SQUARE_FOOT = (FOOT / 1000) ** 2  # m2
BTU_INCH = 0.1442279  # W/(m K) of 1 BTU in/(h ft2 F), international table BTU (from memory of the SI guides)

#: A float divided by 25.4 can land a hair below a tie or a print step; this puts it back.
_NOISE = 1e-9


class System(StrEnum):
    """The unit system of one project file and of the packet printed from it."""

    INCH = "in"
    METRIC = "mm"


class LengthError(ValueError):
    """A text that is not a length. `wrong` says why, `remedy` what to write instead."""

    def __init__(self, wrong: str, remedy: str) -> None:
        super().__init__(f"{wrong}; {remedy}")
        self.wrong = wrong
        self.remedy = remedy


# --- reading -----------------------------------------------------------------------------------

_UNITS: dict[str, Fraction] = {
    name: Fraction(size)
    for names, size in (
        (("in", "in.", "inch", "inches", '"'), "25.4"),
        (("ft", "ft.", "foot", "feet", "'"), "304.8"),
        (("yd", "yd.", "yard", "yards"), "914.4"),
        (("mm",), "1"),
        (("cm",), "10"),
        (("m",), "1000"),
    )
    for name in names
}
_METRIC_NAMES = frozenset({"mm", "cm", "m"})
_LONGEST_TEXT = 40
_LARGEST = 1e6  # mm, one kilometre: no roll, board or sheet comes near it

_LOOKALIKES = str.maketrans(
    dict.fromkeys("\u2033\u201d\u201c\u201e", '"')  # double prime and double quotation marks
    | dict.fromkeys("\u2032\u2019\u2018\u00b4`", "'")  # prime, single quotation marks, accents
    | dict.fromkeys("\u2013\u2011\u2212", "-")  # en dash, non-breaking hyphen, minus sign
    | dict.fromkeys("\u2044\u2215", "/")  # fraction slash, division slash
    | dict.fromkeys("\u00a0\u202f\u2009\t", " ")  # spaces that do not break, thin space
    | {"\u00d7": "x"}  # multiplication sign
)
_VULGAR = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
    "⅓": "1/3", "⅔": "2/3",
}  # fmt: skip

_NUMBER = r"(?:\d+\s*-\s*\d+\s*/\s*\d+|\d+\s+\d+\s*/\s*\d+|\d+\s*/\s*\d+|\d+(?:[.,]\d+)?|[.,]\d+)"
_SINGLE = re.compile(rf"(?P<number>{_NUMBER})\s*(?P<unit>[a-z]+\.?|\"|')?")
_FEET_INCHES = re.compile(
    rf"(?P<feet>{_NUMBER})\s*(?:ft\.?|foot|feet|')\s*-?\s*(?P<inches>{_NUMBER})\s*(?:in\.?|inch|inches|\")?"
)
_MIXED = re.compile(r"(?:(?P<whole>\d+)[\s-]+)?(?P<top>\d+)/(?P<bottom>\d+)")
_EXAMPLES = {
    System.INCH: "write it as 24, 2-1/2, 4' 2-1/2\" or 600 mm",
    System.METRIC: "write it as 600, 62.5, 1.2 m or 2-1/2 in",
}


def parse_length(value: str | float, bare: str) -> float:
    """The length in mm of what a person wrote; `bare` ("in" or "mm") is the unit of a bare number.

    Reads decimals, fractions, mixed numbers, feet with inches, and the units in, ft, yd, mm, cm, m.
    Never negative, never above one kilometre. Raises LengthError.
    """
    system = System(bare)
    examples = _EXAMPLES[system]
    text = _tidy(value)
    if not text:
        raise LengthError("there is no length here", examples)
    if len(text) > _LONGEST_TEXT:
        raise LengthError(f"this is too long for a length ({len(text)} characters)", examples)
    if text in ("nan", ".nan", "inf", ".inf", "-inf", "-.inf", "+inf", "infinity"):
        raise LengthError("this is not a number", examples)
    if re.fullmatch(r"[-+]?[\d.,]+e[-+]?\d+.*", text):
        raise LengthError("a length is not written with an exponent", examples)
    if text.startswith("-"):
        raise LengthError("a length is never negative", "write it without the minus sign")
    mm = _in_millimetres(text, system, examples)
    if mm > _LARGEST:
        raise LengthError("this length is more than a kilometre", examples)
    return float(mm)


def _tidy(value: str | float) -> str:
    text = str(value).translate(_LOOKALIKES)
    for sign, fraction in _VULGAR.items():
        text = re.sub(rf"(?<=\d)-?{sign}", f" {fraction}", text).replace(sign, fraction)
    return re.sub(r" +", " ", text.replace("''", '"')).strip().lower()


def _in_millimetres(text: str, system: System, examples: str) -> Fraction:
    if pair := _FEET_INCHES.fullmatch(text):
        feet = _number(pair["feet"], False, examples)
        inches = _number(pair["inches"], False, examples)
        if feet.denominator != 1:
            raise LengthError("the feet in feet and inches must be a whole number", examples)
        if inches >= 12:
            raise LengthError("there are 12 or more inches after the feet", "carry them into the feet")
        return feet * _UNITS["ft"] + inches * _UNITS["in"]
    single = _SINGLE.fullmatch(text)
    if single is None:
        raise LengthError("this is not a length", examples)
    unit = single["unit"] or str(system)
    if unit not in _UNITS:
        raise LengthError(f"'{unit}' is not a unit that is known here", "use in, ft, yd, mm, cm or m")
    return _number(single["number"], unit in _METRIC_NAMES, examples) * _UNITS[unit]


def _number(text: str, comma_is_decimal: bool, examples: str) -> Fraction:
    text = re.sub(r"\s*([/-])\s*", r"\1", text)
    if mixed := _MIXED.fullmatch(text):
        bottom = int(mixed["bottom"])
        if bottom == 0:
            raise LengthError("the fraction has 0 below the line", examples)
        part = Fraction(int(mixed["top"]), bottom)
        if mixed["whole"] and part >= 1:
            raise LengthError("the fraction after the whole number is not less than one", examples)
        return int(mixed["whole"] or 0) + part
    if "," in text:
        if not comma_is_decimal:
            raise LengthError("a comma is not used in inches and feet", "write a decimal point")
        if re.fullmatch(r"[1-9]\d{0,2},\d{3}", text):
            whole, rest = text.split(",")
            raise LengthError("the comma could mean a decimal or thousands", f"write {whole}{rest} or {whole}.{rest}")
    return Fraction(text.replace(",", "."))


def parse_size(value: str | float, bare: str) -> tuple[float, ...]:
    """The lengths in mm of a size such as `48 x 96` or `1.2 x 2.4 m`, in the order written.

    One unit at the very end counts for all. Raises LengthError, also where only the first has a unit.
    """
    parts = [part.strip() for part in re.split(r"\s*(?:x|\bby\b)\s*", _tidy(value))]
    if len(parts) < 2 or not all(parts):
        raise LengthError("this is not a size", f"write it as {'48 x 96' if bare == 'in' else '1200 x 2400'}")
    units = [_unit_of(part) for part in parts]
    if units[-1] and not any(units[:-1]):
        parts = [f"{part} {units[-1]}" for part in parts[:-1]] + parts[-1:]
    elif any(units) and not all(units):
        raise LengthError("some of these lengths have a unit and some have none", "write the unit once, at the end")
    return tuple(parse_length(part, bare) for part in parts)


def _unit_of(part: str) -> str:
    found = re.search(r"([a-z]+\.?|\"|')$", part)
    return found[1] if found else ""


def celsius(degrees: float, system: System) -> float:
    """A temperature written in the degrees of a unit system (Fahrenheit in an inch project), in degrees Celsius."""
    return degrees if system is System.METRIC else (degrees - 32) * FAHRENHEIT_STEP


# --- rounding ----------------------------------------------------------------------------------


def nearest_fraction(x: float, denominator: int) -> tuple[int, int, int]:
    """`x` to the nearest 1/denominator, ties away from zero: whole, numerator, denominator, reduced.

    x = whole + numerator/denominator, so whole and numerator both carry the sign of x.
    """
    sign = -1 if x < 0 else 1
    count = math.floor(abs(x) * denominator + 0.5 + _NOISE)
    whole, rest = divmod(count, denominator)
    part = Fraction(rest, denominator)
    return sign * whole, sign * part.numerator, part.denominator


def print_step(system: System) -> float:
    """The least step of a printed cutting length in mm: 1/16 in, or 1 mm."""
    return INCH / 16 if system is System.INCH else 1.0


def floor_to(mm: float, system: System) -> float:
    """`mm` rounded DOWN to the print step; what lies within 1e-6 in below a step counts as on it."""
    step = print_step(system)
    return math.floor((mm + 1e-6 * INCH) / step) * step


def ceil_to(mm: float, system: System) -> float:
    """`mm` rounded UP to the print step; what lies within 1e-6 in above a step counts as on it."""
    step = print_step(system)
    return math.ceil((mm - 1e-6 * INCH) / step) * step


def cascade_parts(value: float, factors: Sequence[int], denominator: int) -> tuple[tuple[int, ...], Fraction]:
    """Split a value that is not negative into whole units, each `factors[i]` times finer than the one before.

    The value is in the first unit times `factors[0]`; the last unit is rounded to 1/denominator and
    carries upwards. Returns the whole counts and the fraction of the last unit.
    """
    finest = value * math.prod(factors)
    whole, top, bottom = nearest_fraction(finest, denominator)
    counts: list[int] = []
    for factor in reversed(factors[1:]):
        whole, rest = divmod(whole, factor)
        counts.append(rest)
    counts.append(whole)
    return tuple(reversed(counts)), Fraction(top, bottom)


def cascade(value: float, steps: Sequence[tuple[str, int]], denominator: int) -> str:
    """The number-format cascade of ISO 32000-2, 12.9.2: 1.4505 mi -> `1 mi 2,378 ft 7 5/8 in`.

    `steps` are (label, factor) from coarse to fine. Leading units that are zero are left out.
    """
    counts, part = cascade_parts(abs(value), [factor for _, factor in steps], denominator)
    texts: list[str] = []
    last = len(steps) - 1
    for place, (label, _) in enumerate(steps):
        if counts[place] == 0 and not texts and place < last:
            continue
        number = f"{counts[place]:,}"
        if place == last and part:
            number = f"{number} {part}" if counts[place] else str(part)
        texts.append(f"{number} {label}")
    sign = "-" if value < 0 and (any(counts) or part) else ""
    return sign + " ".join(texts)


# --- formatting --------------------------------------------------------------------------------


def fixed(x: float, places: int) -> str:
    """`x` with a fixed number of decimals, ties away from zero, never `-0`."""
    rounded = Decimal(repr(round(x, 9))).quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_UP)
    return f"{abs(rounded) if rounded == 0 else rounded:f}"


@dataclass(frozen=True, slots=True)
class Format:
    """How one packet writes its numbers; every sheet uses the one of its system and language.

    `point` stands between whole and decimals: a point or a comma on the line (ISO 80000-1).
    """

    system: System
    point: str = "."

    def fixed(self, x: float, places: int) -> str:
        """`x` with a fixed number of decimals, ties away from zero, never `-0`."""
        return self.pointed(fixed(x, places))

    def plain(self, x: float) -> str:
        """A number as the project file has it, without needless decimals: `1.5`, `24`."""
        return self.pointed(f"{x:g}")

    def pointed(self, written: str) -> str:
        """A number that is written with a point, with the sign of this packet."""
        return written.replace(".", self.point)

    @property
    def unit(self) -> str:
        """`in` or `mm`."""
        return str(self.system)

    def length(self, mm: float, halves: bool = False) -> str:
        """A cutting length without unit: `23-7/8` to 1/16 in, or whole mm.

        With `halves`, a metric value within 0.05 of a half millimetre keeps the half.
        """
        if self.system is System.METRIC:
            if halves and abs(abs(mm) % 1 - 0.5) <= 0.05 + _NOISE:
                return self.fixed(math.copysign(math.floor(abs(mm)) + 0.5, mm), 1)
            return self.fixed(mm, 0)
        whole, top, bottom = nearest_fraction(mm / INCH, 16)
        sign = "-" if whole < 0 or top < 0 else ""
        if not top:
            return f"{sign}{abs(whole)}"
        lead = f"{abs(whole)}-" if whole else ""
        return f"{sign}{lead}{abs(top)}/{bottom}"

    def length_unit(self, mm: float, halves: bool = False) -> str:
        """`23-7/8 in` or `600 mm`."""
        return f"{self.length(mm, halves)} {self.unit}"

    def length_both(self, mm: float, halves: bool = False) -> str:
        """The shop fraction and the decimal, `53-11/16 in (53.67)`; metric has one form only."""
        if self.system is System.METRIC:
            return self.length_unit(mm, halves)
        return f"{self.length_unit(mm)} ({self.decimal(mm)})"

    def decimal(self, mm: float) -> str:
        """Decimal without unit: two places of an inch, or one of a millimetre."""
        return self.fixed(mm, 1) if self.system is System.METRIC else self.fixed(mm / INCH, 2)

    def feet(self, mm: float) -> str:
        """A take-off length: `128.2 ft` or `39.1 m`."""
        return f"{self.fixed(mm / 1000, 1)} m" if self.system is System.METRIC else f"{self.fixed(mm / FOOT, 1)} ft"

    def feet_up(self, mm: float) -> str:
        """A length to buy, never rounded down: `128.3 ft` or `39.2 m`."""
        step = FOOT / 10 if self.system is System.INCH else 100.0
        return self.feet(math.ceil(mm / step - _NOISE) * step)

    def feet_inches(self, mm: float) -> str:
        """A large size: `4' 2-1/2"` to 1/16 in, or metres to the millimetre."""
        if self.system is System.METRIC:
            return f"{self.fixed(mm / 1000, 3)} m"
        (feet, inches), part = cascade_parts(abs(mm) / FOOT, (1, 12), 16)
        number = f"{inches}-{part}" if inches and part else str(part if part else inches)
        sign = "-" if mm < 0 and (feet or inches or part) else ""
        return f"{sign}{feet}' {number}\"" if feet else f'{sign}{number}"'

    def size(self, *lengths: float) -> str:
        """`48 x 96 x 1-1/2 in`."""
        return f"{' x '.join(self.length(mm) for mm in lengths)} {self.unit}"

    def area(self, m2: float) -> str:
        """`41.6 sq ft` or `3.9 m²`; under 0.05 m2 in `sq in` or `cm²`."""
        if self.system is System.METRIC:
            return f"{self.fixed(m2, 1)} m²" if abs(m2) >= 0.05 else f"{self.fixed(m2 * 1e4, 1)} cm²"
        if abs(m2) >= 0.05:
            return f"{self.fixed(m2 * 1e6 / FOOT**2, 1)} sq ft"
        return f"{self.fixed(m2 * 1e6 / INCH**2, 1)} sq in"

    def volume(self, m3: float) -> str:
        """`194.0 cu ft` or `5.5 m³`."""
        return f"{self.fixed(m3, 1)} m³" if self.system is System.METRIC else f"{self.fixed(m3 * 1e9 / FOOT**3, 1)} cu ft"

    def mass(self, kg: float) -> str:
        """`30.1 lb` or `13.6 kg`."""
        return f"{self.fixed(kg, 1)} kg" if self.system is System.METRIC else f"{self.fixed(kg / POUND, 1)} lb"

    def force(self, newton: float) -> str:
        """`52 lb` or `233 N`, rounded up, since it is what must be held."""
        if self.system is System.METRIC:
            return f"{math.ceil(newton - _NOISE)} N"
        return f"{math.ceil(newton / POUND_FORCE - _NOISE)} lb"

    def speed(self, metres_per_second: float) -> str:
        """`8.7 mph` or `3.9 m/s`."""
        if self.system is System.METRIC:
            return f"{self.fixed(metres_per_second, 1)} m/s"
        return f"{self.fixed(metres_per_second / MILE_PER_HOUR, 1)} mph"

    def pressure(self, pascal: float) -> str:
        """`2.3 lb/sq ft` or `110 Pa`."""
        if self.system is System.METRIC:
            return f"{self.fixed(pascal, 0)} Pa"
        return f"{self.fixed(pascal * SQUARE_FOOT / POUND_FORCE, 2)} lb/sq ft"

    def temperature(self, celsius: float) -> str:
        """`50 °F` or `10 °C`."""
        if self.system is System.METRIC:
            return f"{self.fixed(celsius, 0)} °C"
        return f"{self.fixed(celsius / FAHRENHEIT_STEP + 32, 0)} °F"

    def angle(self, degrees: float) -> str:
        """`151.0°`."""
        return f"{self.fixed(degrees, 1)}°"
