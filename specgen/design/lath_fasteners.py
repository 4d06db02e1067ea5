"""Fasteners that hold lath and plaster across the drainage gap: withdrawal, bending, both together."""

from __future__ import annotations

from specgen.design.cleat_loads import FROM_WIND, outward_pressure
from specgen.design.worksheet import FORCE, GAP, PRESSURE, SHARE, Worksheet, calculation
from specgen.physics.constants import GRAVITY
from specgen.physics.fasteners import lath_demand, plastic_moment, utilisation
from specgen.wall.over_foam import crossed, size_of

SUBJECT = "lath fasteners"
TITLE = "Fasteners of the lath across the drainage gap"
SETS = (
    "dead_load",
    "lever",
    "shear",
    "withdrawal",
    "needed_pull_out",
    "use_withdrawal",
    "use_bending",
    "use",
    "largest_spacing",
)
NEEDED = (
    "parapet.height",
    "plaster.thickness",
    "lath.support_spacing",
    "lath.fastener_spacing",
    "lath.fastener_diameter",
    "lath.fastener_yield",
    "lath.fastener_pull_out",
)
VALIDITY = (
    "Allowable stress; round fasteners in rows on supports, the head free to turn. Structural values are for the "
    "design professional of record to confirm."
)
LEAVES_OUT = (
    "Friction, arching of the plaster, and the strut that a compressed drainage layer makes.",
    "The support: crushing of wood and bearing of thin steel under the fastener.",
    "Earthquake, hail, ladders and swing stages.",
    "Pull-through of the lath at the fastener head.",
    "Furring outside insulation, and its own fasteners.",
)


@calculation(SUBJECT, TITLE, VALIDITY, LEAVES_OUT)
def calculate(work: Worksheet) -> None:
    """Demand of one lath fastener against its tested withdrawal and its bending strength.

    Formulas: w = ρ g t; V = w sx sy; T = p sx sy; M = k V e; Mp = fy d³/6; T/(P/SFw) + M/(Mp/SFb) ≤ 1.

    Given: what the wind pressure needs; plaster thickness, the layers the fastener crosses, and the fastener.
    Of practice: density and safety factors. Unknown where a datum is missing.
    """
    pressure = outward_pressure(work)
    lever = _lever(work)
    work.require(*NEEDED)
    work.step("p", "outward pressure, allowable level", pressure, PRESSURE, FROM_WIND)
    _demand(work, pressure, lever)


def _lever(work: Worksheet) -> float:
    """Distance that a fastener spans without support: half the plaster, then every soft layer behind it."""
    lever = 0.0
    for number, part in enumerate(crossed(work.parapet), 1):
        name = size_of(part)
        if part.has(name):
            lever += work.part_input(f"e{number}", f"{name} of {part.id}", part, name)
        else:
            work.missing.append(f"{part.id}.{name}: {name} of the {part.role} ({part.kind})")
    return lever


def _demand(work: Worksheet, pressure: float, lever: float) -> None:
    thickness = work.input("t", "plaster.thickness")
    dead = work.practice_input("ρ", "plaster.density") * GRAVITY * thickness
    work.result("dead_load", "w", "weight of the plaster", dead, PRESSURE, "w = ρ g t")
    arm = lever + thickness / 2.0
    work.result("lever", "e", "lever from the middle of the plaster to the support", arm, GAP, "e = t/2 + Σe")
    across, up = work.input("sx", "lath.support_spacing"), work.input("sy", "lath.fastener_spacing")
    share = work.practice_input("k", "lath.moment_share")
    demand = lath_demand(dead, pressure, across, up, arm, share)
    work.result("shear", "V", "weight that one fastener carries", float(demand.shear_n), FORCE, "V = w sx sy")
    pull = float(demand.withdrawal_n)
    work.result("withdrawal", "T", "withdrawal of one fastener", pull, FORCE, "T = p sx sy")
    withdrawal_factor = work.practice_input("SFw", "lath.safety_factor")
    title = "tested withdrawal that one fastener needs"
    work.result("needed_pull_out", "Pn", title, withdrawal_factor * pull, FORCE, "Pn = SFw T")
    tested = work.input("P", "lath.fastener_pull_out")
    diameter, strength = work.input("d", "lath.fastener_diameter"), work.input("fy", "lath.fastener_yield")
    bending_factor = work.practice_input("SFb", "lath.bending_factor")
    capacity = float(plastic_moment(diameter, strength)) / bending_factor
    used = utilisation(demand, tested / withdrawal_factor, capacity)
    withdrawal, bending, both = (float(one) for one in (used.withdrawal, used.bending, used.combined))
    work.result("use_withdrawal", "uw", "withdrawal used", withdrawal, SHARE, "uw = T SFw/P")
    work.result("use_bending", "ub", "bending used", bending, SHARE, "ub = k V e SFb/(fy d³/6)")
    title = "both together, at this spacing; above 100 % the fasteners do not hold"
    work.result("use", "u", title, both, SHARE, "u = uw + ub")
    title = "largest spacing at which they hold"
    work.result("largest_spacing", "smax", title, up / both, GAP, "smax = sy/u, both uses grow with sy")
