"""Files beside a project as JSON Schema (draft 2020-12): office, schedule, acceptances, comments, prices, bad ones."""

from __future__ import annotations

from typing import get_args

from specgen.intake import comments as comments_file
from specgen.intake import office as office_file
from specgen.intake import prices as prices_file
from specgen.intake import schedule as schedule_file
from specgen.intake.json_schema_parts import (
    DATE,
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
from specgen.model.accepted import PAPERS
from specgen.model.finding import Severity
from specgen.model.project import Value
from specgen.model.schedule import WEEK
from specgen.practice.entries import OlderEditions, Practice
from specgen.practice.office import Changeable
from specgen.practice.shapes import shape
from specgen.units.quantity import Quantity


def office_schema(practice: Practice, changeable: Changeable) -> Schema:
    """The schema of an office file."""
    writer = Writer(practice)
    severities = [one.value for one in Severity]
    values = {f"^{office_file.VALUE_KEY.pattern}$": _sourced(writer, "office value", ("source",))}
    amendment = _sourced(writer, "office amendment", ("value", "source"))
    schemas: Schema = {
        "format": number_of("office"),
        "office": writer.section("office"),
        "limits": mapping("limits", {key: _limit(writer, key, changeable) for key in changeable.directions}),
        "options": mapping(
            "options",
            {
                code: mapping(
                    code, {name: _limit(writer, key, changeable) for name, key in one.options.items()}
                )
                | {"description": f"Options of {code}."}
                for code, one in changeable.rules.items()
            },
        ),
        "severity": mapping(
            "severities",
            {
                code: {
                    "description": f"Severity of {code}"
                    + (", which rests on the code." if one.bound else "."),
                    "enum": ["defect"] if one.bound else severities,
                }
                for code, one in changeable.rules.items()
            },
        ),
        "values": {"type": "object", "patternProperties": values, "additionalProperties": False},
        "amendments": listed(amendment),
        "editions": mapping("editions", dict(_editions(practice))),
        "older_editions": {"enum": list(get_args(OlderEditions))},
        "sections": mapping("sections", {one: _section(one) for one in practice.vocabulary.sections}),
        "rules": {
            **WORD,
            "pattern": f"^{office_file.FOLDER_NAME.pattern}$",
            "patternErrorMessage": "Write the name of a folder: letters, digits, hyphens.",
        },
    }
    return root(writer, "specgen office file", whole(shape("office file"), schemas), "office")


def _limit(writer: Writer, key: str, changeable: Changeable) -> Schema:
    """A limit of the office, bare or with its place in the office's document."""
    entry = writer.practice.entry(key)
    value = _limit_value(writer, entry.value)
    title = f"{changeable.directions.get(key, '')} {entry.title}".strip()
    fields = writer.vocabulary.records["office limit"].fields
    place = {name: writer.field(field, of="office limit") for name, field in fields.items()}
    held = {**keyed(shape("office limit"), {"value": value}), **place}
    ships = f" Ships as {entry.value.text}." if isinstance(entry.value, Quantity) else ""
    description = f"{title[:1].upper()}{title[1:]}.{ships}"
    return {
        "title": title,
        "description": description,
        "anyOf": [value, mapping(title, held, shape("office limit").needed)],
    }


def _limit_value(writer: Writer, value: Value | None) -> Schema:
    if isinstance(value, tuple):
        return {"type": "array", "minItems": 1, "items": {"enum": list(value)}}
    if not isinstance(value, Quantity):
        return {"not": {}}
    condition = value.condition.dimension if value.condition else ""
    return writer.quantity(frozenset({value.dimension}), value.value < 0, condition, must=bool(condition))


def _editions(practice: Practice) -> list[tuple[str, Schema]]:
    edition = [
        {"type": "integer", "minimum": 1950, "maximum": 2049},
        {
            "type": "string",
            "pattern": f"^{office_file.EDITION.pattern}$",
            "patternErrorMessage": "Write its year: 2021, 2021a, or 2013 (2020).",
        },
    ]
    rows = practice.table("standards").rows
    return [
        (
            str(row["designation"]),
            {"title": str(row["title"]), "description": f"Edition of {row['title']}.", "anyOf": edition},
        )
        for row in rows
    ]


def _section(shipped_as: str) -> Schema:
    number: Schema = {
        "type": "string",
        "pattern": f"^{office_file.SECTION_NUMBER.pattern}$",
        "patternErrorMessage": "Write six digits in pairs: 07 71 13.",
    }
    long = whole(shape("section of an office"), {"number": number, "title": WORD})
    return {"description": f"The office's number of Section {shipped_as}.", "anyOf": [number, long]}


def _sourced(writer: Writer, record: str, required: tuple[str, ...]) -> Schema:
    """A value of the office with its source."""
    words = {"type": "array", "minItems": 1, "items": WORD}
    value = {"anyOf": [{"type": ["string", "number", "boolean"]}, words]}
    more = keyed(shape("office value"), {"value": value, "source": writer.section("office source")})
    return writer.section(record, more, required)


def schedule_schema(practice: Practice) -> Schema:
    """The schema of a schedule."""
    writer = Writer(practice)
    days = {"type": "integer", "maximum": schedule_file.LONGEST}
    by_key = {
        key: _by_role(practice, {**days, "minimum": least}, words)
        for key, least, words in (
            ("durations", 1, "Working days to install the {}."),
            ("lead_times", 0, "Working days from order to delivery of the {}."),
        )
    }
    counts: Schema = {key: {**days, "minimum": 0} for key in ("review", "resubmission")}
    week: Schema = {"type": "array", "minItems": 1, "items": {"enum": list(WEEK)}}
    held: Schema = {
        "start": DATE,
        "work_week": week,
        "holidays": listed(DATE),
        **by_key,
        **counts,
        "meant": {"type": "object", "additionalProperties": {"type": "string", "pattern": r"\S"}},
    }
    nothing: Schema = {"type": "null"}
    schemas = {key: {"anyOf": [one, nothing]} for key, one in held.items()}
    schema = whole(shape("schedule file"), {"format": number_of("schedule"), **schemas})
    return root(writer, "specgen schedule", schema, "schedule")


def _by_role(practice: Practice, days: Schema, words: str) -> Schema:
    roles = practice.vocabulary.roles
    return mapping(
        "times by role",
        {name: {**days, "description": words.format(role.title)} for name, role in roles.items()},
    )


def acceptance_schema(practice: Practice) -> Schema:
    """The schema of the record of what was accepted."""
    writer = Writer(practice)
    papers = keyed(shape("acceptance"), {key: {**WORD, "pattern": r"\S"} for key in shape("acceptance")})
    entry = writer.section("acceptance", papers)
    entry["oneOf"] = [{"required": [paper]} for paper in PAPERS]
    schemas = {"format": number_of("acceptance"), "accepted": listed(entry)}
    return root(
        writer, "specgen record of acceptances", whole(shape("acceptance file"), schemas), "acceptance"
    )


def comments_schema(practice: Practice) -> Schema:
    """The schema of the comments on a project."""
    writer = Writer(practice)

    def words(longest: int) -> Schema:
        return {"anyOf": [{**WORD, "pattern": r"\S", "maxLength": longest}, {"type": "integer"}]}

    signed = {
        "name": words(comments_file.LONGEST_NAME),
        "time": {**WORD, "format": "date-time"},
        "text": words(comments_file.LONGEST_TEXT),
    }
    answer = whole(comments_file.ANSWER, signed, "answer")
    about = whole(comments_file.ABOUT, dict.fromkeys(comments_file.ABOUT, words(comments_file.LONGEST_WORD)))
    about["oneOf"] = [
        {"required": [head, *wanted], "propertyNames": {"enum": [head, *wanted, *may]}}
        for head, (wanted, may) in comments_file.HEADS.items()
    ]
    comment = whole(
        comments_file.COMMENT,
        {
            "about": about,
            **signed,
            "answers": {"type": ["array", "null"], "items": answer},
            "answered": {"enum": [True, False, "yes", "no"]},
        },
        "comment",
    )
    held = {"type": ["array", "null"], "items": comment}
    schema = whole(comments_file.FILE, {"format": number_of("comments"), "comments": held})
    return root(writer, "specgen comments", schema, "comments")


def prices_schema(practice: Practice) -> Schema:
    """The schema of a file of prices."""
    writer = Writer(practice)
    price = {
        **WORD,
        "pattern": rf"^\s*[0-9]+(?:\.[0-9]+)? per (?:{'|'.join(prices_file.UNITS)})\s*$",
        "patternErrorMessage": "Write it as `6.20 per ft2`; the unit is ft2, ft, m2, m, or each.",
    }
    parts = "|".join(_priced(practice))  # words, spaces and hyphens, which a pattern reads as they are
    prices = {
        "type": "object",
        "minProperties": 1,
        "patternProperties": {f"^(?:{parts})(?::.*)?$": price},
        "additionalProperties": False,
    }
    schemas = {"currency": {**WORD, "pattern": r"\S"}, "prices": prices}
    return root(writer, "specgen prices", whole(prices_file.FILE, schemas), "prices")


def _priced(practice: Practice) -> tuple[str, ...]:
    return (*practice.vocabulary.roles, *prices_file.OTHERS)


def bad_products_schema(practice: Practice) -> Schema:
    """The schema of a list of products that are now known to be bad."""
    writer, of = Writer(practice), shape("bad product")
    for name, role in practice.vocabulary.roles.items():
        own = keyed(of, {"name": TEXT, "role": {"const": name}, "kind": kinds_of(role), "reason": TEXT})
        fields = {key: writer.field(field, of=name) for key, field in role.fields.items()}
        writer.defined(f"role {name}", mapping(role.title, own | fields, of.needed))
    entry = by_role(writer, practice.vocabulary.roles, list(of.needed))
    by_name = {"required": ["name"], "propertyNames": {"enum": ["name", *of.needed]}}
    entry = {**entry, "title": "bad product", "anyOf": [{"required": ["role"]}, by_name]}
    properties = {"name": TEXT, "role": entry["properties"]["role"], "kind": WORD, "reason": TEXT}
    entry["properties"] = keyed(of, properties)
    schema = whole(shape("bad products file"), {"bad": listed(entry, 1)})
    return root(writer, "specgen list of bad products", schema, "bad products")
