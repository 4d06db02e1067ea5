"""A proposed wall as a project file: the facts as stated, what was chosen put in, each choice with its reason."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from datetime import date
from textwrap import wrap
from typing import Any

from specgen.files.yaml_reader import MarkedMap
from specgen.intake.start import scalar
from specgen.model.project import Component, Parapet, Project, Record, Transition, Value
from specgen.practice.entries import Practice

_WIDTH = 112
_KEY = re.compile(r"[a-z]+(_[a-z0-9]+)+")
_LISTS = ("build_up", "top", "transitions")
Notes = Mapping[tuple[str, ...], tuple[str, ...]]  # by (role or lap, value): the lines that are written above


class _Noted(dict[str, Any]):
    """A mapping with lines above it, and above its keys."""

    def __init__(self, values: Mapping[str, Any], above: tuple[str, ...] = ()) -> None:
        super().__init__(values)
        self.above = above
        self.above_key: dict[str, tuple[str, ...]] = {}


def proposal_text(
    root: MarkedMap, wall: Project, practice: Practice, head: tuple[str, ...], notes: Notes
) -> str:
    """The project file of a wall.

    Args:
        root: the file of facts as it was read.
        wall: the project with the choices in it.
        practice: holds the vocabulary.
        head: lines of comment for the top.
        notes: lines of comment by choice.
    """
    content = _copied(root)
    content["project"] = _with_new(content["project"], wall.info, practice, notes, ("project",))
    holders = _holders(content, wall)
    for node, parapet in holders:
        _put(node, parapet, practice, notes)
    lines = [*(f"# {line}" if line else "#" for text in head for line in wrap(text, _WIDTH) or [""])]
    return "\n".join([*lines, *_mapping(content, ""), ""])


def _holders(content: dict[str, Any], wall: Project) -> list[tuple[dict[str, Any], Parapet]]:
    """Each node that is to hold what is chosen, with a parapet that shows it: a type, or a parapet of its own."""
    found: dict[int, tuple[dict[str, Any], Parapet]] = {}
    for node, parapet in zip(content["parapets"], wall.parapets, strict=True):
        base = content.get("types", {}).get(node.get("type")) if "type" in node else None
        holder = node if base is None or any(key in node for key in _LISTS) else base
        found.setdefault(id(holder), (holder, parapet))
        if (
            "existing" in node
            and parapet.existing is not None
            and not (node["existing"] or {}).get("repairs")
        ):
            node["existing"] = {
                **(node["existing"] or {}),
                "repairs": [{"what": one.word("what")} for one in parapet.existing.repairs],
            }
    return list(found.values())


def _put(node: dict[str, Any], parapet: Parapet, practice: Practice, notes: Notes) -> None:
    changed = _with_new(node, parapet, practice, notes, ("parapet",))
    places: dict[str, Any] = {key: node.get(key) for key in ("corners", "ends", "existing") if key in node}
    lists = {
        "build_up": [_part(part, node.get("build_up"), practice, notes) for part in parapet.build_up],
        "top": [_part(part, node.get("top"), practice, notes) for part in parapet.top],
        "transitions": [_lap(lap, node.get("transitions"), practice, notes) for lap in parapet.transitions],
    }
    node.clear()
    node.update({key: value for key, value in changed.items() if key not in (*_LISTS, *places)})
    node.update({key: value for key, value in lists.items() if value})
    node.update(places)
    if isinstance(node, _Noted) and isinstance(changed, _Noted):
        node.above_key.update(changed.above_key)


def _with_new(
    node: dict[str, Any] | None, record: Record, practice: Practice, notes: Notes, place: tuple[str, ...]
) -> _Noted:
    """A node with the values that the search has put in, each below its reason."""
    out = _Noted(dict(node or {}), getattr(node, "above", ()))
    out.above_key.update(getattr(node, "above_key", {}))
    for name, value in record.values.items():
        if name in out or str(record.at(name)) != "tried value":
            continue
        out[name] = _plain(value)
        if above := notes.get((*place, name)):
            out.above_key[name] = above
    return out


def _part(part: Component, stated: list[Any] | None, practice: Practice, notes: Notes) -> _Noted:
    for node in stated or ():
        if node.get("id", node.get("role")) == part.id:
            return _with_new(node, part, practice, notes, (part.role,))
    base: dict[str, Any] = {"role": part.role}
    if part.id != part.role:
        base["id"] = part.id
    base["kind"] = part.kind
    out = _with_new(base, part, practice, notes, (part.role,))
    out.above = notes.get((part.id,), ())
    return out


def _lap(lap: Transition, stated: list[Any] | None, practice: Practice, notes: Notes) -> _Noted:
    for node in stated or ():
        if set(node.get("between", ())) == {lap.first, lap.second}:
            return _Noted(node)
    out = _with_new({"between": [lap.first, lap.second]}, lap, practice, notes, ("transition",))
    out.above = notes.get((lap.first, lap.second), notes.get((lap.second, lap.first), ()))
    return out


def _plain(value: Value) -> Any:
    return list(value) if isinstance(value, tuple) else getattr(value, "text", value)


def _copied(node: Any) -> Any:
    if isinstance(node, dict):
        return _Noted({key: _copied(value) for key, value in node.items()})
    return [_copied(one) for one in node] if isinstance(node, list) else node


# Text


def _mapping(node: Mapping[str, Any], indent: str) -> Iterator[str]:
    above = getattr(node, "above_key", {})
    for key, value in node.items():
        yield from _comment(above.get(key, ()), indent)
        name = key if isinstance(key, str) and _KEY.fullmatch(key) else scalar(str(key))
        yield from _entry(f"{indent}{name}:", value, indent)


def _entry(start: str, value: Any, indent: str) -> Iterator[str]:
    if isinstance(value, dict) and value:
        yield start
        yield from _mapping(value, f"{indent}  ")
    elif isinstance(value, list) and value and all(not isinstance(one, dict | list) for one in value):
        yield f"{start} [{', '.join(map(_leaf, value))}]"
    elif isinstance(value, list) and value:
        yield start
        for one in value:
            yield from _item(one, f"{indent}  ")
    else:
        yield f"{start} {_leaf(value)}"


def _item(value: Any, indent: str) -> Iterator[str]:
    if not isinstance(value, dict):
        yield f"{indent}- {_leaf(value)}"
        return
    yield from _comment(getattr(value, "above", ()), indent)
    lines = list(_mapping(value, f"{indent}  "))
    first = next(place for place, line in enumerate(lines) if not line.lstrip().startswith("#"))
    yield from (f"{indent}{line.lstrip()}" for line in lines[:first])
    yield f"{indent}- {lines[first].lstrip()}"
    yield from lines[first + 1 :]


def _comment(lines: tuple[str, ...], indent: str) -> Iterator[str]:
    for text in lines:
        yield from (f"{indent}# {line}" for line in wrap(text, _WIDTH - len(indent)))


def _leaf(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return repr(value)
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, dict):
        return "{}"
    return "[]" if isinstance(value, list) else scalar(str(value))
