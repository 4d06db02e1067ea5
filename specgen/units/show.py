"""Quantities printed the trade's way, in inch-pound units, in SI or in both.

A quantity whose unit belongs to the asked system keeps the number that was written; only its typography
changes. One that the trade writes for it in that system is printed in place of a converted one (300 mm for
12 in). A converted number is rounded to the coarsest step that stays within the unit's tolerance:

- two significant digits and as many more as bring the error to 2 % or less;
- mm: whole millimetres where that is within 5 %, tens above 1000 mm; m: within 1 %;
- inches from 1/8 in: sixteenths within 1 %, else decimals; feet: feet and whole inches within 1 %;
- temperatures: whole degrees; slope in %: whole percents within 5 %.

A test condition ("at 75 Pa") is printed as written in every system: it names the test. What a calculation starts from
("close") is converted to within 0.005 %, whatever its unit, so that a reader comes to the same result.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal
from fractions import Fraction
from functools import lru_cache
from typing import Literal, get_args

from specgen.units.compare import deciding, keeps
from specgen.units.quantity import (
    FEET_AND_INCHES,
    NUMBER,
    Quantity,
    number_in,
    parse,
    quantity,
    row_of,
)
from specgen.units.spelling import AT, fraction, join_unit, plain, units_of
from specgen.units.table import Unit

Rounding = Literal["nearest", "down", "up", "close"]
_ROUNDINGS = get_args(Rounding)

_MODES: dict[str, str] = {
    "nearest": ROUND_HALF_UP,
    "down": ROUND_FLOOR,
    "up": ROUND_CEILING,
    "close": ROUND_HALF_UP,
}
_CLOSE = 5e-5  # of a number that is calculated on with
_LARGE = 7  # powers of ten from which a number is written with one
_WRITTEN_DIGITS = 6  # nobody writes more: a longer number was computed, and is rounded

# The unit to convert to, by size: (symbol, from this size in the SI base). Below them all, and of zero: the first
# unit of the system.
_LADDERS: dict[tuple[str, str], tuple[tuple[str, float], ...]] = {
    ("length", "inch-pound"): (("ft", 1.2192),),
    ("length", "SI"): (("m", 3.0), ("mm", 1e-4), ("µm", 0.0)),
    ("area", "inch-pound"): (("ft2", 0.09290304), ("in2", 0.0)),
    ("area", "SI"): (("m2", 0.01), ("mm2", 0.0)),
    ("volume", "SI"): (("m3", 1.0), ("L", 0.0)),
    ("pressure", "inch-pound"): (("psi", 6894.0),),
    ("pressure", "SI"): (("MPa", 1e6), ("kPa", 1e3)),
    ("mass", "inch-pound"): (("lb", 0.45359237), ("oz", 0.0)),
    ("mass", "SI"): (("kg", 1.0), ("g", 0.0)),
    ("force", "SI"): (("kN", 1e3),),
    ("line load", "SI"): (("kN/m", 1e3),),
    ("moment per length", "SI"): (("kN·m/m", 100.0),),
    ("mass per area", "inch-pound"): (("lb/ft2", 4.882), ("oz/ft2", 0.0)),
    ("mass per area", "SI"): (("kg/m2", 1.0), ("g/m2", 0.0)),
}
# Units with a customary partner that goes before the ladder: peel is read in lbf/in and N/mm, film in mils.
_PARTNERS: dict[tuple[str, str], str] = {
    ("µm", "inch-pound"): "mil",
    ("lbf/in", "SI"): "N/mm",
    ("N/mm", "inch-pound"): "lbf/in",
    ("m3/h", "inch-pound"): "cfm",
    ("m3/s", "inch-pound"): "cfm",
    ("g/m2", "inch-pound"): "gr/ft2",
    ("oz/yd2", "SI"): "g/m2",
    ("lb/yd2", "SI"): "kg/m2",
    ("ksi", "SI"): "MPa",
}
# (coarsest step as a power of ten, tolerance); a unit without a row: two significant digits, 2 %.
_STEPS: dict[tuple[str, str], tuple[int, float]] = {
    ("length", "mm"): (0, 0.05),
    ("length", "m"): (-1, 0.01),
    ("temperature", "degF"): (0, math.inf),
    ("temperature", "degC"): (0, math.inf),
    ("temperature", "K"): (0, math.inf),
    ("temperature difference", "deltaF"): (0, 0.02),
    ("temperature difference", "deltaC"): (0, 0.02),
    ("temperature difference", "K"): (0, 0.02),
    ("slope", "%"): (0, 0.05),
}
# Water in a wall, as much as no instrument tells from none.
_NOTICED = {"gr/ft2": 0.01, "g/m2": 0.01, "gr/(h·ft2)": 0.01, "g/(m2·h)": 0.01}
_PRINTED = {
    "degF": "°F",
    "degC": "°C",
    "deltaF": "°F",
    "deltaC": "°C",
    "deg": "°",
    "kg/(m2·s0.5)": "kg/(m²·√s)",
}
_PRINTED |= {"kg/(m2·h0.5)": "kg/(m²·√h)", "inH2O": "in H₂O", "inHg": "in Hg"}
_SUPERSCRIPT = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")
_PLAIN = str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789")
_POWER_OF_TEN = re.compile("(?<=[0-9]) × 10([⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+)")


def show(q: Quantity, system: str = "inch-pound", rounding: Rounding = "nearest") -> str:
    """Print a quantity.

    Parameters: ``system`` is ``inch-pound``, ``SI`` or ``both`` (inch-pound first, SI in brackets).
    ``rounding`` turns a converted number up (for a minimum), down (for a maximum) or to the nearest step,
    so that a printed limit is never weaker than the stated one; ``close`` stays within 0.005 %, without nominal
    values.

    Returns the text. Raises ValueError on another system or rounding. A dimension without a unit in the
    asked system is printed as written.

    >>> from specgen.units.quantity import parse
    >>> show(parse("3/16 in"), "both")
    '3/16 in (5 mm)'
    >>> show(parse("0.004 cfm/ft2 @ 75 Pa"), "both", "down")
    '0.004 cfm/ft² (0.02 L/(s·m²)) at 75 Pa'
    >>> show(parse("240 F"), "SI", "up"), show(parse("240 F"), "SI", "close"), show(parse("15900000 Pa"), "SI")
    ('116 °C', '115.56 °C', '15.9 MPa')
    """
    if system not in ("inch-pound", "SI", "both"):
        raise ValueError(f"system {system!r} is not inch-pound, SI or both")
    if rounding not in _ROUNDINGS:
        raise ValueError(f"rounding {rounding!r} is not nearest, down, up or close")
    if system == "both":
        first = _one(q, "inch-pound", rounding)
        second = _one(
            q, "SI", "nearest" if rounding == "close" else rounding
        )  # one of the two leads to the result
        text = first if first == second else f"{first} ({second})"
    else:
        text = _one(q, system, rounding)
    return text + _condition(q)


def show_in(q: Quantity, symbol: str, rounding: Rounding = "nearest") -> str:
    """Print a quantity in one unit of its dimension: as written where it is in that unit, else rounded.

    >>> show_in(parse("76 ft"), "m"), show_in(parse("76 ft"), "m", "close"), show_in(parse("76 ft"), "ft")
    ('23.2 m', '23.165 m', '76 ft')
    """
    row = next(unit for unit in units_of(q.dimension) if unit.symbol == symbol)
    own = row_of(q)
    return _as_written(q, own, rounding) if row is own else _rounded(number_in(q.value, row), row, rounding)


def show_on_sheet(q: Quantity | str, system: str) -> str:
    """Print a quantity of a calculation: a stated one within 0.005 %, a computed one that nobody notices as that.

    A finding in words is printed as it stands.

    >>> from specgen.units.quantity import from_si
    >>> show_on_sheet(parse("160 degF"), "SI"), show_on_sheet(from_si(3.7e-9, "mass per area", "gr/ft2"), "inch-pound")
    ('71.11 °C', 'less than 0.01 gr/ft²')
    """
    if isinstance(q, str):
        return q
    least = _NOTICED.get(q.unit)
    if q.typed is None and least is not None and 0.0 < q.number < least:
        return f"less than {show(quantity(least, q.unit), system)}"
    return show(q, system, "close")


def _condition(q: Quantity) -> str:
    return "" if q.condition is None else f" at {_as_written(q.condition, row_of(q.condition), 'nearest')}"


# A converted limit is printed no weaker than it was set.
LIMIT_ROUNDING: Mapping[str, Rounding] = {"at least": "up", "at most": "down"}


def show_limit(limit: Quantity, comparison: str, system: str) -> str:
    """Print a limit; as it was set beside it, where the number printed is stricter and a value may lie between.

    >>> from specgen.units.quantity import parse
    >>> show_limit(parse("12 in"), "at most", "SI"), show_limit(parse("8 in"), "at least", "inch-pound")
    ('304 mm (12 in)', '8 in')
    """
    rounding = LIMIT_ROUNDING.get(comparison, "nearest")
    if system == "both" or rounding == "nearest" or row_of(limit).system in (system, "either"):
        return show(limit, system, rounding)
    text = _one(limit, system, rounding)
    if not keeps(limit, comparison, read_back(text, {limit.dimension})):
        text = _with_own(text, limit)
    return text + _condition(limit)


def _with_own(text: str, limit: Quantity) -> str:
    own = _as_written(limit, row_of(limit), "nearest")
    return text if own == text else f"{text} ({own})"


def show_beside(value: Quantity, comparison: str, limit: Quantity, system: str) -> tuple[str, str]:
    """Print a value and the limit it is held against, so that the two numbers tell what the judge tells.

    A value that would read as if it told otherwise is printed in its own unit, and the limit as it was set beside it.

    >>> from specgen.units.quantity import parse
    >>> from dataclasses import replace
    >>> limit = replace(parse("4 in"), nominal=(parse("100 mm"),))
    >>> show_beside(parse("3 15/16 in"), "at least", limit, "SI"), show_beside(parse("100 mm"), "at least", limit, "SI")
    (('3 15/16 in', '100 mm (4 in)'), ('100 mm', '100 mm'))
    """
    first = "inch-pound" if system == "both" else system
    text, bound = (
        show_apart(value, first, limit),
        show(limit, first, LIMIT_ROUNDING.get(comparison, "nearest")),
    )
    asked, decides = show_limit(limit, comparison, system), deciding(value, comparison, limit)
    number, read = (read_back(one, {limit.dimension}) for one in (text, bound))
    if keeps(number, comparison, read) is (decides is not None):
        return text, asked
    written = row_of(value).system
    own = show_apart(value, first if written == "either" else written, limit)
    return own, _with_own(asked, decides or limit) if asked == bound else asked


def show_apart(q: Quantity, system: str, limit: Quantity) -> str:
    """Print a quantity with as many digits as keep it on its own side of a limit.

    >>> from specgen.units.quantity import parse
    >>> show_apart(parse("800 ng/(Pa·s·m2)"), "inch-pound", parse("14 perm"))
    '13.98 perms'
    >>> show_apart(parse("801 ng/(Pa·s·m2)"), "inch-pound", parse("12 perm"))
    '14 perms'
    """
    text = show(q, system)
    row = row_of(read_back(text, {q.dimension}))
    side = _side(q.exact, limit.exact)
    for digits in range(2, 16 if side else 0):
        if _side(read_back(text, {q.dimension}).exact, limit.exact) == side:
            break
        number = number_in(q.value, row)
        text = _joined(_typeset(Decimal(f"{number:.{digits}g}")), row, number)
    return text


def _side(value: Fraction, limit: Fraction) -> int:
    return (value > limit) - (value < limit)


@lru_cache(maxsize=4096)
def _one(q: Quantity, system: str, rounding: Rounding) -> str:
    """Print the number and unit in one system, without the condition."""
    row = row_of(q)
    target = row if row.system in (system, "either") else _target(q, system)
    for twin in q.nominal if rounding != "close" else ():
        if target is not row and row_of(twin).system == system:
            return _as_written(twin, row_of(twin), rounding)
    if target is row:
        return _as_written(q, row, rounding)
    return _rounded(number_in(q.value, target), target, rounding)


def _target(q: Quantity, system: str) -> Unit:
    rows = {unit.symbol: unit for unit in units_of(q.dimension) if unit.system == system}
    if not rows:
        return row_of(q)
    partner = _PARTNERS.get((q.unit, system))
    if partner is not None:
        return rows[partner]
    for symbol, size in _LADDERS.get((q.dimension, system), ()):
        if abs(q.value) >= size and q.value:
            return rows[symbol]
    return next(iter(rows.values()))


def _as_written(q: Quantity, row: Unit, rounding: Rounding) -> str:
    """Print the number that was written, with the unit in the house's typography."""
    text = AT.split(plain(q.text))[0].strip()
    if feet := FEET_AND_INCHES.fullmatch(text):
        return f"{feet[1].replace('+', '')}{feet[2]} ft {feet[3].replace('-', ' ')} in"
    if ":" in text:
        return text.replace(" ", "")
    match = re.match(NUMBER, text.lstrip("R -") if text.startswith("R") else text)
    assert match is not None  # every text that was read or built starts with its number
    written = match[0]
    if "/" in written:
        number = re.sub(r" ?/ ?", "/", written).lstrip("+")
        return _joined(number[0] + number[1:].replace("-", " "), row, q.number)
    digits = re.sub(r"[eE].*", "", written)
    if (
        len(re.sub(r"[^0-9]", "", digits if "." in digits else digits.rstrip("0")).lstrip("0"))
        > _WRITTEN_DIGITS
    ):
        return _rounded(q.number, row, rounding)
    return _decimal(Decimal(written), row)


def _decimal(number: Decimal, row: Unit) -> str:
    """A number with its unit; a large one of SI in the larger unit that spares a power of ten."""
    if number.adjusted() >= _LARGE and row.system == "SI":
        largest = next(
            (symbol for symbol, size in _LADDERS.get((row.dimension, "SI"), ()) if size > 1.0), row.symbol
        )
        larger = next(unit for unit in units_of(row.dimension) if unit.symbol == largest)
        scale = row.exact / larger.exact
        number, row = number * scale.numerator / scale.denominator, larger
    return _joined(_typeset(number), row, float(number))


def _rounded(number: float, row: Unit, rounding: Rounding) -> str:
    """Print a computed number of a unit, rounded to the unit's step."""
    exact = Decimal(repr(number))
    mode = _MODES[rounding]
    if row.symbol in ("in", "ft") and abs(exact) >= Decimal("0.125"):
        parts = 16 if row.symbol == "in" else 12
        count = (exact * parts).quantize(Decimal(1), mode)
        if abs(count / parts - exact) <= abs(exact) * Decimal(_CLOSE if rounding == "close" else 0.01):
            return f"{fraction(int(count))} in" if parts == 16 else _whole_inches(int(count))
    step = _nearest_step(exact, row, mode, _CLOSE if rounding == "close" else math.inf)
    return _decimal(step, row)


def _nearest_step(exact: Decimal, row: Unit, mode: str, closest: float) -> Decimal:
    if not exact:
        return Decimal(0)
    power, tolerance = _STEPS.get((row.dimension, row.symbol), (exact.adjusted() - 1, 0.02))
    tolerance = min(tolerance, closest)
    if row.symbol == "mm" and abs(exact) >= 1000:
        power = 1
    while True:
        step = exact.quantize(Decimal(1).scaleb(power), mode)
        if float(abs(step - exact)) <= tolerance * float(abs(exact)):
            return Decimal(f"{step.normalize():f}")  # without zeros at the end that claim a precision
        power -= 1


def feet_and_inches(meters: float, parts: int = 8) -> str:
    """A length as the trade lays it out: feet, inches, and a fraction of an inch.

    Parameters: ``meters`` is 0 or more; ``parts`` of an inch to round to, 2, 4, 8 or 16.

    >>> feet_and_inches(2.286), feet_and_inches(0.1), feet_and_inches(10.45), feet_and_inches(0.0)
    ('7 ft 6 in', '3 7/8 in', '34 ft 3 3/8 in', '0 in')
    """
    step = 16 // parts
    feet, sixteenths = divmod(round(meters / 0.0254 * parts) * step, 12 * 16)
    inches = f"{fraction(sixteenths)} in"
    if not feet:
        return inches
    return f"{feet} ft {inches}" if sixteenths else f"{feet} ft"


def _whole_inches(inches: int) -> str:
    sign = "-" if inches < 0 else ""
    feet, rest = divmod(abs(inches), 12)
    return f"{sign}{feet} ft {rest} in" if rest else f"{sign}{feet} ft"


def _typeset(number: Decimal) -> str:
    """Write a decimal number without an exponent, or as a power of ten where it is very small or large."""
    exponent = number.adjusted()
    if number and not -5 < exponent < _LARGE:
        power = str(exponent).translate(_SUPERSCRIPT)
        return f"{number.scaleb(-exponent).normalize():f} × 10{power}"
    # Zeros behind a written decimal point tell the precision and stay: 0.040 in.
    return f"{number:f}"


def read_back(text: str, accept: set[str]) -> Quantity:
    """Read what :func:`show` printed: also a power of ten, which nobody writes so by hand.

    >>> read_back("9.937 × 10⁻⁵ perm", {"vapor permeance"}).number
    9.937e-05
    """
    return parse(_POWER_OF_TEN.sub(lambda match: f"e{match[1].translate(_PLAIN)}", text), accept)


def _joined(number: str, row: Unit, size: float) -> str:
    """Put the printed unit behind a number; a plain US thermal resistance is an R-value."""
    if row.symbol == "h·ft2·F/Btu" and re.fullmatch(r"[0-9.]+", number):
        return f"R-{number}"
    return join_unit(number, printed(row, plural=abs(size) > 1))


def printed(row: Unit, plural: bool = False) -> str:
    """Return a unit as it is printed.

    >>> [printed(u) for u in units_of("thermal conductivity")]
    ['Btu·in/(h·ft²·°F)', 'Btu/(h·ft·°F)', 'W/(m·K)']
    """
    if row.symbol in _PRINTED:
        return _PRINTED[row.symbol]
    if plural and row.plural:
        return row.plural
    text = re.sub(r"\bF\b", "°F", row.symbol)
    return re.sub(r"(?<=[A-Za-z])[23]", lambda m: m[0].translate(_SUPERSCRIPT), text)
