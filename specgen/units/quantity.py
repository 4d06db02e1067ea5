"""Quantities: a number with its unit, read from what people write or built from numbers.

One table (:mod:`specgen.units.table`) holds the units. Where one spelling belongs to several dimensions
(``lb``, ``%``, ``K``, ``°F``) the dimensions that the caller accepts decide.
"""

from __future__ import annotations

import math
import re
from collections.abc import Collection
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import cached_property, lru_cache

from specgen.units.errors import QuantityError, article, comma_error, how_to_write, shown, unknown_unit
from specgen.units.spelling import AT, candidates, fraction, join_unit, plain, units_of
from specgen.units.table import BASES, Unit

__all__ = [
    "Quantity",
    "QuantityError",
    "accepted_units",
    "dimensions",
    "exactly",
    "from_si",
    "parse",
    "quantity",
    "to_unit",
]

LONGEST = 120
ABSOLUTE_ZERO = Fraction("-273.15")  # °C, by the definition of the degree Celsius

NUMBER = (
    r"[+-]?(?:[0-9]+[ -][0-9]+ ?/ ?[0-9]+|[0-9]+ ?/ ?[0-9]+|(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?)"
)
_NUMBER = re.compile(NUMBER)
_MIXED = re.compile(r"([+-]?)(?:([0-9]+)[ -])?([0-9]+) ?/ ?([0-9]+)")
_COMMA = re.compile(r"[+-]?[0-9]+(?:,[0-9]+)+(?:\.[0-9]+)?")
FEET_AND_INCHES = re.compile(
    r"([+-]?)([0-9]+) ?(?:'|ft\.?|feet|foot)[ -]{0,3}"
    r"([0-9]+[ -][0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]+\.?[0-9]*) ?(?:\"|''|inches|inch|in\.?)",
    re.IGNORECASE,
)
_R_VALUE = re.compile(r"R[ -]?([0-9]+\.?[0-9]*)")

_RAISED_NUMBER = re.compile(r"(?<![A-Za-zµ)⁻])[¹²³⁻₂]")  # behind a number: a mark of a footnote, or a power

_NOT_FINITE = re.compile(r"[+-]?(?:∞|\.?(?:nan|inf(?:inity)?)\b)", re.IGNORECASE)


@dataclass(frozen=True)
class Quantity:
    """A number with its unit.

    ``value`` is in the SI base of ``dimension``, ``number`` in ``unit``. ``text`` is what was written with
    its spaces normalised. ``condition`` is the state the number was found at ("at 75 Pa"). ``nominal`` are the values
    that the trade writes for this one in the other language of units: 300 mm beside 12 in, the first to print.
    """

    value: float
    dimension: str
    number: float
    unit: str
    text: str
    condition: Quantity | None = None
    nominal: tuple[Quantity, ...] = ()
    typed: Fraction | None = field(default=None, compare=False, repr=False)  # the number as it was written

    @cached_property
    def exact(self) -> Fraction:
        """The value in the SI base as a rational number: comparisons with a limit are made with it.

        A quantity that nobody typed is the shorter of its number and its value in the SI base, as decimals.

        >>> parse("3/16 in").exact == parse("4.7625 mm").exact, from_si(0.0254 * 3, "length").exact
        (True, Fraction(381, 5000))
        """
        return _exact(self.typed, self.number, self.value, row_of(self))


def dimensions() -> tuple[str, ...]:
    """Return the names of all dimensions."""
    return tuple(BASES)


def accepted_units(dimension: str) -> tuple[str, ...]:
    """Return the unit symbols of a dimension, inch-pound units first.

    >>> accepted_units("rainfall intensity")
    ('in/h', 'mm/h')
    """
    return tuple(unit.symbol for unit in units_of(dimension))


def parse(text: object, accept: Collection[str] | None = None) -> Quantity:
    """Read a quantity as the trade writes it.

    Parameters: ``text`` is a text, or a number without a unit. ``accept`` holds the names of the dimensions
    that may come back; None accepts all, and then a spelling that belongs to several means the first of
    mass, ratio, temperature, angle, mass per area.

    Returns the quantity. Raises QuantityError where the text is no quantity or of another dimension, and
    ValueError where ``accept`` names an unknown dimension.

    Validity: at most 120 characters, finite numbers, temperatures above absolute zero, a length in feet
    and inches with fewer than 12 inches. Commas in numbers are refused.

    >>> parse("3/16 in").value
    0.0047625
    >>> parse("0.004 cfm/ft² @ 75 Pa").condition.number
    75.0
    >>> parse("2 %", {"slope"}).value
    0.02
    >>> parse("10 perm", {"length"})
    Traceback (most recent call last):
    specgen.units.errors.QuantityError: `10 perm` is a vapor permeance; write a length: in, ft, mm, m
    """
    allowed = None if accept is None else frozenset((accept,) if isinstance(accept, str) else accept)
    for name in allowed or ():
        units_of(name)
    if isinstance(text, str):
        return _parse_text(text, allowed)
    if isinstance(text, bool) or not isinstance(text, (int, float)):
        raise QuantityError(f"`{shown(str(text))}` is not a quantity", how_to_write(allowed))
    if isinstance(text, int) and abs(text) >= 10**LONGEST:
        raise QuantityError(
            f"a whole number of more than {LONGEST} digits is no quantity", "write a smaller number"
        )
    written = repr(text)
    return _build(_finite(written, written), "", written, allowed)


def quantity(number: float, unit: str) -> Quantity:
    """Build a quantity from a number and a unit symbol.

    >>> quantity(0.1875, "in").text
    '3/16 in'
    """
    if not math.isfinite(number):
        raise QuantityError(f"`{number}` is not a finite number", "write a finite number")
    row = _choose(unit, None, unit)
    return _make(float(number), row, _built_text(float(number), row))


def from_si(value: float, dimension: str, unit: str | None = None) -> Quantity:
    """Build a quantity from a value in the SI base; without ``unit`` in the first inch-pound unit.

    ``number`` is kept to 12 significant digits, so that 0.0254 m is 1 in and not 0.9999999999999999 in.

    >>> from_si(0.0254, "length").text
    '1 in'
    """
    if not math.isfinite(value):
        raise QuantityError(f"`{value}` is not a finite number", "give a finite value")
    row = units_of(dimension)[0] if unit is None else _choose(unit, frozenset((dimension,)), unit)
    number = float(f"{number_in(value, row):.12g}")
    made = _make(number, row, _built_text(number, row))
    return Quantity(value, dimension, number, made.unit, made.text)


def exactly(value: Fraction, like: Quantity) -> Quantity:
    """Build a quantity from an exact value in the SI base, as a sum of typed ones, in the unit of one of them.

    >>> exactly(parse("12 in").exact - parse("50.8 mm").exact, parse("12 in")).text
    '10 in'
    """
    row = row_of(like)
    typed = value / row.exact + Fraction(str(row.offset))
    return _make(float(typed), row, _built_text(float(typed), row), typed)


def to_unit(q: Quantity, unit: str) -> float:
    """Return the number of a quantity in another unit of its dimension; another dimension raises.

    >>> round(to_unit(parse("3/16 in"), "mm"), 4)
    4.7625
    """
    if unit == q.unit:
        return q.number
    row = _choose(unit, frozenset((q.dimension,)), unit)
    return number_in(q.value, row)


def number_in(value: float, row: Unit) -> float:
    """Return a value in the SI base as a number in the unit of a table row."""
    if row.tangent:
        return _snap(math.atan(value) / row.factor)
    return _snap(value / row.factor + row.offset)


def _snap(value: float) -> float:
    """Drop the last binary noise, so that 8 in and 203.2 mm have one value and a limit is met exactly."""
    return float(f"{value:.14g}")


def row_of(q: Quantity) -> Unit:
    """Return the table row of the unit in which a quantity was written."""
    return _row(q.dimension, q.unit)


@lru_cache(maxsize=1024)
def _row(dimension: str, symbol: str) -> Unit:
    return next(row for row in units_of(dimension) if row.symbol == symbol)


def _exact(typed: Fraction | None, number: float, value: float, row: Unit) -> Fraction:
    if row.tangent:  # the tangent of a written angle is no rational number
        return Fraction(f"{value:.12g}")
    if typed is None:
        short, base = f"{number:.12g}", f"{value:.12g}"
        if len(base.strip("-0.")) < len(short.strip("-0.")):
            return Fraction(base)
        typed = Fraction(short)
    return (typed - Fraction(str(row.offset)) if row.offset else typed) * row.exact


def read_number(text: str) -> Fraction:
    """Read a number in the grammar ``NUMBER``: integer, decimal, fraction, mixed number."""
    mixed = _MIXED.fullmatch(text)
    if mixed is None:
        return Fraction(text)
    whole, over, under = int(mixed[2] or 0), int(mixed[3]), int(mixed[4])
    if under == 0:
        raise QuantityError(f"`{text}` divides by zero", "correct the fraction")
    if mixed[2] and over >= under:
        raise QuantityError(
            f"`{text}` carries a fraction of one or more", "write the whole number and the rest"
        )
    size = whole + Fraction(over, under)
    return -size if mixed[1] == "-" else size


@lru_cache(maxsize=4096)
def _parse_text(text: str, accept: frozenset[str] | None) -> Quantity:
    if len(text) > LONGEST:
        raise QuantityError(
            f"`{shown(text)}` is longer than {LONGEST} characters", "write one number and one unit"
        )
    written = " ".join(text.split())
    if not written:
        raise QuantityError("an empty text is no quantity", how_to_write(accept))
    if _RAISED_NUMBER.search(text):
        raise QuantityError(
            f"`{shown(written)}` holds a raised or lowered digit that no unit carries",
            "write the number alone, a power of ten like 2e-5",
        )
    parts = AT.split(plain(text))
    if len(parts) > 2:
        raise QuantityError(f"`{shown(written)}` states more than one condition", "write one `at`")
    main = _parse_plain(parts[0].strip(), written, accept)
    if len(parts) == 1:
        return main
    condition = _parse_plain(parts[1].strip(), parts[1].strip(), None)
    if condition.dimension == "number":
        raise QuantityError(
            f"the condition `{shown(parts[1])}` has no unit", "write its unit, such as `at 75 Pa`"
        )
    return replace(main, condition=condition)


def _parse_plain(text: str, written: str, accept: frozenset[str] | None) -> Quantity:
    """Read a normalised text without a condition."""
    feet = FEET_AND_INCHES.fullmatch(text)
    if feet is not None:
        return _build(_inches(feet, written), "in", written, accept)
    r_value = _R_VALUE.fullmatch(text)
    if r_value is not None:
        return _build(Fraction(r_value[1]), "h·ft2·F/Btu", written, accept)
    number = _NUMBER.match(text)
    comma = _COMMA.match(text)
    if comma is not None:
        raise comma_error(comma[0], written)
    if number is None:
        if _NOT_FINITE.match(text):
            raise QuantityError(f"`{shown(written)}` is not a finite number", "write a finite number")
        raise QuantityError(f"`{shown(written)}` does not start with a number", how_to_write(accept))
    rest = text[number.end() :].strip()
    value = _finite(number[0], written)
    if rest.startswith(":"):
        return _rise_to_run(value, rest[1:].strip(), written, accept)
    _refuse_second_number(rest, written)
    return _build(value, rest, written, accept)


def _refuse_second_number(rest: str, written: str) -> None:
    """Refuse ranges and spaced thousands; the one of the unit ``1/K`` is no second number."""
    if re.match(r"(?!1/[A-Za-z°])-? ?[0-9]+|to [0-9]|\.+ ?[0-9]", rest):
        raise QuantityError(
            f"`{shown(written)}` holds more than one number", "write one number without spaces, and no range"
        )


def _inches(feet: re.Match[str], written: str) -> Fraction:
    inches = read_number(feet[3])
    if inches >= 12:
        raise QuantityError(
            f"`{shown(written)}` has 12 inches or more after the feet", "carry them into feet"
        )
    size = int(feet[2]) * 12 + inches
    return -size if feet[1] == "-" else size


def _rise_to_run(rise: Fraction, run: str, written: str, accept: frozenset[str] | None) -> Quantity:
    if not _NUMBER.fullmatch(run):
        raise QuantityError(f"`{shown(written)}` has no number after the colon", "write it like 1/4:12")
    length = _finite(run, written)
    if length <= 0:
        raise QuantityError(f"`{shown(written)}` divides by zero or less", "write a run above zero")
    if length == 12 and (accept is None or "slope" in accept):
        return _build(rise, ":12", written, accept)
    return _build(rise / length, ":1", written, accept)


def _finite(number: str, written: str) -> Fraction:
    """The number of a text; what no float holds is refused before it becomes a fraction of as many digits."""
    if _MIXED.fullmatch(number):
        return read_number(number)
    size = float(number)
    if not math.isfinite(size):
        raise QuantityError(f"`{shown(written)}` is not a finite number", "write a finite number")
    if size == 0.0:
        if re.search("[1-9]", re.split("[eE]", number)[0]):
            raise QuantityError(f"`{shown(written)}` is too small to convert", "write 0, or a larger number")
        return Fraction(0)
    return Fraction(number)


def _build(number: Fraction, unit: str, written: str, accept: frozenset[str] | None) -> Quantity:
    row = _choose(unit, accept, written)
    if row.dimension == "ratio" and row.symbol == "" and abs(number) > 1:
        raise QuantityError(
            f"`{shown(written)}` is a ratio above 1",
            f"write a percentage or a fraction of one, such as {float(number):g} %",
        )
    return _make(_as_float(number, written), row, written, number)


def _as_float(number: Fraction, written: str) -> float:
    try:
        return float(number)
    except OverflowError:
        raise QuantityError(f"`{shown(written)}` is too large to convert", "write a smaller number") from None


def _make(number: float, row: Unit, text: str, typed: Fraction | None = None) -> Quantity:
    if row.tangent:
        if abs(number) >= 90:
            raise QuantityError(f"`{shown(text)}` is no slope", "write an angle below 90 deg")
        value = math.tan(number * row.factor)
    else:
        value = _snap((number - row.offset) * row.factor)
    if not math.isfinite(value):
        raise QuantityError(f"`{shown(text)}` is too large to convert", "write a smaller number")
    made = Quantity(value, row.dimension, number, row.symbol, text, typed=typed)
    if row.dimension == "temperature" and made.exact < ABSOLUTE_ZERO:
        raise QuantityError(
            f"`{shown(text)}` is below absolute zero",
            "write a temperature above -459.67 degF (-273.15 degC)",
        )
    return made


def _choose(spelling: str, accept: frozenset[str] | None, written: str) -> Unit:
    """Return the row a spelling means among the accepted dimensions; raises QuantityError."""
    found = candidates(spelling)
    for row in found:
        if accept is None or row.dimension in accept:
            return row
    if not found:
        raise unknown_unit(spelling, written, accept)
    if found[0].dimension == "number":
        raise QuantityError(f"`{shown(written)}` has no unit", how_to_write(accept))
    raise QuantityError(f"`{shown(written)}` is {article(found[0].dimension)}", how_to_write(accept))


def _built_text(number: float, row: Unit) -> str:
    sixteenths = number * 16
    if row.symbol in ("in", "in/ft", ":12") and sixteenths == round(sixteenths) and abs(number) < 1e6:
        return join_unit(fraction(round(sixteenths)), row.symbol)
    return join_unit(f"{number:.12g}", row.symbol)
