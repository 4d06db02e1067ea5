"""Who makes each joint of a parapet: every transition has one owner, who answers for it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from specgen.model.project import Parapet
from specgen.paths.sequence import Sequence
from specgen.practice.entries import Practice

LAP = "lap"


@dataclass(frozen=True)
class OwnedJoint:
    """A joint with the one trade that makes it, and the trade that leaves its own part ready for it."""

    name: str  # unique at its parapet: "barrier / weep screed", "corner C-1 coping"
    what: str  # LAP, or the kind of place
    words: str  # the joint in words, as made
    owner: str
    prepares: str  # the owner itself where one trade makes both parts


def owned_joints(parapet: Parapet, found: Sequence, practice: Practice) -> tuple[OwnedJoint, ...]:
    """The joints of a parapet with their owners: its transitions, then those at its places.

    The trade that the transition names makes a lap; where it names none, the trade that places the upper sheet, and
    where no upper sheet is stated, that of the part that comes last in the order of work. A bridging tape
    belongs to the joint it bridges. At a corner, an end, a scupper or a penetration the table ``place_owners`` names the
    role whose trade makes each joint.

    Args:
        parapet: its components, transitions and places.
        found: its order of work.
        practice: the trade of each role.

    Returns:
        One entry a joint, each with one owner, in the order of the file.
    """
    return (*_laps(parapet, found, practice), *_at_places(parapet, practice))


def _laps(parapet: Parapet, found: Sequence, practice: Practice) -> Iterator[OwnedJoint]:
    place = {step.component: number for number, step in enumerate(found.steps)}
    trades = practice.vocabulary.roles
    seen: dict[str, int] = {}
    for joint in parapet.transitions:
        first, second = parapet.by_id(joint.first), parapet.by_id(joint.second)
        if first is None or second is None:
            continue
        upper = joint.word("upper")
        if upper in (first.id, second.id):
            last = first if upper == first.id else second
        else:
            last = max((first, second), key=lambda part: (place.get(part.id, len(place)), part.id))
        other = second if last is first else first
        tape = joint.word("tape")
        words = f"{last.id} over {other.id}" + (f", bridged by {tape}" if tape else "")
        name = f"{first.id} / {second.id}"
        seen[name] = seen.get(name, 0) + 1
        if seen[name] > 1:
            name += f" ({seen[name]})"
        placing, prepares = (trades[part.role].trade_of(part.kind) for part in (last, other))
        owner = joint.word("made_by") or placing
        yield OwnedJoint(name, LAP, words, owner, prepares if owner == placing else placing)


def _at_places(parapet: Parapet, practice: Practice) -> Iterator[OwnedJoint]:
    trades = practice.vocabulary.roles
    for record in parapet.places:
        for row in practice.table("place_owners").where(place=record.what):
            part = str(row["part"])
            if record.values.get(part) in (None, False, "none"):
                continue
            name = record.word("name") or ""
            owner = trades[str(row["role"])].trade
            prepares = trades[str(row["prepares"])].trade
            words = f"{name}: {row['joint']}"
            yield OwnedJoint(f"{record.what} {name} {part}", record.what, words, owner, prepares)
