"""A submitted value that is a bound or a range: ``>= 14 perm``, ``0.1 perm max.``, ``10 to 14 perm``."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal
from typing import Any

from specgen.intake.values import UnusableValueError, convert
from specgen.model.project import Sense, Stated, Value
from specgen.practice.entries import Field, Vocabulary
from specgen.units.compare import at_most
from specgen.units.quantity import Quantity, to_unit

BOUND_KEYS: tuple[Sense, ...] = ("at least", "at most")
_BEFORE: dict[Sense, str] = {
    "at least": r">=|=>|≥|⩾|at least|not less than|no less than|min(?:imum|\.)?(?: of)?",
    "at most": r"<=|=<|≤|⩽|at most|not more than|no more than|up to|max(?:imum|\.)?(?: of)?",
    "more than": r">|more than|greater than|above|over",
    "less than": r"<|less than|below|under",
}
_BEHIND: dict[Sense, str] = {
    "at least": r"min(?:imum|\.)?|or more|or greater",
    "at most": r"max(?:imum|\.)?|or less|or lower",
}
_NUMBER = r"[+-]?[0-9]+(?:\.[0-9]+)?"
_TO = r" [Tt][Oo] |–|—|-|\.\.\.?"
_RANGE = re.compile(rf"({_NUMBER})\s*(.*?)\s*(?:{_TO})\s*({_NUMBER}.*)")
# What is itself the end of a range: "up to 180 days" of allowed exposure is an allowed exposure of 180 days.
ENDS: dict[str, Sense] = {
    "exposure_limit": "at most",
    "service_temperature": "at most",
    "movement": "at most",
    "application_temperature": "at least",
}
_TOLERANCE = re.compile(
    rf"({_NUMBER})\s*([^0-9±+]*?)\s*(?:±|\+\s*/\s*[-−–]|\+-|plus or minus)\s*({_NUMBER})"
    r"\s*([^@]*?)\s*((?:@|\bat\b).*)?"
)
_STRICT: dict[Sense, Sense] = {"more than": "at least", "less than": "at most"}


def bound_pattern(quantity: str) -> str:
    """The pattern of a bound of what the pattern of a quantity accepts, for editors that know patterns.

    >>> bool(re.search(bound_pattern("^[0-9]+ perm$"), ">= 14 perm"))
    True
    """
    inner = quantity.removeprefix("^").removesuffix("$")
    before = "|".join(_any_case(one) for one in _BEFORE.values())
    behind = "|".join(_any_case(one) for one in _BEHIND.values())
    return (
        rf"^\s*(?:(?:{before})\s*{inner}|{inner}\s+[(]?(?:{behind})[)]?\s*|{_NUMBER}.*?(?:{_TO})\s*{inner}|"
        rf"{_NUMBER}[^0-9]*?(?:±|\+\s*/\s*[-−–]|\+-)\s*{_NUMBER}.*)$"
    )


def stated(field: Field, written: Any, vocabulary: Vocabulary) -> Stated:
    """The typed value of a claim, exact, a bound or a range.

    Args:
        field: the definition from the vocabulary.
        written: a scalar or a list as the YAML reader returned it.
        vocabulary: holds the material families.

    Raises:
        UnusableValueError: it is none of them; the message is that of the exact value.
    """
    try:
        return Stated(convert(field, written, vocabulary))
    except UnusableValueError:
        found = _bound(field, " ".join(written.split()), vocabulary) if isinstance(written, str) else None
        if found is None:
            raise
        return found


def with_tolerance(field: Field, written: Any, vocabulary: Vocabulary) -> Stated | None:
    """The range of a value with its tolerance, ``40 mil ± 2 mil`` or ``40 mil +/- 5 %``; None where it has none.

    Raises:
        UnusableValueError: the value or its tolerance is no quantity of the field.
    """
    found = _TOLERANCE.fullmatch(" ".join(written.split())) if isinstance(written, str) else None
    if found is None:
        return None
    number, by = Decimal(found[1]), Decimal(found[3])
    unit = found[2] or found[4]
    if found[4] in ("%", "percent") and unit != found[4]:
        by = number * by / 100
    elif found[4] and found[2]:
        unit_of_by = convert(field, f"{by} {found[4]}", vocabulary)
        nominal = convert(field, f"{number} {found[2]}", vocabulary)
        if not isinstance(nominal, Quantity) or not isinstance(unit_of_by, Quantity):
            raise UnusableValueError(
                f"`{field.name}` is no quantity: it has no tolerance", "write `value: …`"
            )
        by = Decimal(repr(to_unit(unit_of_by, nominal.unit)))
    ends = (" ".join(f"{end} {unit} {found[5] or ''}".split()) for end in (number - by, number + by))
    low, high = (convert(field, end, vocabulary) for end in ends)
    if not isinstance(low, Quantity) or not isinstance(high, Quantity) or not at_most(low, high):
        raise UnusableValueError(f"`{field.name}` is no value with a tolerance", "write `40 mil ± 2 mil`")
    _no_sheet(field, low)
    return Stated(low, "to", high)


def between(field: Field, ends: dict[str, Any], vocabulary: Vocabulary) -> Stated:
    """The claim of ``{at least: …, at most: …}``; either end may be missing.

    Raises:
        UnusableValueError: an end is no quantity, or the ends are the wrong way round.
    """
    given = [key for key in BOUND_KEYS if key in ends]
    if len(given) == 1:
        return _one_end(field, ends[given[0]], given[0], vocabulary)
    return _range(field, *(convert(field, ends[key], vocabulary) for key in given))


def _bound(field: Field, words: str, vocabulary: Vocabulary) -> Stated | None:
    for sense, before in _BEFORE.items():
        found = re.match(rf"(?:{before})\s*(?=[0-9.+\-−R])", words, re.IGNORECASE)
        if found:
            return _one_end(field, words[found.end() :], sense, vocabulary)
    for sense, behind in _BEHIND.items():
        found = re.search(rf"\s*\(?\b(?:{behind})\)?$", words, re.IGNORECASE)
        if found:
            return _one_end(field, words[: found.start()], sense, vocabulary)
    found = _RANGE.fullmatch(words)
    if found is None:
        return None
    unit = found[2] or re.sub(rf"^{_NUMBER}\s*", "", found[3])
    ends = (convert(field, text, vocabulary) for text in (f"{found[1]} {unit}", found[3]))
    return _range(field, *ends)


def _one_end(field: Field, written: Any, sense: Sense, vocabulary: Vocabulary) -> Stated:
    value = convert(field, written, vocabulary)
    if not isinstance(value, Quantity):
        raise UnusableValueError(f"`{field.name}` is no quantity: it has no bound", "write `value: …`")
    _no_sheet(field, value)
    return _of_field(field, Stated(value, sense))


def _no_sheet(field: Field, value: Quantity) -> None:
    if field.type == "sheet thickness" and value.dimension != "length":
        raise UnusableValueError(
            f"`{field.name}`: a bound in gauge or weight can be read both ways",
            "write the thickness in inches or mm",
        )


def _of_field(field: Field, one: Stated) -> Stated:
    """What is itself an end of a range is stated exactly by a bound of that kind."""
    if ENDS.get(field.name) == _STRICT.get(one.sense, one.sense):
        return replace(one, sense="")
    return one


def _range(field: Field, low: Value, high: Value) -> Stated:
    if not isinstance(low, Quantity) or not isinstance(high, Quantity) or low.dimension != high.dimension:
        raise UnusableValueError(f"`{field.name}` is no range of one unit", "write `10 to 14 perm`")
    _no_sheet(field, low)
    if not at_most(low, high):
        raise UnusableValueError(
            f"`{field.name}`: {low.text} to {high.text} runs downward", "write the smaller end first"
        )
    if low.dimension == "temperature" and field.name in ENDS:  # a service temperature of -20 to 240 degF
        return Stated(high if ENDS[field.name] == "at most" else low)
    return Stated(low, "to", high)


def _any_case(pattern: str) -> str:
    """Letters of either case, for patterns without flags."""
    return re.sub(r"(?<![\\(?])([a-z])", lambda one: f"[{one[1].upper()}{one[1]}]", pattern)
