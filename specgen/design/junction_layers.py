"""The layers of the roof junction's section, from the build-up and the roof of the building."""

from __future__ import annotations

from dataclasses import dataclass

from specgen.design.stud_cavity import filled_conductivity, filling
from specgen.design.vapor_layers import WITHOUT_PART
from specgen.design.worksheet import Worksheet
from specgen.model.project import Component

THIN = 1e-3  # m; a membrane resists no heat and would only crowd the grid
DECKS = {"concrete": ("framing", "concrete"), "wood": ("sheathing", "plywood")}


@dataclass(frozen=True)
class Slab:
    """A plane layer: name, thickness [m], conductivity [W/(m·K)]."""

    name: str
    thickness_m: float
    conductivity: float


def layers_of(
    work: Worksheet,
) -> tuple[tuple[Slab, ...], Slab | None, tuple[Slab, ...], tuple[Slab, ...]]:
    """Layers outside the framing, the framing, behind it, and over the top."""
    outer: list[Slab] = []
    behind: list[Slab] = []
    framing: Slab | None = None
    for number, part in enumerate(work.parapet.build_up, 1):
        if part.role in WITHOUT_PART:
            continue
        slab = _slab(work, part, number)
        if part.role == "framing" and framing is None:
            framing = slab or Slab(part.id, 1.0, 1.0)  # what is missing is noted, and stops the calculation
        elif slab is not None and slab.thickness_m > THIN:
            (outer if framing is None else behind).append(slab)
    if framing is None:
        work.missing.append("framing: a layer with `role: framing` in the build-up")
    top: list[Slab] = []
    for number, part in enumerate(work.parapet.top, len(work.parapet.build_up) + 1):
        if part.role == "top insulation" and (slab := _slab(work, part, number, "insulation")):
            top.append(slab)
    return tuple(outer), framing, tuple(behind), tuple(top)


def _slab(work: Worksheet, part: Component, number: int, role: str = "") -> Slab | None:
    rows = work.practice.table("materials").where(role=role or part.role, kind=part.kind)
    if not rows or rows[0]["conductivity"] is None:
        work.missing.append(f"{part.id}: no thermal conductivity is known for {part.kind}")
        return None
    name = "depth" if part.role == "drainage layer" else "thickness"
    if part.has(name):
        thickness = work.part_input(f"d{number}", f"{name} of {part.id}", part, name)
    elif rows[0]["thickness"] is not None:
        thickness = work.table_input(f"d{number}", "materials", rows[0], "thickness", f"{name} of {part.id}")
    else:
        work.missing.append(f"{part.id}.{name}: {name} of the {part.role} ({part.kind})")
        return None
    if fill := filling(work, part):
        return Slab(part.id, thickness, filled_conductivity(work, part, fill, number))
    title = f"thermal conductivity of {part.id} ({part.kind})"
    return Slab(
        part.id, thickness, work.table_input(f"λ{number}", "materials", rows[0], "conductivity", title)
    )


def deck_of(work: Worksheet) -> Slab:
    """The roof deck.

    Raises:
        Unknown: it is no plane layer.
    """
    word = work.input_word("", "building.roof_deck")
    if word not in DECKS:
        raise work.stop(f"not covered: a deck of ribbed {word} is no plane layer")
    role, kind = DECKS[word]
    (row,) = work.practice.table("materials").where(role=role, kind=kind)
    thickness = work.input("td", "building.roof_deck_thickness")
    title = f"thermal conductivity of the deck ({word})"
    return Slab("roof deck", thickness, work.table_input("λd", "materials", row, "conductivity", title))


def roof_of(work: Worksheet) -> Slab:
    """The insulation of the roof field."""
    word = work.input_word("", "building.roof_insulation")
    (row,) = work.practice.table("materials").where(role="insulation", kind=word)
    thickness = work.input("tr", "building.roof_insulation_thickness")
    title = f"thermal conductivity of the roof insulation ({word})"
    return Slab("roof insulation", thickness, work.table_input("λr", "materials", row, "conductivity", title))
