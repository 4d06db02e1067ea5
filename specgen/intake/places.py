"""Named places of a parapet (corners, ends, scuppers …) and manufacturers' letters, read and cross-checked."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from typing import Any

from specgen.files.marks import Mark
from specgen.intake.records import RecordReader
from specgen.model.project import MakerLetter, Parapet, Record
from specgen.practice.trade_names import hint
from specgen.wall.order import stated_order

Share = Callable[[Mark, str, str, str], None]  # mark, message, fix, parapet


def read_places(reader: RecordReader, items: Iterable[tuple[Any, Mark]], what: str) -> tuple[Record, ...]:
    """The records of one list of places."""
    found = []
    names: dict[str, Mark] = {}
    for node, mark in items:
        record = reader.record(node, mark, what)
        name = record.word("name")
        if name in names:
            fix = f"give one another name (first: line {names[name].line})"
            reader.problem(record.at("name"), f"{what} `{name}` is described twice", fix)
        elif name is not None:
            names[name] = mark
        found.append(record)
    return tuple(found)


def check_places(share: Share, parapet: Parapet, unread: Collection[str]) -> None:
    """Every penetration names a component of its parapet; ``unread`` are ids already reported.

    ``share`` notes a problem that other parapets of the type may have as well.
    """
    ids = [part.id for part in parapet.components()]
    for place in parapet.penetrations:
        through = place.word("through")
        if through is not None and through not in ids and through not in unread:
            fix = hint(through, ids, f"components here: {', '.join(ids)}")
            share(place.at("through"), f"no component `{through}` {{in}}", fix, parapet.name)
    _check_order(share, parapet, {*ids, *unread, *(one.id for one in parapet.undecided)})


def _check_order(share: Share, parapet: Parapet, known: Collection[str]) -> None:
    """The order of work names components of the parapet, each once."""
    seen: set[str] = set()
    for name in stated_order(parapet):
        wrong = f"`work_order` names `{name}` twice" if name in seen else ""
        if name not in known:
            wrong = f"`work_order`: no component `{name}` {{in}}"
        if wrong:
            fix = (
                "name it once"
                if name in known
                else hint(name, known, f"components here: {', '.join(sorted(known))}")
            )
            share(parapet.at("work_order"), wrong, fix, parapet.name)
        seen.add(name)


def read_letters(
    reader: RecordReader, items: Iterable[tuple[Any, Mark]], parapets: Iterable[Parapet]
) -> tuple[MakerLetter, ...]:
    """The manufacturers' letters; each names two families or components, and which of the two its writer makes."""
    known = {part.id: None for parapet in parapets for part in parapet.components()}
    known |= dict.fromkeys(reader.vocabulary.families)
    letters = []
    for node, mark in items:
        record = reader.record(node, mark, "manufacturer letter")
        one, other, makes = (record.word(name) or "" for name in ("one", "other", "makes"))
        for name, word in (("one", one), ("other", other)):
            if word and word not in known:
                fix = hint(word, known, "name a material family or a component id")
                reader.problem(record.at(name), f"`{word}` is no material family and no component", fix)
        if makes and makes not in (one, other):
            reader.problem(record.at("makes"), f"`makes: {makes}` is not one of the two", f"{one} or {other}")
        letters.append(
            MakerLetter(
                "manufacturer letter",
                record.values,
                record.marks,
                mark,
                unknown=record.unknown,
                inapplicable=record.inapplicable,
                one=one,
                other=other,
                makes=makes,
            )
        )
    return tuple(letters)
