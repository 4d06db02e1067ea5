"""Whether one joint of two components carries a control layer; every missing condition, with what would close it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from specgen.model.project import Transition
from specgen.paths.graph import Node, WallGraph, standing_of
from specgen.paths.primers import primer_faults
from specgen.paths.shapes import WEIGHT, Break, Layer
from specgen.paths.tapes import TAPE_ROLE, tape_changes
from specgen.practice.compatibility import Judgement
from specgen.units.compare import at_least
from specgen.units.quantity import Quantity
from specgen.wall.order import roof_side_barrier

LAPPED: tuple[Layer, ...] = ("water", "air", "vapor")  # insulation boards butt: no lap, no bond, no tape


@dataclass(frozen=True)
class Joint:
    """How two components are joined, in words, and what is missing for one layer."""

    text: str
    breaks: tuple[Break, ...]
    lifted: tuple[str, ...] = ()
    on_limits: bool = False  # a lap, a seal or a primer of it is what the sections ask for, and not stated

    @property
    def cost(self) -> int:
        """Weight of what is missing; the path takes the joints with the least."""
        return sum(WEIGHT[one.standing] for one in self.breaks)


def judge_joint(wall: WallGraph, layer: Layer, first: Node, second: Node) -> Joint:
    """Judge the joint of two components for one layer.

    The joint carries the layer when a transition is stated, its lap reaches the practice value, it runs
    shingle-wise (water), the materials may touch or a tape compatible with both stands between, the primer suits
    tape and substrate, and its edge is not left open (air). Where a pair has several transitions, all must hold.
    """
    stated = wall.between(first, second)
    if not stated:
        return Joint("", (_no_joint(wall, first, second),))
    breaks = [fault for one in stated for fault in _faults(wall, layer, first, second, one)]
    text = "; ".join(dict.fromkeys(_text(wall, one) for one in stated))
    lifted = (
        words for one in stated for pair in _pairs(wall, first, second, one) for words in wall.lifted(*pair)
    )
    on_limits = layer in LAPPED and any(one.specified for one in stated)
    return Joint(text, tuple(breaks), tuple(dict.fromkeys(lifted)) if layer in LAPPED else (), on_limits)


def judge_sheet(wall: WallGraph, first: Node, second: Node) -> Joint:
    """Judge two sheets that run on into each other without a stated lap: their materials alone."""
    if first.family is None or second.family is None or first.family == second.family:
        unknown = [
            fault for node in (first, second) for fault in _unknown_families(wall, first, second, node)
        ]
        return Joint("", tuple(unknown))
    judgement = wall.meet(first, second)
    return Joint("", tuple(_chemistry(wall, first, second, judgement, None)), wall.lifted(first, second))


def least_lap(wall: WallGraph, one: Node, other: Node) -> tuple[str, Node, Quantity | None, str] | None:
    """For two roles that lap: practice key, the node that belongs on top, the least lap, its text."""
    facing = roof_side_barrier(wall.parapet)
    for upper, lower in ((one, other), (other, one)):
        if facing is not None and upper.part is facing and lower.role == "roof turn-up":
            limit = wall.practice.quantity("flashing.lap_turnup")  # it takes the place of the flashing there
            return "flashing.lap_turnup", upper, limit, wall.least(limit)
    for upper, lower in ((one, other), (other, one)):
        for row in wall.practice.table("control_laps").where(upper=upper.role, lower=lower.role):
            key = row["lap"]
            if key is None:
                return "table control_laps", upper, None, ""
            limit = wall.practice.quantity(str(key))
            return str(key), upper, limit, wall.least(limit)
    return None


def _text(wall: WallGraph, joint: Transition) -> str:
    lap, tape = joint.quantity("lap"), joint.word("tape")
    part = wall.nodes.get(tape) if tape else None
    words = [f"{wall.shown(lap)} lap"] if lap else ["joint"]
    if tape:
        words.append(f"tape {part.part.kind}" if part and part.part else f"tape {tape}")
        width = part.part.quantity("each_side") if part and part.part else None
        words += [f"{wall.shown(width)} on each side"] if width else []
    if joint.has("primer_kind") and joint.word("primer_kind") != "none":
        words.append(str(joint.word("primer_kind")))
    elif joint.has("primer"):
        words.append(f"primer {joint.word('primer')}")
    if joint.flag("sealed") is not None:
        words.append("edge sealed" if joint.flag("sealed") else "edge not sealed")
    return ", ".join(words)


def _no_joint(wall: WallGraph, first: Node, second: Node) -> Break:
    wanted = least_lap(wall, first, second)
    change = f"state how they meet: `between: [{first.id}, {second.id}]`"
    if wanted and wanted[2] is not None:
        change += f", a lap of at least {wanted[3]}, `upper: {wanted[1].id}`"
    mark = second.mark if second.part else first.mark
    condition = "no transition between them is stated"
    return wall.fault(
        (first.id, second.id), "joint", "not stated", condition, mark, [change], "path.unbroken"
    )


def _faults(wall: WallGraph, layer: Layer, first: Node, second: Node, joint: Transition) -> Iterator[Break]:
    if layer not in LAPPED:
        return
    yield from _lap(wall, first, second, joint)
    if layer == "water":
        yield from _order(wall, first, second, joint)
    yield from _bond(wall, first, second, joint)
    yield from primer_faults(wall, first, second, joint)
    if layer == "air" and joint.flag("sealed") is False:
        change = "seal the edge of the lap: `sealed: yes`"
        yield wall.fault(
            (first.id, second.id),
            "sealed",
            "broken",
            "the edge of the lap is not sealed",
            joint.at("sealed"),
            [change],
            "path.unbroken",
        )


def _lap(wall: WallGraph, first: Node, second: Node, joint: Transition) -> Iterator[Break]:
    wanted = least_lap(wall, first, second)
    if wanted is None or wanted[2] is None:
        return
    key, _, limit, limit_text = wanted
    lap, ends = joint.quantity("lap"), (first.id, second.id)
    if lap is None:
        change = f"state the lap: at least {limit_text}"
        yield wall.fault(ends, "lap", "not stated", "the lap is not stated", joint.mark, [change], key)
    elif limit is not None and not at_least(lap, limit):
        short, least = wall.beside(lap, limit)
        condition = f"the lap of {short} is shorter than {least}"
        change = f"lengthen the lap from {short} to {least}"
        yield wall.fault(ends, "lap", "broken", condition, joint.at("lap"), [change], key)


def _order(wall: WallGraph, first: Node, second: Node, joint: Transition) -> Iterator[Break]:
    wanted = least_lap(wall, first, second)
    if wanted is None:
        return
    upper, ends = wanted[1], (first.id, second.id)
    lower = second if upper is first else first
    stated = joint.word("upper")
    if stated is None:
        change = f"state which lies on top: `upper: {upper.id}`"
        condition = "which of the two lies on top is not stated"
        yield wall.fault(ends, "order", "not stated", condition, joint.mark, [change], "flashing.shingle")
    elif stated != upper.id:
        trades = {node.id: wall.practice.vocabulary.roles[node.role].trade for node in (lower, upper)}
        change = (
            f"lay {upper.id} over {lower.id}: {lower.id} first ({trades[lower.id]}), "
            f"then {upper.id} ({trades[upper.id]})"
        )
        condition = f"{stated} lies over {upper.id}: the lap runs against the water"
        yield wall.fault(ends, "order", "broken", condition, joint.at("upper"), [change], "flashing.shingle")


def _pairs(wall: WallGraph, first: Node, second: Node, joint: Transition) -> list[tuple[Node, Node]]:
    """Which components touch at a joint: the two, or the tape and each of them."""
    tape = wall.nodes.get(joint.word("tape") or "")
    return [(first, second)] if tape is None else [(tape, first), (tape, second)]


def _bond(wall: WallGraph, first: Node, second: Node, joint: Transition) -> Iterator[Break]:
    """The chain first, tape, second; or first on second where no tape is named."""
    tape = wall.nodes.get(joint.word("tape") or "")
    if tape is None:
        yield from _unknown_families(wall, first, second, first)
        yield from _unknown_families(wall, first, second, second)
        yield from _chemistry(wall, first, second, wall.meet(first, second), joint)
        return
    if tape.role != TAPE_ROLE:
        condition = f"{tape.id} is named as tape and is none"
        changes = [*tape_changes(wall, first, second)]
        at = joint.at("tape")
        yield wall.fault((first.id, second.id), "tape", "broken", condition, at, changes, "tape.both_sides")
        return
    yield from _tape_width(wall, first, second, tape, joint)
    for side in (first, second):
        yield from _unknown_families(wall, first, second, side)
        yield from _tape_side(wall, first, second, tape, side, joint)


def _tape_width(wall: WallGraph, first: Node, second: Node, tape: Node, joint: Transition) -> Iterator[Break]:
    limit = wall.practice.quantity("tape.each_side")
    width = tape.part.quantity("each_side") if tape.part else None
    ends, shown = (first.id, second.id), wall.least(limit)
    if width is None:
        condition = f"the width of {tape.id} on each side is not stated"
        change = f"state it at the tape: `each_side:`, at least {shown}"
        yield wall.fault(ends, "tape", "not stated", condition, tape.mark, [change], "tape.each_side")
    elif tape.part and not at_least(width, limit):
        short, shown = wall.beside(width, limit)
        condition = f"{tape.id} bonds {short} on each side, less than {shown}"
        change = f"widen the tape to {shown} on each side"
        at = tape.part.at("each_side")
        yield wall.fault(ends, "tape", "broken", condition, at, [change], "tape.each_side")


def _tape_side(
    wall: WallGraph, first: Node, second: Node, tape: Node, side: Node, joint: Transition
) -> Iterator[Break]:
    judgement = wall.meet(tape, side)
    if judgement is None or judgement.answer == "allowed":
        return
    condition = f"{tape.named} on {side.named} is {answer_text(judgement)}"
    changes = (*_letter_changes(judgement, tape, side), *tape_changes(wall, first, second))
    yield wall.fault(
        (first.id, second.id),
        "tape",
        standing_of(judgement),
        condition,
        joint.at("tape"),
        changes,
        judgement.source,
    )


def _chemistry(
    wall: WallGraph, first: Node, second: Node, judgement: Judgement | None, joint: Transition | None
) -> Iterator[Break]:
    if judgement is None or judgement.answer == "allowed":
        return
    mark = joint.mark if joint else second.mark
    condition = f"{first.named} against {second.named} is {answer_text(judgement)}"
    changes = (*_letter_changes(judgement, first, second), *tape_changes(wall, first, second))
    ends = (first.id, second.id)
    standing = standing_of(judgement)
    yield wall.fault(ends, "chemistry", standing, condition, mark, changes, judgement.source)


def _unknown_families(wall: WallGraph, first: Node, second: Node, node: Node) -> Iterator[Break]:
    if node.family is None:
        condition = f"the material family of {node.id} is not known"
        field = "family" if node.part else "roof_membrane"
        change = f"state it at {node.id if node.part else 'the building'}: `{field}:`"
        ends = (first.id, second.id)
        yield wall.fault(
            ends, "chemistry", "not stated", condition, node.mark, [change], "compatibility.matrix"
        )


def answer_text(judgement: Judgement) -> str:
    """What is known of two materials, in the words of a break's condition."""
    if judgement.answer == "confirm":
        return f"for the manufacturers to confirm: {judgement.mechanism}"
    return judgement.text.replace("with separation", "allowed with a separation only", 1)


def _letter_changes(judgement: Judgement, one: Node, other: Node) -> tuple[str, ...]:
    if judgement.letters:  # a manufacturer has refused: no further letter of the project lifts that
        return ()
    if judgement.answer == "confirm":
        return (f"record a letter of either manufacturer that allows {one.family} with {other.family}",)
    return (f"record letters of both manufacturers that allow {one.family} with {other.family}",)
