"""The one encoder: what a dataclass holds as plain data, its fields' names as the keys, for JSON."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from datetime import date
from enum import Enum
from pathlib import Path
from typing import Any

from specgen.units.quantity import Quantity

# Of every JSON document that a command prints or writes; rises when a key changes its name or meaning.
FORMAT_NUMBER = 2
QUANTITY = ("value", "dimension", "number", "unit", "text")


def plain(value: object) -> Any:
    """A value as plain data: mappings, lists, words, numbers, None.

    A quantity has ``value`` in the SI base of ``dimension``, ``number`` in ``unit`` and ``text``; a date is in ISO form.
    A dataclass that names properties in ``ALSO_PLAIN`` has them beside its fields, and in place of a field that it
    names in ``SPREAD_PLAIN`` the keys of that field's record, below its own.

    >>> from specgen.files.marks import Mark
    >>> plain({"day": date(2027, 1, 4), "at": (Mark("project.yaml", 4, 9),)})
    {'day': '2027-01-04', 'at': [{'file': 'project.yaml', 'line': 4, 'column': 9}]}

    Raises:
        TypeError: a value of a kind that has no plain form.
    """
    if isinstance(value, Enum):
        return value.value
    if value is None or isinstance(value, str | int | float):
        return value
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Path):
        return str(value)
    if isinstance(value, Quantity):
        return {name: getattr(value, name) for name in QUANTITY}
    if is_dataclass(value):
        spread = getattr(value, "SPREAD_PLAIN", ())
        names = [*(one.name for one in fields(value)), *getattr(value, "ALSO_PLAIN", ())]
        own = {name: plain(getattr(value, name)) for name in names if name not in spread}
        for name in spread:
            own = {**plain(getattr(value, name)), **own}
        return own
    if isinstance(value, Mapping):
        return {str(key): plain(one) for key, one in value.items()}
    if isinstance(value, list | tuple):
        return [plain(one) for one in value]
    raise TypeError(f"{type(value).__name__} has no plain form")
