"""A proposed wall as a project file: the facts as stated, what was chosen put in, each choice with its reason."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from textwrap import wrap
from typing import Any

from specgen.files.yaml_comments import Comment
from specgen.files.yaml_reader import MarkedMap
from specgen.intake.kindless import NONE
from specgen.intake.start import HEAD, PLACES_HINT
from specgen.intake.values import UNKNOWN
from specgen.model.project import Component, Parapet, Project, Record, Transition, Value
from specgen.practice.entries import Practice
from specgen.work.noted_text import Noted, lines_of, noted

_WIDTH = 112
_OF_THE_START = frozenset(line.strip() for line in (*HEAD, *PLACES_HINT))
_LISTS = ("build_up", "top", "transitions")
Notes = Mapping[tuple[str, ...], tuple[str, ...]]  # by (role or lap, value): the lines that are written above


def proposal_text(
    root: MarkedMap,
    typed: Sequence[Comment],
    wall: Project,
    practice: Practice,
    head: tuple[str, ...],
    notes: Notes,
) -> str:
    """The project file of a wall.

    Args:
        root: the file of facts as it was read.
        typed: its comments; each stays at its key, those of a start file are left out.
        wall: the project with the choices in it.
        practice: holds the vocabulary.
        head: lines of comment for the top.
        notes: lines of comment by choice.
    """
    kept = [one for one in typed if one.text not in _OF_THE_START]
    content = noted(root, kept)
    content["project"] = _with_new(content["project"], wall.info, practice, notes, ("project",))
    for node, parapet in _holders(content, wall, notes):
        _put(node, parapet, practice, notes)
    lines = [*(f"# {line}" if line else "#" for text in head for line in wrap(text, _WIDTH) or [""])]
    body = list(lines_of(content))
    made = "\n".join([*body, ""])
    without_place = dict.fromkeys(one.text for one in kept if one.text not in made)
    return "\n".join([*lines, *without_place, made])


def _scuppers(parapet: Parapet, notes: Notes) -> list[Noted]:
    """The scuppers that the search has put in, the reasons above the first of each use."""
    found, seen = [], set()
    for one in parapet.scuppers:
        if str(one.mark) != "tried value":
            return []
        use = one.word("use") or ""
        node = Noted({name: _plain(value) for name, value in one.values.items()})
        if use not in seen:
            node.above = notes.get(("scupper", use), ())
        seen.add(use)
        found.append(node)
    return found


def _holders(content: dict[str, Any], wall: Project, notes: Notes) -> list[tuple[dict[str, Any], Parapet]]:
    """Each node that is to hold what is chosen, with a parapet that shows it: a type, or a parapet of its own."""
    found: dict[int, tuple[dict[str, Any], Parapet]] = {}
    for node, parapet in zip(content["parapets"], wall.parapets, strict=True):
        base = content.get("types", {}).get(node.get("type")) if "type" in node else None
        holder = node if base is None or any(key in node for key in _LISTS) else base
        found.setdefault(id(holder), (holder, parapet))
        places = _scuppers(parapet, notes)
        if places and not node.get("scuppers"):
            node["scuppers"] = places
        if (
            "existing" in node
            and parapet.existing is not None
            and not (node["existing"] or {}).get("repairs")
        ):
            standing = node["existing"] = Noted(node["existing"] or {})
            standing["repairs"] = [{"what": one.word("what")} for one in parapet.existing.repairs]
    return list(found.values())


def _put(node: dict[str, Any], parapet: Parapet, practice: Practice, notes: Notes) -> None:
    changed = _with_new(node, parapet, practice, notes, ("parapet",))
    places: dict[str, Any] = {
        key: node.get(key)
        for key in ("corners", "ends", "steps", "joints", "scuppers", "penetrations", "existing")
        if key in node
    }
    lists = {
        name: [
            *(_part(part, node.get(name), practice, notes) for part in getattr(parapet, name)),
            *_left_out(node.get(name)),
        ]
        for name in ("build_up", "top")
    }
    lists["transitions"] = [
        _lap(lap, node.get("transitions"), practice, notes) for lap in parapet.transitions
    ]
    node.clear()
    node.update({key: value for key, value in changed.items() if key not in (*_LISTS, *places)})
    node.update({key: value for key, value in lists.items() if value})
    node.update(places)
    if isinstance(node, Noted):
        node.take(changed)


def _with_new(
    node: dict[str, Any] | None, record: Record, practice: Practice, notes: Notes, place: tuple[str, ...]
) -> Noted:
    """A node with the values that the search has put in, each below its reason."""
    out = Noted(node or {})
    for name, value in record.values.items():
        if out.get(name, UNKNOWN) != UNKNOWN or str(record.at(name)) != "tried value":
            continue
        out[name] = _plain(value)
        if above := notes.get((*place, name)):
            out.above_key[name] = above
    return out


def _part(part: Component, stated: list[Any] | None, practice: Practice, notes: Notes) -> Noted:
    for node in stated or ():
        if node.get("id", node.get("role")) == part.id:
            out = _with_new(node, part, practice, notes, (part.role,))
            if node.get("kind") == UNKNOWN:
                out["kind"] = part.kind
                out.above = notes.get((part.id,), ())
            return out
    base: dict[str, Any] = {"role": part.role}
    if part.id != part.role:
        base["id"] = part.id
    base["kind"] = part.kind
    out = _with_new(base, part, practice, notes, (part.role,))
    out.above = notes.get((part.id,), ())
    return out


def _left_out(stated: list[Any] | None) -> Iterator[Noted]:
    """The lines of the facts that state of a role that there is none."""
    return (Noted(node) for node in stated or () if node.get("kind") == NONE)


def _lap(lap: Transition, stated: list[Any] | None, practice: Practice, notes: Notes) -> Noted:
    for node in stated or ():
        if set(node.get("between", ())) == {lap.first, lap.second}:
            return Noted(node)
    out = _with_new({"between": [lap.first, lap.second]}, lap, practice, notes, ("transition",))
    out.above = notes.get((lap.first, lap.second), notes.get((lap.second, lap.first), ()))
    return out


def _plain(value: Value) -> Any:
    return list(value) if isinstance(value, tuple) else getattr(value, "text", value)
