"""The path of each control layer over or across a parapet, with every break on it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from specgen.model.project import Parapet, Project
from specgen.paths.graph import (
    ROOF_INSULATION,
    WALL_BELOW,
    Node,
    WallGraph,
    declared_route,
    roof_membrane,
    too_open,
    virtual,
    wall_of,
)
from specgen.paths.joint import Joint, judge_joint, judge_sheet
from specgen.paths.places import place_paths
from specgen.paths.shapes import LAYERS, PLAIN_RUN, WEIGHT, Break, Cause, Layer, LayerPath, PathStep, Standing
from specgen.practice.entries import Practice
from specgen.units.show import show_limit
from specgen.wall.order import roof_side, roof_side_barrier


def control_paths(project: Project, parapet: Parapet, practice: Practice) -> tuple[LayerPath, ...]:
    """Every layer's path at every place of one parapet.

    First the plain run, a path for each layer; then each corner, end, scupper and penetration, a path for each
    layer that passes there. A path at a place carries the breaks of that place alone: those of the plain run are
    not told again. A layer whose passage is not declared has a path without steps and one break that asks.

    Args:
        project: gives the roof membrane and the manufacturers' letters.
        parapet: its components, transitions and places.
        practice: laps, routes, pairs of families, details of places.

    Returns:
        The paths, in the order water, air, vapor, heat, places in the order of the file. The order of the
        components in the file changes nothing.
    """
    wall = wall_of(project, parapet, practice)
    return (*(trace(wall, layer) for layer in LAYERS), *place_paths(wall))


def all_paths(project: Project, practice: Practice) -> tuple[LayerPath, ...]:
    """The paths of every parapet of a project."""
    return tuple(path for parapet in project.parapets for path in control_paths(project, parapet, practice))


def breaks(project: Project, parapet: Parapet, practice: Practice, *causes: Cause) -> tuple[Break, ...]:
    """The breaks of one parapet with one of these causes (all without causes), each told once.

    The same joint breaks several layers: a break equal in all but its layer is given once here, for rules.
    """
    found = (one for path in control_paths(project, parapet, practice) for one in path.breaks)
    return tuple(dict.fromkeys(one for one in found if not causes or one.cause in causes))


def lifted(project: Project, parapet: Parapet, practice: Practice) -> tuple[str, ...]:
    """The pairs on any path that pass only by manufacturers' letters, each told once, with the letters' dates."""
    paths = control_paths(project, parapet, practice)
    return tuple(dict.fromkeys(words for path in paths for words in path.lifted))


def trace(wall: WallGraph, layer: Layer) -> LayerPath:
    """The path of one layer at the plain run."""
    route = declared_route(wall.parapet, layer)
    if route is None:
        return LayerPath(layer, wall.parapet.name, PLAIN_RUN, (), (_undeclared(wall, layer),))
    stages = _stages(wall, layer, route)
    best = _best(wall, layer, stages)
    missing = [step for step in best.skipped if not step.bridged]
    found = [*(_missing(wall, layer, step.stage, step.before, step.after) for step in missing)]
    steps, at_steps = _steps(wall, layer, best, stages)
    by_letter = tuple(words for joint in best.joints for words in joint.lifted)
    on_limits = any(joint.on_limits for joint in best.joints)
    return LayerPath(layer, wall.parapet.name, PLAIN_RUN, steps, (*found, *at_steps), by_letter, on_limits)


@dataclass(frozen=True)
class _Stage:
    """One step of a route: the roles that could make it, and the components that have such a role."""

    roles: tuple[str, ...]
    if_missing: str
    nodes: tuple[Node, ...]


@dataclass(frozen=True)
class _Skipped:
    """A stage no component makes; ``bridged`` if its neighbors are joined directly."""

    stage: _Stage
    before: Node
    after: Node
    bridged: bool


@dataclass(frozen=True)
class _Way:
    """One choice of a component for each stage, as far as it goes."""

    nodes: tuple[Node, ...]
    joints: tuple[Joint, ...]  # one before each node but the first
    skipped: tuple[_Skipped, ...]
    cost: int

    @property
    def rank(self) -> tuple[int, tuple[str, ...]]:
        return self.cost, tuple(node.id for node in self.nodes)


def _stages(wall: WallGraph, layer: Layer, route: str) -> list[_Stage]:
    rows = wall.practice.table("control_routes").where(layer=layer, route=route)
    by_step: dict[str, list[str]] = {}
    standing: dict[str, str] = {}
    for row in rows:
        by_step.setdefault(str(row["step"]), []).append(str(row["role"]))
        standing[str(row["step"])] = str(row["if_missing"])
    made = [
        _Stage(tuple(roles), standing[step], wall.carriers(roles, layer)) for step, roles in by_step.items()
    ]
    plastered = layer != "heat" and route == "over the top" and roof_side_barrier(wall.parapet)
    return list(_by_side(wall, layer, made)) if plastered else made


def _by_side(wall: WallGraph, layer: Layer, stages: list[_Stage]) -> Iterator[_Stage]:
    """The outer face is made by what stands outside the framing; a plastered roof side is a stage of its own."""
    carriers = ("barrier", "drainage layer")
    inner = {part.id for part in roof_side(wall.parapet, *carriers)}
    for stage in stages:
        if not set(stage.roles) & set(carriers):
            yield stage
            if stage.roles == ("roof turn-up",):
                roles = next(other.roles for other in stages if set(other.roles) & set(carriers))
                nodes = tuple(node for node in wall.carriers(roles, layer) if node.id in inner)
                yield _Stage(roles, "broken", nodes)
        else:
            yield replace(stage, nodes=tuple(node for node in stage.nodes if node.id not in inner))


def _best(wall: WallGraph, layer: Layer, stages: list[_Stage]) -> _Way:
    """The way with the least missing; among equals the first by component ids.

    Stage by stage the best way to each component is kept, so the count of components does not multiply.
    """
    start = virtual(wall, ROOF_INSULATION) if layer == "heat" else roof_membrane(wall)
    ways = [_Way((start,), (), (), 0)]
    empty: list[_Stage] = []
    for stage in stages:
        onward = [best for node in stage.nodes if (best := _to(wall, layer, ways, node, empty))]
        if onward:
            ways, empty = onward, []
        else:
            empty.append(stage)
    below = virtual(wall, WALL_BELOW)
    ends = [_extended(wall, layer, way, below, empty) for way in ways]
    return min(ends, key=lambda way: way.rank)


def _to(wall: WallGraph, layer: Layer, ways: list[_Way], node: Node, empty: list[_Stage]) -> _Way | None:
    onward = [_extended(wall, layer, way, node, empty) for way in ways if node not in way.nodes]
    return min(onward, key=lambda way: way.rank) if onward else None


def _extended(wall: WallGraph, layer: Layer, way: _Way, node: Node, empty: list[_Stage]) -> _Way:
    before = way.nodes[-1]
    bridged = bool(empty) and bool(wall.between(before, node))
    skipped = tuple(_Skipped(stage, before, node, bridged) for stage in empty)
    if node.part is None or before.id == ROOF_INSULATION or (empty and not bridged):
        joint = Joint("", ())
    elif before.part is None:
        joint = judge_sheet(wall, before, node)
    else:
        joint = judge_joint(wall, layer, before, node)
    cost = way.cost + joint.cost + (0 if layer in node.layers else WEIGHT["broken"])
    return _Way((*way.nodes, node), (*way.joints, joint), (*way.skipped, *skipped), cost)


def _steps(
    wall: WallGraph, layer: Layer, way: _Way, stages: list[_Stage]
) -> tuple[tuple[PathStep, ...], list[Break]]:
    steps = [PathStep(way.nodes[0].id, way.nodes[0].label)]
    found: list[Break] = []
    for before, node, joint in zip(way.nodes, way.nodes[1:], way.joints, strict=False):
        others = next((stage.roles for stage in stages if node in stage.nodes), ())
        at_node = [] if layer in node.layers else [_no_carrier(wall, layer, before, node, others)]
        faults = tuple(dict.fromkeys(one.cause for one in (*joint.breaks, *at_node)))
        steps.append(PathStep(node.id, node.label, joint.text, faults))
        found += [*joint.breaks, *at_node]
    for gap in way.skipped:
        if not gap.bridged:
            index = next(i for i, step in enumerate(steps) if step.id == gap.after.id)
            steps[index] = replace(steps[index], faults=("missing", *steps[index].faults))
    return tuple(steps), found


def _undeclared(wall: WallGraph, layer: Layer) -> Break:
    field = f"{layer}_path"
    choices = wall.practice.vocabulary.records["parapet"].fields[field].choices
    change = "declare it: " + " or ".join(f"`{field}: {choice}`" for choice in choices)
    condition = f"the project does not declare where the {layer} layer passes the parapet"
    start = ROOF_INSULATION if layer == "heat" else roof_membrane(wall).id
    mark = wall.parapet.mark
    return wall.fault((start, WALL_BELOW), "route", "not stated", condition, mark, [change], "path.declared")


def _missing(wall: WallGraph, layer: Layer, stage: _Stage, before: Node, after: Node) -> Break:
    roles = " or ".join(stage.roles)
    condition = f"no {roles} carries {layer} from one to the other"
    carriers = [
        f"{role} ({kind})"
        for role in stage.roles
        for kind, known in wall.practice.vocabulary.roles[role].kinds.items()
        if layer in wall.practice.vocabulary.roles[role].layers_of(known.name)
    ]
    changes = [f"add a component: {', '.join(carriers)}"] if carriers else [f"describe a {roles}"]
    open_ = _undescribed(wall, stage.roles)
    if open_:
        condition = f"{condition}; {open_}"
        changes.append("state `kind: none` where there is none")
    standing: Standing = "not stated" if stage.if_missing == "not stated" or open_ else "broken"
    ends, mark = (before.id, after.id), wall.parapet.mark
    return wall.fault(
        ends, "missing", standing, condition, mark, changes, "table control_routes", stage.roles
    )


def _undescribed(wall: WallGraph, roles: tuple[str, ...]) -> str:
    """That nothing is said yet of some of the roles that could carry a layer; "" where all are described or none."""
    found = [role for role in roles if wall.parapet.undescribed(role)]
    return f"no {' and no '.join(found)} is described yet" if found else ""


def _no_carrier(
    wall: WallGraph, layer: Layer, before: Node, node: Node, stage_roles: tuple[str, ...]
) -> Break:
    role = wall.practice.vocabulary.roles[node.role]
    kind = node.part.kind if node.part else ""
    ends, condition = (before.id, node.id), f"{node.id} ({kind}) is no {layer} control layer"
    mark = node.part.at("kind") if node.part else node.mark
    open_ = _undescribed(wall, stage_roles)
    standing: Standing = "not stated" if open_ else "broken"
    also = f"; {open_}" if open_ else ""
    if layer == "vapor" and node.part:
        stated = node.part.states("vapor_permeance")
        limit = show_limit(wall.practice.quantity("vapor.class_3"), "at most", wall.project.system)
        if not stated and layer in role.layers_of(kind):
            words = f"whether {node.id} ({kind}) is a vapor control layer is not stated{also}"
            change = (
                f"state its vapor permeance: `vapor_permeance:`, at most {limit} for a vapor control layer"
            )
            return wall.fault(ends, "layer", "not stated", words, node.part.mark, [change], "vapor.class_3")
        if stated and too_open(node, wall.practice):
            words, mark = f"{condition}: over {limit}{also}", node.part.at("vapor_permeance")
            change = f"choose a {node.role} of vapor permeance at most {limit}"
            return wall.fault(ends, "layer", standing, words, mark, [change], "vapor.class_3")
    if node.part and "cavity" in role.fields:
        changes = ["fill the cavity at roof level: state `cavity:`"]
    else:
        kinds = [name for name in role.kinds if layer in role.layers_of(name)]
        changes = [f"make {node.id} of kind {' or '.join(kinds)}"] if kinds else []
    return wall.fault(ends, "layer", standing, f"{condition}{also}", mark, changes, "path.unbroken")
