"""A metal coping of straight segments around a parapet that is curved in plan."""

from __future__ import annotations

import math

from specgen.design.coping_geometry import build_up
from specgen.design.worksheet import GAP, HEIGHT, NUMBER, Unit, Worksheet, calculation
from specgen.model.project import Parapet
from specgen.physics.plan_curve import chord_inside, chord_outside, longest_piece
from specgen.units.compare import whole_steps

SUBJECT = "coping on a curve"
TITLE = "Coping of straight segments on a curve in plan"
SETS = ("outer_drip", "inner_drip", "turn", "pieces", "longest_piece")
ANGLE = Unit("angle", "deg", "deg")
VALIDITY = "Segments of one length on an arc of one radius, mitered at their joints."
LEAVES_OUT = (
    "Tolerance of the curve as built: measure it before the pieces are cut.",
    "Movement of a miter: a segment grows along its chord and pushes the next one outward.",
)


def ONLY_WHERE(parapet: Parapet) -> bool:  # noqa: N802 - asked of a module, as its SUBJECT is
    """Whether the calculation is about this parapet at all."""
    return parapet.has("radius")


@calculation(SUBJECT, TITLE, VALIDITY, LEAVES_OUT)
def calculate(work: Worksheet) -> None:
    """How far the drips of straight segments stand out where they are greatest, so that they keep clear everywhere.

    Formulas: around the convex face Rn = √((Rc + d)² + (L/2)²), drip Rn - Rc at the joints,
    turn θ = 2 atan(L/2/(Rc + d));
    within the concave face drip Rv - (Rv - d) cos(θ/2) at the middle of a piece; n = arc / L.

    Given: parapet.radius and curve; the coping in straight segments; its piece length, else that of practice; the
    thickness of the parapet. Of practice: the least drip. No result for a straight parapet or a formed coping.
    """
    if not work.parapet.has("radius"):
        raise work.stop("not covered: the parapet is straight in plan")
    work.require("parapet.curve", "coping.on_curve")
    if work.word("coping.on_curve") != "straight segments":
        raise work.stop("not covered: the coping is formed to the curve")
    thick = build_up(work)
    work.stop_if_missing()
    radius = work.input("R", "parapet.radius")
    outward = work.input_word("", "parapet.curve") == "outward"
    length = (
        work.input("L", "coping.piece_length")
        if work.given("coping.piece_length")
        else work.practice_input("L", "coping.piece_length")
    )
    least = work.practice_input("d", "coping.drip")
    _drips(work, radius, outward, thick, length, least)


def _drips(work: Worksheet, radius: float, outward: bool, thick: float, length: float, least: float) -> None:
    convex, concave = (radius, radius - thick) if outward else (radius + thick, radius)
    formula = (
        "Rc = R, Rv = R - T, face curved outward" if outward else "Rc = R + T, Rv = R, face curved inward"
    )
    work.step("Rc", "radius of the convex face", convex, HEIGHT, formula)
    work.step("Rv", "radius of the concave face", concave, HEIGHT, formula)
    around = chord_outside(convex, length, least)
    within = chord_inside(concave, around.turn_rad, least)
    outer, inner = (around, within) if outward else (within, around)
    at = {id(around): "at the joints", id(within): "at the middle of a piece"}
    for name, symbol, side, found in (("outer", "do", "outer", outer), ("inner", "di", "roof-side", inner)):
        title = f"drip clear of the {side} face {at[id(found)]}, so that it keeps the least everywhere"
        formula = "Rn - Rc, Rn = √((Rc + d)² + (L/2)²)" if found is around else "Rv - (Rv - d) cos(θ/2)"
        work.result(f"{name}_drip", symbol, title, found.clear_m, GAP, formula)
    work.result("turn", "θ", "turn from piece to piece", around.turn_rad, ANGLE, "θ = 2 atan(L/2/(Rc + d))")
    arc = work.given("parapet.length")
    if arc is None:
        work.result_word("pieces", "number of segments", "not known: the length of the parapet is not stated")
    else:
        long = work.input("La", "parapet.length")
        count = float(whole_steps(long * (convex / radius) / length))
        work.result("pieces", "n", "number of segments", count, NUMBER, "n = La Rc/R / L, rounded up")
    _longest(work, convex, "coping.outer_drip" if outward else "coping.inner_drip", least)


def _longest(work: Worksheet, convex: float, key: str, least: float) -> None:
    """The longest segment that the drip as stated allows."""
    title = "longest segment whose drip keeps the least, with the drip as stated"
    stated = work.given(key)
    if stated is None:
        work.result_word("longest_piece", title, "the drip is not stated")
        return
    longest = longest_piece(convex, work.input("ds", key), least)
    if math.isclose(longest, 0.0):
        work.result_word("longest_piece", title, "none: the drip is the least one already")
    else:
        work.result("longest_piece", "lx", title, longest, HEIGHT, "lx = 2 √((Rc + ds)² - (Rc + d)²)")
