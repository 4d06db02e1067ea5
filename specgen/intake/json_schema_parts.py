"""The vocabulary as parts of a JSON Schema: fields, records, choices; what every file's schema is made of."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping
from typing import Any
from urllib.parse import quote, unquote

from specgen.intake.bounds import bound_pattern
from specgen.intake.field_words import described_field, dimensions_of, example, sentence
from specgen.intake.formats import current
from specgen.intake.quantity_pattern import quantity_pattern, takes_bare_number
from specgen.intake.schema import may_be_open
from specgen.intake.values import LONGEST_TEXT, UNKNOWN
from specgen.practice.entries import Field, Practice, Role
from specgen.practice.shapes import Shape, ShapeKey, shape
from specgen.practice.trade_names import names_of
from specgen.units.errors import how_to_write
from specgen.units.quantity import LONGEST, parse

Schema = dict[str, Any]

DRAFT = "https://json-schema.org/draft/2020-12/schema"
# White space counts as one character, as the loader joins it.
TEXT: Schema = {
    "type": ["string", "integer"],
    "pattern": rf"^\s*\S(?:\S|\s+(?=\S)){{0,{LONGEST_TEXT - 1}}}\s*$",
    "patternErrorMessage": f"Write words, at most {LONGEST_TEXT} characters.",
}
NAME: Schema = {"type": ["string", "integer"], "pattern": r"\S", "patternErrorMessage": "Write a name."}
WORD: Schema = {"type": "string"}
# An editor that reads YAML 1.2 takes yes and no for texts.
FLAG: Schema = {"enum": [True, False, "yes", "no"]}
DATE: Schema = {
    "type": "string",
    "format": "date",
    "pattern": r"^(?:19[5-9][0-9]|20[0-9]{2})-(?:0[1-9]|1[0-2])-(?:0[1-9]|[12][0-9]|3[01])$",
    "patternErrorMessage": "Write a date from 1950 to 2099: 2026-11-02.",
}
_HERE = "#/$defs/"
_WORDED = ("description", "patternErrorMessage")
_AT = ", and behind it `@` and the condition of the test"
ABOUT = {  # what each file is for
    "project": "walls, as they are described, checked, and specified.",
    "submittal": "products, as somebody submits them.",
    "request": "a substitution, as somebody requests it.",
    "office": "limits, severities, values, and rules of an office.",
    "schedule": "times, from which the register counts back.",
    "acceptance": "what was accepted, when, by whom, with what result.",
    "comments": "what people asked and answered.",
    "prices": "what a unit of each part costs.",
    "bad products": "products that are now known to be bad.",
}


class Writer:
    """Writes one schema; what is used often is written once, under ``$defs``."""

    def __init__(self, practice: Practice, open_: Collection[str] = ()) -> None:
        """Start a schema; ``open_`` are the records that may say of a value that it is unknown, "role" for components."""
        self.practice = practice
        self.vocabulary = practice.vocabulary
        self.open_ = open_
        self.defs: dict[str, Schema] = {}

    def ref(self, name: str) -> Schema:
        """A reference to a definition."""
        return {"$ref": f"{_HERE}{quote(name)}"}

    def defined(self, name: str, schema: Schema) -> Schema:
        """Write a definition if it is new, and refer to it."""
        self.defs.setdefault(name, schema)
        return self.ref(name)

    def field(self, field: Field, what: str = "", of: str = "") -> Schema:
        """One named value: its title, what to write, and what is accepted.

        Args:
            field: the value.
            what: the record it belongs to, "role" for a component.
            of: the role of that component.
        """
        out: Schema = {"title": field.title, "description": described_field(field, of or what)}
        if dimensions_of(field) or field.type == "count":
            out["examples"] = [_as_read(example(self.practice, of or what, field), field)]
        if field.default is not None:
            out["default"] = field.default
        value, left_open = self.value(field), what in self.open_ and may_be_open(field)
        if left_open and "examples" in out:
            out["examples"].append(UNKNOWN)
        return out | (self._or_unknown(value) if left_open else value)

    def _or_unknown(self, value: Schema) -> Schema:
        """A value, or the word that nobody knows it yet; in one schema, so that an editor tells one thing of it."""
        name = unquote(value.get("$ref", "").removeprefix(_HERE))
        if name:
            return (
                self.defined(f"{name}, or unknown", self._or_unknown(self.defs[name]))
                if name != "text"
                else value
            )
        if "enum" in value:
            return value | {"enum": [*value["enum"], UNKNOWN]}
        if "pattern" in value:
            wording = {
                key: f"{value[key].removesuffix('.')}; or {UNKNOWN}." for key in _WORDED if key in value
            }
            known = {key: one for key, one in value.items() if key != "format"}
            return known | {"pattern": f"^{UNKNOWN}$|{value['pattern']}", **wording}
        if "anyOf" in value:
            first, *others = value["anyOf"]
            return value | {"anyOf": [self._or_unknown(first), *others]}
        return {"anyOf": [value, {"const": UNKNOWN, "description": "Nobody knows it yet."}]}

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
                return self.quantity(dimensions_of(field), field.signed, at)

    def families(self) -> Schema:
        """A material family."""
        return self.defined("material family", {"enum": list(self.vocabulary.families)})

    def quantity(
        self, dimensions: frozenset[str], signed: bool, condition: str = "", must: bool = False
    ) -> Schema:
        """A quantity, by the pattern of its dimensions; a bare number where the dimension has none other."""
        wording = f"{sentence(how_to_write(dimensions))}{_AT if condition else ''}."
        written: Schema = {
            "type": "string",
            "maxLength": LONGEST,
            "pattern": quantity_pattern(dimensions, signed, condition, must),
            "patternErrorMessage": wording,
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
        return self.defined(name, {"description": wording, **written})

    def bound(self, field: Field) -> Schema:
        """A bound or a range of a quantity: ``>= 14 perm``."""
        condition = parse(field.at).dimension if field.at else ""
        pattern = quantity_pattern(dimensions_of(field), field.signed, condition)
        name = f"bound of {' or '.join(sorted(dimensions_of(field)))}" + (
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
                "patternErrorMessage": description,
            },
        )

    def record(
        self,
        title: str,
        fields: Mapping[str, Field],
        more: Schema | None = None,
        require: Iterable[str] = (),
        what: str = "",
        of: str = "",
    ) -> Schema:
        """An object with these fields and further keys; ``what`` is the kind of record, ``of`` the role."""
        known = {name: self.field(field, what, of) for name, field in fields.items()}
        if what != "role" and any(field.expected for field in fields.values()):
            known["meant"] = self.reasons("meant", fields)
        if what in self.open_:
            known["not_applicable"] = self.reasons("not_applicable", fields)
        return mapping(title, known | (more or {}), require)

    def reasons(self, key: str, fields: Iterable[str]) -> Schema:
        """The reasons below one of the keys ``meant``, ``because`` and ``not_applicable``, each by its value."""
        one = shape("reasons")[key]
        reason = self.defined(f"reason of {key}", {"type": "string", "description": one.note})
        return mapping(one.title, dict.fromkeys(fields, reason)) | beside(one)

    def section(self, name: str, more: Schema | None = None, also: Iterable[str] = ()) -> Schema:
        """A record kind of the vocabulary."""
        kind = self.vocabulary.records[name]
        require = [key for key, field in kind.fields.items() if field.required]
        return self.record(kind.title, kind.fields, more, [*require, *also], name)


def keyed(of: Shape, schemas: Mapping[str, Schema]) -> Schema:
    """The properties of a shape: each of its keys with its title, what to write, and the schema of its value.

    Raises:
        ValueError: the schemas are not those of the shape's keys.
    """
    if schemas.keys() != of.keys():
        raise ValueError(
            f"{of.name}: {sorted(schemas.keys() ^ of.keys())} stand in the shape or the schema alone"
        )
    found: Schema = {}
    for name, key in of.items():
        most = {"maxItems": key.most} if key.most and "array" in str(schemas[name].get("type")) else {}
        found[name] = {"title": key.title, **beside(key), **schemas[name], **most}
    return found


def whole(of: Shape, schemas: Mapping[str, Schema], title: str = "") -> Schema:
    """A mapping of the keys of a shape and no others, with those that are needed."""
    return mapping(title, keyed(of, schemas), of.needed)


def beside(key: ShapeKey) -> Schema:
    """What an editor shows beside a key that holds others: plain, and as Markdown where that differs."""
    words = f"{sentence(key.title)}. {key.note}"
    return {"description": words} | ({"markdownDescription": words} if "`" in words else {})


def listed(items: Schema, least: int = 0) -> Schema:
    """A list."""
    return {"type": "array", "items": items} | ({"minItems": least} if least else {})


def mapping(title: str, properties: Schema, require: Iterable[str] = ()) -> Schema:
    """A mapping that holds these keys and no others."""
    out: Schema = {"title": title, "type": "object", "properties": properties, "additionalProperties": False}
    required = list(require)
    return out | ({"required": required} if required else {})


def words_of(choices: Iterable[str]) -> list[str | int]:
    """The words, and as numbers those that YAML reads as numbers."""
    out: list[str | int] = []
    for word in choices:
        out += [word, int(word)] if re.fullmatch("0|[1-9][0-9]*", word) else [word]
    return out


def root(writer: Writer, title: str, schema: Schema, kind: str) -> Schema:
    """The schema of a whole file with its format number, and every definition that it refers to."""
    schema = {**schema, "title": title, "description": f"{title}: {ABOUT[kind]}"}
    return {
        "$schema": DRAFT,
        "$id": f"urn:specgen:schema:{kind.replace(' ', '-')}",
        **schema,
        "$defs": {name: writer.defs[name] for name in sorted(_referred(schema, writer.defs))},
    }


def _referred(schema: Schema, defs: Mapping[str, Schema]) -> set[str]:
    """The definitions that a schema refers to, by itself or through others."""
    found: set[str] = set()
    nodes: list[Any] = [schema]
    while nodes:
        node = nodes.pop()
        if isinstance(node, dict):
            name = unquote(node["$ref"].removeprefix(_HERE)) if isinstance(node.get("$ref"), str) else ""
            if name and name not in found:
                found.add(name)
                nodes.append(defs[name])
            nodes += node.values()
        elif isinstance(node, list):
            nodes += node
    return found


def number_of(kind: str) -> Schema:
    """The number of a file's format."""
    return {"type": "integer", "minimum": 1, "maximum": current(kind)}


def kinds_of(role: Role) -> Schema:
    """The generic kinds of a role, each with its title and what the trade also calls it."""
    named = {
        name: "; also called ".join(filter(None, (kind.title, ", ".join(names_of(role.name, "kind", name)))))
        for name, kind in role.kinds.items()
    }
    every = (f"{name} ({kind.title})" if kind.title != name else name for name, kind in role.kinds.items())
    return {
        "enum": list(role.kinds),
        "description": f"Generic kind; choose one: {', '.join(every)}.",
        "enumDescriptions": [f"{sentence(words)}." for words in named.values()],
    }


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
    roles = writer.vocabulary.roles
    notes = [f"{sentence(roles[name].title)}. {_also(roles[name])}".strip() for name in known]
    one = shape("component")["role"]
    role = {"enum": known, "title": one.title, **beside(one), "enumDescriptions": notes}
    return {"type": "object", "required": require, "properties": {"role": role}, "allOf": cases}


def _also(role: Role) -> str:
    names = names_of(role.name)
    return f"Also called {', '.join(names)}." if names else ""


def _as_read(written: str, field: Field) -> str | int | float:
    """An example as a reader of YAML takes it."""
    return int(written) if field.type == "count" else written.strip('"')
