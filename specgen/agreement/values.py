"""Limits and sizes as people print them: bounds in words, fractions, SI in brackets, and when two of them agree."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from specgen.units.quantity import FEET_AND_INCHES, NUMBER, Quantity, QuantityError, parse, row_of
from specgen.units.spelling import AT, candidates, plain

_INCH = Fraction(254, 10_000)  # m
_BOUNDS = {
    ">=": ("at least", "not less than", "no less than", "a minimum of", "minimum", "≥"),
    "<=": (
        "not more than",
        "no more than",
        "at most",
        "not greater than",
        "a maximum of",
        "maximum",
        "up to",
        "≤",
    ),
    ">": ("more than",),
    "<": ("less than",),
}
_SIGN = {words: sign for sign, many in _BOUNDS.items() for words in many}
_BOUND = "|".join(sorted(map(re.escape, _SIGN), key=len, reverse=True))
_START = re.compile(
    rf"(?:\b({_BOUND}) )?(?<![\w./#-])(?<!\d )({FEET_AND_INCHES.pattern}|{NUMBER})(?![\w]|[.:/]\d)", re.I
)
_UNIT = re.compile(r"[ ]?([^\s,;:()\[\]|>“”]+)")
_MOST_UNITS = 4  # tokens of the longest unit with a condition, "cfm/ft² at 75 Pa"


@dataclass(frozen=True)
class Printed:
    """One printed value: its bound ("=" where none is written) and the quantity; ``twin`` the one in brackets."""

    sign: str
    quantity: Quantity
    text: str
    start: int
    twin: Quantity | None = None


def printed_values(text: str) -> Iterator[Printed]:
    """The values in a text, in order; a number without a unit counts only behind a bound.

    >>> [(one.sign, one.quantity.text) for one in printed_values("Lap 4 in or 100 mm, not more than 2.2, by ASTM C926.")]
    [('=', '4 in'), ('=', '100 mm'), ('<=', '2.2')]
    """
    at = 0
    held: Printed | None = None
    while match := _START.search(text, at):
        sign = _SIGN.get((match[1] or "").lower(), "=")
        found = _longest(text, match)
        at = match.end()
        if found is None:
            continue
        quantity, at = found
        if quantity.dimension == "number" and sign == "=":
            continue
        new = Printed(sign, quantity, text[match.start() : at].strip(), match.start())
        if held and held.twin is None and text[held.start + len(held.text) : match.start()] == " (":
            held = Printed(held.sign, held.quantity, f"{held.text} ({new.text})", held.start, quantity)
            continue
        if held:
            yield held
        held = new
    if held:
        yield held


def _longest(text: str, match: re.Match[str]) -> tuple[Quantity, int] | None:
    """The quantity that starts with a number: the most words behind it that still make a unit."""
    ends, at = [match.end()], match.end()
    for _ in range(_MOST_UNITS):
        unit = _UNIT.match(text, at)
        if unit is None:
            break
        at = unit.end()
        ends.append(at)
    for end in reversed(ends):
        words = text[match.start(2) : end]
        for cut in (words.rstrip("."), words):
            unit_words = AT.split(plain(cut[len(match[2]) :]))[0].strip()
            if unit_words and not candidates(unit_words):
                continue
            try:
                return parse(cut), match.start(2) + len(cut)
            except QuantityError:
                continue
    return None


def agree(one: Printed, other: Printed) -> bool:
    """Whether two printed values say the same: one bound, one size, one condition, as far as both are printed.

    >>> feet, inches = (next(printed_values(text)) for text in ("at least 1 ft", "at least 12 in"))
    >>> agree(feet, inches)
    True
    """
    if one.sign != other.sign:
        return False
    mine, theirs = _both(one), _both(other)
    pairs = [(a, b) for a in mine for b in theirs if a.unit == b.unit]
    if pairs:
        return all(_same(a, b) for a, b in pairs)
    return _same(one.quantity, other.quantity)


def _both(one: Printed) -> tuple[Quantity, ...]:
    return (one.quantity,) if one.twin is None else (one.quantity, one.twin)


def _same(one: Quantity, other: Quantity) -> bool:
    if one.dimension != other.dimension or (one.condition is None) != (other.condition is None):
        return False
    if one.condition and other.condition and not _same(one.condition, other.condition):
        return False
    if one.unit == other.unit:
        return one.number == other.number
    return abs(one.exact - other.exact) <= _half_step(one) + _half_step(other)


def _half_step(q: Quantity) -> Fraction:
    """Half of the last printed place of a quantity, in SI; a fraction and a whole number of feet are exact."""
    number = re.match(r"[+-]?[0-9.]+", q.text)
    decimals = (
        len(number[0].partition(".")[2])
        if number and "/" not in q.text.split(" at ")[0].split("in")[0]
        else 0
    )
    if q.unit in ("in", "ft") and not decimals:
        return Fraction(0)
    return row_of(q).exact / Fraction(2 * 10**decimals)


def rounds_to(finer: str, coarser: str) -> bool:
    """Whether a value printed to calculate with is, to its last place, one that is printed to be read.

    >>> rounds_to("-7.778 °C", "-8 °C"), rounds_to("-7.2 °C", "-8 °C"), rounds_to("39.37 ft", "39 ft 4 in")
    (True, False, True)
    >>> rounds_to("233.68 mm/h", "230 mm/h"), rounds_to("236 mm/h", "230 mm/h"), rounds_to("2060 mm", "2000 mm")
    (True, False, False)
    >>> rounds_to("2.362 in", "2 3/8 in"), rounds_to("2.3 in", "2 3/8 in"), rounds_to("39.4 ft", "39 ft 4 in")
    (True, False, False)
    """
    found = [next(printed_values(text), None) for text in (finer, coarser)]
    one, other = (part.quantity if part else None for part in found)
    if one is None or other is None or one.dimension != other.dimension:
        return False
    step = _half_step(other)
    if fraction := re.search(r"/(\d+)", coarser) if other.dimension == "length" else None:
        step = _INCH / (2 * int(fraction[1]))
    elif other.unit in ("in", "ft") and not step:  # whole inches, or feet without any
        step = (_INCH if re.search(r"\d in\b", coarser) else 12 * _INCH) / 2
    elif zeros := re.match(
        r"[1-9][1-9](0+) ", coarser
    ):  # two digits count, as in the 9.2 in/h behind 230 mm/h
        step = row_of(other).exact * 10 ** len(zeros[1]) / 2
    return abs(one.exact - other.exact) <= step


def meets(size: Printed, limit: Printed) -> bool | None:
    """Whether a size keeps a limit, as far as their last printed places tell; None where they cannot be compared."""
    if size.quantity.dimension != limit.quantity.dimension or limit.sign == "=":
        return None
    return any(_keeps(a, limit.sign, b) for a in _both(size) for b in _both(limit))


def kept_as_printed(size: Printed, limit: Printed) -> bool:
    """Whether the numbers of a size, as printed, keep each number of a limit.

    >>> printed = ("201 mm", "at least 200 mm", "at least 200 mm (8 in)")
    >>> size, limit, both = (next(printed_values(text)) for text in printed)
    >>> kept_as_printed(size, limit), kept_as_printed(size, both)
    (True, False)
    """
    pairs = [(a.exact, b.exact) for a in _both(size) for b in _both(limit) if a.dimension == b.dimension]
    return bool(pairs) and all(a == b or (a > b) is (limit.sign in (">=", ">")) for a, b in pairs)


def _keeps(size: Quantity, sign: str, bound: Quantity) -> bool:
    over = size.exact - bound.exact if sign in (">=", ">") else bound.exact - size.exact
    if not over:
        return sign in (">=", "<=")
    rounded = _half_step(size) + _half_step(bound) if size.dimension == "length" else 0
    return over >= -rounded
