"""Parapets, types, and places of a project file: put in, copied, renamed, taken out."""

from __future__ import annotations

from collections.abc import Mapping

from specgen.files.yaml_edit import insert_item, take_out
from specgen.files.yaml_places import Path, words_at
from specgen.files.yaml_scalars import as_written
from specgen.intake.existing import LISTS
from specgen.intake.project import FIRST
from specgen.model.project import PLACES, Project
from specgen.practice.entries import Field, Practice
from specgen.work.editing_file import CHANGES, LIST_OF, Address, Edited, ProjectText
from specgen.work.editing_layers import list_of
from specgen.work.editing_values import source_words, stated_keys

# What belongs to one parapet and its place at the building, and stays with it when a type is made of the rest.
OWN_KEYS = (
    *("name", "type", CHANGES, "existing", *PLACES, "orientation", "length", "radius", "curve"),
    *("drained_area", "snow_fetch", "below_edge", "inner_air", "fire_separation_distance"),
)


def add_place(
    text: str,
    project: Project,
    practice: Practice,
    parapet: str,
    record: str,
    values: Mapping[str, str],
    scope: str = "",
) -> Edited:
    """One more place of a parapet (a corner, a scupper), or one more record of a standing wall (an observation).

    Args:
        text: of the project file.
        project: as it was read from the text.
        practice: of the project's office.
        parapet: by name.
        record: ``corner``, ``end``, ``step``, ``joint``, ``scupper``, ``penetration``, ``observation``, ``repair``
            or ``opening``.
        values: as they are typed, by key.
        scope: ``type``, ``own``, or "" for where the list stands.

    Raises:
        InputError: there is no such record, or a value is missing or cannot stand there.
    """
    file = ProjectText(text, project, practice)
    at = file.parapet(parapet)
    if record not in LIST_OF:
        raise file.refusal(at, f"no place `{record}`", f"places: {', '.join(LIST_OF)}")
    key = LIST_OF[record]
    path = (*at, "existing", key) if record in LISTS.values() else list_of(file, at, key, scope)
    written = _written(file, path, record, values)
    file.text = insert_item(file.text, path, len(file.at(path) or ()), written, file.file)
    owner = file.type_of(at) if path[0] == "types" else parapet
    return Edited(file.text, f"{record} {values.get('name', values.get('what', ''))} of {owner}: added")


def _written(file: ProjectText, path: Path, record: str, values: Mapping[str, str]) -> str:
    """A record in brackets.

    Raises:
        InputError: a value is missing, is none of the record, or cannot stand there.
    """
    fields: Mapping[str, Field] = file.practice.vocabulary.records[record].fields
    for key in values:
        if key not in fields:
            raise file.refusal(path, f"no `{key}` in {record}", f"known here: {', '.join(fields)}")
    for key, field in fields.items():
        if field.required and not values.get(key, "").strip():
            raise file.refusal(path, f"`{key}` of the {record} is missing", f"state it: {field.title}")
    pairs = [f"{key}: {source_words(file, fields[key], typed, path)}" for key, typed in values.items()]
    return f"{{{', '.join(pairs)}}}"


def remove_place(
    text: str, project: Project, practice: Practice, parapet: str, record: str, place: str, scope: str = ""
) -> Edited:
    """A place, or a record of a standing wall, less; what it said is returned in words.

    Raises:
        InputError: there is no such place.
    """
    file = ProjectText(text, project, practice)
    at = file.parapet(parapet)
    spot = file.spot(Address(record, parapet, place))
    assert spot.base is not None
    path = spot.base
    if record in PLACES.values():
        path = (*list_of(file, at, LIST_OF[record], scope), path[-1])
    lost = _words_of(file, path)
    owner = file.type_of(at) if path[0] == "types" else parapet
    file.remove(path)
    return Edited(file.text, f"{record} {place} of {owner}: taken out", lost)


def _words_of(file: ProjectText, path: Path) -> str:
    return ", ".join(f"`{key}` {file.written((*path, key))}" for key in stated_keys(file.node(path)))


def add_parapet(
    text: str, project: Project, practice: Practice, name: str, like: str = "", type_name: str = ""
) -> Edited:
    """One more parapet: a copy of another with all that is written of it, one of a type, or one not yet described.

    Raises:
        InputError: the name is taken, or there is no such parapet or type.
    """
    file = ProjectText(text, project, practice)
    name = _new_name(file, name)
    if file.data.get("parapets") is None and name != FIRST:
        file.parapet(FIRST)  # the one that was there without a line keeps its place
    count = len(file.data.get("parapets") or ())
    if like:
        source = file.parapet(like)
        words, index = words_at(file.text, source, file.file), int(source[-1]) + 1
    else:
        words, index = f"name: {as_written(name)}", count
        if type_name and type_name not in file.node(("types",)):
            raise file.refusal(
                ("types",), f"no type `{type_name}`", f"types: {', '.join(file.node(('types',)))}"
            )
        words += f"\ntype: {as_written(type_name)}" if type_name else ""
    file.text = insert_item(file.text, ("parapets",), index, words, file.file)
    file.set(("parapets", index, "name"), as_written(name))
    how = f"as a copy of {like}" if like else f"of type {type_name}" if type_name else "not yet described"
    return Edited(file.text, f"parapet {name}: added {how}")


def _new_name(file: ProjectText, name: str) -> str:
    name = " ".join(name.split())
    taken = [str(one.get("name")) for one in file.data.get("parapets") or () if isinstance(one, dict)]
    if not name:
        raise file.refusal(("parapets",), "a parapet needs a name", "write a short one, such as P-2")
    if name in taken:
        at = ("parapets", taken.index(name))
        raise file.refusal(at, f"parapet `{name}` is there already", "choose another name")
    return name


def rename_parapet(text: str, project: Project, practice: Practice, name: str, now: str) -> Edited:
    """Another name of a parapet, here and where waivers and answers name it.

    Raises:
        InputError: there is no such parapet, or the name is taken.
    """
    file = ProjectText(text, project, practice)
    at = file.parapet(name)
    if now != name:
        now = _new_name(file, now)
        file.set((*at, "name"), as_written(now))
    for key in ("waivers", "answers"):
        for number, item in enumerate(file.data.get(key) or ()):
            if isinstance(item, dict) and str(item.get("parapet")) == name:
                file.set((key, number, "parapet"), as_written(now))
    kept = "; the kept results of its hours have to be run again" if name in project.hourly else ""
    return Edited(file.text, f"parapet {name}: renamed to {now}{kept}")


def remove_parapet(text: str, project: Project, practice: Practice, name: str) -> Edited:
    """A parapet less; its type stays.

    Raises:
        InputError: it is the only one, or a waiver or an answer names it.
    """
    file = ProjectText(text, project, practice)
    at = file.parapet(name)
    if len(file.at(at[:1])) == 1:
        raise file.refusal(at, "it is the only parapet", "describe another one first")
    for key, what in (("waivers", "waiver"), ("answers", "answer")):
        for number, item in enumerate(file.data.get(key) or ()):
            if isinstance(item, dict) and str(item.get("parapet")) == name:
                message = f"the {what} of {item.get('rule')} names {name}"
                raise file.refusal((key, number), message, "change that first")
    lost = ", ".join(f"`{key}`" for key in file.node(at) if key != "name")
    file.remove(at)
    return Edited(file.text, f"parapet {name}: taken out", lost)


def make_type(text: str, project: Project, practice: Practice, parapet: str, type_name: str) -> Edited:
    """What other parapets can share, made a type: the parapet keeps its name, its place and its length, and is of it.

    Raises:
        InputError: the parapet has a type, there is nothing to share, or the name is taken.
    """
    file = ProjectText(text, project, practice)
    at = file.parapet(parapet)
    if "type" in file.node(at):
        raise file.refusal(at, f"{parapet} is of a type already", "change the values of that type")
    type_name = " ".join(type_name.split())
    if not type_name or type_name in file.node(("types",)):
        raise file.refusal(("types",), f"`{type_name}` cannot name a new type", "choose another name")
    shared = [key for key in file.node(at) if key not in OWN_KEYS]
    if not shared:
        raise file.refusal(at, "nothing is described that others could share", "describe it first")
    lines = [f"{as_written(type_name)}:"]
    for key in shared:
        words = _taken(file, (*at, key))
        lines += [f"  {line}" if line else "" for line in words.split("\n")]
    file.set((*at, "type"), as_written(type_name))
    if file.data.get("types"):
        file.set(("types", type_name), "\n".join(line[2:] for line in lines[1:]))
    else:
        file.set(("types",), "\n".join(lines))
    return Edited(file.text, f"type {type_name}: made of {parapet}")


def _taken(file: ProjectText, path: Path) -> str:
    """A key with its lines, out of the parapet."""
    key = str(path[-1])
    if words_at(file.text, path[:-1], file.file).startswith("{"):
        words = f"{as_written(key)}: {words_at(file.text, path, file.file)}"
        file.remove(path)
        return words
    file.text, words = take_out(file.text, path, file.file)
    return words


def set_type(text: str, project: Project, practice: Practice, parapet: str, type_name: str) -> Edited:
    """A parapet of another type, or of none: what its type says is then written out at the parapet itself.

    What the parapet states over its type stays, and holds over the new one.

    Raises:
        InputError: there is no such parapet or type.
    """
    file = ProjectText(text, project, practice)
    at = file.parapet(parapet)
    before = str(file.node(at).get("type", ""))
    if type_name:
        if type_name not in file.node(("types",)):
            known = ", ".join(file.node(("types",)))
            raise file.refusal(at, f"no type `{type_name}`", f"types: {known or 'none yet'}")
        file.set((*at, "type"), as_written(type_name))
    elif before:
        for key in file.node(("types", before)):
            if key not in file.node(at):
                file.set((*at, key), words_at(file.text, ("types", before, key), file.file))
        file.remove((*at, "type"))
    return Edited(file.text, f"parapet {parapet}, type: {before or 'none'} -> {type_name or 'none'}")
