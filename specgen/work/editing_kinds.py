"""A component of another kind in the project file, and what does not outlast the change."""

from __future__ import annotations

from typing import Any

from specgen.files.yaml_places import Path
from specgen.files.yaml_scalars import as_written
from specgen.intake.records import REASONS
from specgen.intake.values import UNKNOWN
from specgen.model.project import Component, Project
from specgen.practice.entries import Practice
from specgen.practice.trade_names import hint
from specgen.wall.change import foreign
from specgen.work.editing_file import CHANGES, KIND, Edited, ProjectText


def change_kind(
    text: str,
    project: Project,
    practice: Practice,
    parapet: str,
    component: str,
    kind: str,
    family: str = "",
    scope: str = "",
) -> Edited:
    """A component of another kind; what belongs to the former is left out, and told.

    Args:
        text: of the project file.
        project: as it was read from the text.
        practice: of the project's office.
        parapet: by name.
        component: by id.
        kind: one of its role, or ``unknown``.
        family: the material, where the kind leaves it open.
        scope: ``type``, ``own``, or "" for where the component is listed.

    Raises:
        InputError: there is no such kind or component, or the parapet's type has none.
    """
    file = ProjectText(text, project, practice)
    at = file.parapet(parapet)
    path, typed, item = file.component(at, component)
    role = str(item["role"])
    known_kind(file, path, role, kind)
    part = _part(project, parapet, component)
    before = part.kind if part else str(item.get(KIND, UNKNOWN))
    if kind == before and not family:
        return Edited(text, f"{component}, kind: {before}, as it was")
    over = (*at, CHANGES, component)
    if not scope:
        scope = "type" if typed and KIND not in file.node(over) else "own"
    if scope == "type" and not typed:
        raise file.refusal(path, "this is not of a type", "change it here alone")
    dropped = _dropped(file, part, kind, family, path, over)
    if typed and scope == "own" and set(dropped) & set(file.node(path)):
        # What goes would count on: the changes of a parapet cannot take out what its type states.
        path, typed = (*file.own_list(at, str(path[-2])), path[-1]), False
    target = over if typed and scope == "own" else path
    lost = [*_drop(file, target, dropped), *(_drop(file, over, dropped) if target != over else ())]
    if target == path and KIND in file.node(over):
        file.remove((*over, KIND))
    if scope == "type":
        for other in file.sharing(file.type_of(at)):
            lost += _drop_elsewhere(file, other, component, dropped)
    file.set((*target, KIND), as_written(kind))
    if family:
        file.set((*target, "family"), as_written(family))
    of = file.type_of(at) if scope == "type" else parapet
    what = f"{component} of {of}, kind: {before} -> {f'{kind}, {family}' if family else kind}"
    left = f"{', '.join(lost)}, of the {before}" if lost else ""
    return Edited(file.text, what, left)


def known_kind(file: ProjectText, path: Path, role: str, kind: str) -> None:
    """Hold that a role has a kind, or that nobody knows it yet.

    Raises:
        InputError: it has no such kind.
    """
    kinds = file.practice.vocabulary.roles[role].kinds
    if kind in kinds or kind == UNKNOWN:
        return
    fix = hint(kind, kinds, f"choose: {', '.join(kinds)}", role, KIND)
    raise file.refusal(path, f"`{kind}` is not a known kind of {role}", fix)


def _part(project: Project, parapet: str, component: str) -> Component | None:
    here = next((one for one in project.parapets if one.name == parapet), None)
    return next((one for one in here.components() if one.id == component), None) if here else None


def _dropped(
    file: ProjectText, part: Component | None, kind: str, family: str, *paths: Path
) -> tuple[str, ...]:
    """The keys that do not outlast a change of kind: what is foreign to the new one, what was set aside, reasons."""
    if part is None or kind == UNKNOWN:
        return ()
    lost = {*foreign(part, kind, file.practice, family), *part.doubted, *REASONS}
    return tuple(dict.fromkeys(name for path in paths for name in file.node(path) if name in lost))


def _drop(file: ProjectText, path: Path, names: tuple[str, ...]) -> list[str]:
    """Take keys out of a map, and tell each with what it said."""
    lost = []
    for name in names:
        if name in file.node(path):
            value = file.at((*path, name))
            words = _reasons(value) if name in REASONS else file.written((*path, name))
            if words or name not in REASONS:
                lost.append(f"`{name}` {words}")
            file.remove((*path, name))
    return lost


def _reasons(value: Any) -> str:
    return ", ".join(f"{name}: {why}" for name, why in value.items()) if isinstance(value, dict) else ""


def _drop_elsewhere(file: ProjectText, parapet: str, component: str, names: tuple[str, ...]) -> list[str]:
    """What another parapet of the type changes of the component, unless it has a kind of its own there."""
    over = (*file.parapet(parapet), CHANGES, component)
    node = file.node(over)
    return [] if not node or KIND in node else [f"{one} ({parapet})" for one in _drop(file, over, names)]
