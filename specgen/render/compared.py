"""Proposed walls side by side, in words alone: what differs, what is the same, why each choice stands, what is open."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from specgen.model.finding import Finding
from specgen.propose.result import Proposed
from specgen.render.proposals import open_points_of, same_choices, without_codes


@dataclass(frozen=True)
class ComparedRow:
    """One thing that differs, with a cell for each wall; ``better`` is less or more of a measure, else ""."""

    what: str
    better: str
    cells: tuple[str, ...]


@dataclass(frozen=True)
class ReasonedChoice:
    """One choice of a wall with why it stands, and what stands beside it."""

    choice: str
    option: str
    because: str
    source: str
    equal: tuple[str, ...]
    next_best: str
    worse: str


@dataclass(frozen=True)
class DrawnParapet:
    """A parapet of a wall as it is drawn."""

    name: str
    element: str  # that draws it
    parts: tuple[tuple[str, str], ...]  # of each key: its number, and what it points at


@dataclass(frozen=True)
class ComparedWall:
    """One wall with its project file."""

    name: str
    title: str
    text: str
    choices: tuple[ReasonedChoice, ...]
    open_points: tuple[tuple[str, str], ...]  # whether it is unknown or asked, and in words
    pictures: tuple[DrawnParapet, ...]


@dataclass(frozen=True)
class Comparison:
    """What a run has found, as it is shown."""

    walls: tuple[ComparedWall, ...]
    differ: tuple[ComparedRow, ...]
    same: tuple[tuple[str, str], ...]
    fallen: tuple[tuple[str, int], ...]
    possible: int
    left: int
    assessed: int
    seconds: float
    open_first: tuple[str, ...]
    nearest: tuple[str, ...]
    give_up: tuple[tuple[tuple[str, ...], str], ...]


def compared(
    found: Proposed,
    texts: Mapping[str, str],
    pictures: Mapping[str, Sequence[DrawnParapet]],
    findings: Mapping[str, Sequence[Finding]],
    plain: Callable[[str], str],
) -> Comparison:
    """The walls of a run beside each other.

    Args:
        found: the run.
        texts: the project files, by wall.
        pictures: of the parapets, by wall.
        findings: what is unknown or asked, by wall.
        plain: words as papers print them.
    """
    bare = without_codes(plain)
    same = same_choices(found)
    walls = tuple(
        ComparedWall(
            wall.name,
            wall.name.replace("-", " ").capitalize(),
            texts[wall.name],
            tuple(
                ReasonedChoice(
                    bare(one.choice),
                    bare(one.option),
                    bare(one.because),
                    str(one.source),
                    tuple(map(bare, one.equal)),
                    bare(one.next_best),
                    bare(one.worse),
                )
                for one in wall.reasons
            ),
            open_points_of(findings[wall.name], plain),
            tuple(pictures[wall.name]),
        )
        for wall in found.walls
    )
    return Comparison(
        walls,
        tuple(_differing(found, same, bare)),
        tuple((bare(what), bare(option)) for what, option in (*same, *_alike(found))),
        tuple((bare(reason), count) for reason, count in found.fallen.items()),
        found.walls_possible,
        found.walls_left,
        found.walls_assessed,
        found.seconds,
        found.open_first,
        found.nearest,
        tuple((one.facts, bare(one.then)) for one in found.give_up),
    )


def _differing(
    found: Proposed, same: Sequence[tuple[str, str]], bare: Callable[[str], str]
) -> list[ComparedRow]:
    """The choices and the measures in which the walls differ."""
    if not found.walls:
        return []
    rows = []
    for place, reason in enumerate(found.walls[0].reasons):
        if (reason.choice, reason.option) not in same:
            cells = tuple(bare(wall.reasons[place].option) for wall in found.walls)
            rows.append(ComparedRow(bare(reason.choice), "", cells))
    for place, measure in enumerate(found.walls[0].measures):
        if measure.title in found.differ:
            cells = tuple(bare(wall.measures[place].text) for wall in found.walls)
            rows.append(ComparedRow(bare(measure.title), measure.better, cells))
    return rows


def _alike(found: Proposed) -> list[tuple[str, str]]:
    """The measures in which the walls do not differ."""
    first = found.walls[0].measures if found.walls else ()
    return [(measure.title, measure.text) for measure in first if measure.title not in found.differ]
