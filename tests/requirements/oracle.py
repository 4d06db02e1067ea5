"""What a statement is worth against a limit, worked out a second time: rational numbers, and no judge of the house.

Nothing of `specgen` is imported. Units are the definitions of the yard, the pound and the conventional columns; the
trade's nominal pairs are read from the same YAML file that the house reads, by another reader.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from pathlib import Path

import yaml

from tests import plain_yaml

PRACTICE = Path(__file__).parents[2] / "specgen" / "practice"
NOMINAL = PRACTICE / "nominal.yaml"
EXPECTED = PRACTICE / "tables" / "expected_ranges.yaml"

INCH, POUND = Fraction(254, 10_000), Fraction(45_359_237, 100_000_000)
FORCE = POUND * Fraction(980_665, 100_000)
FOOT, HOUR = 12 * INCH, Fraction(3600)
PERM = POUND / 7000 / (HOUR * FOOT**2 * Fraction("3386.389")) * 10**12  # ng/(Pa·s·m2)
WATER = 1000 * Fraction(980_665, 100_000) * INCH  # Pa of an inch of water
FAHRENHEIT = Fraction(5, 9)
# Spelling to dimension, size, offset and language.
UNITS: dict[str, tuple[str, Fraction, Fraction, str]] = {}


def _unit(dimension: str, language: str, **sizes: Fraction | int) -> None:
    for name, size in sizes.items():
        UNITS[name] = (dimension, Fraction(size), Fraction(0), language)


_unit("length", "inch-pound", **{"in": INCH, "ft": FOOT, "mil": INCH / 1000, "mils": INCH / 1000})
_unit("length", "SI", mm=Fraction(1, 1000), m=1)
_unit("area", "inch-pound", ft2=FOOT**2, in2=INCH**2)
_unit("area", "SI", m2=1)
_unit("pressure", "inch-pound", psi=FORCE / INCH**2, psf=FORCE / FOOT**2, inH2O=WATER, **{"in H2O": WATER})
_unit("pressure", "SI", Pa=1, kPa=1000, MPa=10**6)
_unit("air", "inch-pound", **{"cfm/ft2": FOOT / 60})
_unit("air", "SI", **{"L/(s·m2)": Fraction(1, 1000)})
_unit("vapor", "inch-pound", perm=PERM, perms=PERM)
_unit("vapor", "SI", **{"ng/(Pa·s·m2)": 1})
_unit("line load", "inch-pound", **{"lbf/in": FORCE / INCH})
_unit("line load", "inch-pound", **{"lbf/ft": FORCE / FOOT})
_unit("line load", "SI", **{"N/m": 1, "kN/m": 1000})
_unit("moment", "inch-pound", **{"lbf·ft/ft": FORCE})
_unit("moment", "SI", **{"kN·m/m": 1000, "N·m/m": 1})
_unit("force", "inch-pound", lbf=FORCE)
_unit("force", "SI", N=Fraction(1), kN=Fraction(1000))
_unit("line load", "SI", **{"N/mm": 1000})
_unit("time", "either", day=86_400, days=86_400, h=3600)
_unit("share", "either", **{"%": Fraction(1, 100)})
_unit("slope", "inch-pound", **{"in/ft": Fraction(1, 12), ":12": Fraction(1, 12)})
_unit("number", "either", **{"": 1})
UNITS["degF"] = ("temperature", FAHRENHEIT, Fraction(32), "inch-pound")
UNITS["degC"] = ("temperature", Fraction(1), Fraction(0), "SI")

_FEET = re.compile(r"(\d+) ft (\d[\d /.]*) in")
_VALUE = re.compile(r"(-?(?:\d+ )?\d+/\d+|-?\d*\.?\d+) ?(.*)")
_RAISED = str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789")
_POWER = re.compile("(-?[0-9.]+) × 10([⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+)")
_SMALL = str.maketrans("²", "2")
CODES = ("IBC", "IRC", "IECC", "IPC")


@dataclass(frozen=True)
class Size:
    """A number with its unit: what it measures, how large it is there, and in which language it is written."""

    dimension: str
    size: Fraction
    language: str


def size(text: str) -> Size:
    """A size as people write it, without its test condition.

    >>> size("3/16 in").size == size("4.7625 mm").size, size("6 ft 8 in").size == size("80 in").size
    (True, True)
    """
    text = _POWER.sub(lambda of: str(Fraction(of[1]) * 10 ** int(of[2].translate(_RAISED))), text)
    text = text.translate(_SMALL).replace("H₂O", "H2O").replace("°F", "degF").replace("°C", "degC")
    feet = _FEET.fullmatch(text)
    if feet is not None:
        return Size("length", int(feet[1]) * FOOT + _number(feet[2]) * INCH, "inch-pound")
    value = _VALUE.fullmatch(text)
    assert value is not None, text
    dimension, one, offset, language = UNITS[value[2]]
    return Size(dimension, (_number(value[1]) - offset) * one, language)


def _number(text: str) -> Fraction:
    whole, _, rest = text.strip().rpartition(" ")
    return Fraction(whole or 0) + Fraction(rest)


@cache
def rows() -> tuple[tuple[str, ...], ...]:
    """The trade's nominal pairs as they are written."""
    groups = plain_yaml.load(NOMINAL.read_text("utf-8"))
    return tuple(tuple(row) for group in groups.values() for row in group["rows"])


@cache
def ranges() -> dict[tuple[str, str, str], tuple[str, str]]:
    """The least and the most that is expected, "" where an end is open, by role, attribute and kind."""
    rows = yaml.load(EXPECTED.read_text("utf-8"), yaml.BaseLoader)["rows"]
    ends = ("least", "most")
    return {
        (row["role"], row["attribute"], row.get("kind", "")): tuple(
            row.get(end, "").partition("|")[0].strip() for end in ends
        )
        for row in rows
    }


def expected(role: str, kind: str, attribute: str, given: Claimed) -> bool:
    """Whether such a product is expected to have what is stated; words and flags are."""
    found = ranges().get((role, attribute, kind)) or ranges().get((role, attribute, ""))
    if found is None or not isinstance(given.value, str) or not _is_size(given.value):
        return True
    least, most = found
    return all(
        (not least or alike(least).size <= alike(one).size)
        and (not most or alike(one).size <= alike(most).size)
        for one in filter(None, (given.value, given.upper))
    )


def pairs(text: str) -> tuple[str, ...]:
    """What else the trade writes for a size.

    >>> pairs("12 in"), pairs("299 mm")
    (('300 mm',), ())
    """
    mine = alike(text)
    return tuple(
        other for row in rows() for own in row if alike(own) == mine for other in row if other != own
    )


def alike(text: str) -> Size:
    """A size; a slope in percent and one in inches a foot are of one kind."""
    found = size(text)
    if found.dimension == "share":
        return Size("slope", found.size, "SI")
    return found


@dataclass(frozen=True)
class Asked:
    """A limit as the documents and their sources give it, in words alone."""

    comparison: str
    limit: str | bool | tuple[str, ...]
    printed_beside: tuple[str, ...] = ()  # what the limit's own source prints in the other language
    codes: tuple[str, ...] = ()  # what the code asks on the same matter; its pairs bind nobody
    condition: str = ""
    calculated: bool = False  # rounded in either language of units: the trade writes no other value for it


@dataclass(frozen=True)
class Claimed:
    """A statement: a value, or the ends of a range, and the test condition."""

    value: str | bool | tuple[str, ...]
    sense: str = ""  # "at least", "at most", "more than", "less than", "to"
    upper: str = ""
    condition: str = ""


def verdict(asked: Asked, given: Claimed) -> str:
    """``met``, ``missed`` or ``open``."""
    if not isinstance(asked.limit, str) or not _is_size(asked.limit):
        return "met" if _words_meet(asked, given.value) else "missed"
    met = _met(asked, given)
    if met is None:
        return "open"
    if not asked.condition:
        return "met" if met else "missed"
    wanted = {alike(one).size for one in (asked.condition, *pairs(asked.condition))}
    at = alike(given.condition).size if given.condition else None
    if met:
        return "met" if at in wanted else "open"
    harder = at is not None and at > alike(asked.condition).size and at not in wanted
    return "open" if harder and asked.comparison == "at most" else "missed"


def _is_size(text: str) -> bool:
    value = _VALUE.fullmatch(
        text.translate(_SMALL).replace("H₂O", "H2O").replace("°F", "degF").replace("°C", "degC")
    )
    return bool(_FEET.fullmatch(text)) or (value is not None and value[2] in UNITS)


def _words_meet(asked: Asked, value: object) -> bool:
    if asked.comparison == "is":
        return value == asked.limit
    assert isinstance(asked.limit, tuple)
    if asked.comparison == "one of":
        return value in asked.limit
    assert isinstance(value, tuple)
    return all(one in value for one in asked.limit)


def _met(asked: Asked, given: Claimed) -> bool | None:
    assert isinstance(given.value, str)
    if not given.sense:
        return meets(asked, given.value)
    low, high = {
        "to": (given.value, given.upper),
        "at least": (given.value, ""),
        "more than": (given.value, ""),
        "at most": ("", given.value),
        "less than": ("", given.value),
    }[given.sense]
    good, bad = (low, high) if asked.comparison == "at least" else (high, low)
    if good and meets(asked, good):
        return True
    if bad and (
        not meets(asked, bad) or (given.sense in ("more than", "less than") and _is_limit(asked, bad))
    ):
        return False
    return None


def _is_limit(asked: Asked, value: str) -> bool:
    own = alike(value)
    return any(own.size == alike(one).size for one in (str(asked.limit), *twins(asked)))


def meets(asked: Asked, value: str) -> bool:
    """Whether one exact size meets a limit, or what the trade writes for that limit in the size's own language."""
    assert isinstance(asked.limit, str)
    own, limit = alike(value), alike(asked.limit)
    if _beyond(asked.comparison, own.size, limit.size):
        return True
    return any(
        own.size == twin.size
        or (
            own.language == twin.language != limit.language and _beyond(asked.comparison, own.size, twin.size)
        )
        for twin in map(alike, twins(asked))
    )


def twins(asked: Asked) -> tuple[str, ...]:
    """What the trade writes for a limit, where that keeps what the code asks."""
    assert isinstance(asked.limit, str)
    kept = []
    for twin in (*asked.printed_beside, *(() if asked.calculated else pairs(asked.limit))):
        if all(_keeps(asked, twin, code) for code in asked.codes):
            kept.append(twin)
    return tuple(kept)


def _keeps(asked: Asked, twin: str, code: str) -> bool:
    if _beyond(asked.comparison, alike(twin).size, alike(code).size):
        return True
    return code == asked.limit and twin in asked.printed_beside


def _beyond(comparison: str, value: Fraction, limit: Fraction) -> bool:
    if comparison == "at least":
        return value >= limit
    return value <= limit if comparison == "at most" else value == limit
