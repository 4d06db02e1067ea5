"""One written value to one typed value, by the vocabulary's definition of its field."""

from __future__ import annotations

from collections.abc import Collection
from datetime import date
from typing import Any

from specgen.files.marks import near
from specgen.model.project import Value
from specgen.practice.entries import Field, Vocabulary
from specgen.units.quantity import QuantityError, parse

LONGEST_TEXT = 500
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
        case "families":
            return _families(field, written, vocabulary)
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


def _plain(field: Field, written: Any) -> str:
    if isinstance(written, bool) or not isinstance(written, str | int):
        shown = "a list or a mapping" if isinstance(written, list | dict) else f"`{written}`"
        raise UnusableValueError(f"`{field.name}` is {shown}, a text is wanted", "write it in quotes")
    return str(written)


def _text(field: Field, written: Any) -> str:
    words = " ".join(_plain(field, written).split())
    if not words:
        raise UnusableValueError(f"`{field.name}` is empty", "write a value or delete the line")
    if len(words) > LONGEST_TEXT:
        raise UnusableValueError(
            f"`{field.name}` has {len(words)} characters, at most {LONGEST_TEXT}", "shorten it"
        )
    return words


def _one_of(field: Field, written: Any, choices: Collection[str]) -> str:
    if isinstance(written, bool):
        raise UnusableValueError(
            f"`{field.name}` is a yes or no, a word is wanted", f"choose: {', '.join(choices)}"
        )
    word = _plain(field, written)
    if word in choices:
        return word
    guess = near(word, choices)
    fix = f"did you mean `{guess}`? " if guess else ""
    raise UnusableValueError(f"`{word}` is not a known {field.title}", f"{fix}choose: {', '.join(choices)}")


def _families(field: Field, written: Any, vocabulary: Vocabulary) -> tuple[str, ...]:
    if not isinstance(written, list):
        raise UnusableValueError(f"`{field.name}` is not a list", "write it in brackets: [butyl, TPO]")
    return tuple(_one_of(field, item, vocabulary.families) for item in written)


def _flag(field: Field, written: Any) -> bool:
    if not isinstance(written, bool):
        raise UnusableValueError(f"`{field.name}` is `{written}`, a yes or no is wanted", "write yes or no")
    return written


def _date(field: Field, written: Any) -> date:
    if not isinstance(written, date):
        raise UnusableValueError(f"`{field.name}` is `{written}`, a date is wanted", "write it as 2026-11-02")
    return written


def _count(field: Field, written: Any) -> int:
    if isinstance(written, bool) or not isinstance(written, int) or not 0 <= written <= 10_000:
        raise UnusableValueError(
            f"`{field.name}` is `{written}`, a whole number is wanted", "write 1, 2, 3 …"
        )
    return written


def _quantity(field: Field, written: Any, accept: Collection[str]) -> Value:
    if isinstance(written, bool | list | dict | date):
        raise UnusableValueError(
            f"`{field.name}` is no number with a unit", f"write a {' or '.join(sorted(accept))}"
        )
    try:
        found = parse(written, accept)
    except QuantityError as error:
        raise UnusableValueError(error.message, error.fix) from error
    if found.condition is not None and not field.at:
        raise UnusableValueError(
            f"`{found.text}`: {field.title} has no test condition", "delete what follows the @"
        )
    return found
