"""The names of a project file: where what a person points at stands: in a type, a parapet's own list, its changes."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from specgen.files.marks import InputError, InputProblem
from specgen.files.yaml_edit import remove, set_value
from specgen.files.yaml_places import Path, data_of, mark_of, words_at
from specgen.intake.existing import LISTS
from specgen.intake.project import FIRST, OWN, ProjectReader
from specgen.intake.records import REASONS
from specgen.model.project import PLACES, Project
from specgen.practice.entries import Field, Practice

KIND = "kind"
CHANGES = "changes"
JOIN = " / "  # between the two components of a transition, where they are named together
_NUMBER = re.compile("#[0-9]{1,6}")
LIST_OF = {one: key for key, one in (*PLACES.items(), *LISTS.items())}
DECISIONS = {"waiver": "waivers", "answer": "answers", "manufacturer letter": "maker_letters"}


@dataclass(frozen=True)
class Address:
    """What a person points at in a project.

    ``record``: project, site, building, quality, trades, contacts, parapet, component, transition, existing, a place
    (corner, end …), an observation, a repair, an opening, a waiver, an answer, a manufacturer letter. ``place``: the
    id of a component, the two ends of a transition ("barrier / weep screed"), the name of a place, or ``#2`` for the
    second of a list. ``key``: the value; "" for the record itself.
    """

    record: str
    parapet: str = ""
    place: str = ""
    key: str = ""


@dataclass(frozen=True)
class Edited:
    """A changed text, what was done in words, and what was left out with it, in words."""

    text: str
    what: str
    left_out: str = ""


@dataclass(frozen=True)
class AddressSpot:
    """Where an address leads: the map that holds it, and where a parapet states something else than its type.

    ``base``: in a list, a section, or the type; None where only ``over`` can hold it. ``over``: the parapet itself, or
    what it changes of a component; None where nothing lies over. ``typed``: whether ``base`` belongs to a type.
    """

    record: str  # of the vocabulary, or the role of a component
    fields: Mapping[str, Field]
    base: Path | None
    title: str  # of the record, in words; "" for a parapet itself
    over: Path | None = None
    typed: bool = False
    parapet: str = ""
    type_name: str = ""

    def where(self, path: Path) -> str:
        """The record in words, as it stands at one of its two paths."""
        owner = self.type_name if self.typed and path == self.base else self.parapet
        return " of ".join(filter(None, (self.title, owner)))


class ProjectText:
    """A project file in hand: its text, changed step by step, and its data."""

    def __init__(self, text: str, project: Project, practice: Practice) -> None:
        self.text, self.project, self.practice = text, project, practice
        self.file = project.path

    @property
    def data(self) -> Any:
        """What the text says now."""
        return data_of(self.text, self.file)

    def at(self, path: Path) -> Any:
        """What stands at a path; None where nothing does."""
        node = self.data
        for key in path:
            known = isinstance(node, dict) and key in node
            if not known and not (isinstance(node, list) and isinstance(key, int) and key < len(node)):
                return None
            node = node[key]
        return node

    def node(self, path: Path | None) -> Mapping[str, Any]:
        """The map at a path; empty where none is."""
        found = None if path is None else self.at(path)
        return found if isinstance(found, dict) else {}

    def set(self, path: Path, words: str) -> None:
        """Write a value."""
        self.text = set_value(self.text, path, words, self.file)

    def remove(self, path: Path) -> None:
        """Take out a key or an item; a list of reasons or changes that is left empty goes with it."""
        above = path[:-1]
        kept = above and (above[-1] in (*REASONS, CHANGES) or (len(above) > 1 and above[-2] == CHANGES))
        if kept and len(self.at(above)) == 1:
            self.remove(above)
        else:
            self.text = remove(self.text, path, self.file)

    def written(self, path: Path) -> str:
        """What stands at a path, as a person reads it in the file."""
        value = self.at(path)
        if isinstance(value, list):
            return ", ".join(map(str, value))
        return value if isinstance(value, str) else words_at(self.text, path, self.file)

    def refusal(self, path: Path, message: str, fix: str) -> InputError:
        """What cannot be done, at its place."""
        return InputError([InputProblem(mark_of(self.text, path, self.file), message, fix)])

    # Parapets and types

    def parapet(self, name: str) -> tuple[str | int, ...]:
        """The path of a parapet; one that nobody has described yet is begun.

        Raises:
            InputError: there is no such parapet.
        """
        if self.data.get("parapets") is None and name == FIRST:
            self.set(("parapets",), f"- name: {FIRST}")
        for number, item in enumerate(self.data.get("parapets") or ()):
            if isinstance(item, dict) and str(item.get("name")) == name:
                return "parapets", number
        raise self.refusal(("parapets",), f"no parapet `{name}`", "read the file again")

    def type_of(self, parapet: Path) -> str:
        """The type of a parapet; "" where it has none."""
        name = self.node(parapet).get("type")
        return name if isinstance(name, str) and name in self.node(("types",)) else ""

    def sharing(self, type_name: str) -> tuple[str, ...]:
        """The parapets of a type."""
        items = (one for one in self.data.get("parapets") or () if isinstance(one, dict))
        return tuple(str(one.get("name")) for one in items if one.get("type") == type_name)

    def listed(self, parapet: Path, key: str) -> tuple[tuple[str | int, ...], bool]:
        """The path of a list of a parapet, and whether it is that of its type."""
        type_name = self.type_of(parapet)
        typed = key not in self.node(parapet) and key in self.node(("types", type_name))
        return (("types", type_name, key), True) if typed else ((*parapet, key), False)

    def components(self, parapet: Path) -> Iterator[tuple[tuple[str | int, ...], bool, dict[str, Any]]]:
        """The components of a parapet: path, whether of the type, and what is written."""
        for key in ("build_up", "top"):
            path, typed = self.listed(parapet, key)
            for number, item in enumerate(self.at(path) or ()):
                if isinstance(item, dict):
                    yield (*path, number), typed, item

    def component(self, parapet: Path, name: str) -> tuple[tuple[str | int, ...], bool, dict[str, Any]]:
        """A component by its id.

        Raises:
            InputError: the parapet has no such component.
        """
        for path, typed, item in self.components(parapet):
            if id_of(item) == name:
                return path, typed, item
        known = ", ".join(id_of(item) for _, _, item in self.components(parapet))
        raise self.refusal(parapet, f"no component `{name}`", f"components here: {known or 'none yet'}")

    def own_list(self, parapet: Path, key: str) -> tuple[str | int, ...]:
        """The path of a list of the parapet itself; that of its type is copied, with its comments, where it has none."""
        path, typed = self.listed(parapet, key)
        own = (*parapet, key)
        if typed:
            self.set(own, words_at(self.text, path, self.file))
        return own

    # Addresses

    def spot(self, address: Address) -> AddressSpot:
        """Where an address leads.

        Raises:
            InputError: nothing of that name stands in the file.
        """
        record = address.record
        if record in OWN:
            return AddressSpot(record, self._fields(record), (record,), record)
        if record in DECISIONS:
            path = self.numbered((DECISIONS[record],), address)
            return AddressSpot(record, self._fields(record), path, f"{record} {address.place}")
        parapet = self.parapet(address.parapet)
        type_name = self.type_of(parapet)
        if record == "component":
            return self._component_spot(parapet, type_name, address)
        if record == "parapet":
            base = ("types", type_name) if type_name else None
            own = (self._fields(record), base, "", parapet, bool(type_name))
            return AddressSpot(record, *own, address.parapet, type_name)
        if record == "existing":
            path = (*parapet, record)
            return AddressSpot(
                record, self._fields(record), path, "the standing wall", parapet=address.parapet
            )
        if record != "transition" and record not in LIST_OF:
            raise self.refusal((), f"no record `{record}`", "name one of the project file")
        key = LIST_OF.get(record, "transitions")
        standing = record in LISTS.values()
        path, typed = ((*parapet, "existing", key), False) if standing else self.listed(parapet, key)
        found = self.numbered(path, address)
        fields, title = self._fields(record), f"{record} {address.place}"
        return AddressSpot(record, fields, found, title, None, typed, address.parapet, type_name)

    def _component_spot(self, parapet: Path, type_name: str, address: Address) -> AddressSpot:
        path, typed, item = self.component(parapet, address.place)
        role = str(item.get("role"))
        if role not in self.practice.vocabulary.roles:
            raise self.refusal(path, f"no role `{role}`", "correct it in the text file")
        over = (*parapet, CHANGES, address.place)
        laid = over if typed or self.at(over) is not None else None
        fields = self.practice.vocabulary.roles[role].fields
        return AddressSpot(role, fields, path, address.place, laid, typed, address.parapet, type_name)

    def _fields(self, record: str) -> Mapping[str, Field]:
        return self.practice.vocabulary.records[record].fields

    def numbered(self, path: Path, address: Address) -> tuple[str | int, ...]:
        """The path of a record of a list by its number, its name, or the two components that it joins."""
        items = self.at(path)
        items = items if isinstance(items, list) else []
        place = address.place
        number = int(place[1:]) if _NUMBER.fullmatch(place) else 0
        if 0 < number <= len(items):
            return (*path, number - 1)
        named = [
            number for number, one in enumerate(items) if isinstance(one, dict) and place in names_of(one)
        ]
        if len(named) == 1:
            return (*path, named[0])
        many = f"{len(named)} records are named `{place}`" if named else f"no {address.record} `{place}`"
        raise self.refusal(path, many, "read the file again, or change it in the text file")

    def open(self, spot: AddressSpot) -> bool:
        """Whether a record may say of a value that it is unknown, or that it does not apply."""
        return spot.record in ProjectReader.OPEN or spot.record in self.practice.vocabulary.roles


def id_of(item: Mapping[str, Any]) -> str:
    """The id of a component as written."""
    return str(item.get("id", item.get("role")))


def names_of(item: Mapping[str, Any]) -> tuple[str, ...]:
    """What a place, or a transition in either order, is called."""
    ends = item.get("between")
    if isinstance(ends, list) and len(ends) == 2:
        return JOIN.join(map(str, ends)), JOIN.join(map(str, reversed(ends)))
    return (str(item["name"]),) if "name" in item else ()
