"""Submittal files and substitution requests as JSON Schema (draft 2020-12)."""

from __future__ import annotations

from specgen.intake import substitution as substitution_file
from specgen.intake.bounds import BOUND_KEYS
from specgen.intake.field_words import dimensions_of
from specgen.intake.json_schema_parts import (
    NAME,
    TEXT,
    WORD,
    Schema,
    Writer,
    by_role,
    keyed,
    kinds_of,
    listed,
    mapping,
    number_of,
    root,
    whole,
)
from specgen.practice.entries import Field, Practice, Role
from specgen.practice.shapes import shape


def submittal_schema(practice: Practice) -> Schema:
    """The schema of a submittal file."""
    writer = Writer(practice)
    answer = whole(
        shape("answer to a comment"), {"comment": {"type": "integer", "minimum": 1}, "answer": TEXT}, "answer"
    )
    schemas: Schema = {
        "format": number_of("submittal"),
        "submittal": writer.section("submittal"),
        "products": _products(writer),
        "deviations": {"anyOf": [{"type": "null"}, TEXT, {"type": "array", "items": TEXT}]},
        "answers": {"type": ["array", "null"], "items": answer},
    }
    return root(writer, "specgen submittal file", whole(shape("submittal file"), schemas), "submittal")


def request_schema(practice: Practice) -> Schema:
    """The schema of a substitution request."""
    writer = Writer(practice)
    one = {"type": ["string", "number", "boolean"]}
    change = whole(
        shape("change of a request"),
        {"set": WORD, "to": one, substitution_file.MEANT: TEXT},
        "one value of the project that would change",
    )
    schemas = {
        "format": number_of("request"),
        "request": writer.section("request"),
        "products": _products(writer),
        "changes": listed(change, 1),
    }
    schema = whole(shape("request file"), schemas)
    schema["anyOf"] = [{"required": ["products"]}, {"required": ["changes"]}]
    return root(writer, "specgen substitution request", schema, "request")


def _products(writer: Writer) -> Schema:
    for name, role in writer.vocabulary.roles.items():
        writer.defined(f"role {name}", _product(writer, name, role))
    return listed(by_role(writer, writer.vocabulary.roles, list(shape("product").needed)), 1)


def _product(writer: Writer, name: str, role: Role) -> Schema:
    stated = {key: field for key, field in role.fields.items() if not field.project_only}
    notices = {"type": ["array", "null"], "items": writer.section("notice")}
    paper = writer.section("paper", keyed(shape("paper"), {"notices": notices}))
    own: Schema = {
        "role": {"const": name},
        "kind": _read_kind(writer, kinds_of(role)),
        "name": NAME,
        "maker": TEXT,
        "evidence": TEXT,
        "parapets": {"type": "array", "items": {"type": ["string", "integer"]}},
        "meant": writer.reasons("meant", stated),
        "papers": {"type": ["array", "null"], "items": writer.defined("paper", paper)},
    }
    own = keyed(shape("product"), own)
    claims = {key: _claim(writer, field, name) for key, field in stated.items()}
    return mapping(role.title, own | claims, shape("product").needed)


def _read_kind(writer: Writer, kinds: Schema) -> Schema:
    """A generic kind, bare or with what a person must confirm of it."""
    words: Schema = {"type": ["string", "integer"]}
    value: Schema = {"anyOf": [kinds, {"type": "null"}]}
    confirmed = writer.defined("confirmation", writer.section("confirmation"))
    parts = {"value": value, "evidence": words, "confirm": words, "confirmed": confirmed}
    long = whole(shape("kind of a product"), parts, "generic kind")
    return {"description": kinds["description"], "anyOf": [kinds, {"type": "null"}, long]}


def _claim(writer: Writer, field: Field, role: str) -> Schema:
    """A stated value, bare or with method and evidence; null is a value not stated."""
    schema = writer.field(field, of=role)
    about: Schema = {key: schema.pop(key) for key in ("title", "description", "examples") if key in schema}
    schema.pop("default", None)
    exact = schema
    words = {"type": ["string", "integer", "null"]}
    end = {"anyOf": [exact, {"type": "null"}]} if dimensions_of(field) else {"type": "null"}
    if dimensions_of(field):
        schema = {"anyOf": [exact, writer.bound(field)]}
    parts: Schema = {
        "value": {"anyOf": [schema, {"type": "null"}]},
        "method": words,
        "evidence": words,
        "confirm": {"type": ["string", "integer"]},
        "confirmed": writer.defined("confirmation", writer.section("confirmation")),
        **dict.fromkeys(BOUND_KEYS, end),
    }
    held = keyed(shape("claim"), parts)
    if not dimensions_of(field):
        held = {key: one for key, one in held.items() if key not in BOUND_KEYS}
    return {**about, "anyOf": [schema, {"type": "null"}, mapping(field.title, held)]}
