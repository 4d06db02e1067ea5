"""The vocabulary as parts of a JSON Schema: fields, records, choices; what every file's schema is made of."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping
from typing import Any
from urllib.parse import quote

from specgen.intake.bounds import bound_pattern
from specgen.intake.formats import FORMAT, current
from specgen.intake.quantity_pattern import quantity_pattern, takes_bare_number
from specgen.intake.schema import may_be_open
from specgen.intake.values import LONGEST_TEXT, SHEET_THICKNESS, UNKNOWN
from specgen.practice.entries import Field, Vocabulary
from specgen.units.errors import how_to_write
from specgen.units.quantity import LONGEST, parse

Schema = dict[str, Any]

DRAFT = "https://json-schema.org/draft/2020-12/schema"
# White space counts as one character, as the loader joins it.
TEXT: Schema = {
    "type": ["string", "integer"],
    "pattern": rf"^\s*\S(?:\S|\s+(?=\S)){{0,{LONGEST_TEXT - 1}}}\s*$",
}
NAME: Schema = {"type": ["string", "integer"], "pattern": r"\S"}
WORD: Schema = {"type": "string"}
# An editor that reads YAML 1.2 takes yes and no for texts.
FLAG: Schema = {"enum": [True, False, "yes", "no"]}
DATE: Schema = {
    "type": "string",
    "format": "date",
    "pattern": r"^(?:19[5-9][0-9]|20[0-9]{2})-(?:0[1-9]|1[0-2])-(?:0[1-9]|[12][0-9]|3[01])$",
}
MOST_COUNTED = 10_000


class Writer:
    """Writes one schema; what is used often is written once, under ``$defs``."""

    def __init__(self, vocabulary: Vocabulary, open_: Collection[str] = ()) -> None:
        """Start a schema; ``open_`` are the records that may say of a value that it is unknown, "role" for components."""
        self.vocabulary = vocabulary
        self.open_ = open_
        self.defs: dict[str, Schema] = {}

    def ref(self, name: str) -> Schema:
        """A reference to a definition."""
        return {"$ref": f"#/$defs/{quote(name)}"}

    def defined(self, name: str, schema: Schema) -> Schema:
        """Write a definition if it is new, and refer to it."""
        self.defs.setdefault(name, schema)
        return self.ref(name)

    def field(self, field: Field, what: str = "") -> Schema:
        """One named value: its title, what to write, and what is accepted; ``what`` is the record it belongs to."""
        sentences = [field.note, f"Test method: {field.method}." if field.method else ""]
        if self.quantities(field):
            sentences.insert(0, f"{sentence(how_to_write(self.quantities(field)))}.")
        sentences += [f"Can be {field.possible.words()}."] if field.possible else []
        sentences += [f"Expected: {field.expected.words()}."] if field.expected else []
        out: Schema = {"title": field.title}
        text = " ".join(one for one in sentences if one)
        if text:
            out["description"] = text
        if field.default is not None:
            out["default"] = field.default
        if what in self.open_ and may_be_open(field):
            unknown = self.defined(UNKNOWN, {"const": UNKNOWN, "description": "Nobody knows it yet."})
            return out | {"anyOf": [self.value(field), unknown]}
        return out | self.value(field)

    @staticmethod
    def quantities(field: Field) -> frozenset[str]:
        """The dimensions of a field that is a quantity; none for words, texts and flags."""
        if field.type == "sheet thickness":
            return SHEET_THICKNESS
        plain = ("text", "word", "words", "family", "families", "yes or no", "date", "count")
        return frozenset() if field.type in plain else frozenset({field.type})

    def value(self, field: Field) -> Schema:
        """What is accepted for a field."""
        match field.type:
            case "text":
                return self.defined("text", TEXT)
            case "word":
                return {"enum": words_of(field.choices)}
            case "words":
                return {"type": "array", "items": {"enum": words_of(field.choices)}}
            case "family":
                return self.families()
            case "families":
                return {"type": "array", "items": self.families()}
            case "yes or no":
                return self.defined("yes or no", FLAG)
            case "date":
                return self.defined("date", DATE)
            case "count":
                assert field.possible is not None  # as the loader of the practice sees to
                least, most = field.possible.least, field.possible.most
                ends = {"minimum": least, "maximum": most}
                return {"type": "integer", **{key: int(end.number) for key, end in ends.items() if end}}
            case _:
                at = parse(field.at).dimension if field.at else ""
                return self.quantity(self.quantities(field), field.signed, at)

    def families(self) -> Schema:
        """A material family."""
        return self.defined("material family", {"enum": list(self.vocabulary.families)})

    def quantity(
        self, dimensions: frozenset[str], signed: bool, condition: str = "", must: bool = False
    ) -> Schema:
        """A quantity, by the pattern of its dimensions; a bare number where the dimension has none other."""
        written: Schema = {
            "type": "string",
            "maxLength": LONGEST,
            "pattern": quantity_pattern(dimensions, signed, condition, must),
        }
        bare = [name for name in sorted(dimensions) if takes_bare_number(name)]
        if bare:
            number: Schema = {"type": "number"}
            number |= {} if signed else {"minimum": 0}
            number |= {"maximum": 1} if bare == ["ratio"] else {}
            written = {"anyOf": [written, number]}
        name = " or ".join(sorted(dimensions))
        name += " of either sign" if signed else ""
        name += f", at a {condition}" if condition else ""
        name += ", always" if must else ""
        return self.defined(name, {"description": sentence(how_to_write(dimensions)) + ".", **written})

    def bound(self, field: Field) -> Schema:
        """A bound or a range of a quantity: ``>= 14 perm``."""
        condition = parse(field.at).dimension if field.at else ""
        pattern = quantity_pattern(self.quantities(field), field.signed, condition)
        name = f"bound of {' or '.join(sorted(self.quantities(field)))}" + (
            f", at a {condition}" if condition else ""
        )
        name += " of either sign" if field.signed else ""
        description = "A bound or a range, such as `at least 14 perm` or `10 to 14 perm`."
        return self.defined(
            name,
            {
                "description": description,
                "type": "string",
                "maxLength": 2 * LONGEST,
                "pattern": bound_pattern(pattern),
            },
        )

    def record(
        self,
        title: str,
        fields: Mapping[str, Field],
        more: Schema | None = None,
        require: Iterable[str] = (),
        what: str = "",
    ) -> Schema:
        """An object with these fields and further keys; ``what`` is the kind of record."""
        known = {name: self.field(field, what) for name, field in fields.items()}
        if what != "role" and any(field.expected for field in fields.values()):
            known["meant"] = mapping("reasons of values that are meant", dict.fromkeys(fields, WORD))
        if what in self.open_:
            known["not_applicable"] = self.reasons_of_none(fields)
        return mapping(title, known | (more or {}), require)

    @staticmethod
    def reasons_of_none(fields: Iterable[str]) -> Schema:
        """The reasons why values do not apply."""
        return mapping("reasons of values that do not apply here", dict.fromkeys(fields, WORD))

    def section(self, name: str, more: Schema | None = None, also: Iterable[str] = ()) -> Schema:
        """A record kind of the vocabulary."""
        kind = self.vocabulary.records[name]
        require = [key for key, field in kind.fields.items() if field.required]
        return self.record(kind.title, kind.fields, more, [*require, *also], name)


def mapping(title: str, properties: Schema, require: Iterable[str] = ()) -> Schema:
    """A mapping that holds these keys and no others."""
    out: Schema = {"title": title, "type": "object", "properties": properties, "additionalProperties": False}
    required = list(require)
    return out | ({"required": required} if required else {})


def sentence(text: str) -> str:
    """The text with a capital letter at its head."""
    return text[:1].upper() + text[1:]


def words_of(choices: Iterable[str]) -> list[str | int]:
    """The words, and as numbers those that YAML reads as numbers."""
    out: list[str | int] = []
    for word in choices:
        out += [word, int(word)] if re.fullmatch("0|[1-9][0-9]*", word) else [word]
    return out


def root(writer: Writer, title: str, schema: Schema, kind: str) -> Schema:
    """The schema of a whole file with its format number, and every definition that it refers to."""
    number = {
        "title": "number of the file's format",
        "type": "integer",
        "minimum": 1,
        "maximum": current(kind),
    }
    schema = {**schema, "title": title, "properties": {FORMAT: number, **schema["properties"]}}
    return {"$schema": DRAFT, **schema, "$defs": dict(sorted(writer.defs.items()))}


def by_role(writer: Writer, names: Iterable[str], require: list[str]) -> Schema:
    """An object told apart by its ``role``."""
    known = list(names)
    cases = [
        {
            "if": {"properties": {"role": {"const": name}}, "required": ["role"]},
            "then": writer.ref(f"role {name}"),
        }
        for name in known
    ]
    role = {"enum": known, "title": "role", "description": "What the component does in the wall."}
    return {"type": "object", "required": require, "properties": {"role": role}, "allOf": cases}
