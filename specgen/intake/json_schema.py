"""Project, submittal and office files as JSON Schema (draft 2020-12), for editors that complete and check YAML.

Made from the vocabulary, like the Cerberus schemas. A schema sees one value at a time: what compares two
places of a file, or the size of a number, only the loader checks.
"""

from __future__ import annotations

from typing import get_args

from specgen.intake import office as office_file
from specgen.intake import project as project_file
from specgen.intake import submittal as submittal_file
from specgen.intake import substitution as substitution_file
from specgen.intake.bounds import BOUND_KEYS
from specgen.intake.existing import LISTS
from specgen.intake.json_schema_parts import (
    NAME,
    TEXT,
    WORD,
    Schema,
    Writer,
    by_role,
    mapping,
    root,
    sentence,
)
from specgen.intake.kindless import KINDLESS, NONE
from specgen.intake.values import UNKNOWN
from specgen.model.finding import Severity
from specgen.model.project import PLACES, Value
from specgen.practice.entries import Field, OlderEditions, Practice, Role
from specgen.practice.office import Changeable
from specgen.units.quantity import Quantity

MAY_BE_EMPTY = ("building", "quality", "trades", "contacts")  # sections below which nothing need stand


def project_schema(practice: Practice) -> Schema:
    """The schema of a project file."""
    writer = Writer(practice.vocabulary, project_file.ProjectReader.OPEN)
    for name, role in practice.vocabulary.roles.items():
        if role.where != "place":  # what stands at a place is no component of a project file
            writer.defined(f"role {name}", _component(writer, name, role))
    writer.defined("parapet", _parapet(writer, named=True))
    writer.defined("type", _parapet(writer, named=False))
    properties: Schema = {name: writer.section(name) for name in ("project", *MAY_BE_EMPTY, "site")}
    for name in MAY_BE_EMPTY:
        properties[name]["type"] = ["object", "null"]
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
    for key, what in (("waivers", "waiver"), ("answers", "answer")):
        properties[key] = {"title": key, "type": "array", "items": writer.section(what)}
    properties["maker_letters"] = {
        "title": "letters of manufacturers",
        "type": "array",
        "items": writer.section("manufacturer letter"),
    }
    whole = mapping("", properties, project_file.NEEDED)
    return root(writer, "specgen project file", whole, "project")


def _component(writer: Writer, name: str, role: Role) -> Schema:
    more: Schema = {
        "role": {"const": name},
        "kind": _kindless(_kinds(role)),
        "id": {**NAME, "title": "name of this component; without it, its role"},
        "meant": mapping("reasons of values that are meant", dict.fromkeys(role.fields, WORD)),
        "because": mapping(
            "reasons of values stricter than asked for, or why there is none (kind)",
            dict.fromkeys((*role.fields, "kind"), WORD),
        ),
    }
    require = [key for key, field in role.fields.items() if field.required]
    return writer.record(role.title, role.fields, more, ["role", *require], "role")


def _kinds(role: Role) -> Schema:
    kinds = "; ".join(f"{name}: {kind.title}" for name, kind in role.kinds.items())
    return {"enum": list(role.kinds), "title": "generic kind", "description": f"{sentence(kinds)}."}


def _kindless(kinds: Schema) -> Schema:
    """A kind, or what may stand in its place."""
    also = (
        f"{kinds['description']} {UNKNOWN}: nobody knows it yet. {NONE}: the parapet has no such component."
    )
    return kinds | {"enum": [*kinds["enum"], *KINDLESS], "description": also}


def _parapet(writer: Writer, named: bool) -> Schema:
    roles = writer.vocabulary.roles
    fields = writer.vocabulary.records["parapet"].fields
    more: Schema = {
        key: {
            "title": title,
            "type": "array",
            "items": by_role(writer, [name for name, role in roles.items() if role.where == where], ["role"]),
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
        return writer.record("type of parapet", fields, more, what="parapet")
    more["name"] = {**NAME, "title": "name of the parapet"}
    more["type"] = {**WORD, "title": "type it is built like", "description": "A name below `types`."}
    more["changes"] = _changes(writer)
    lists: Schema = {
        key: {"title": key, "type": "array", "items": writer.section(what)} for key, what in LISTS.items()
    }
    more["existing"] = writer.section("existing", lists)
    listed = [{"required": [key]} for key in ("type", "build_up", "top")]  # what has components to change
    return writer.record("parapet", fields, more, ["name"], "parapet") | {
        "dependentSchemas": {"changes": {"anyOf": listed}}
    }


def _changes(writer: Writer) -> Schema:
    """Changes by component id. The role behind an id is written elsewhere: any attribute of any role passes."""
    found: dict[str, list[Schema]] = {}
    for role in writer.vocabulary.roles.values():
        for name, field in role.fields.items():
            schema = writer.field(field, "role")
            if schema not in found.setdefault(name, []):
                found[name].append(schema)
    kinds = {kind: None for role in writer.vocabulary.roles.values() for kind in role.kinds}
    properties: Schema = {
        name: schemas[0] if len(schemas) == 1 else {"anyOf": schemas} for name, schemas in found.items()
    }
    properties["kind"] = {"enum": [*kinds, *KINDLESS]}
    properties["meant"] = mapping("reasons of values that are meant", dict.fromkeys(found, WORD))
    properties["because"] = mapping(
        "reasons of values stricter than asked for, or why there is none (kind)",
        dict.fromkeys((*found, "kind"), WORD),
    )
    properties["not_applicable"] = writer.reasons_of_none(found)
    change = mapping("values that differ from the type", properties)
    return {"title": "changes by component id", "type": "object", "additionalProperties": change}


def submittal_schema(practice: Practice) -> Schema:
    """The schema of a submittal file."""
    writer = Writer(practice.vocabulary)
    for name, role in practice.vocabulary.roles.items():
        writer.defined(f"role {name}", _product(writer, name, role))
    products = {
        "title": "submitted products",
        "type": "array",
        "minItems": 1,
        "maxItems": submittal_file.MOST_PRODUCTS,
        "items": by_role(writer, practice.vocabulary.roles, ["role", "name"]),
    }
    properties = {
        "submittal": writer.section("submittal"),
        "products": products,
        "deviations": {
            "title": "what differs from the documents, as the submitter declares it",
            "anyOf": [{"type": "null"}, TEXT, {"type": "array", "items": TEXT}],
        },
        "answers": {
            "title": "answers to the comments of the last review, by number",
            "type": ["array", "null"],
            "maxItems": submittal_file.MOST_ANSWERS,
            "items": mapping(
                "answer",
                {"comment": {"type": "integer", "minimum": 1}, "answer": TEXT},
                submittal_file.ANSWER_KEYS,
            ),
        },
    }
    return root(
        writer, "specgen submittal file", mapping("", properties, submittal_file.SECTIONS), "submittal"
    )


def request_schema(practice: Practice) -> Schema:
    """The schema of a substitution request."""
    writer = Writer(practice.vocabulary)
    for name, role in practice.vocabulary.roles.items():
        writer.defined(f"role {name}", _product(writer, name, role))
    one = {"type": ["string", "number", "boolean"]}
    change = mapping(
        "one value of the project that would change",
        {
            "set": {"type": "string", "title": "place, as P-1.drainage layer.kind"},
            "to": {**one, "title": "the value proposed"},
            substitution_file.MEANT: {**TEXT, "title": "why the value is meant"},
        },
        substitution_file.CHANGE_KEYS,
    )
    products = {
        "title": "proposed products",
        "type": "array",
        "minItems": 1,
        "maxItems": submittal_file.MOST_PRODUCTS,
        "items": by_role(writer, practice.vocabulary.roles, ["role", "name"]),
    }
    changes = {
        "title": "changes of the assembly",
        "type": "array",
        "minItems": 1,
        "maxItems": substitution_file.MOST_CHANGES,
        "items": change,
    }
    properties = {"request": writer.section("request"), "products": products, "changes": changes}
    schema = mapping("", properties, ("request",))
    schema["anyOf"] = [{"required": ["products"]}, {"required": ["changes"]}]
    return root(writer, "specgen substitution request", schema, "request")


def _product(writer: Writer, name: str, role: Role) -> Schema:
    more: Schema = {
        "role": {"const": name},
        "kind": _read_kind(writer, _kinds(role)),
        "name": {**NAME, "title": "name of the product"},
        "maker": {**TEXT, "title": "who makes it"},
        "evidence": {**TEXT, "title": "document of the values that name none of their own"},
        "parapets": {
            "title": "parapets it is meant for; without it, all",
            "type": "array",
            "items": {"type": ["string", "integer"]},
        },
    }
    stated = {key: field for key, field in role.fields.items() if not field.project_only}
    more |= {key: _claim(writer, field) for key, field in stated.items()}
    more["meant"] = mapping("reasons of values that are meant", dict.fromkeys(stated, WORD))
    more["papers"] = {"title": "papers the values were read from", "type": "array", "items": _paper(writer)}
    return mapping(role.title, more, ["role", "name"])


def _paper(writer: Writer) -> Schema:
    notices = {"title": "notices on it", "type": ["array", "null"], "items": writer.section("notice")}
    return writer.section("paper", {"notices": notices})


def _read_kind(writer: Writer, kinds: Schema) -> Schema:
    """A generic kind, bare or with what a person must confirm of it."""
    words: Schema = {"type": ["string", "integer"]}
    value: Schema = {"anyOf": [kinds, {"type": "null"}]}
    parts = {"value": value, "evidence": words, "confirm": words, "confirmed": writer.section("confirmation")}
    long = mapping("generic kind", parts, [])
    return {"anyOf": [kinds, {"type": "null"}, long]}


def _claim(writer: Writer, field: Field) -> Schema:
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
        "confirmed": writer.section("confirmation"),
    }
    exact = schema
    if writer.quantities(field):
        schema = {"anyOf": [exact, writer.bound(field)]}
        parts |= {
            key: {"title": f"{key}, as a bound", "anyOf": [exact, {"type": "null"}]} for key in BOUND_KEYS
        }
    long = mapping(field.title, {"value": {"anyOf": [schema, {"type": "null"}]}, **parts})
    return {**about, "anyOf": [schema, {"type": "null"}, long]}


def office_schema(practice: Practice, changeable: Changeable) -> Schema:
    """The schema of an office file."""
    writer = Writer(practice.vocabulary)
    place = {
        name: writer.field(field)
        for name, field in practice.vocabulary.records["office limit"].fields.items()
    }
    severities = [one.value for one in Severity]

    def limit(key: str) -> Schema:
        value = _limit(writer, practice.entry(key).value)
        title = f"{changeable.directions.get(key, '')} {practice.entry(key).title}".strip()
        return {"title": title, "anyOf": [value, mapping(title, {"value": value, **place}, ["value"])]}

    number: Schema = {"type": "string", "pattern": f"^{office_file.SECTION_NUMBER.pattern}$"}
    properties: Schema = {
        "office": writer.section("office"),
        "limits": mapping("limits of requirements", {key: limit(key) for key in changeable.directions}),
        "options": mapping(
            "options of rules",
            {
                code: mapping(code, {name: limit(key) for name, key in facts.options.items()})
                for code, facts in changeable.rules.items()
            },
        ),
        "severity": mapping(
            "severities of rules",
            {
                code: {"enum": ["defect"] if facts.bound else severities}
                for code, facts in changeable.rules.items()
            },
        ),
        "values": {
            "title": "values of the office",
            "type": "object",
            "patternProperties": {
                f"^{office_file.VALUE_KEY.pattern}$": _sourced(writer, "office value", ["source"])
            },
            "additionalProperties": False,
        },
        "amendments": {
            "title": "amendments of the code by states and places",
            "type": "array",
            "maxItems": office_file.MOST_ENTRIES,
            "items": _sourced(writer, "office amendment", ["value", "source"]),
        },
        "editions": mapping(
            "editions of standards",
            {
                str(row["designation"]): {
                    "title": str(row["title"]),
                    "anyOf": [
                        {"type": "integer", "minimum": 1950, "maximum": 2049},
                        {"type": "string", "pattern": f"^{office_file.EDITION.pattern}$"},
                    ],
                }
                for row in practice.table("standards").rows
            },
        ),
        "older_editions": {
            "title": "a value by an older edition of its method than is wanted",
            "enum": list(get_args(OlderEditions)),
        },
        "sections": mapping(
            "section numbers of the office",
            {
                shipped_as: {"anyOf": [number, mapping("", {"number": number, "title": WORD}, ["number"])]}
                for shipped_as in practice.vocabulary.sections
            },
        ),
        "rules": {
            "title": "folder of rule modules",
            **WORD,
            "pattern": f"^{office_file.FOLDER_NAME.pattern}$",
        },
    }
    return root(writer, "specgen office file", mapping("", properties, ["office"]), "office")


def _limit(writer: Writer, value: Value | None) -> Schema:
    if isinstance(value, tuple):
        return {"type": "array", "minItems": 1, "items": {"enum": list(value)}}
    if not isinstance(value, Quantity):
        return {"not": {}}
    condition = value.condition.dimension if value.condition else ""
    return writer.quantity(frozenset({value.dimension}), value.value < 0, condition, must=bool(condition))


def _sourced(writer: Writer, record: str, required: list[str]) -> Schema:
    """A value of the office with its source."""
    words = {"type": "array", "minItems": 1, "items": WORD}
    value = {"anyOf": [{"type": ["string", "number", "boolean"]}, words], "title": "value"}
    more = {"value": value, "source": writer.section("office source")}
    return writer.section(record, more, required)
