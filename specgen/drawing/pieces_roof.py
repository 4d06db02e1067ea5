"""The pieces of the roof: its membrane with the base flashing, insulation, deck, thermal break."""

from __future__ import annotations

from collections.abc import Iterator

from specgen.drawing.frame import Strip
from specgen.drawing.materials import hatch_of
from specgen.drawing.piece import (
    MATERIAL,
    METAL,
    OUTLINE,
    Build,
    Piece,
    sheet,
)
from specgen.drawing.shapes import Area, Item, Point, Stroke, rectangle
from specgen.model.project import Component

ROOF_SHOWN = 260.0  # films wide: farther than any sheet, which then cuts the roof field


def turn_up_piece(build: Build, strip: Strip, part: Component) -> Piece:
    levels = build.levels
    x, end = strip.middle, strip.middle + ROOF_SHOWN * build.frame.film
    foot = 0.0 if part.word("cant") != "cant strip" else 4.0 * build.frame.film * 4.0
    corner = ((x + foot, 0.0), (x, foot)) if foot else ((x, 0.0),)
    points = ((end, 0.0), *corner, (x, levels.turn_up_top))
    items: list[Item] = [*sheet(part.role, points)]
    if foot:
        items.append(Area(MATERIAL, ((x, 0.0), (x + foot, 0.0), (x, foot)), "rigid insulation", "fine"))
    if part.word("termination") in ("termination bar under a counterflashing", "sealed termination bar"):
        y = levels.turn_up_top
        bar = build.frame.film
        items.append(Area(METAL, rectangle(x + bar / 2, y - 4 * bar, x + bar, y - bar), "solid", "fine"))
    return Piece(part.id, tuple(items), "roof", x, foot, levels.turn_up_top, points)


def roof_pieces(build: Build) -> Iterator[Piece]:
    """Insulation and deck of the roof field; dashed where they are not described."""
    levels, frame, building = build.levels, build.frame, build.job.project.building
    inner, end = frame.structure[1], frame.right + ROOF_SHOWN * build.frame.film
    kind, deck = building.word("roof_insulation"), building.word("roof_deck")
    y0, y1 = levels.deck_top, -frame.film / 2.0
    items: tuple[Item, ...]
    box = rectangle(inner, y0, end, y1)
    if kind:
        items = (Area(MATERIAL, box, hatch_of("roof insulation", kind), "fine"),)
    else:
        items = (Stroke(OUTLINE, box, "fine", "dashed", closed=True),)
    middle = (y0 + y1) / 2.0
    spine = ((end, middle), (inner, middle))
    yield Piece("roof insulation", items, "roof", inner + 0.05, y0, y1, spine)
    start = frame.core_face
    box = rectangle(start, levels.deck_bottom, end, levels.deck_top)
    if deck:
        items = (Area(MATERIAL, box, hatch_of("roof deck", deck), "medium"),)
        if deck == "steel":
            items = (*items, *_ribs(box, frame.film))
    else:
        items = (Stroke(OUTLINE, box, "fine", "dashed", closed=True),)
    yield Piece("roof deck", items, "roof", inner + 0.05, levels.deck_bottom, levels.deck_top)
    if levels.thermal_break is not None and frame.strips:
        strip = frame.strips[frame.core]
        high = min(levels.deck_top + levels.thermal_break.value, levels.wall_top - 0.02)
        area = Area(MATERIAL, rectangle(strip.x0, levels.deck_top, strip.x1, high), "rigid insulation")
        at = strip.x0 + 0.8 * (strip.x1 - strip.x0)
        yield Piece("thermal break", (area,), "roof", at, levels.deck_top, high)


def _ribs(box: tuple[Point, ...], film: float) -> Iterator[Stroke]:
    (x0, y0), _, (x1, y1), _ = box
    step = max(0.15, 10.0 * film)
    points: list[Point] = []
    for number in range(int((x1 - x0) / step)):
        x = x0 + number * step
        points += [
            (x, y0),
            (x + 0.4 * step, y0),
            (x + 0.5 * step, y1 - film / 2),
            (x + 0.9 * step, y1 - film / 2),
        ]
    yield Stroke(METAL, tuple(points), "heavy")
