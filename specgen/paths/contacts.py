"""Parts that touch or stand above each other on a parapet: families that may meet, metals by galvanic index."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import cast

from specgen.files.marks import Mark
from specgen.model.project import Component, Parapet, Project
from specgen.paths.graph import Node, WallGraph, wall_of
from specgen.physics.galvanic import Couple, galvanic_couple
from specgen.practice.compatibility import Adjacency, Judgement
from specgen.practice.entries import Practice, cell
from specgen.wall.order import layers_between, nearest


@dataclass(frozen=True)
class Contact:
    """Two components that meet: what is known of their materials, and of the couple where both are metals.

    ``judgement`` is None where a family is not known. For runoff ``first`` stands above ``second``.
    """

    first: str
    second: str
    families: tuple[str | None, str | None]
    adjacency: Adjacency
    exposure: str
    judgement: Judgement | None
    couple: Couple | None
    mark: Mark


def contacts(project: Project, parapet: Parapet, practice: Practice) -> tuple[Contact, ...]:
    """Every pair of components that meets by the practice table of contacts, judged.

    Args:
        project: gives the manufacturers' letters.
        parapet: its components.
        practice: pairs of roles, families, anodic indices and limits.

    Returns:
        The contacts in the order of the table, then of the file.
    """
    wall = wall_of(project, parapet, practice)
    found = []
    for row in practice.table("contacts").rows:
        how, exposure = cast(Adjacency, row["adjacency"]), str(row["exposure"])
        for one in parapet.all_of(str(row["one"])):
            for other in nearest(parapet, one, str(row["other"])):
                if how == "runoff" or not layers_between(parapet, practice, one, other):
                    found.append(_contact(wall, one, other, how, exposure))
    return tuple(found)


def lapped(project: Project, parapet: Parapet, practice: Practice) -> tuple[Contact, ...]:
    """Every pair that meets at a lap: the two sheets, or each of them with the tape that bridges them.

    Args:
        project: gives the manufacturers' letters.
        parapet: its components and transitions.
        practice: pairs of families.

    Returns:
        The contacts in the order of the file; a transition that names an unknown part is left out.
    """
    wall = wall_of(project, parapet, practice)
    found: dict[tuple[str, str], Contact] = {}
    for joint in parapet.transitions:
        first, second = parapet.by_id(joint.first), parapet.by_id(joint.second)
        if first is None or second is None:
            continue
        tape = parapet.by_id(joint.word("tape") or "")
        pairs = ((first, tape), (tape, second)) if tape is not None else ((first, second),)
        for one, other in pairs:
            found.setdefault((one.id, other.id), _contact(wall, one, other, "contact", "sheltered"))
    return tuple(found.values())


def couple(practice: Practice, one: str, other: str, exposure: str = "outdoors") -> Couple | None:
    """The galvanic couple of two families in contact at an exposure (outdoors, sheltered, conditioned).

    Returns:
        None if one of the two has no anodic index: it is no metal of the table.
    """
    index = _indices(practice)
    if one not in index or other not in index:
        return None
    limit = practice.quantity(f"galvanic.limit_{exposure}").value
    return galvanic_couple(one, other, index, limit)


def _indices(practice: Practice) -> Mapping[str, float]:
    return {str(row["metal"]): cell(row, "index").value for row in practice.table("anodic_index").rows}


def _contact(wall: WallGraph, one: Component, other: Component, how: Adjacency, exposure: str) -> Contact:
    first, second = (_with_metal(wall.nodes[part.id], part) for part in (one, other))
    pair = None
    if how == "contact" and first.family and second.family:
        pair = couple(wall.practice, first.family, second.family, exposure)
    judgement = wall.meet(first, second, how)
    families = (first.family, second.family)
    return Contact(first.id, second.id, families, how, exposure, judgement, pair, other.mark)


def _with_metal(node: Node, part: Component) -> Node:
    """A component whose material is its stated metal."""
    metal = part.word("metal")
    return (
        node if metal is None else Node(node.id, node.role, node.label, metal, node.layers, node.mark, part)
    )
