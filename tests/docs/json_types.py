"""The JSON Schema of what the one encoder makes of a record, from the types of its fields."""

from __future__ import annotations

import re
import types
import typing
from collections.abc import Collection, Mapping
from dataclasses import is_dataclass
from datetime import date
from enum import Enum
from pathlib import Path
from typing import Any

from specgen.units.quantity import Quantity
from tests.docs.record_docs import docs_of, sentence, types_of

Schema = dict[str, Any]
SIMPLE: Mapping[Any, Schema] = {
    str: {"type": "string"},
    bool: {"type": "boolean"},
    int: {"type": "integer"},
    float: {"type": "number"},
    type(None): {"type": "null"},
    date: {"type": "string", "format": "date"},
    Path: {"type": "string"},
}
QUANTITY: Schema = {
    "description": "A quantity: as a number in SI, and as it is written.",
    "type": "object",
    "properties": {
        "value": {"description": "In the SI base of its dimension.", "type": "number"},
        "dimension": {"description": "What it measures, as length or pressure.", "type": "string"},
        "number": {"description": "In `unit`.", "type": "number"},
        "unit": {"description": "The unit as it is written; empty where there is none.", "type": "string"},
        "text": {"description": "Number and unit as they are written.", "type": "string"},
    },
    "required": ["value", "dimension", "number", "unit", "text"],
    "additionalProperties": False,
}


class Definitions:
    """The definitions of one schema: each record once, by the name of its class."""

    def __init__(self, words: Mapping[str, Any]) -> None:
        """Begin without any.

        Args:
            words: what a key means where its source says nothing: ``common`` to all, and of ``records`` by name.
        """
        self.made: dict[str, Schema] = {}
        self.owners: dict[str, type] = {}
        self.used: set[tuple[str, str]] = set()  # words that were taken: record, or "" for common, and key
        self.undescribed: list[str] = []
        self._words = words

    def of(self, kind: Any) -> Schema:
        """The schema of a type; the records in it become definitions.

        Raises:
            TypeError: a type that says too little.
        """
        if kind in SIMPLE:
            return dict(SIMPLE[kind])
        if kind is Quantity:
            self.made["Quantity"] = QUANTITY
            return {"$ref": "#/$defs/Quantity"}
        origin, inner = typing.get_origin(kind), typing.get_args(kind)
        if origin is typing.Literal:
            return {"enum": list(inner)}
        if origin in (typing.Union, types.UnionType):
            return _either([self.of(one) for one in inner])
        if isinstance(kind, type) and issubclass(kind, Enum):
            return {"enum": [one.value for one in kind]}
        if isinstance(kind, type) and (is_dataclass(kind) or typing.is_typeddict(kind)):
            return self._record(kind)
        if isinstance(origin, type) and issubclass(origin, Mapping):
            return self._mapping(*inner)
        if isinstance(kind, type) and issubclass(kind, tuple) and hasattr(kind, "_fields"):
            hints = typing.get_type_hints(kind)
            return self._row([hints[name] for name in kind._fields])
        if origin is tuple and inner[-1:] != (...,):
            return self._row(list(inner))
        if isinstance(origin, type) and issubclass(origin, Collection):
            return {"type": "array", "items": self.of(inner[0])}
        raise TypeError(f"{kind} says too little for a schema")

    def _mapping(self, key: Any, value: Any) -> Schema:
        found: Schema = {"type": "object", "additionalProperties": self.of(value)}
        named = self.of(key)
        return {**found, "propertyNames": named} if "enum" in named else found

    def _row(self, kinds: list[Any]) -> Schema:
        items = [self.of(one) for one in kinds]
        return {"type": "array", "prefixItems": items, "items": False, "minItems": len(items)}

    def _record(self, record: type) -> Schema:
        name = record.__name__.lstrip("_")
        if self.owners.setdefault(name, record) is not record:
            raise TypeError(f"two records are called {name}")
        if name not in self.made:
            self.made[name] = {}  # of a record that holds its own kind
            self.made[name] = self.record(record)
        return {"$ref": f"#/$defs/{name}"}

    def record(self, record: type) -> Schema:
        """The schema of a record itself: a key for each field, all of them there, no other."""
        properties = self._properties(record)
        return {
            "description": sentence_of(sentence(record.__doc__ or "")),
            "type": "object",
            "properties": properties,
            "required": list(properties),
            "additionalProperties": False,
        }

    def _properties(self, record: type) -> dict[str, Schema]:
        spread, known, documented = getattr(record, "SPREAD_PLAIN", ()), types_of(record), docs_of(record)
        own: dict[str, Schema] = {}
        for name, kind in known.items():
            if name not in spread:
                words = self._known(record, name, documented.get(name, ""))
                own[name] = {"description": sentence_of(words), **self.of(kind)}
        for name in spread:
            own = {**self._properties(known[name]), **own}
        return own

    def _known(self, record: type, key: str, documented: str) -> str:
        """The words on a key: those written for its record here, else those of its source, else what is common."""
        name = record.__name__.lstrip("_")
        for owner, words in ((name, self._words["records"].get(name, {})), ("", self._words["common"])):
            if key in words:
                self.used.add((owner, key))
                return str(words[key])
            if documented:
                return documented
        self.undescribed.append(f"{record.__module__}.{record.__name__}.{key}")
        return ""


def sentence_of(words: str) -> str:
    """A comment as a sentence, in the words of JSON.

    >>> sentence_of("with the unit; None without one"), sentence_of('"coping wind"')
    ('With the unit; null without one.', 'As "coping wind".')
    """
    words = re.sub(r"\bNone\b", "null", words)
    words = f"As {words}" if words.startswith('"') and not words.startswith('""') else words
    words = words[:1].upper() + words[1:]
    return words if words.endswith((".", "…")) or not words else f"{words}."


def _either(kinds: list[Schema]) -> Schema:
    flat = [one for kind in kinds for one in kind.get("anyOf", [kind])]
    if all(set(one) == {"type"} for one in flat):
        return {"type": [one["type"] for one in flat]}
    return {"anyOf": flat}
