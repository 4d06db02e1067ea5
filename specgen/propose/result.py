"""What a run proposes, as it is printed, and as the page that compares the walls shows it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from specgen.propose.give_up import GiveUp
from specgen.propose.measure import Measure
from specgen.propose.omissions import Omission
from specgen.propose.quantities import Amount
from specgen.propose.reasons import Reason


@dataclass(frozen=True)
class ProposedWall:
    """A wall of the front, as it stands in its file."""

    name: str  # its folder
    measures: tuple[Measure, ...]
    reasons: tuple[Reason, ...]
    open_facts: tuple[str, ...]  # what is unknown, in words
    questions: tuple[str, ...]  # what somebody must answer, in words
    omissions: tuple[Omission, ...]
    quantities: tuple[Amount, ...]
    failed: bool
    open: bool


@dataclass(frozen=True)
class Proposed:
    """What a run proposes."""

    project: str
    open_first: tuple[str, ...]  # openings of a standing wall that come before any repair, in words
    walls: tuple[ProposedWall, ...]
    differ: tuple[str, ...]  # the titles of what differs between the walls
    walls_possible: int
    walls_left: int  # that no constraint excludes
    walls_assessed: int
    fallen: Mapping[str, int]
    letters: int
    nearest: tuple[str, ...]  # where no wall fits: the rules that the nearest still breaks
    give_up: tuple[GiveUp, ...]
    seconds: float
