"""Quantities of a wall, taken off its sizes and calculations, and their price where somebody gives one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from specgen.assessment import Assessment
from specgen.rules.wall import Wall
from specgen.units.quantity import Quantity, quantity, to_unit
from specgen.wall.order import roof_side

AREA, LENGTH, COUNT = "area", "length", "count"
_BY_AREA = ("plaster", "lath", "drainage layer", "barrier", "insulation")  # of the plastered face
_BY_LENGTH = ("weep screed", "blocking", "cleat", "coping")
_UNITS = {("inch-pound", AREA): "ft2", ("inch-pound", LENGTH): "ft", ("SI", AREA): "m2", ("SI", LENGTH): "m"}


@dataclass(frozen=True)
class Prices:
    """Prices of a unit of a part, by role and kind, family or metal, or by the role alone; each with its unit."""

    currency: str
    by_part: Mapping[
        str, tuple[float, str]
    ]  # "barrier: self-adhered, butyl" or "barrier" to the price and its unit


@dataclass(frozen=True)
class Amount:
    """How much of a part a wall takes."""

    part: str
    value: Quantity | int
    what: str  # area, length, count
    price: float = 0.0

    @property
    def text(self) -> str:
        """The amount with its unit."""
        return self.value.text if isinstance(self.value, Quantity) else str(self.value)


def amounts(assessment: Assessment) -> tuple[Amount, ...]:
    """The parts of all parapets with their areas, lengths and counts; a part whose sizes are open is left out."""
    found: dict[tuple[str, str], Quantity | int] = {}
    for wall in assessment.walls:
        for part, what, value in _of(wall):
            before = found.get((part, what))
            found[part, what] = value if before is None else _sum(before, value)
    return tuple(Amount(part, value, what) for (part, what), value in found.items())


def cost_of(assessment: Assessment, prices: Prices) -> tuple[Amount, ...]:
    """The amounts that have a price, with it."""
    found = []
    for one in amounts(assessment):
        priced = prices.by_part.get(one.part) or prices.by_part.get(one.part.split(":")[0])
        if priced is None:
            continue
        price, unit = priced
        number = float(one.value) if isinstance(one.value, int) else to_unit(one.value, unit)
        found.append(Amount(one.part, one.value, one.what, price * number))
    return tuple(found)


def _of(wall: Wall) -> Iterator[tuple[str, str, Quantity | int]]:
    for use, family, head in _scuppers(wall):
        yield f"scupper: {use}, {family}".removesuffix(", "), COUNT, 1
        if head:
            yield "conductor head", COUNT, 1
    length = wall.parapet.quantity("length")
    height = wall.parapet.quantity("plaster_height") or wall.parapet.quantity("height")
    if length is None or height is None:
        return
    for part in wall.parapet.components():
        made = part.word("family") or part.word("metal") or ""
        name = f"{part.role}: {', '.join(filter(None, (part.kind, made)))}"
        if part.role in _BY_AREA:
            inside = part in roof_side(wall.parapet, part.role)
            yield (
                name,
                AREA,
                _product(wall, length, (wall.parapet.quantity("height") if inside else None) or height),
            )
        elif part.role in _BY_LENGTH:
            yield name, LENGTH, _shown(wall, length, LENGTH)
    yield from _membranes(wall, length)
    geometry = wall.calculations.get("coping geometry")
    if geometry is not None and geometry.done:
        girth = geometry.result("girth")
        pieces = geometry.results["straight_pieces"].value
        if girth is not None:
            yield "sheet metal of the coping", AREA, _product(wall, length, girth)
        yield "coping pieces", COUNT, int(float(getattr(pieces, "number", 0) or 0))


def _scuppers(wall: Wall) -> Iterator[tuple[str, str, bool]]:
    """The use of each scupper, the material family of its sleeve, and whether it has a conductor head."""
    for one in wall.parapet.scuppers:
        head = one.word("outlet") == "conductor head"
        yield one.word("use") or "", one.word("sleeve_family") or "", head


def _membranes(wall: Wall, length: Quantity) -> Iterator[tuple[str, str, Quantity | int]]:
    for joint in wall.parapet.transitions:
        if joint.has("tape"):
            tape = wall.parapet.by_id(joint.word("tape") or "")
            yield f"bridging tape: {tape.kind if tape else ''}", LENGTH, _shown(wall, length, LENGTH)
        yield "laps made", LENGTH, _shown(wall, length, LENGTH)
    flashing = wall.parapet.part("top flashing")
    if flashing is not None:
        yield f"top flashing: {flashing.kind}", LENGTH, _shown(wall, length, LENGTH)
    turn_up, height = wall.parapet.part("roof turn-up"), wall.parapet.quantity("height")
    if turn_up is not None and height is not None:
        yield (
            f"base flashing: {turn_up.kind}",
            AREA,
            _product(wall, length, turn_up.quantity("height") or height),
        )


def _system(wall: Wall) -> str:
    return "SI" if wall.project.system == "SI" else "inch-pound"


def _shown(wall: Wall, value: Quantity, what: str) -> Quantity:
    unit = _UNITS[_system(wall), what]
    return quantity(float(f"{to_unit(value, unit):.4g}"), unit)


def _product(wall: Wall, one: Quantity, other: Quantity) -> Quantity:
    unit, side = _UNITS[_system(wall), AREA], _UNITS[_system(wall), LENGTH]
    return quantity(float(f"{to_unit(one, side) * to_unit(other, side):.4g}"), unit)


def _sum(one: Quantity | int, other: Quantity | int) -> Quantity | int:
    if isinstance(one, Quantity) and isinstance(other, Quantity):
        return quantity(float(f"{to_unit(one, one.unit) + to_unit(other, one.unit):.6g}"), one.unit)
    assert isinstance(one, int) and isinstance(other, int)
    return one + other
