"""Fasteners of the cleat that holds the exterior face of the coping: how far the submitted capacities go."""

from __future__ import annotations

from specgen.design import cleat_loads
from specgen.design.cleat_loads import VALIDITY, demand_of, spacing_of
from specgen.design.worksheet import FORCE, GAP, SHARE, Worksheet, calculation
from specgen.physics.fasteners import joint_use
from specgen.wall.memo import once

SUBJECT = "cleat fasteners"
TITLE = "Fasteners of the coping's cleat"
SETS = ("largest_spacing", "use")
LEAVES_OUT = (
    *cleat_loads.LEAVES_OUT,
    "The curved interaction that ANSI/AWC NDS allows a fastener in wood: the straight line asks for more.",
)


@calculation(SUBJECT, TITLE, VALIDITY, LEAVES_OUT)
def calculate(work: Worksheet) -> None:
    """Use of the submitted capacities of one cleat fastener, and the spacing that they allow.

    Formulas: u = SF (pull/P + shear/Z); largest spacing = s/u, no more than the greatest of practice.

    Given: what the calculation ``cleat loads`` needs; cleat.fasteners_at, cleat.pull_out, cleat.shear. Of practice:
    safety factor, greatest spacing. Unknown where a datum is missing.
    """
    loads = once(cleat_loads.calculate, work.project, work.parapet, work.practice)
    if loads.missing and loads.missing[0].startswith("not covered"):
        raise work.stop(loads.missing[0])
    work.missing += loads.missing
    work.require("cleat.fasteners_at", "cleat.pull_out", "cleat.shear")
    face, top = (loads.result(name) for name in ("face_load", "top_load"))
    assert face is not None
    assert top is not None
    spacing = spacing_of(work)
    work.step("F", "load of one fastener from the face", face.value, FORCE, FROM_LOADS)
    work.step("U", "load of one fastener from the top", top.value, FORCE, FROM_LOADS)
    demand, factor = demand_of(work, face.value, top.value), work.practice_input("SF", "cleat.safety_factor")
    assert demand.pull_out is not None
    assert demand.lateral is not None
    use = factor * joint_use(demand.pull, demand.pull_out, demand.shear, demand.lateral)
    limit = work.practice_input("sx", "cleat.fastener_spacing")
    title = "largest spacing that the submitted capacities and practice allow"
    work.result("largest_spacing", "smax", title, min(spacing / use, limit), GAP, "smax = s/u, at most sx")
    pulls = (
        "F pulls, U shears"
        if work.word("cleat.fasteners_at") == cleat_loads.ON_THE_FACE
        else "U pulls, F shears"
    )
    title = "part of the capacity that is used at this spacing; above 100 % the fasteners do not hold"
    work.result("use", "u", title, use, SHARE, f"u = SF (pull/P + shear/Z), straight line; {pulls}")


FROM_LOADS = f"from the calculation {cleat_loads.SUBJECT}"
