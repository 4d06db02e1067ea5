"""Who does what at the parapets, where the project says so: parts, laps and the order of work, by trade."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from itertools import pairwise

from specgen.files.marks import Mark
from specgen.model.project import Parapet, Project
from specgen.paths.owners import LAP, owned_joints
from specgen.paths.sequence import Sequence, Step, sequence
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
                words = _lap_words(joint.words, wall, practice)
                places.setdefault((joint.owner, words, joint.prepares), []).append(wall.name)
    for (owner, words, prepares), names in places.items():
        ready = "" if prepares == owner else f"; its part left ready by the {prepares}"
        yield owner, words, _where(project, names), ready


def order_of_work(project: Project, practice: Practice) -> Iterator[Line]:
    """The steps of the order of work, trade by trade."""
    for walls, found in _orders(project, practice):
        names = [wall.name for wall in walls]
        for trade, parts in visits(found):
            words = tuple(part_words(walls[0], practice, one) for one in parts)
            yield trade, joined(words, "and"), _where(project, names), ""


def handovers(project: Project, practice: Practice) -> Iterator[Line]:
    """Each change of trade: who hands over to whom before which part, and what is inspected there."""
    places: dict[tuple[str, str, str], list[str]] = {}
    for walls, found in _orders(project, practice):
        words = partial(part_words, walls[0], practice)
        for one, other in pairwise(found.steps):
            if one.trade != other.trade:
                look = "; ".join(f"{words(hold.component)}: {hold.look_for}" for hold in other.holds)
                key = (f"{one.trade} to {other.trade}", words(other.component), look)
                places.setdefault(key, []).extend(wall.name for wall in walls)
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


def part_words(wall: Parapet, practice: Practice, name: str) -> str:
    """A component as the trade calls it: by its role where the parapet has one of it, else by its id."""
    part = wall.by_id(name)
    if part is None or len(wall.all_of(part.role)) > 1:
        return name
    role = practice.vocabulary.roles[part.role]
    return role.called or role.name


def _lap_words(words: str, wall: Parapet, practice: Practice) -> str:
    """The words of a lap, its parts as the trade calls them."""
    upper, over, rest = words.partition(" over ")
    lower, bridged, tape = rest.partition(", bridged by ")
    named = (part_words(wall, practice, one) if one else "" for one in (upper, lower, tape))
    return "".join(one for pair in zip(named, (over, bridged, ""), strict=True) for one in pair)


def _orders(project: Project, practice: Practice) -> Iterator[tuple[tuple[Parapet, ...], Sequence]]:
    """The orders of work, each with the parapets that have it; none where nothing is stated, or none exists."""
    orders: dict[tuple[Step, ...], list[tuple[Parapet, Sequence]]] = {}
    for wall in project.parapets if stated(project) else ():
        one = sequence(wall, practice)
        if one.cycle is None:
            orders.setdefault(one.steps, []).append((wall, one))
    for found in orders.values():
        yield tuple(wall for wall, _ in found), found[0][1]


def _where(project: Project, names: list[str]) -> str:
    """The parapets in words; "" where it is all of them."""
    if len(names) == len(project.parapets):
        return ""
    return f" {parapets_in_words(tuple(dict.fromkeys(names)))}"
