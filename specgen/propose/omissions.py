"""What one omission does to a wall: one tape left out, one lap short, one primer forgotten; which paths still hold."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from specgen.design.scuppers import calculate
from specgen.model.project import Parapet, Project, Record, Transition
from specgen.paths.graph import Node, WallGraph, wall_of
from specgen.paths.places import place_paths
from specgen.paths.primers import primer_faults
from specgen.paths.shapes import Break, Layer
from specgen.paths.trace import trace
from specgen.practice.entries import Practice
from specgen.rules.wall import Wall
from specgen.units.quantity import exactly, quantity
from specgen.wall.change import with_values

LAYERS: tuple[Layer, ...] = ("water", "air", "vapor")
NOT_CALCULATED = "not calculated"  # drying under a leak, which wants an hourly calculation of the wet wall
SUBSTRATES = ("sheathing", "framing")  # a joint with one is a bond and no lap
_SHORT = 0.5  # of the lap
_FLANGES = {"stripped_inside": "on the roof side", "stripped_outside": "on the outer side"}


@dataclass(frozen=True)
class Omission:
    """One thing left out of a wall, and the control layers that it breaks or leaves to a letter that nobody has."""

    what: str
    parapet: str
    breaks: tuple[str, ...]
    holds: tuple[str, ...]
    drying: str = NOT_CALCULATED


def omissions(wall: Wall) -> tuple[Omission, ...]:
    """Every single omission at the laps and the scuppers of a parapet, each tried.

    Args:
        wall: a parapet as assessed, with the limits of requirements in place of what nobody has stated.
    """
    before = _breaks(wall.project, wall.parapet, wall.practice)
    found = []
    for what, changed in _without(wall.parapet):
        after = _breaks(wall.project, changed, wall.practice)
        broken = tuple(layer for layer in LAYERS if after[layer] - before[layer])
        holds = tuple(layer for layer in LAYERS if layer not in broken)
        found.append(Omission(what, wall.parapet.name, broken, holds))
    return (*found, *_unstripped(wall), *_overflows_missing(wall))


def _unstripped(wall: Wall) -> Iterator[Omission]:
    """Each flange of a sleeve that is not stripped in."""
    graph = wall_of(wall.project, wall.parapet, wall.practice)
    for one in wall.parapet.scuppers:
        before = _at_scupper(graph, one)
        for name, side in _FLANGES.items():
            if not one.flag(name):
                continue
            after = _at_scupper(graph, with_values(one, {name: False}, ""))
            broken = tuple(layer for layer in LAYERS if after[layer] - before[layer])
            holds = tuple(layer for layer in LAYERS if layer not in broken)
            what = f"flange not stripped in {side}, scupper {one.word('name')}"
            yield Omission(what, wall.parapet.name, broken, holds)


def _at_scupper(graph: WallGraph, scupper: Record) -> Mapping[Layer, set[tuple[str, ...]]]:
    """What breaks the paths at one scupper: the two ends, the cause, and how it stands."""
    bare = replace(graph.parapet, corners=(), ends=(), steps=(), joints=(), penetrations=())
    parapet = replace(bare, scuppers=(scupper,))
    found: dict[Layer, set[tuple[str, ...]]] = {layer: set() for layer in LAYERS}
    for path in place_paths(replace(graph, parapet=parapet)):
        found[path.layer] |= {
            (one.first, one.second, one.cause, one.standing)
            for one in path.breaks
            if one.standing in ("broken", "confirm")
        }
    return found


def _overflows_missing(wall: Wall) -> Iterator[Omission]:
    """Each overflow left out, the others draining its roof: water comes in where it stands too deep for the flashing."""
    uses = [one for one in wall.parapet.scuppers if one.word("use") == "overflow"]
    areas = {id(one): one.quantity("area_served") for one in uses}
    for one in uses:
        rest = [other for other in uses if other is not one]
        served = sum((area.exact for other in rest if (area := areas[id(other)]) is not None), Fraction(0))
        own, broken = areas[id(one)], True
        if own is not None and served:
            more = 1 + own.exact / served
            places = tuple(
                with_values(place, {"area_served": exactly(area.exact * more, area)}, "")
                if (area := areas.get(id(place))) is not None
                else place
                for place in wall.parapet.scuppers
                if place is not one
            )
            done = calculate(wall.project, replace(wall.parapet, scuppers=places), wall.practice)
            spare = done.result("spare") if done.done else None
            broken = spare is None or spare.value < 0.0
        layers = tuple(layer for layer in LAYERS if not (broken and layer == "water"))
        what = f"overflow left out, scupper {one.word('name')}"
        yield Omission(what, wall.parapet.name, ("water",) if broken else (), layers)


def _breaks(project: Project, parapet: Parapet, practice: Practice) -> Mapping[Layer, set[tuple[str, ...]]]:
    """By layer, what breaks its path or leaves it to a letter: the two ends, the cause, and how it stands."""
    graph = wall_of(project, parapet, practice)
    bonds = list(_bonds(graph))
    return {
        layer: {
            (one.first, one.second, one.cause, one.standing)
            for one in (
                *trace(graph, layer).breaks,
                *(fault for upper, faults in bonds if layer in upper.layers for fault in faults),
            )
            if one.standing in ("broken", "confirm")
        }
        for layer in LAYERS
    }


def _bonds(graph: WallGraph) -> Iterator[tuple[Node, tuple[Break, ...]]]:
    """Each sheet that a joint bonds to its substrate, with what is wrong with the primer; no path runs through it."""
    for joint in graph.parapet.transitions:
        upper, lower = graph.nodes.get(joint.first), graph.nodes.get(joint.second)
        if upper is not None and lower is not None and lower.role in SUBSTRATES:
            yield upper, tuple(primer_faults(graph, upper, lower, joint))


def _without(parapet: Parapet) -> Iterator[tuple[str, Parapet]]:
    """What is left out, in words, and the parapet without it."""
    for place, joint in enumerate(parapet.transitions):
        lower = parapet.by_id(joint.second)
        for what, changed in _lesser(joint, lower is not None and lower.role in SUBSTRATES):
            laps = (*parapet.transitions[:place], changed, *parapet.transitions[place + 1 :])
            yield f"{what}, {joint.first} / {joint.second}", replace(parapet, transitions=laps)


def _lesser(joint: Transition, bond: bool) -> Iterator[tuple[str, Transition]]:
    upper = joint.word("upper")
    if joint.has("tape"):
        yield "tape left out", _unstated(joint, "tape")
    if joint.has("primer_kind") and joint.word("primer_kind") != "none":
        yield "primer forgotten", with_values(joint, {"primer_kind": "none"}, "")
    lap = joint.quantity("lap")
    if lap is not None:
        half = quantity(float(f"{lap.number * _SHORT:.3g}"), lap.unit)
        yield "lap half as long", with_values(joint, {"lap": half}, "")
    if joint.flag("sealed"):
        yield "edge not sealed", with_values(joint, {"sealed": False}, "")
    if upper in (joint.first, joint.second) and not bond:
        other = joint.second if upper == joint.first else joint.first
        yield "lapped the wrong way", with_values(joint, {"upper": other}, "")


def _unstated(joint: Transition, *names: str) -> Transition:
    values = {name: value for name, value in joint.values.items() if name not in names}
    return replace(joint, values=values)
