"""A plastered roof side: its layers are those of the outer face once more, and its barrier laps the base flashing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from specgen.model.project import Component, Parapet, Transition, Value
from specgen.practice.entries import Practice
from specgen.propose.choices import LINING
from specgen.units.quantity import Quantity
from specgen.wall.change import TRIED
from specgen.wall.order import outer_side, roof_side

ROOF_SIDE = {
    role: f"roof-side {role}" for role in ("barrier", "weep screed", "drainage layer", "lath", "plaster")
}
FACING = ROOF_SIDE["barrier"]  # takes the place of the top flashing at the base flashing
FACING_TAPE = "base flashing tape"  # laid before the barrier of the roof side, other tapes behind it
ABOVE_ROOF = "outlet.above_roof"
_OF_A_FACE = ("nothing_below", "above_earth", "above_paving")  # of a screed of the outer face
_MEET = ("top flashing", "framing")  # of both faces


def plastered_inside(parapet: Parapet) -> bool:
    """Whether the roof side is to be plastered, and the facts describe none of its layers and no plaster over the top."""
    over = any(one.word("top_edge") == "turned over the top" for one in parapet.all_of("plaster"))
    covered = any(one.kind == "plaster-covered" for one in parapet.all_of("coping"))
    described = roof_side(parapet, *ROOF_SIDE)
    return parapet.word("inner_face") == "stucco" and not (over or covered or described)


def mirrored(wall: Parapet, placed: Callable[[Parapet, Component], Parapet], clearance: Quantity) -> Parapet:
    """A parapet with each layer of its outer face once more on the roof side.

    Args:
        wall: with the layers of the outer face; without framing it has no other side.
        placed: puts a component in its place.
        clearance: of the screed of the roof side above the roof.
    """
    if wall.part("framing") is None:
        return wall
    for role, name in ROOF_SIDE.items():
        outer = outer_side(wall, role)
        if outer and wall.by_id(name) is None:
            values: dict[str, Value] = {
                key: value for key, value in outer[0].values.items() if key not in _OF_A_FACE
            }
            if role == "weep screed":
                values["above_roof"] = clearance
            made = Component(
                role, values, dict.fromkeys((*values, "kind"), TRIED), TRIED, id=name, kind=outer[0].kind
            )
            wall = placed(wall, made)
    return wall


def mirrored_laps(wall: Parapet) -> Parapet:
    """A parapet with each lap of its outer face once more on the roof side."""
    other = {
        outer[0].id: name
        for role, name in ROOF_SIDE.items()
        if (outer := outer_side(wall, role)) and wall.by_id(name) is not None
    }
    boards = outer_side(wall, "sheathing")
    if boards and wall.by_id(LINING) is not None:
        other[boards[0].id] = LINING
    both = {part.id: part.id for part in wall.components() if part.role in _MEET}
    made: list[Transition] = []
    for joint in wall.transitions:
        ends = tuple(other.get(name) or both.get(name, "") for name in (joint.first, joint.second))
        parts = [wall.by_id(name) for name in ends if name]
        if len(parts) < 2 or not set(ends) & set(other.values()):
            continue
        one, two = parts
        if one is not None and two is not None and not wall.between(one, two):
            upper = joint.word("upper")
            values = {**joint.values, **({"upper": other.get(upper, upper)} if upper else {})}
            marks = dict.fromkeys(values, TRIED)
            made.append(Transition("transition", values, marks, TRIED, first=ends[0], second=ends[1]))
    gap, turn_up = wall.by_id(ROOF_SIDE["drainage layer"]), wall.part("roof turn-up")
    if gap is not None and turn_up is not None and not wall.between(gap, turn_up):
        over: dict[str, Value] = {"upper": gap.id}
        if wall.by_id(FACING_TAPE) is not None:
            over["tape"] = FACING_TAPE
        marks = dict.fromkeys(over, TRIED)
        made.append(Transition("transition", over, marks, TRIED, first=gap.id, second=turn_up.id))
    return replace(wall, transitions=(*wall.transitions, *made)) if made else wall


def clearance_of(practice: Practice) -> Quantity:
    """How far the screed of the roof side stands above the roof at the least."""
    return practice.quantity(ABOVE_ROOF)
