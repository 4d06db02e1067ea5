"""What the rules on values call a record and one of its values."""

from __future__ import annotations

from specgen.model.project import Component, Record
from specgen.practice.entries import Vocabulary


def title_of(vocabulary: Vocabulary, record: Record, name: str) -> str:
    """What the trade calls a value of a record.

    Raises:
        KeyError: the record has no value of this name.
    """
    field = vocabulary.field(record.what, name)
    if field is None:
        raise KeyError(f"{record.what}.{name}")
    return field.title


def called(vocabulary: Vocabulary, record: Record) -> str:
    """A record as its project calls it: by id, by name, or by what it is."""
    if isinstance(record, Component):
        return f"`{record.id}`"
    name = record.word("name") if "name" in record.values else ""
    return f"{record.what} `{name}`" if name else f"the {vocabulary.records[record.what].title}"
