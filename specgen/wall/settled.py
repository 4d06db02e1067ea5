"""What the sections settle at a joint of which nothing is stated: a sealed edge, and the primer under what is stuck.

Both follow from what meets there. A joint that says so itself, that says `unknown`, or that stays of a standing wall is
left alone (:mod:`specgen.wall.specified`).
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Protocol, TypeVar

from specgen.model.project import Component, Parapet, Transition
from specgen.practice.compatibility import may_touch
from specgen.practice.entries import Practice
from specgen.wall.place import family

SEALED, PRIMED = "flashing.weak_bond", "flashing.primer_chain"
SOLVENT_PRIMER = "solvent-borne rubber primer"
SOLVENT = "solvent-borne adhesive"
LAPPED_OVER = ("barrier", "roof turn-up")


class Named(Protocol):
    """What has an id: a component, or how a path sees it."""

    @property
    def id(self) -> str: ...


End = TypeVar("End", bound=Named)


def settled_at_joints(
    parapet: Parapet, practice: Practice
) -> Iterator[tuple[Transition, str, str | bool, str]]:
    """Each joint with a value that the sections settle, and the practice entry whose paragraph does."""
    for joint in parapet.transitions:
        first, second = parapet.by_id(joint.first), parapet.by_id(joint.second)
        if first is None or second is None:
            continue
        ends = (first, second)
        if _edge_open(joint, ends, practice):
            yield joint, "sealed", True, SEALED
        primers = _primers(parapet, joint, ends, practice)
        if primers and not joint.has("primer"):
            yield joint, "primer_kind", primers[0], PRIMED


def stuck(first: End, second: End, tape: End | None, upper: str | None) -> tuple[tuple[End, End], ...]:
    """What is stuck on what at a joint: the tape on both sides, else the upper on the lower; none where nobody says."""
    if tape is not None:
        return (tape, first), (tape, second)
    if upper is None:
        return ()
    return ((first, second),) if upper == first.id else ((second, first),)


def fitting_primers(practice: Practice, adhesive: str | None, substrate: str | None) -> tuple[str, ...]:
    """The generic primers that the trade's table requires under one family on another; none where it requires none."""
    rows = practice.table("primers").where(adhesive=adhesive, substrate=substrate, need="required")
    return tuple(str(row["primer"]) for row in rows)


def _edge_open(joint: Transition, ends: tuple[Component, Component], practice: Practice) -> bool:
    """Whether the top flashing laps over another material here with no tape across its edge."""
    roles = {part.role for part in ends}
    if joint.has("tape") or "top flashing" not in roles or not roles & set(LAPPED_OVER):
        return False
    one, two = (family(practice, part) for part in ends)
    return one is None or one != two


def _primers(
    parapet: Parapet, joint: Transition, ends: tuple[Component, Component], practice: Practice
) -> tuple[str, ...]:
    """The primers that suit every pair that is stuck here and harm neither side; none where no pair needs one."""
    pairs = stuck(*ends, parapet.by_id(joint.word("tape") or ""), joint.word("upper"))
    wanted = [
        fit for a, b in pairs if (fit := fitting_primers(practice, family(practice, a), family(practice, b)))
    ]
    suit = [one for one in wanted[0] if all(one in others for others in wanted)] if wanted else []
    return tuple(one for one in suit if one != SOLVENT_PRIMER or _bears_solvent(ends, practice))


def _bears_solvent(ends: tuple[Component, Component], practice: Practice) -> bool:
    known = [family(practice, part) for part in ends]
    return all(
        one is not None and may_touch(practice, SOLVENT, one, adjacency="solvent").answer == "allowed"
        for one in known
    )
