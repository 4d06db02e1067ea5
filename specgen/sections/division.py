"""Who does what at the parapets, where the project says so: parts, laps and the order of work, by trade."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from specgen.files.marks import Mark
from specgen.model.project import Parapet, Project
from specgen.paths.owners import LAP, owned_joints
from specgen.paths.sequence import Sequence, sequence
from specgen.practice.entries import Practice
from specgen.sections.words import joined, parapets_in_words

Line = tuple[str, str, str, str]  # the trade, what it does, where, what else
ROOFER = "roofer"


def stated(project: Project) -> bool:
    """Whether the project states who does what: a trade of a role or of a lap, or an order of work."""
    laps = any(joint.has("made_by") for one in project.parapets for joint in one.transitions)
    return bool(project.trades.values) or laps or any(one.has("work_order") for one in project.parapets)


def mark_of(project: Project) -> Mark:
    """Where the project first says who does what."""
    marks = list(project.trades.marks.values())
    marks += [
        joint.at("made_by") for one in project.parapets for joint in one.transitions if joint.has("made_by")
    ]
    marks += [one.at("work_order") for one in project.parapets if one.has("work_order")]
    return marks[0] if marks else project.info.mark


def parts_by_trade(project: Project, practice: Practice) -> Iterator[Line]:
    """Each trade with the parts that it installs and their sections."""
    found: dict[str, dict[str, None]] = {}
    roles = practice.vocabulary.roles
    for wall in project.parapets if stated(project) else ():
        for part in wall.components():
            role = roles[part.role]
            words = f"{role.called or role.name} ({role.section})"
            found.setdefault(role.trade_of(part.kind), {})[words] = None
    for trade, parts in found.items():
        yield trade, joined(tuple(parts), "and"), "", ""


def laps_by_trade(project: Project, practice: Practice, only: str = "") -> Iterator[Line]:
    """Each lap with the one trade that makes it, and the trade that leaves its part ready."""
    places: dict[tuple[str, str, str], list[str]] = {}
    for wall in project.parapets if stated(project) else ():
        for joint in owned_joints(wall, sequence(wall, practice), practice):
            if joint.what == LAP and only in ("", joint.owner):
                places.setdefault((joint.owner, joint.words, joint.prepares), []).append(wall.name)
    for (owner, words, prepares), names in places.items():
        ready = "" if prepares == owner else f"; its part left ready by the {prepares}"
        yield owner, words, _where(project, names), ready


def order_of_work(project: Project, practice: Practice) -> Iterator[Line]:
    """The steps of the order of work, trade by trade."""
    for names, found in _orders(project, practice):
        for trade, parts in visits(found):
            yield trade, joined(parts, "and"), _where(project, list(names)), ""


def handovers(project: Project, practice: Practice) -> Iterator[Line]:
    """Each change of trade: who hands over to whom before which part, and what is inspected there."""
    places: dict[tuple[str, str, str], list[str]] = {}
    for names, found in _orders(project, practice):
        for one, other in pairwise(found.steps):
            if one.trade != other.trade:
                look = "; ".join(f"{hold.component}: {hold.look_for}" for hold in other.holds)
                key = (f"{one.trade} to {other.trade}", other.component, look)
                places.setdefault(key, []).extend(names)
    for (change, part, look), at in places.items():
        yield change, part, _where(project, at), f"; inspected there: {look}" if look else ""


def visits(found: Sequence) -> Iterator[tuple[str, tuple[str, ...]]]:
    """The order of work by visits: a trade with the parts that it installs before the next comes."""
    trade, parts = "", list[str]()
    for step in found.steps:
        if step.trade != trade and parts:
            yield trade, tuple(parts)
            parts = []
        trade = step.trade
        parts.append(step.component)
    if parts:
        yield trade, tuple(parts)


def _orders(project: Project, practice: Practice) -> Iterator[tuple[tuple[str, ...], Sequence]]:
    """The orders of work, each with the parapets that have it; none where nothing is stated, or none exists."""
    orders: dict[object, list[Parapet]] = {}
    found = {}
    for wall in project.parapets if stated(project) else ():
        one = sequence(wall, practice)
        if one.cycle is None:
            orders.setdefault(one.steps, []).append(wall)
            found[one.steps] = one
    for steps, walls in orders.items():
        yield tuple(wall.name for wall in walls), found[steps]  # type: ignore[index]


def _where(project: Project, names: list[str]) -> str:
    """The parapets in words; "" where it is all of them."""
    if len(names) == len(project.parapets):
        return ""
    return f" {parapets_in_words(tuple(dict.fromkeys(names)))}"
