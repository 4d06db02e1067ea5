"""Fasteners of the cleat that holds the outer leg of the coping: load, spacing, submitted pull-out."""

from __future__ import annotations

from specgen.design import coping_wind
from specgen.design.worksheet import FORCE, GAP, PRESSURE, SHARE, Worksheet, calculation
from specgen.physics.errors import check_range
from specgen.physics.fasteners import cleat_load
from specgen.units.compare import computed_at_most
from specgen.wall.memo import once

SUBJECT = "cleat fasteners"
TITLE = "Fasteners of the coping's cleat"
SETS = ("load", "needed_pull_out", "largest_spacing", "use", "holds")
VALIDITY = (
    "Allowable stress; a continuous cleat on blocking. Structural values are for the design professional of record "
    "to confirm."
)
LEAVES_OUT = (
    "Prying of the cleat about its lower edge, which raises the pull on a fastener.",
    "Opening of the hooked edge: the tested resistance of the coping covers it.",
    "Blocking and its anchors: the load path goes on through each of them.",
    "The uplift of the top, which the cleat shares with the inner leg.",
)


@calculation(SUBJECT, TITLE, VALIDITY, LEAVES_OUT)
def calculate(work: Worksheet) -> None:
    """Load of one cleat fastener and the spacing that its tested pull-out allows.

    Formulas: F = p h s k; needed pull-out = SF F; largest spacing = P/(SF p h k).

    Given: what the wind pressure needs; coping.outer_face_height, cleat.fastener_spacing and the submitted
    cleat.pull_out. Of practice: safety factor and share of the cleat. Unknown where a datum is missing.
    """
    coping = work.parapet.part("coping")
    if coping is not None and not work.practice.kind("coping", coping.kind).metal:
        raise work.stop(f"not covered: no cleat holds a top that is {coping.kind}")
    pressure = outward_pressure(work)
    work.require("coping.outer_face_height", "cleat.fastener_spacing")
    work.step("p", "outward pressure on the face, allowable level", pressure, PRESSURE, FROM_WIND)
    leg, spacing = work.input("h", "coping.outer_face_height"), work.input("s", "cleat.fastener_spacing")
    share = work.practice_input("k", "cleat.share")
    factor = work.practice_input("SF", "cleat.safety_factor")
    load = float(cleat_load(pressure, leg, spacing, share))
    work.result("load", "F", "load of one fastener, allowable level", load, FORCE, "F = p h s k")
    needed = factor * load
    title = "tested pull-out that one fastener needs at this spacing"
    # A step as well: without a submitted value there is no result, and this number is what to ask for.
    work.step("Pn", title, needed, FORCE, "Pn = SF F")
    work.result("needed_pull_out", "Pn", title, needed, FORCE, "Pn = SF F")
    work.require("cleat.pull_out")
    tested = work.input("P", "cleat.pull_out")
    check_range("height of the outer face [m]", leg, 1e-3, 2.0, "a coping leg")
    check_range("tested pull-out [N]", tested, 1.0, 1e6, "a tested capacity")
    per_meter = factor * float(cleat_load(pressure, leg, 1.0, share))
    title = "largest spacing that the submitted pull-out allows"
    work.result("largest_spacing", "smax", title, tested / per_meter, GAP, "smax = P/(SF p h k)")
    work.result("use", "u", "part of the pull-out that is used", needed / tested, SHARE, "u = Pn/P")
    holds = "yes" if computed_at_most(needed, tested) else "no"
    work.result_word("holds", "the fasteners hold at this spacing", holds, "u ≤ 1")


FROM_WIND = f"from the calculation {coping_wind.SUBJECT}, wall edge zone governing"


def outward_pressure(work: Worksheet) -> float:
    """Allowable outward pressure of the coping wind calculation [Pa]; what that one misses is noted here."""
    wind = once(coping_wind.calculate, work.project, work.parapet, work.practice)
    work.missing += [f"{reason} ({wind.subject})" for reason in wind.missing]
    found = wind.result("face_outward_allowable")
    return 0.0 if found is None else found.value
