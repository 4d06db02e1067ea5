"""A project file as JSON Schema (draft 2020-12), for editors that complete and check YAML.

Made from the vocabulary and its shapes, like the Cerberus schemas. A schema sees one value at a time: what compares two
places of a file, or the size of a number, only the loader checks.
"""

from __future__ import annotations

from specgen.intake import project as project_file
from specgen.intake.existing import LISTS
from specgen.intake.json_schema_parts import (
    NAME,
    WORD,
    Schema,
    Writer,
    beside,
    by_role,
    keyed,
    kinds_of,
    listed,
    mapping,
    number_of,
    root,
    whole,
)
from specgen.intake.kindless import KINDLESS, NONE
from specgen.intake.values import UNKNOWN
from specgen.model.project import PLACES
from specgen.practice.entries import Practice, Role
from specgen.practice.shapes import shape

# Below these nothing need stand.
MAY_BE_EMPTY = tuple(one for one in project_file.OWN if one not in (*project_file.NEEDED, "site"))
DECISIONS = {key: what for key, what in shape("project file").lists.items() if what != "parapet"}


def project_schema(practice: Practice) -> Schema:
    """The schema of a project file."""
    writer = Writer(practice, project_file.ProjectReader.OPEN)
    for name, role in practice.vocabulary.roles.items():
        if role.where != "place":  # what stands at a place is no component of a project file
            writer.defined(f"role {name}", _component(writer, name, role))
    writer.defined("parapet", _parapet(writer, named=True))
    writer.defined("type", _parapet(writer, named=False))
    sections = {name: writer.section(name) for name in project_file.OWN}
    for name in MAY_BE_EMPTY:
        sections[name]["type"] = ["object", "null"]
    schemas = {
        "format": number_of("project"),
        **sections,
        "parapets": listed(writer.ref("parapet"), 1),
        "types": {"type": "object", "additionalProperties": writer.ref("type")},
        **{key: listed(_with_snippet(writer, what)) for key, what in DECISIONS.items()},
    }
    return root(writer, "specgen project file", whole(shape("project file"), schemas), "project")


def _component(writer: Writer, name: str, role: Role) -> Schema:
    more = keyed(shape("component"), {"role": {"const": name}, "kind": _kindless(kinds_of(role)), "id": NAME})
    more["meant"] = writer.reasons("meant", role.fields)
    more["because"] = writer.reasons("because", (*role.fields, "kind"))
    require = [key for key, field in role.fields.items() if field.required]
    return writer.record(role.title, role.fields, more, ["role", *require], "role", name)


def _kindless(kinds: Schema) -> Schema:
    """A kind, or what may stand in its place."""
    also = ("Nobody knows it yet.", "The parapet has no such component.")
    words = " ".join(f"{name}: {what}" for name, what in zip((UNKNOWN, NONE), also, strict=True))
    return {
        "enum": [*kinds["enum"], *KINDLESS],
        "description": f"{kinds['description']} {words}",
        "enumDescriptions": [*kinds["enumDescriptions"], *also],
    }


def _parapet(writer: Writer, named: bool) -> Schema:
    roles = writer.vocabulary.roles
    fields = writer.vocabulary.records["parapet"].fields
    wanted = {"build_up": "build-up", "top": "top"}
    schemas: Schema = {
        key: listed(by_role(writer, [name for name, role in roles.items() if role.where == where], ["role"]))
        for key, where in wanted.items()
    }
    ends = {"type": "array", "items": WORD, "minItems": 2, "maxItems": 2, "uniqueItems": True}
    joint = shape("transition")
    between = {**keyed(joint, {"between": ends})}
    schemas["transitions"] = listed(
        writer.section("transition", between, joint.needed)
        | {"defaultSnippets": [_snippet("new lap", "two components that meet", {"between": ["$1", "$2"]})]}
    )
    for key, what in PLACES.items():
        schemas[key] = listed(_with_snippet(writer, what))
    more = keyed(shape("parapet"), schemas)
    if not named:
        return writer.record("type of parapet", fields, more, what="parapet")
    own = shape("parapet of a project")
    lists = keyed(
        shape("existing"), {key: listed(_with_snippet(writer, what)) for key, what in LISTS.items()}
    )
    more |= keyed(
        own,
        {
            "name": NAME,
            "type": WORD,
            "changes": _changes(writer),
            "existing": writer.section("existing", lists),
        },
    )
    some = [{"required": [key]} for key in ("type", *wanted)]  # what has components to change
    return writer.record("parapet", fields, more, own.needed, "parapet") | {
        "dependentSchemas": {"changes": {"anyOf": some}}
    }


def _with_snippet(writer: Writer, what: str) -> Schema:
    """A record of a list, with the lines of what it must say to begin one."""
    kind, schema = writer.vocabulary.records[what], writer.section(what)
    needed = [name for name, field in kind.fields.items() if field.required]
    body = {name: f"${{{number}:{kind.fields[name].title}}}" for number, name in enumerate(needed, 1)}
    return schema | (
        {"defaultSnippets": [_snippet(f"new {kind.title}", "what it must say", body)]} if body else {}
    )


def _snippet(label: str, description: str, body: Schema) -> Schema:
    return {"label": label, "description": description, "body": body}


def _changes(writer: Writer) -> Schema:
    """Changes by component id. The role behind an id is written elsewhere: any attribute of any role passes."""
    found: dict[str, list[Schema]] = {}
    for role in writer.vocabulary.roles.values():
        for name, field in role.fields.items():
            schema = writer.field(field, "role", role.name)
            if schema not in found.setdefault(name, []):
                found[name].append(schema)
    kinds = {kind: None for role in writer.vocabulary.roles.values() for kind in role.kinds}
    properties: Schema = {
        name: schemas[0] if len(schemas) == 1 else _one_of_several(schemas) for name, schemas in found.items()
    }
    kind = shape("component")["kind"]
    properties["kind"] = {"title": kind.title, **beside(kind), "enum": [*kinds, *KINDLESS]}
    properties["meant"] = writer.reasons("meant", found)
    properties["because"] = writer.reasons("because", (*found, "kind"))
    properties["not_applicable"] = writer.reasons("not_applicable", found)
    change = mapping("values that differ from the type", properties)
    return {"type": "object", "additionalProperties": change}


def _one_of_several(schemas: list[Schema]) -> Schema:
    """A value that several roles have, each in its own words."""
    titles = "; or ".join(dict.fromkeys(one["title"] for one in schemas))
    return {"title": titles, "description": f"By the role of the component: {titles}.", "anyOf": schemas}
