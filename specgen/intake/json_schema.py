"""Project, submittal and office files as JSON Schema (draft 2020-12), for editors that complete and check YAML.

Made from the vocabulary, like the Cerberus schemas. A schema sees one value at a time: what compares two
places of a file, or the size of a number, only the loader checks.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Any
from urllib.parse import quote

from specgen.intake import office as office_file
from specgen.intake import project as project_file
from specgen.intake import submittal as submittal_file
from specgen.intake import substitution as substitution_file
from specgen.intake.bounds import BOUND_KEYS, bound_pattern
from specgen.intake.existing import LISTS
from specgen.intake.places import PLACES
from specgen.intake.quantity_pattern import quantity_pattern, takes_bare_number
from specgen.intake.values import LONGEST_TEXT, SHEET_THICKNESS
from specgen.model.finding import Severity
from specgen.model.project import Value
from specgen.practice.entries import Field, Practice, Role, Vocabulary
from specgen.practice.office import Changeable
from specgen.units.errors import how_to_write
from specgen.units.quantity import LONGEST, Quantity, parse

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
    "pattern": r"^[0-9]{4}-(?:0[1-9]|1[0-2])-(?:0[1-9]|[12][0-9]|3[01])$",
}
MOST_COUNTED = 10_000


class _Writer:
    """Writes one schema; what is used often is written once, under ``$defs``."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        self.vocabulary = vocabulary
        self.defs: dict[str, Schema] = {}

    def ref(self, name: str) -> Schema:
        """A reference to a definition."""
        return {"$ref": f"#/$defs/{quote(name)}"}

    def defined(self, name: str, schema: Schema) -> Schema:
        """Write a definition if it is new, and refer to it."""
        self.defs.setdefault(name, schema)
        return self.ref(name)

    def field(self, field: Field) -> Schema:
        """One named value: its title, what to write, and what is accepted."""
        said = [field.note, f"Test method: {field.method}." if field.method else ""]
        if self.quantities(field):
            said.insert(0, f"{_sentence(how_to_write(self.quantities(field)))}.")
        out: Schema = {"title": field.title}
        text = " ".join(one for one in said if one)
        if text:
            out["description"] = text
        if field.default is not None:
            out["default"] = field.default
        return out | self.value(field)

    @staticmethod
    def quantities(field: Field) -> frozenset[str]:
        """The dimensions of a field that is a quantity; none for words, texts and flags."""
        if field.type == "sheet thickness":
            return SHEET_THICKNESS
        plain = ("text", "word", "family", "families", "yes or no", "date", "count")
        return frozenset() if field.type in plain else frozenset({field.type})

    def value(self, field: Field) -> Schema:
        """What is accepted for a field."""
        match field.type:
            case "text":
                return self.defined("text", TEXT)
            case "word":
                return {"enum": _words(field.choices)}
            case "family":
                return self.families()
            case "families":
                return {"type": "array", "items": self.families()}
            case "yes or no":
                return self.defined("yes or no", FLAG)
            case "date":
                return self.defined("date", DATE)
            case "count":
                return {"type": "integer", "minimum": 0, "maximum": MOST_COUNTED}
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
        return self.defined(name, {"description": _sentence(how_to_write(dimensions)) + ".", **written})

    def bound(self, field: Field) -> Schema:
        """A bound or a range of a quantity: ``>= 14 perm``."""
        condition = parse(field.at).dimension if field.at else ""
        pattern = quantity_pattern(self.quantities(field), field.signed, condition)
        name = f"bound of {' or '.join(sorted(self.quantities(field)))}" + (
            f", at a {condition}" if condition else ""
        )
        name += " of either sign" if field.signed else ""
        said = "A bound or a range, such as `at least 14 perm` or `10 to 14 perm`."
        return self.defined(
            name,
            {
                "description": said,
                "type": "string",
                "maxLength": 2 * LONGEST,
                "pattern": bound_pattern(pattern),
            },
        )

    def record(
        self, title: str, fields: Mapping[str, Field], more: Schema | None = None, require: Iterable[str] = ()
    ) -> Schema:
        """An object with these fields and further keys."""
        return _object(
            title, {name: self.field(field) for name, field in fields.items()} | (more or {}), require
        )

    def section(self, name: str, more: Schema | None = None, also: Iterable[str] = ()) -> Schema:
        """A record kind of the vocabulary."""
        kind = self.vocabulary.records[name]
        require = [key for key, field in kind.fields.items() if field.required]
        return self.record(kind.title, kind.fields, more, [*require, *also])


def _object(title: str, properties: Schema, require: Iterable[str] = ()) -> Schema:
    out: Schema = {"title": title, "type": "object", "properties": properties, "additionalProperties": False}
    required = list(require)
    return out | ({"required": required} if required else {})


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:]


def _words(choices: Iterable[str]) -> list[str | int]:
    """The words, and as numbers those that YAML reads as numbers."""
    out: list[str | int] = []
    for word in choices:
        out += [word, int(word)] if re.fullmatch("0|[1-9][0-9]*", word) else [word]
    return out


def _root(writer: _Writer, title: str, schema: Schema) -> Schema:
    return {"$schema": DRAFT, **schema, "title": title, "$defs": dict(sorted(writer.defs.items()))}


def _by_role(writer: _Writer, names: Iterable[str], require: list[str]) -> Schema:
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


def project_schema(practice: Practice) -> Schema:
    """The schema of a project file."""
    writer = _Writer(practice.vocabulary)
    for name, role in practice.vocabulary.roles.items():
        if role.where != "place":  # what stands at a place is no component of a project file
            writer.defined(f"role {name}", _component(writer, name, role))
    writer.defined("parapet", _parapet(writer, named=True))
    writer.defined("type", _parapet(writer, named=False))
    properties: Schema = {name: writer.section(name) for name in ("project", "site", "building")}
    properties["types"] = {
        "title": "parapets that several share",
        "type": "object",
        "additionalProperties": writer.ref("type"),
    }
    properties["parapets"] = {
        "title": "parapets",
        "type": "array",
        "minItems": 1,
        "maxItems": project_file.MOST_PARAPETS,
        "items": writer.ref("parapet"),
    }
    properties["waivers"] = {"title": "waivers", "type": "array", "items": writer.section("waiver")}
    properties["maker_letters"] = {
        "title": "letters of makers",
        "type": "array",
        "items": writer.section("maker letter"),
    }
    whole = _object("", properties, project_file.SECTIONS)
    return _root(writer, "specgen project file", whole)


def _component(writer: _Writer, name: str, role: Role) -> Schema:
    more: Schema = {
        "role": {"const": name},
        "kind": _kinds(role),
        "id": {**NAME, "title": "name of this component; without it, its role"},
    }
    require = [key for key, field in role.fields.items() if field.required]
    return writer.record(role.title, role.fields, more, ["role", "kind", *require])


def _kinds(role: Role) -> Schema:
    said = "; ".join(f"{name}: {kind.title}" for name, kind in role.kinds.items())
    return {"enum": list(role.kinds), "title": "generic kind", "description": f"{_sentence(said)}."}


def _parapet(writer: _Writer, named: bool) -> Schema:
    roles = writer.vocabulary.roles
    fields = writer.vocabulary.records["parapet"].fields
    more: Schema = {
        key: {
            "title": title,
            "type": "array",
            "items": _by_role(
                writer, [name for name, role in roles.items() if role.where == where], ["role", "kind"]
            ),
        }
        for key, where, title in (
            ("build_up", "build-up", "components from the plaster to the roof membrane"),
            ("top", "top", "components of the top"),
        )
    }
    ends = {"type": "array", "items": WORD, "minItems": 2, "maxItems": 2, "uniqueItems": True}
    joint = writer.section("transition", {"between": {**ends, "title": "ids of the two"}}, ["between"])
    more["transitions"] = {"title": "laps and joints", "type": "array", "items": joint}
    for key, what in PLACES.items():
        more[key] = {"title": key, "type": "array", "items": writer.section(what)}
    if not named:
        return writer.record("type of parapet", fields, more)
    more["name"] = {**NAME, "title": "name of the parapet"}
    more["type"] = {**WORD, "title": "type it is built like", "description": "A name below `types`."}
    more["changes"] = _changes(writer)
    lists: Schema = {
        key: {"title": key, "type": "array", "items": writer.section(what)} for key, what in LISTS.items()
    }
    more["existing"] = writer.section("existing", lists)
    required = [name for name, field in fields.items() if field.required]
    out = writer.record("parapet", fields, more, ["name"])
    return out | {"if": {"not": {"required": ["type"]}}, "then": {"required": required}}


def _changes(writer: _Writer) -> Schema:
    """Changes by component id. The role behind an id is written elsewhere: any attribute of any role passes."""
    found: dict[str, list[Schema]] = {}
    for role in writer.vocabulary.roles.values():
        for name, field in role.fields.items():
            schema = writer.field(field)
            if schema not in found.setdefault(name, []):
                found[name].append(schema)
    kinds = {kind: None for role in writer.vocabulary.roles.values() for kind in role.kinds}
    properties: Schema = {
        name: schemas[0] if len(schemas) == 1 else {"anyOf": schemas} for name, schemas in found.items()
    }
    properties["kind"] = {"enum": list(kinds)}
    change = _object("values that differ from the type", properties)
    return {"title": "changes by component id", "type": "object", "additionalProperties": change}


def submittal_schema(practice: Practice) -> Schema:
    """The schema of a submittal file."""
    writer = _Writer(practice.vocabulary)
    for name, role in practice.vocabulary.roles.items():
        writer.defined(f"role {name}", _product(writer, name, role))
    products = {
        "title": "submitted products",
        "type": "array",
        "minItems": 1,
        "maxItems": submittal_file.MOST_PRODUCTS,
        "items": _by_role(writer, practice.vocabulary.roles, ["role", "name"]),
    }
    properties = {"submittal": writer.section("submittal"), "products": products}
    return _root(writer, "specgen submittal file", _object("", properties, submittal_file.TOP_KEYS))


def request_schema(practice: Practice) -> Schema:
    """The schema of a substitution request."""
    writer = _Writer(practice.vocabulary)
    for name, role in practice.vocabulary.roles.items():
        writer.defined(f"role {name}", _product(writer, name, role))
    one = {"type": ["string", "number", "boolean"]}
    change = _object(
        "one value of the project that would change",
        {
            "set": {"type": "string", "title": "place, as P-1.drainage layer.kind"},
            "to": {**one, "title": "the value proposed"},
        },
        substitution_file.CHANGE_KEYS,
    )
    products = {
        "title": "proposed products",
        "type": "array",
        "minItems": 1,
        "maxItems": submittal_file.MOST_PRODUCTS,
        "items": _by_role(writer, practice.vocabulary.roles, ["role", "name"]),
    }
    changes = {
        "title": "changes of the assembly",
        "type": "array",
        "minItems": 1,
        "maxItems": substitution_file.MOST_CHANGES,
        "items": change,
    }
    properties = {"request": writer.section("request"), "products": products, "changes": changes}
    schema = _object("", properties, ("request",))
    schema["anyOf"] = [{"required": ["products"]}, {"required": ["changes"]}]
    return _root(writer, "specgen substitution request", schema)


def _product(writer: _Writer, name: str, role: Role) -> Schema:
    more: Schema = {
        "role": {"const": name},
        "kind": _read_kind(_kinds(role)),
        "name": {**NAME, "title": "name of the product"},
        "parapets": {
            "title": "parapets it is meant for; without it, all",
            "type": "array",
            "items": {"type": ["string", "integer"]},
        },
    }
    for key, field in role.fields.items():
        if not field.project_only:
            more[key] = _claim(writer, field)
    return _object(role.title, more, ["role", "name"])


def _read_kind(kinds: Schema) -> Schema:
    """A generic kind, bare or with what a person must confirm of it."""
    words: Schema = {"type": ["string", "integer"]}
    value: Schema = {"anyOf": [kinds, {"type": "null"}]}
    long = _object("generic kind", {"value": value, "evidence": words, "confirm": words}, [])
    return {"anyOf": [kinds, {"type": "null"}, long]}


def _claim(writer: _Writer, field: Field) -> Schema:
    """A stated value, bare or with method and evidence; null is a value not stated."""
    schema = writer.field(field)
    about: Schema = {key: schema.pop(key) for key in ("title", "description") if key in schema}
    schema.pop("default", None)
    words = {"type": ["string", "integer", "null"]}
    parts: Schema = {
        "method": {**words, "title": "test method"},
        "evidence": {**words, "title": "document and page"},
        "confirm": {
            "title": "what a person must confirm; deleted once confirmed",
            "type": ["string", "integer"],
        },
    }
    exact = schema
    if writer.quantities(field):
        schema = {"anyOf": [exact, writer.bound(field)]}
        parts |= {
            key: {"title": f"{key}, as a bound", "anyOf": [exact, {"type": "null"}]} for key in BOUND_KEYS
        }
    long = _object(field.title, {"value": {"anyOf": [schema, {"type": "null"}]}, **parts})
    return {**about, "anyOf": [schema, {"type": "null"}, long]}


def office_schema(practice: Practice, changeable: Changeable) -> Schema:
    """The schema of an office file."""
    writer = _Writer(practice.vocabulary)
    place = {
        name: writer.field(field)
        for name, field in practice.vocabulary.records["office limit"].fields.items()
    }
    severities = [one.value for one in Severity]

    def limit(key: str) -> Schema:
        value = _limit(writer, practice.entry(key).value)
        title = f"{changeable.directions.get(key, '')} {practice.entry(key).title}".strip()
        return {"title": title, "anyOf": [value, _object(title, {"value": value, **place}, ["value"])]}

    properties: Schema = {
        "office": writer.section("office"),
        "limits": _object("limits of requirements", {key: limit(key) for key in changeable.directions}),
        "options": _object(
            "options of rules",
            {
                code: _object(code, {name: limit(key) for name, key in facts.options.items()})
                for code, facts in changeable.rules.items()
            },
        ),
        "severity": _object(
            "severities of rules",
            {
                code: {"enum": ["defect"] if facts.bound else severities}
                for code, facts in changeable.rules.items()
            },
        ),
        "values": {
            "title": "values of the office",
            "type": "object",
            "patternProperties": {f"^{office_file.VALUE_KEY.pattern}$": _office_value(writer)},
            "additionalProperties": False,
        },
        "rules": {
            "title": "folder of rule modules",
            **WORD,
            "pattern": f"^{office_file.FOLDER_NAME.pattern}$",
        },
    }
    return _root(writer, "specgen office file", _object("", properties, ["office"]))


def _limit(writer: _Writer, value: Value | None) -> Schema:
    if isinstance(value, tuple):
        return {"type": "array", "minItems": 1, "items": {"enum": list(value)}}
    if not isinstance(value, Quantity):
        return {"not": {}}
    condition = value.condition.dimension if value.condition else ""
    return writer.quantity(frozenset({value.dimension}), value.value < 0, condition, must=bool(condition))


def _office_value(writer: _Writer) -> Schema:
    words = {"type": "array", "minItems": 1, "items": WORD}
    value = {"anyOf": [{"type": ["string", "number", "boolean"]}, words], "title": "value"}
    more = {"value": value, "source": writer.section("office source")}
    return writer.section("office value", more, ["source"])
