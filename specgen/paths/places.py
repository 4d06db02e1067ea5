"""Control layers at the named places of a parapet: corners, ends, steps, joints, scuppers, penetrations."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise

from specgen.model.project import Record
from specgen.paths.graph import (
    RISING_WALL,
    WALL_BELOW,
    Node,
    WallGraph,
    declared_route,
    roof_membrane,
    standing_of,
    virtual,
)
from specgen.paths.joint import answer_text
from specgen.paths.shapes import LAYERS, Break, Layer, LayerPath, PathStep, Standing
from specgen.units.compare import at_least

# Where a value of a place acts: from which part to which.
BEYOND = {"corner": "around the corner", "step": "above the step", "joint": "beyond the joint"}
PASSED: dict[
    str, dict[str, str]
] = {  # where layers go on beyond a place: its values, and the roles they are of
    "corner": {"coping": "coping", "flashing": "top flashing", "drainage": "drainage layer"},
    "step": {"coping": "coping", "end_dam": "coping", "flashing": "top flashing"},
    "joint": {"coping": "coping", "flashing": "top flashing", "barrier": "barrier", "every_layer": "plaster"},
}
SIDES: dict[tuple[str, str], tuple[str, str]] = {
    **{
        (kind, part): (role, f"{role} {BEYOND[kind]}")
        for kind, parts in PASSED.items()
        for part, role in parts.items()
    },
    ("end", "saddle_flashing"): ("coping", RISING_WALL),
    ("end", "end_dam"): ("coping", RISING_WALL),
    ("end", "counterflashing"): ("saddle flashing", RISING_WALL),
    ("scupper", "flange_inside"): ("roof turn-up", "sleeve"),
    ("scupper", "stripped_inside"): ("roof turn-up", "sleeve"),
    ("scupper", "flange_outside"): ("sleeve", "barrier"),
    ("scupper", "stripped_outside"): ("sleeve", "barrier"),
}


def place_paths(wall: WallGraph) -> tuple[LayerPath, ...]:
    """The paths at every named place, in the order of the file."""
    return (
        *(path for corner in wall.parapet.corners for path in _passing(wall, corner, "turn")),
        *(path for end in wall.parapet.ends for path in _end(wall, end)),
        *(path for step in wall.parapet.steps for path in _passing(wall, step)),
        *(path for joint in wall.parapet.joints for path in _passing(wall, joint, "what")),
        *(path for scupper in wall.parapet.scuppers for path in _scupper(wall, scupper)),
        *(path for hole in wall.parapet.penetrations for path in _penetration(wall, hole)),
    )


def _over_the_top(wall: WallGraph) -> list[Layer]:
    """The membrane layers that run over the top, and so turn with it and end with it."""
    return [
        layer for layer in LAYERS if layer != "heat" and declared_route(wall.parapet, layer) == "over the top"
    ]


def _declared(wall: WallGraph) -> list[Layer]:
    return [layer for layer in LAYERS if layer != "heat" and declared_route(wall.parapet, layer) is not None]


def _first(wall: WallGraph, role: str, layer: Layer) -> Node:
    """The component with a role that carries a layer, or the role itself where the parapet has none."""
    nodes = wall.carriers([role], layer)
    return nodes[0] if nodes else virtual(wall, role)


def _path(
    wall: WallGraph, layer: Layer, place: str, record: Record, nodes: Iterable[Node], found: Iterable[Break]
) -> LayerPath:
    breaks, chain = tuple(found), tuple(nodes)
    made = _made(wall, layer, record, chain)
    lifted = tuple(words for pair in pairwise(chain) for words in wall.lifted(*pair))
    steps: list[PathStep] = []
    for node in chain:
        faults = [one.cause for one in breaks if one.second == node.id]
        joint = ", ".join(made.get(node.id, ()))
        steps.append(PathStep(node.id, node.label, joint, tuple(dict.fromkeys(faults)) if steps else ()))
    return LayerPath(layer, wall.parapet.name, place, tuple(steps), breaks, lifted)


def _made(wall: WallGraph, layer: Layer, record: Record, chain: tuple[Node, ...]) -> dict[str, list[str]]:
    """How a place is made, in words, by the component that the joint leads to; beside the chain, at its end."""
    made: dict[str, list[str]] = {}
    rows = wall.practice.table("place_details").where(place=record.what)
    for part in dict.fromkeys(str(row["part"]) for row in rows if layer in str(row["layers"]).split()):
        value = record.values.get(part)
        if value is None:
            continue
        words = {True: "yes", False: "no"}.get(value, value) if isinstance(value, bool) else value
        second = _sides(wall, layer, record.what, part)[1] if (record.what, part) in SIDES else ""
        step = second if second in {node.id for node in chain[1:]} else chain[-1].id
        made.setdefault(step, []).append(f"{part.replace('_', ' ')}: {words}")
    lap = record.quantity("wall_lap")
    if lap is not None:
        made.setdefault(chain[-1].id, []).append(f"{wall.shown(lap)} lap")
    return made


def _passing(wall: WallGraph, record: Record, which: str = "") -> Iterator[LayerPath]:
    """A place beyond which the top goes on: a corner, a step, a building joint."""
    kind, sort = record.what, f" ({record.word(which)})" if which else ""
    place = f"{kind} {record.word('name')}{sort}"
    for layer in _over_the_top(wall):
        flashing = _first(wall, "top flashing", layer)
        beyond = virtual(wall, f"{flashing.id} {BEYOND[kind]}")
        found = [
            one
            for part, role in PASSED[kind].items()
            if wall.with_role([role])
            for one in _detail(wall, layer, kind, part, record, _sides(wall, layer, kind, part))
        ]
        yield _path(wall, layer, place, record, (flashing, beyond), found)


def _end(wall: WallGraph, record: Record) -> Iterator[LayerPath]:
    place = f"end {record.word('name')}"
    rising = virtual(wall, RISING_WALL, record.word("wall_family"), record.at("wall_family"))
    for layer in _over_the_top(wall):
        flashing = _first(wall, "top flashing", layer)
        found = [
            one
            for part in ("saddle_flashing", "end_dam", "counterflashing")
            for one in _detail(wall, layer, "end", part, record, _sides(wall, layer, "end", part))
        ]
        found += [*_end_lap(wall, flashing, record), *_meeting(wall, flashing, rising, record, "wall_family")]
        yield _path(wall, layer, place, record, (flashing, rising), found)


def _end_lap(wall: WallGraph, flashing: Node, record: Record) -> Iterator[Break]:
    limit, lap = wall.practice.quantity("end.wall_lap"), record.quantity("wall_lap")
    least, ends = wall.least(limit), (flashing.id, RISING_WALL)
    if lap is None:
        condition, changes = "the lap is not stated", [f"state it: `wall_lap:`, at least {least}"]
        yield wall.fault(ends, "lap", "not stated", condition, record.mark, changes, "end.wall_lap")
    elif not at_least(lap, limit):
        short, least = wall.beside(lap, limit)
        condition = f"the lap of {short} is shorter than {least}"
        changes = [f"lengthen the lap from {short} to {least}"]
        yield wall.fault(ends, "lap", "broken", condition, record.at("wall_lap"), changes, "end.wall_lap")


def _scupper(wall: WallGraph, record: Record) -> Iterator[LayerPath]:
    place = f"scupper {record.word('name')} ({record.word('use')})"
    sleeve = virtual(wall, "sleeve", record.word("sleeve_family"), record.at("sleeve_family"))
    for layer in _declared(wall):
        turn_up, barrier = _first(wall, "roof turn-up", layer), _first(wall, "barrier", layer)
        found = [
            one
            for part in ("flange_inside", "stripped_inside", "flange_outside", "stripped_outside")
            for one in _detail(wall, layer, "scupper", part, record, _sides(wall, layer, "scupper", part))
        ]
        found += _meeting(wall, turn_up, sleeve, record, "sleeve_family")
        if sleeve.family is not None:
            found += _meeting(wall, sleeve, barrier, record, "sleeve_family")
        chain = (roof_membrane(wall), turn_up, sleeve, barrier, virtual(wall, WALL_BELOW))
        yield _path(wall, layer, place, record, chain, found)


def _penetration(wall: WallGraph, record: Record) -> Iterator[LayerPath]:
    place = f"penetration {record.word('name')} ({record.word('what')})"
    node = wall.nodes.get(record.word("through") or "")
    if node is None:
        return
    what = virtual(wall, str(record.word("what")), record.word("seal_family"), record.at("seal_family"))
    layers = [layer for layer in _declared(wall) if layer in node.layers]
    for layer in layers:
        found = [*_detail(wall, layer, "penetration", "sealed_by", record, (node.id, what.id))]
        if record.word("sealed_by") not in (None, "none"):
            found += _meeting(wall, node, what, record, "seal_family")
        yield _path(wall, layer, place, record, (node, what), found)
    if not layers:
        yield _path(wall, "water", place, record, (node, what), _behind(wall, record, node, what))


def _behind(wall: WallGraph, record: Record, node: Node, what: Node) -> Iterator[Break]:
    """A hole in a part that carries no layer goes on through one that does: asked for, unless it is described."""
    carriers = {one.id for one in wall.nodes.values() if "water" in one.layers}
    for other in wall.parapet.penetrations:
        if other.word("what") == record.word("what") and other.word("through") in carriers:
            return
    condition = f"how it passes the membrane behind {node.id} is not stated"
    changes = [f"describe it as a penetration through {' or '.join(sorted(carriers))}"]
    at = record.at("through")
    yield wall.fault((node.id, what.id), "detail", "not stated", condition, at, changes, "path.places")


def _sides(wall: WallGraph, layer: Layer, kind: str, part: str) -> tuple[str, str]:
    """The two parts a detail stands between, components by their ids."""
    names = []
    for name in SIDES[kind, part]:
        role = name.removesuffix(f" {BEYOND.get(kind, '')}")
        known = wall.carriers([role], layer)
        names.append(name.replace(role, known[0].id) if known else name)
    return names[0], names[1]


def _detail(
    wall: WallGraph, layer: Layer, kind: str, part: str, record: Record, ends: tuple[str, str]
) -> Iterator[Break]:
    """One value of a place against the table of details."""
    table = wall.practice.table("place_details")
    rows = [row for row in table.where(place=kind, part=part) if layer in str(row["layers"]).split()]
    if not rows:
        return
    title = wall.practice.vocabulary.records[kind].fields[part].title
    value = record.values.get(part)
    making = {True: "yes", False: "no"}.get(value, value) if isinstance(value, bool) else value
    if making is None:
        carrying = [str(row["making"]) for row in rows if row["carries"] == "yes"]
        changes = [f"state `{part}:` {' or '.join(carrying)}"]
        condition = f"not stated: {title}"
        yield wall.fault(ends, "detail", "not stated", condition, record.mark, changes, table.source)
        return
    row = next(row for row in rows if row["making"] == making)
    if row["carries"] != "yes":
        standing: Standing = "confirm" if row["carries"] == "confirm" else "broken"
        changes = [f"change `{part}: {making}` to `{part}: {row['better']}`"]
        condition = f"{title}: {making}; {row['why']}"
        yield wall.fault(ends, "detail", standing, condition, record.at(part), changes, table.source)


def _meeting(wall: WallGraph, one: Node, other: Node, record: Record, field: str) -> Iterator[Break]:
    """Whether the materials of a place may touch."""
    judgement, ends = wall.meet(one, other), (one.id, other.id)
    if judgement is None:
        unknown = other if other.family is None else one
        key = field if unknown.part is None else "family"
        condition = f"the material family of {unknown.id} is not known"
        yield wall.fault(
            ends,
            "chemistry",
            "not stated",
            condition,
            record.mark,
            [f"state `{key}:`"],
            "compatibility.matrix",
        )
    elif judgement.answer != "allowed":
        condition = f"{one.family} against {other.family} is {answer_text(judgement)}"
        letters = (
            "a letter of either manufacturer"
            if judgement.answer == "confirm"
            else "letters of both manufacturers"
        )
        changes = [f"record {letters} that allows {one.family} with {other.family}", f"change `{field}:`"]
        standing = standing_of(judgement)
        yield wall.fault(ends, "chemistry", standing, condition, record.at(field), changes, judgement.source)
