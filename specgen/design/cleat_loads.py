"""What one fastener of the coping's cleat must hold: the pull of the face and the uplift of the top, both at once."""

from __future__ import annotations

from dataclasses import dataclass

from specgen.design import coping_wind
from specgen.design.coping_geometry import build_up
from specgen.design.worksheet import FORCE, GAP, PRESSURE, Worksheet, calculation
from specgen.physics.errors import check_range
from specgen.physics.fasteners import cleat_load, needed_beside
from specgen.wall.memo import once

SUBJECT = "cleat loads"
TITLE = "Loads on a fastener of the coping's cleat"
SETS = ("face_load", "top_load", "needed_pull_out", "needed_shear")
VALIDITY = (
    "Allowable stress; a continuous cleat on blocking. Structural values are for the design professional of record "
    "to confirm."
)
LEAVES_OUT = (
    "Prying of the cleat about its lower edge, which raises the pull on a fastener.",
    "Opening of the hooked edge: the tested resistance of the coping covers it.",
    "Blocking and its anchors: the load path goes on through each of them.",
    "Face and top at their own times: both loads are taken at once, each of its governing zone.",
)
FROM_WIND = f"from the calculation {coping_wind.SUBJECT}, wall edge zone governing"
CORNER = f"from the calculation {coping_wind.SUBJECT}, roof corner zone governing"
ON_THE_FACE = "face"


@dataclass(frozen=True)
class Demand:
    """What a fastener carries and what is submitted of it [N]; a capacity that is not stated is None."""

    pull: float
    shear: float
    pull_out: float | None
    lateral: float | None


@calculation(SUBJECT, TITLE, VALIDITY, LEAVES_OUT)
def calculate(work: Worksheet) -> None:
    """Loads of one cleat fastener from face and top, and the tested capacities that they need.

    Formulas: F = p h s k, U = pt w s kt; fastened on the face F pulls and U shears, on the top the other way round;
    needed capacities by the straight line SF (pull/P + shear/Z) at most 1, or the sum of both loads in each direction.

    Given: what the wind pressures need; coping.outer_face_height and drips; the thickness of the parapet, T, the
    greater of the stated one and of its layers; where stated cleat.fastener_spacing (else the greatest of practice),
    cleat.fasteners_at, cleat.pull_out, cleat.shear. Of practice: safety factor, shares of the cleat. Unknown where a
    datum is missing.
    """
    coping = work.parapet.part("coping")
    if coping is not None and not work.practice.kind("coping", coping.kind).metal:
        raise work.stop(f"not covered: no cleat holds a top that is {coping.kind}")
    outward, upward = outward_pressure(work), _pressure(work, "top_corner_allowable")
    work.require("coping.outer_face_height", "coping.outer_drip", "coping.inner_drip")
    width = build_up(work)
    work.stop_if_missing()
    spacing = spacing_of(work)
    work.step("p", "outward pressure on the face, allowable level", outward, PRESSURE, FROM_WIND)
    leg, share = work.input("h", "coping.outer_face_height"), work.practice_input("k", "cleat.share")
    check_range("height of the outer face [m]", leg, 1e-3, 2.0, "a coping leg")
    face = float(cleat_load(outward, leg, spacing, share))
    title = "load of one fastener from the face, allowable level"
    work.result("face_load", "F", title, face, FORCE, "F = p h s k")
    work.step("pt", "uplift of the top, allowable level", upward, PRESSURE, CORNER)
    drips = work.input("do", "coping.outer_drip") + work.input("di", "coping.inner_drip")
    width = work.step(
        "w", "width over the drips, which the wind lifts", width + drips, GAP, "w = T + do + di"
    )
    top = float(cleat_load(upward, width, spacing, work.practice_input("kt", "cleat.top_share")))
    title = "load of one fastener from the top, allowable level"
    work.result("top_load", "U", title, top, FORCE, "U = pt w s kt")
    demand, factor = demand_of(work, face, top), work.practice_input("SF", "cleat.safety_factor")
    for name, symbol, title, load, beside, other, known in (
        ("needed_pull_out", "Pn", "pull-out", demand.pull, demand.shear, demand.lateral, "Z"),
        ("needed_shear", "Zn", "shear", demand.shear, demand.pull, demand.pull_out, "P"),
    ):
        needed = needed_beside(factor * load, factor * beside, other)
        enough = other is not None and other > factor * beside
        formula = f"SF (pull/P + shear/Z) = 1, {known} as submitted" if enough else f"{symbol} = SF (F + U)"
        title = f"tested {title} that one fastener needs at this spacing"
        work.result(name, symbol, title, needed, FORCE, formula)


def spacing_of(work: Worksheet) -> float:
    """Spacing of the fasteners [m]: as stated, else the greatest that the trade allows."""
    if work.given("cleat.fastener_spacing") is not None:
        return work.input("s", "cleat.fastener_spacing")
    return work.practice_input("s", "cleat.fastener_spacing")


def demand_of(work: Worksheet, face: float, top: float) -> Demand:
    """Pull and shear of one fastener by where it stands; nothing is submitted of one whose place is not stated."""
    at = work.input_word("", "cleat.fasteners_at") if work.word("cleat.fasteners_at") else ""
    pull, shear = (face, top) if at == ON_THE_FACE else (top, face)
    cleat = work.parapet.part("cleat")
    # A bound is no value to rest the other direction on; it is itself held against what is needed.
    pull_out, lateral = (
        work.input(symbol, f"cleat.{name}") if at and cleat and name in cleat.values else None
        for name, symbol in (("pull_out", "P"), ("shear", "Z"))
    )
    return Demand(pull, shear, pull_out, lateral)


def outward_pressure(work: Worksheet) -> float:
    """Allowable outward pressure of the coping wind calculation [Pa]; what that one misses is noted here."""
    wind = once(coping_wind.calculate, work.project, work.parapet, work.practice)
    work.missing += [f"{reason} ({wind.subject})" for reason in wind.missing]
    return _pressure(work, "face_outward_allowable")


def _pressure(work: Worksheet, name: str) -> float:
    found = once(coping_wind.calculate, work.project, work.parapet, work.practice).result(name)
    return 0.0 if found is None else found.value
