"""One parapet as a graph: components are nodes with the layers they carry, transitions are edges.

A typed graph of our own and not networkx: a parapet has some twelve nodes, the route of each layer is known by
role beforehand, and what is needed (edges between two nodes, a stable topological order, one named cycle) is a
few lines each. A dependency would bring untyped node attributes and no shorter code.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from specgen.files.marks import Mark
from specgen.model.project import Component, MakerLetter, Parapet, Project, Transition
from specgen.model.source import Source
from specgen.paths.shapes import LAYERS, Break, Cause, Layer, Standing
from specgen.practice.compatibility import Adjacency, Judgement, Letter, may_touch
from specgen.practice.entries import Practice
from specgen.units.compare import at_most
from specgen.units.quantity import Quantity
from specgen.units.show import show, show_beside, show_limit
from specgen.wall.facts import filled
from specgen.wall.order import roof_side
from specgen.wall.place import family

ROOF_MEMBRANE = "roof membrane"
ROOF_INSULATION = "roof insulation"
WALL_BELOW = "wall below"
RISING_WALL = "rising wall"


@dataclass(frozen=True)
class Node:
    """A component, or a virtual end of the path (its ``part`` is None)."""

    id: str
    role: str
    label: str
    family: str | None
    layers: tuple[str, ...]
    mark: Mark
    part: Component | None = None

    @property
    def named(self) -> str:
        """The component with its material, as a sentence names it."""
        return (
            f"{self.label} ({self.family})" if self.family and self.family not in self.label else self.label
        )


@dataclass(frozen=True)
class WallGraph:
    """The graph of one parapet, with the practice and the letters it is judged by."""

    project: Project
    parapet: Parapet
    practice: Practice
    nodes: Mapping[str, Node]

    def with_role(self, roles: Iterable[str]) -> tuple[Node, ...]:
        """The components of some roles, by id, so that the order of the file decides nothing."""
        wanted = set(roles)
        return tuple(sorted((n for n in self.nodes.values() if n.role in wanted), key=lambda n: n.id))

    def carriers(self, roles: Sequence[str], layer: Layer) -> tuple[Node, ...]:
        """The components of some roles, on each side of the framing those that carry a layer where one of them does.

        The outer side comes first, then the order of the ids.
        """
        outer: list[Node] = []
        inner: list[Node] = []
        at_roof = {part.id for part in roof_side(self.parapet, *roles)}
        for node in self.with_role(roles):
            (inner if node.part is not None and node.id in at_roof else outer).append(node)
        return tuple(
            node
            for side in (outer, inner)
            for node in side
            if layer in node.layers or not any(layer in one.layers for one in side)
        )

    def between(self, one: Node, other: Node) -> tuple[Transition, ...]:
        """The transitions that join two components."""
        return tuple(joint for joint in self.parapet.transitions if joint.joins(one.id, other.id))

    def meet(self, one: Node, other: Node, adjacency: Adjacency = "contact") -> Judgement | None:
        """What is known of two components that meet; None if a material family is not known."""
        if one.family is None or other.family is None:
            return None
        letters = [*_letters(self.project.letters, one, other), *_approvals(one, other)]
        return may_touch(self.practice, one.family, other.family, letters, adjacency)

    def lifted(self, one: Node, other: Node) -> tuple[str, ...]:
        """What a letter allows between two components, told with the letter; empty if none was needed."""
        known = self.meet(one, other)
        if known is None or known.answer != "allowed" or not known.letters:
            return ()
        return (f"{one.named} against {other.named}: {known.text}",)

    def source(self, key: str) -> Source:
        """The source of a practice entry or table."""
        return self.practice.source(key)

    def shown(self, value: Quantity) -> str:
        """A value in the project's language of units."""
        return show(value, self.project.system)

    def least(self, limit: Quantity) -> str:
        """A least value in the project's language of units."""
        return show_limit(limit, "at least", self.project.system)

    def beside(self, value: Quantity, least: Quantity) -> tuple[str, str]:
        """A value that falls short and the least, printed so that the one reads less than the other."""
        return show_beside(value, "at least", least, self.project.system)

    def fault(
        self,
        ends: tuple[str, str],
        cause: Cause,
        standing: Standing,
        condition: str,
        mark: Mark,
        changes: Iterable[str],
        source: Source | str,
        without: tuple[str, ...] = (),
    ) -> Break:
        """A break; a source may be given as a practice key. ``without``: the roles whose absence makes it."""
        cited = self.source(source) if isinstance(source, str) else source
        return Break(ends[0], ends[1], condition, mark, tuple(changes), cause, standing, cited, without)


def standing_of(judgement: Judgement) -> Standing:
    """What an answer other than "allowed" means for a path."""
    return "confirm" if judgement.answer == "confirm" else "broken"


def wall_of(project: Project, parapet: Parapet, practice: Practice) -> WallGraph:
    """The graph of one parapet."""
    nodes = {part.id: _node(part, parapet, practice) for part in parapet.components()}
    return WallGraph(project, parapet, practice, nodes)


def roof_membrane(wall: WallGraph) -> Node:
    """The membrane in the field of the roof, as the building declares it."""
    kind = wall.project.building.word("roof_membrane")
    label = f"{ROOF_MEMBRANE} ({kind})" if kind else ROOF_MEMBRANE
    of_kind = wall.practice.kind("roof turn-up", kind).family if kind else None
    known = wall.project.building.word("roof_membrane_family") or of_kind
    mark = wall.project.building.at("roof_membrane")
    return Node(ROOF_MEMBRANE, ROOF_MEMBRANE, label, known, LAYERS, mark)


def virtual(wall: WallGraph, name: str, material: str | None = None, mark: Mark | None = None) -> Node:
    """An end of a path, or a part of a place, that is no component of the parapet."""
    return Node(name, name, name, material, LAYERS, mark or wall.parapet.mark)


def declared_route(parapet: Parapet, layer: Layer) -> str | None:
    """Where a layer passes the parapet: water over the top, the others as the project declares."""
    return "over the top" if layer == "water" else parapet.word(f"{layer}_path")


def too_open(node: Node, practice: Practice) -> bool:
    """Whether a component lets more vapor through than any class of vapor retarder, or may by what it states."""
    if node.part is None:
        return False
    stated = node.part.stated("vapor_permeance")
    if node.role == "barrier" and not node.part.states("vapor_permeance"):
        return True  # nothing, or a limit that asks for at least so much, keeps a barrier from letting more through
    if stated is None:
        return False
    _, most = stated.ends
    return most is None or not at_most(most, practice.quantity("vapor.class_3"))


def _node(part: Component, parapet: Parapet, practice: Practice) -> Node:
    role = practice.vocabulary.roles[part.role]
    layers = role.layers_of(part.kind)
    node = Node(part.id, part.role, part.id, family(practice, part), layers, part.mark, part)
    if too_open(node, practice):
        layers = tuple(layer for layer in layers if layer != "vapor")
    if filled(part) or (part.role == "framing" and parapet.has("thermal_break")):
        layers = (*layers, "heat")
    return Node(part.id, part.role, part.id, node.family, layers, part.mark, part)


def _letters(written: Iterable[MakerLetter], one: Node, other: Node) -> list[Letter]:
    """The project's letters about two components, turned into letters about their families."""
    found = []
    for letter in written:
        for a, b in ((one, other), (other, one)):
            if letter.one in (a.id, a.family) and letter.other in (b.id, b.family):
                maker_of = a if letter.makes == letter.one else b
                found.append(_letter(letter, a.family or "", b.family or "", maker_of.family or ""))
                break
    return found


def _letter(letter: MakerLetter, one: str, other: str, makes: str) -> Letter:
    date = str(letter.values.get("date", ""))
    return Letter(one, other, makes, letter.flag("allows") is True, date, letter.word("maker") or "")


def _approvals(one: Node, other: Node) -> list[Letter]:
    """What a tape's own record says its manufacturer approves: that manufacturer's word, and not the other's."""
    found = []
    for tape, side in ((one, other), (other, one)):
        approved = tape.part.words("compatible_with") if tape.part and tape.role == "bridging tape" else ()
        if side.family in approved:
            found.append(Letter(tape.family or "", side.family or "", tape.family or "", True, "", ""))
    return found
