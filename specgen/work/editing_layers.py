"""Layers of a parapet in its project file: put in, taken out, moved, stated to be none; the laps between them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from specgen.files.yaml_edit import insert_item, move_item
from specgen.files.yaml_places import Path
from specgen.files.yaml_scalars import as_written
from specgen.intake.kindless import NONE
from specgen.intake.values import UNKNOWN
from specgen.model.project import Project
from specgen.practice.entries import Practice
from specgen.practice.trade_names import hint
from specgen.propose.build import rank
from specgen.wall.order import stated_order
from specgen.work.editing_file import CHANGES, JOIN, KIND, Address, Edited, ProjectText, id_of
from specgen.work.editing_kinds import known_kind
from specgen.work.editing_values import source_words, stated_keys

NAMES = ("upper", "tape")  # what names a component in a transition, beside its two ends


def add_layer(
    text: str,
    project: Project,
    practice: Practice,
    parapet: str,
    role: str,
    kind: str,
    values: Mapping[str, str] | None = None,
    name: str = "",
    before: str | None = None,
    scope: str = "",
) -> Edited:
    """One more layer of a parapet, or of its type.

    Args:
        text: of the project file.
        project: as it was read from the text.
        practice: of the project's office.
        parapet: by name.
        role: of the layer; it decides whether it belongs to the build-up or to the top.
        kind: one of the role, or ``unknown``.
        values: as they are typed, by attribute.
        name: the id; "" for the role, with a number where it is taken.
        before: id of the layer it goes in front of; "" for the end; None for where layers of the role usually lie.
        scope: ``type``, ``own``, or "" for where the list stands.

    Raises:
        InputError: there is no such role, kind or layer, a value cannot stand there, or the id is taken.
    """
    file = ProjectText(text, project, practice)
    at = file.parapet(parapet)
    known = practice.vocabulary.roles
    if role not in known or known[role].where == "place":
        raise file.refusal(at, f"`{role}` is no layer", hint(role, known, f"layers: {', '.join(known)}"))
    key = "top" if known[role].where == "top" else "build_up"
    path = list_of(file, at, key, scope)
    known_kind(file, path, role, kind)
    taken = {id_of(item) for _, _, item in file.components(at) if item.get(KIND) != NONE}
    own = " ".join(name.split()) or next(
        one for one in (role, *(f"{role} {n}" for n in range(2, 999))) if one not in taken
    )
    if own in taken:
        raise file.refusal(path, f"component id `{own}` is used already", "give it another name")
    words = [f"role: {as_written(role)}"]
    words += [f"id: {as_written(own)}"] if own != role else []
    words.append(f"kind: {as_written(kind)}")
    fields = known[role].fields
    for attribute, typed in (values or {}).items():
        if attribute not in fields:
            raise file.refusal(path, f"no `{attribute}` in {role}", f"known here: {', '.join(fields)}")
        words.append(f"{attribute}: {source_words(file, fields[attribute], typed, path)}")
    without_none(file, at, role)
    index = _place_of(file, path, role, own, before)
    file.text = insert_item(file.text, path, index, f"{{{', '.join(words)}}}", file.file)
    items = file.at(path)
    where = f"in front of {id_of(items[index + 1])}" if index + 1 < len(items) else "at the end"
    return Edited(file.text, f"{own} of {_owner(file, at, path, parapet)}: added {where}, {kind}")


def state_none(
    text: str,
    project: Project,
    practice: Practice,
    parapet: str,
    role: str,
    reason: str = "",
    scope: str = "",
) -> Edited:
    """A parapet that has no layer of a role, stated as such, with the reason where there is one to give.

    Raises:
        InputError: there is no such role, or a layer of it is described.
    """
    file = ProjectText(text, project, practice)
    at = file.parapet(parapet)
    known = practice.vocabulary.roles
    if role not in known or known[role].where == "place":
        raise file.refusal(at, f"`{role}` is no layer", hint(role, known, f"layers: {', '.join(known)}"))
    described = [(path, item) for path, _, item in file.components(at) if item.get("role") == role]
    for path, item in described:
        if item.get(KIND, UNKNOWN) not in (NONE, UNKNOWN):
            raise file.refusal(path, f"the {role} is described", "take it out first")
    listed = list_of(file, at, "top" if known[role].where == "top" else "build_up", scope)
    for _, item in described:
        number = next((n for n, one in enumerate(file.at(listed) or ()) if one == item), None)
        if number is not None:
            file.remove((*listed, number))
    why = f", because: {{kind: {as_written(' '.join(reason.split()))}}}" if reason.strip() else ""
    words = f"{{role: {as_written(role)}, kind: {NONE}{why}}}"
    file.text = insert_item(file.text, listed, _place_of(file, listed, role, role, None), words, file.file)
    return Edited(file.text, f"{role} of {_owner(file, at, listed, parapet)}: stated to be none")


def list_of(file: ProjectText, parapet: Path, key: str, scope: str) -> Path:
    """The path of the list that a scope means; that of a type is copied where the parapet alone is meant.

    Raises:
        InputError: the parapet has no such list of a type.
    """
    path, typed = file.listed(parapet, key)
    if scope == "type" and not typed:
        type_name = file.type_of(parapet)
        if not type_name or key in file.node(parapet):
            raise file.refusal(parapet, "this is not of a type", "change it here alone")
        return "types", type_name, key
    return file.own_list(parapet, key) if scope == "own" else path


def without_none(file: ProjectText, parapet: Path, role: str) -> None:
    """A role that is stated to be none is absent no longer."""
    for path, _, item in reversed(list(file.components(parapet))):
        if item.get("role") == role and item.get(KIND) == NONE:
            file.remove(path)


def _place_of(file: ProjectText, path: Path, role: str, own: str, before: str | None) -> int:
    items = [one for one in file.at(path) or () if isinstance(one, dict)]
    if before == "":
        return len(items)
    if before is not None:
        for number, item in enumerate(items):
            if id_of(item) == before:
                return number
        raise file.refusal(path, f"no component `{before}` in this list", "name one of the same list")
    place = rank(role, own)
    behind = (n for n, one in enumerate(items) if rank(str(one.get("role")), id_of(one)) > place)
    return next(behind, len(items))


def _owner(file: ProjectText, parapet: Path, path: Path, name: str) -> str:
    return file.type_of(parapet) if path[0] == "types" else name


def remove_layer(
    text: str, project: Project, practice: Practice, parapet: str, component: str, scope: str = ""
) -> Edited:
    """A layer less; the laps that it is part of go with it, and are told.

    Raises:
        InputError: something else names it: a tape of another lap, a penetration, the order of work, a letter.
    """
    file = ProjectText(text, project, practice)
    at = file.parapet(parapet)
    path, typed, item = file.component(at, component)
    shared = file.sharing(file.type_of(at)) if typed and scope != "own" else (parapet,)
    _refuse_named(file, at, path, shared, component, scope)
    joints = list_of(file, at, "transitions", scope if typed else "")
    path = (*list_of(file, at, str(path[-2]), scope), path[-1])
    lost: list[str] = []
    for number in reversed(range(len(file.at(joints) or ()))):
        ends = file.node((*joints, number)).get("between")
        if isinstance(ends, list) and component in map(str, ends):
            lost.insert(0, f"the lap {JOIN.join(map(str, ends))}")
            file.remove((*joints, number))
    for name in shared:
        over = (*file.parapet(name), CHANGES, component)
        if file.at(over) is not None:
            lost.append(f"the changes of it at {name}")
            file.remove(over)
    file.remove(path)
    owner = file.type_of(at) if typed and scope != "own" else parapet
    return Edited(
        file.text, f"{component} of {owner}: taken out ({item.get(KIND, UNKNOWN)})", ", ".join(lost)
    )


def _refuse_named(
    file: ProjectText, parapet: Path, path: Path, shared: tuple[str, ...], component: str, scope: str
) -> None:
    for where, what in _naming(file, parapet, shared, component):
        message = f"{what} names `{component}`"
        raise file.refusal(where, message, "change that first")
    named = [one for one in file.project.letters if component in (one.one, one.other)]
    known = component in file.practice.vocabulary.families
    others = [one for one in file.project.parapets if one.name not in shared and one.by_id(component)]
    if named and not known and not others:
        raise file.refusal(
            ("maker_letters",), f"a letter of a manufacturer names `{component}`", "change that first"
        )


def _naming(
    file: ProjectText, parapet: Path, shared: tuple[str, ...], component: str
) -> Iterator[tuple[Path, str]]:
    for name in shared:
        own = file.parapet(name)
        joints, _ = file.listed(own, "transitions")
        for number, joint in enumerate(file.at(joints) or ()):
            ends = joint.get("between") if isinstance(joint, dict) else None
            if not isinstance(ends, list) or component in map(str, ends):
                continue
            if any(str(joint.get(key)) == component for key in NAMES):
                yield (*joints, number), f"the lap {JOIN.join(map(str, ends))}"
        places, _ = file.listed(own, "penetrations")
        for number, place in enumerate(file.at(places) or ()):
            if isinstance(place, dict) and str(place.get("through")) == component:
                yield (*places, number), f"the penetration {place.get('name')}"
        here = next((one for one in file.project.parapets if one.name == name), None)
        if here is not None and component in stated_order(here):
            yield own, f"the order of work of {name}"


def move_layer(
    text: str, project: Project, practice: Practice, parapet: str, component: str, by: int, scope: str = ""
) -> Edited:
    """A layer at another place of its list: ``by`` -1 is one place toward the outside, or down in the top.

    Raises:
        InputError: there is no such layer, or no such place.
    """
    file = ProjectText(text, project, practice)
    at = file.parapet(parapet)
    path, _, _ = file.component(at, component)
    listed = list_of(file, at, str(path[-2]), scope)
    index = int(path[-1])
    file.text = move_item(file.text, listed, index, index + by, file.file)
    items = [id_of(one) for one in file.at(listed)]
    to = index + by
    where = f"in front of {items[to + 1]}" if to + 1 < len(items) else "at the end"
    return Edited(file.text, f"{component} of {_owner(file, at, listed, parapet)}: moved {where}")


def add_transition(
    text: str,
    project: Project,
    practice: Practice,
    parapet: str,
    first: str,
    second: str,
    values: Mapping[str, str] | None = None,
    scope: str = "",
) -> Edited:
    """The lap between two components, described with values as they are typed.

    Raises:
        InputError: a component does not exist, the lap is described already, or a value cannot stand there.
    """
    file = ProjectText(text, project, practice)
    at = file.parapet(parapet)
    for name in (first, second):
        file.component(at, name)
    path = list_of(file, at, "transitions", scope or _scope_of(file, at, "transitions"))
    for item in file.at(path) or ():
        ends = item.get("between") if isinstance(item, dict) else None
        if isinstance(ends, list) and {first, second} == set(map(str, ends)):
            raise file.refusal(
                path, f"the lap {first}{JOIN}{second} is described already", "change its values"
            )
    words = [f"between: {as_written([first, second])}"]
    fields = practice.vocabulary.records["transition"].fields
    for key, typed in (values or {}).items():
        if key not in fields:
            raise file.refusal(path, f"no `{key}` in a lap", f"known here: {', '.join(fields)}")
        words.append(f"{key}: {source_words(file, fields[key], typed, path)}")
    count = len(file.at(path) or ())
    file.text = insert_item(file.text, path, count, f"{{{', '.join(words)}}}", file.file)
    shown = ", ".join(f"{key} {typed}" for key, typed in (values or {}).items())
    owner = _owner(file, at, path, parapet)
    return Edited(
        file.text, f"lap {first}{JOIN}{second} of {owner}: described{', ' + shown if shown else ''}"
    )


def _scope_of(file: ProjectText, parapet: Path, key: str) -> str:
    """A list that stands nowhere yet goes beside the components."""
    _, typed = file.listed(parapet, key)
    _, parts_typed = file.listed(parapet, "build_up")
    return "type" if not typed and parts_typed and key not in file.node(parapet) else ""


def remove_transition(
    text: str, project: Project, practice: Practice, parapet: str, place: str, scope: str = ""
) -> Edited:
    """A lap is described no longer; what it said is told.

    Raises:
        InputError: there is no such lap.
    """
    file = ProjectText(text, project, practice)
    at = file.parapet(parapet)
    listed = list_of(file, at, "transitions", scope)
    path = file.spot(Address("transition", parapet, place)).base
    assert path is not None
    node, path = file.node(path), (*listed, path[-1])
    lost = [f"`{key}` {file.written((*path, key))}" for key in stated_keys(node) if key != "between"]
    file.remove(path)
    return Edited(
        file.text, f"lap {place} of {_owner(file, at, listed, parapet)}: taken out", ", ".join(lost)
    )
