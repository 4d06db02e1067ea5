"""A tried remedy written into the project file: what differs between the project as it stands and the tried copy."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from specgen.explain.edits import Draft, Edit
from specgen.files.yaml_edit import insert_item, move_item
from specgen.files.yaml_places import Path
from specgen.files.yaml_scalars import as_written
from specgen.model.project import PLACES, Component, Parapet, Project, Record, Transition, Value
from specgen.practice.entries import Field, Practice
from specgen.rules.hold import words
from specgen.wall.plausible import doubt
from specgen.work.editing_file import JOIN, Address, Edited, ProjectText, id_of
from specgen.work.editing_kinds import change_kind
from specgen.work.editing_layers import list_of, without_none
from specgen.work.editing_values import MEANT, as_typed, clear, write_way

SECTIONS = {"info": "project", "site": "site", "building": "building"}
LISTS = {"transitions": "transition", **PLACES}


@dataclass(frozen=True)
class _Writing:
    """A file in hand, and where its changes go: to the parapet alone, or to its type."""

    file: ProjectText
    parapet: str
    scope: str
    why: str  # a value that is not expected is meant, where it is written for this

    @property
    def practice(self) -> Practice:
        return self.file.practice


def apply_edits(text: str, project: Project, practice: Practice, draft: Draft, scope: str = "own") -> Edited:
    """A tried remedy in the file: read again, it has the findings of the tried copy.

    Args:
        text: of the project file.
        project: as it was read from the text, and as the remedy was tried on.
        practice: of the project's office.
        draft: of the tried option.
        scope: ``own``: at the parapet where it was tried, alone; ``type``: at all parapets of its type.

    Raises:
        InputError: the file cannot hold it; nothing is changed.
    """
    file = ProjectText(text, project, practice)
    at = file.parapet(draft.parapet)
    type_name = file.type_of(at)
    alone = not type_name or len(file.sharing(type_name)) == 1
    writing = _Writing(file, draft.parapet, "" if alone else scope, _why(draft.edits))
    for name, section in SECTIONS.items():
        old, new = getattr(project, name), getattr(draft.project, name)
        _values(writing, old, new, Address(section), practice.vocabulary.records[section].fields)
    before = next(one for one in project.parapets if one.name == draft.parapet)
    after = draft.here
    _values(
        writing,
        before,
        after,
        Address("parapet", draft.parapet),
        practice.vocabulary.records["parapet"].fields,
    )
    for key in ("build_up", "top"):
        _components(writing, key, getattr(before, key), getattr(after, key))
    for key, what in LISTS.items():
        _records(writing, key, what, before, after)
    return Edited(file.text, " ".join(edit.sentence for edit in draft.edits))


def _why(edits: Iterable[Edit]) -> str:
    return f"remedy chosen: {' '.join(edit.sentence for edit in edits)}".replace("`", "")


def _differing(old: Mapping[str, Value], new: Mapping[str, Value]) -> dict[str, Value]:
    return {name: value for name, value in new.items() if name not in old or old[name] != value}


def _values(
    writing: _Writing, old: Record, new: Record, address: Address, fields: Mapping[str, Field]
) -> None:
    if old is not new:
        _stated(writing, _differing(old.values, new.values), new, address, fields)


def _stated(
    writing: _Writing,
    values: Mapping[str, Value],
    record: Record,
    address: Address,
    fields: Mapping[str, Field],
) -> None:
    file = writing.file
    for name, value in values.items():
        spot = file.spot(replace(address, key=name))
        path = _target(writing, spot.base, spot.over, spot.typed, name)
        if path == spot.base and spot.over is not None:
            clear(file, spot.over, name)
        _write(writing, path, fields[name], value, record)
        if path == spot.over and name in record.because:
            # A reason of the type does not hold for what lies over its value; the remedy was tried with it.
            file.set((*path, "because", name), as_written(record.because[name]))


def _target(writing: _Writing, base: Path | None, over: Path | None, typed: bool, name: str) -> Path:
    """Where a value goes: to the parapet where it says something of it already, else as the scope has it."""
    if base is None or (typed and writing.scope == "own"):
        assert over is not None
        return over
    if typed and over is not None and writing.scope == "" and not writing.file.node(base).keys() & {name}:
        return over if len(over) == 2 else base  # a parapet's own value stays with it
    return base


def _write(writing: _Writing, path: Path, field: Field, value: Value, record: Record) -> None:
    write_way(writing.file, path, field.name, "stated", as_typed(field, words(value)))
    if doubt(writing.practice, record, field.name, value):
        writing.file.set((*path, MEANT, field.name), as_written(writing.why))


def _components(writing: _Writing, key: str, old: tuple[Component, ...], new: tuple[Component, ...]) -> None:
    if old == new:
        return
    file = writing.file
    former = {part.id: part for part in old}
    for part in new:
        was = former.get(part.id)
        if was is None or was is part:
            continue
        if was.kind != part.kind:
            changed = change_kind(
                file.text,
                file.project,
                writing.practice,
                writing.parapet,
                part.id,
                part.kind,
                scope=writing.scope,
            )
            file.text = changed.text
        kept = {
            name: value for name, value in was.values.items() if was.kind == part.kind or name in part.values
        }
        address = Address("component", writing.parapet, part.id)
        fields = writing.practice.vocabulary.roles[part.role].fields
        _stated(writing, _differing(kept, part.values), part, address, fields)
    if [part.id for part in old] != [part.id for part in new]:
        _order(writing, key, former, new)


def _order(writing: _Writing, key: str, former: Mapping[str, Component], new: tuple[Component, ...]) -> None:
    """Put in what is new, and in their order what was moved; a new one goes in front of the one that follows it."""
    file = writing.file
    at = file.parapet(writing.parapet)
    path = list_of(file, at, key, writing.scope)
    for place, part in reversed(list(enumerate(new))):
        follows = new[place + 1].id if place + 1 < len(new) else ""
        ids = [id_of(one) for one in file.at(path) or () if isinstance(one, dict)]
        index = ids.index(follows) if follows else len(ids)
        if part.id not in former:
            without_none(file, at, part.role)
            ids = [id_of(one) for one in file.at(path) or () if isinstance(one, dict)]
            index = ids.index(follows) if follows else len(ids)
            file.text = insert_item(file.text, path, index, _component_words(writing, part), file.file)
        elif follows and ids.index(part.id) > index:
            file.text = move_item(file.text, path, ids.index(part.id), index, file.file)


def _component_words(writing: _Writing, part: Component) -> str:
    fields = writing.practice.vocabulary.roles[part.role].fields
    written = [f"role: {as_written(part.role)}"]
    written += [f"id: {as_written(part.id)}"] if part.id != part.role else []
    written.append(f"kind: {as_written(part.kind)}")
    written += _pairs(part.values, fields)
    odd = [name for name, value in part.values.items() if doubt(writing.practice, part, name, value)]
    written += [f"meant: {as_written(dict.fromkeys(odd, writing.why))}"] if odd else []
    return f"{{{', '.join(written)}}}"


def _pairs(values: Mapping[str, Value], fields: Mapping[str, Field]) -> list[str]:
    return [f"{name}: {as_typed(fields[name], words(value))}" for name, value in values.items()]


def _records(writing: _Writing, key: str, what: str, before: Parapet, after: Parapet) -> None:
    old: tuple[Record, ...] = getattr(before, key)
    new: tuple[Record, ...] = getattr(after, key)
    if old == new:
        return
    file, fields = writing.file, writing.practice.vocabulary.records[what].fields
    at = file.parapet(writing.parapet)
    path = list_of(file, at, key, writing.scope)
    for number, record in enumerate(new):
        if number < len(old):
            found = _numbered(file, path, old[number])
            for name, value in _differing(old[number].values, record.values).items():
                _write(writing, found, fields[name], value, record)
            continue
        assert isinstance(record, Transition)
        pairs = [f"between: {as_written([record.first, record.second])}", *_pairs(record.values, fields)]
        count = len(file.at(path) or ())
        file.text = insert_item(file.text, path, count, f"{{{', '.join(pairs)}}}", file.file)


def _numbered(file: ProjectText, path: Path, record: Record) -> Path:
    """A lap or a place in the list of the file, which may hold some that the project sets aside."""
    name = JOIN.join((record.first, record.second)) if isinstance(record, Transition) else record.word("name")
    return file.numbered(path, Address(record.what, place=name or ""))
