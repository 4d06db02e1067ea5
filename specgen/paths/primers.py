"""The primer at a lap: asked for by what is stuck on what, and no harm to the substrate."""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.project import Transition
from specgen.paths.graph import Node, WallGraph, standing_of
from specgen.paths.shapes import Break
from specgen.wall.settled import SOLVENT, SOLVENT_PRIMER, fitting_primers, stuck


def primer_faults(wall: WallGraph, first: Node, second: Node, joint: Transition) -> Iterator[Break]:
    """What is wrong with the primer of a joint, for each pair of stuck sheet and substrate."""
    tape = wall.nodes.get(joint.word("tape") or "")
    for adhesive, substrate in stuck(first, second, tape, joint.word("upper")):
        yield from _need(wall, (first.id, second.id), adhesive, substrate, joint)
    yield from _solvent(wall, first, second, joint)


def _need(
    wall: WallGraph, ends: tuple[str, str], adhesive: Node, substrate: Node, joint: Transition
) -> Iterator[Break]:
    table = wall.practice.table("primers")
    fitting = fitting_primers(wall.practice, adhesive.family, substrate.family)
    given = joint.word("primer_kind")
    if not fitting or given in fitting or (given is None and joint.has("primer")):
        return
    pair = f"{adhesive.id} ({adhesive.family}) on {substrate.id} ({substrate.family})"
    change = f"prime with {' or '.join(fitting)}: `primer_kind: {fitting[0]}`"
    at = joint.at("primer_kind")
    if given is None:
        condition = f"the primer under {pair} is not stated"
        yield wall.fault(ends, "primer", "not stated", condition, at, [change], table.source)
    else:
        wrong = "there is no primer under" if given == "none" else f"a {given} does not suit"
        yield wall.fault(ends, "primer", "broken", f"{wrong} {pair}", at, [change], table.source)


def _solvent(wall: WallGraph, first: Node, second: Node, joint: Transition) -> Iterator[Break]:
    if joint.word("primer_kind") != SOLVENT_PRIMER:
        return
    at = joint.at("primer_kind")
    carrier = Node(SOLVENT_PRIMER, "", SOLVENT_PRIMER, SOLVENT, (), at)
    for node in (first, second):
        judgement = wall.meet(carrier, node, "solvent")
        if judgement is None or judgement.answer == "allowed":
            continue
        condition = f"solvent of the primer on {node.id} ({node.family}) is {judgement.text}"
        changes = ["prime with a primer without solvent: `primer_kind: water-borne acrylic primer`"]
        ends, standing = (first.id, second.id), standing_of(judgement)
        yield wall.fault(ends, "primer", standing, condition, at, changes, judgement.source)
