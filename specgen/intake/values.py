"""One written value to one typed value, by the vocabulary's definition of its field."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from datetime import date
from typing import Any, TypeVar

from specgen.model.project import Value
from specgen.practice.entries import Field, Vocabulary
from specgen.practice.ranges import slip
from specgen.practice.trade_names import hint
from specgen.units.errors import how_to_write, shown
from specgen.units.quantity import Quantity, QuantityError, parse

AnyValue = TypeVar("AnyValue", bound=Value)
LONGEST_TEXT = 500
UNKNOWN = "unknown"  # in place of a value: nobody knows it yet
PLACEHOLDERS = re.compile(
    r"\?+|\.\.+|…|[-–—_]+|x{3,}|n/?a|none yet|t\.?b\.?[acd]\.?|not (?:yet )?known"
    r"|to be (?:determined|decided|advised|confirmed)",
    re.IGNORECASE,
)  # what people write in a line of text that they leave open
YEARS = (1950, 2099)  # of paper that a project of today can name
SHEET_THICKNESS = frozenset({"length", "gauge", "mass per area"})


class UnusableValueError(ValueError):
    """A value that cannot be used: what is wrong, and the fix."""

    def __init__(self, message: str, fix: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.fix = fix


def convert(field: Field, written: Any, vocabulary: Vocabulary) -> Value:
    """The typed value of a field.

    Args:
        field: the definition from the vocabulary.
        written: a scalar or a list as the YAML reader returned it.
        vocabulary: holds the material families.

    Returns:
        A quantity, a word, a yes or no, a date, or a tuple of words.

    Raises:
        UnusableValueError: the value is not of the field's type; the message says what was read, the fix what
            is accepted.
    """
    if written is None:
        raise UnusableValueError(f"`{field.name}` has no value", "write a value or delete the line")
    match field.type:
        case "text":
            return _text(field, written)
        case "word":
            return _one_of(field, written, field.choices)
        case "family":
            return _one_of(field, written, vocabulary.families)
        case "words":
            return _several(field, written, field.choices)
        case "families":
            return _several(field, written, vocabulary.families)
        case "yes or no":
            return _flag(field, written)
        case "date":
            return _date(field, written)
        case "count":
            return _count(field, written)
        case "sheet thickness":
            return _quantity(field, written, SHEET_THICKNESS)
        case dimension:
            return _quantity(field, written, {dimension})


def described(written: Any) -> str:
    """What stands in the file, in the words of someone who knows no YAML.

    >>> described(True), described(None), described(["a"]), described(26.5)
    ('a yes or no', 'nothing', 'a list', '`26.5`')
    """
    match written:
        case None:
            return "nothing"
        case bool():
            return "a yes or no"
        case list():
            return "a list"
        case dict():
            return "a group of `key: value` lines"
        case _:
            return f"`{shown(str(written))}`"


def _text(field: Field, written: Any) -> str:
    if isinstance(written, list | dict):
        raise _unlike(field, written, "a text", "write one line")
    if isinstance(written, bool) or not isinstance(written, str | int):
        raise _unlike(field, written, "a text", "put it in quotes")
    words = " ".join(str(written).split())
    if not words:
        raise UnusableValueError(f"`{field.name}` is empty", "write a value or delete the line")
    if len(words) > LONGEST_TEXT:
        raise UnusableValueError(
            f"`{field.name}` has {len(words)} characters, at most {LONGEST_TEXT}", "shorten it"
        )
    return words


def _one_of(field: Field, written: Any, choices: Collection[str]) -> str:
    fix = f"choose: {', '.join(choices)}"
    if isinstance(written, bool) or not isinstance(written, str | int):
        raise UnusableValueError(f"`{field.name}` is {described(written)}, one word is wanted", fix)
    word = str(written)
    if word in choices:
        return word
    key = "family" if field.type in ("family", "families") else field.name
    guess = hint(word, choices, key=key)
    fix = f"{guess}{'' if guess.endswith('?') else ';'} {fix}" if guess else fix
    raise UnusableValueError(f"`{field.name}`: `{shown(word)}` is not a known {field.title}", fix)


def _unlike(field: Field, written: Any, wanted: str, fix: str) -> UnusableValueError:
    return UnusableValueError(f"`{field.name}` is {described(written)}, {wanted} is wanted", fix)


def _several(field: Field, written: Any, choices: Sequence[str]) -> tuple[str, ...]:
    if not isinstance(written, list):
        raise _unlike(field, written, "a list", f"write it in brackets: [{', '.join(choices[:2])}]")
    return tuple(_one_of(field, item, choices) for item in written)


def _flag(field: Field, written: Any) -> bool:
    if not isinstance(written, bool):
        raise _unlike(field, written, "a yes or no", "write yes or no, in lower case and without quotes")
    return written


def _date(field: Field, written: Any) -> date:
    if not isinstance(written, date):
        raise _unlike(field, written, "a date", "write it as 2026-11-02, without quotes")
    if problem := strange_year(written):
        raise UnusableValueError(f"`{field.name}`: {problem}", "correct the year")
    return written


def strange_year(day: date) -> str:
    """What is wrong with a date of another century; "" where nothing is.

    >>> strange_year(date(206, 11, 2)), strange_year(date(2026, 11, 2))
    ('0206-11-02 cannot be; a date lies between 1950 and 2099', '')
    """
    first, last = YEARS
    return "" if first <= day.year <= last else f"{day} cannot be; a date lies between {first} and {last}"


def _count(field: Field, written: Any) -> int:
    if isinstance(written, bool) or not isinstance(written, int) or not 0 <= written <= 10_000:
        raise _unlike(field, written, "a whole number", "write 1, 2, 3 …")
    return possible(field, written, str(written))


def possible(field: Field, value: AnyValue, text: str) -> AnyValue:
    """The value, unless it is one that cannot be.

    Raises:
        UnusableValueError: it lies outside what the field can have at all.
    """
    if field.possible is None or field.possible.holds(value):
        return value
    fix = slip(value, field.expected or field.possible) or f"write {field.possible.words()}"
    raise UnusableValueError(
        f"`{field.name}`: `{text}` cannot be; {field.title}: {field.possible.words()}", fix
    )


def _quantity(field: Field, written: Any, accept: Collection[str]) -> Value:
    if isinstance(written, bool | list | dict | date):
        raise UnusableValueError(
            f"`{field.name}` is {described(written)}, no number with a unit", how_to_write(frozenset(accept))
        )
    try:
        found = parse(written, accept)
    except QuantityError as error:
        raise UnusableValueError(f"`{field.name}`: {error.message}", error.fix) from error
    if found.value < 0 and found.dimension != "temperature" and not field.signed:
        raise UnusableValueError(
            f"`{field.name}`: `{found.text}` is below zero", "write the size without a minus sign"
        )
    _check_condition(field, found)
    as_stated = (
        found.dimension == field.type or found.dimension == "length"
    )  # not a gauge or a weight of sheet
    return possible(field, found, found.text) if as_stated else found


def _check_condition(field: Field, found: Quantity) -> None:
    """A test condition belongs to the fields that have one, and is of that field's dimension."""
    if found.condition is None:
        return
    if not field.at:
        raise UnusableValueError(
            f"`{field.name}`: `{found.text}` has a test condition, {field.title} has none",
            "delete what follows the number and its unit",
        )
    wanted = parse(field.at).dimension
    if found.condition.dimension != wanted:
        raise UnusableValueError(
            f"`{field.name}`: the test condition `{found.condition.text}` is no {wanted}",
            f"write it like `at {field.at}`",
        )
