"""A JSON Schema that offers the names of one project: its components, types and parapets, where a file points at them.

They are offered as examples, and a name that is not among them is no error for the editor: a schema cannot read the
file that it is held against, so that it would refuse the name of what was added since. The loader checks the names.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from specgen.files.yaml_reader import MarkedList, MarkedMap
from specgen.intake.formats import read_file
from specgen.intake.json_schema_parts import Schema
from specgen.intake.project import project_file

_PARTS = ("build_up", "top")
_BY_ID = ("upper", "tape", "primer", "through", "one", "other")  # keys whose value is the id of a component


@dataclass(frozen=True)
class OwnNames:
    """The names that a project has given, each kind in the order of the file."""

    parts: dict[str, str]  # id of a component to its role; "" where it has several
    types: tuple[str, ...]
    parapets: tuple[str, ...]


def own_names(project: Path) -> OwnNames:
    """The names of a project; what is not described well enough to have one is passed over.

    Args:
        project: the project folder, or its YAML file.

    Raises:
        InputError: the file cannot be read, or is of another kind.
    """
    root = read_file(project_file(project), "project")
    types = root.get("types")
    held = types if isinstance(types, MarkedMap) else {}
    listed = root.get("parapets")
    parapets = [one for one in listed if isinstance(one, MarkedMap)] if isinstance(listed, MarkedList) else []
    found: dict[str, str] = {}
    for parapet in (*held.values(), *parapets):
        for name, role in _components(parapet):
            found[name] = role if found.get(name, role) == role else ""
    names = (one["name"] for one in parapets if isinstance(one.get("name"), str | int))
    return OwnNames(found, tuple(map(str, held)), tuple(dict.fromkeys(map(str, names))))


def _components(parapet: Any) -> Iterator[tuple[str, str]]:
    for key in _PARTS if isinstance(parapet, MarkedMap) else ():
        parts = parapet.get(key)
        for part in parts if isinstance(parts, MarkedList) else ():
            if isinstance(part, MarkedMap) and isinstance(part.get("role"), str):
                yield str(part.get("id", part["role"])), str(part["role"])


def with_names(schema: Schema, names: OwnNames) -> Schema:
    """The schema with the names of a project offered wherever its file points at one.

    Args:
        schema: of a project, submittal or request file; another comes back as it is.
        names: of the project.
    """
    ids, parapets = list(names.parts), list(names.parapets)
    offers = {**dict.fromkeys(_BY_ID, ids), "type": list(names.types), "parapet": ["all", *parapets]}
    return {key: _offered(value, offers, names) for key, value in schema.items()}


def _offered(node: Any, offers: dict[str, list[str]], names: OwnNames) -> Any:
    if isinstance(node, list):
        return [_offered(one, offers, names) for one in node]
    if not isinstance(node, dict):
        return node
    out = {key: _offered(value, offers, names) for key, value in node.items()}
    for key, value in (out.get("properties") or {}).items():
        if not isinstance(value, dict):
            continue
        if key in offers and _is_text(value):
            value["examples"] = offers[key]
        elif key == "between":
            value["items"] = {**value["items"], "examples": list(names.parts)}
        elif key == "parapets" and "$ref" not in value.get("items", {}):
            value["items"] = {**value["items"], "examples": list(names.parapets)}
        elif key == "changes" and "additionalProperties" in value:
            value["properties"] = {one: _change(one, role, value) for one, role in names.parts.items()}
        elif key == "set":
            value["examples"] = [f"{one}.{part}." for one in names.parapets for part in names.parts]
    return out


def _is_text(value: Schema) -> bool:
    """Whether a key holds words, and no choice among words of the vocabulary."""
    return value.get("$ref") == "#/$defs/text" or value.get("type") == "string"


def _change(name: str, role: str, changes: Schema) -> Schema:
    """What may change of one component: the attributes that any may have, under its own name and role."""
    description = f"Values of {name} that differ from the type." + (f" Its role: {role}." if role else "")
    return {**changes["additionalProperties"], "title": name, "description": description}
