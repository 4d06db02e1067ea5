"""Thermal movement of a coping piece, and the joint gap to set when it is installed."""

from __future__ import annotations

from specgen.design.worksheet import DIFFERENCE, GAP, HEIGHT, TEMPERATURE, Worksheet, calculation
from specgen.physics.movement import MetalRange, joint_gap
from specgen.units.compare import whole_steps
from specgen.units.quantity import Quantity, from_si
from specgen.wall.facts import HOT_METAL

SUBJECT = "coping movement"
TITLE = "Thermal movement of the coping"
SETS = ("range", "movement", "joint_gap", "gap_hot", "gap_cold", "cover_lap", "longest_piece")
SIXTEENTH = 0.0254 / 16  # m, the step in which a shop sets a gap
MILLIMETER = 0.001  # m, the same in SI
VALIDITY = "Formed metal pieces free to move at both ends or held at one; expansion coefficient constant."
LEAVES_OUT = (
    "Movement of the blocking, the framing and the building's own expansion joints.",
    "Restraint by cleats and fasteners: the piece is taken as free to slide.",
    "Metal warmer or colder than the air when it is installed: it is taken at air temperature.",
    "Corners, end dams and transitions, which need a joint of their own.",
    "The lap of the cover plate that keeps rain out: cover_lap is used up by movement and is added to it.",
)


@calculation(SUBJECT, TITLE, VALIDITY, LEAVES_OUT)
def calculate(work: Worksheet) -> None:
    """Movement of one coping piece between its coldest and hottest temperature, and the joint gap.

    Formulas: ΔL = α L ΔT; gap = α L (T_hot - T_install) + margin, rounded up to 1/16 in (1 mm in an SI project).

    Given: site.temp_winter and site.temp_install; the coping with its metal, color class and piece length. Of
    practice: expansion coefficients, metal temperatures, margin. Unknown where a datum is missing or the
    coping is not of metal.
    """
    _check_coping(work)
    work.require("coping.metal", "site.temp_winter", "site.temp_install")
    expansion = _expansion(work)
    length = _length(work)
    metal = _range(work)
    _movement(work, expansion, length, metal)


def _check_coping(work: Worksheet) -> None:
    coping = work.parapet.part("coping")
    if coping is None:
        work.missing.append("coping: a component with `role: coping` in the parapet's `top`")
    elif not work.practice.kind("coping", coping.kind).metal:
        raise work.stop(f"not covered: the coping is {coping.kind}, the calculation is for formed metal")


def _expansion(work: Worksheet) -> float:
    metal = work.input_word("", "coping.metal")
    rows = work.practice.table("expansion").where(metal=metal)
    if not rows:
        raise work.stop(f"coping.metal: no expansion coefficient is known for {metal}")
    return work.table_input("α", "expansion", rows[0], "coefficient", f"expansion coefficient of {metal}")


def _length(work: Worksheet) -> float:
    if work.given("coping.piece_length"):
        return work.input("L", "coping.piece_length")
    work.leaves_out.append("No piece length is given: the practice length is taken (coping.piece_length).")
    return work.practice_input("L", "coping.piece_length")


def _range(work: Worksheet) -> MetalRange:
    if work.word("coping.color"):
        color = work.input_word("", "coping.color")
    else:
        color = "dark"
        work.leaves_out.append("No color class is given: dark is assumed, the hottest (coping.color).")
    hottest = work.practice_input("Th", HOT_METAL[color])
    winter = work.input("Tw", "site.temp_winter")
    coldest = winter - work.practice_input("ΔTn", "movement.night_cooling")
    work.step("Tc", "coldest temperature of the metal", coldest, TEMPERATURE, "Tc = Tw - ΔTn")
    metal = MetalRange(coldest, hottest)
    work.result("range", "ΔT", "temperature range of the metal", metal.span, DIFFERENCE, "ΔT = Th - Tc")
    return metal


def _movement(work: Worksheet, expansion: float, length: float, metal: MetalRange) -> None:
    install = work.input("Ti", "site.temp_install")
    margin = work.practice_input("m", "movement.gap_margin")
    gap = joint_gap(length, expansion, metal, install, margin, 1.0)
    closing, opening = gap.at_install - gap.hottest, gap.coldest - gap.at_install
    title = "movement of one piece over the whole range"
    work.result("movement", "ΔL", title, gap.movement, GAP, "ΔL = α L ΔT")
    work.step("ΔLh", "expansion from installation to hottest", closing, GAP, "ΔLh = α L (Th - Ti)")
    work.step("ΔLc", "contraction from installation to coldest", opening, GAP, "ΔLc = α L (Ti - Tc)")
    work.step("g0", "gap before rounding", gap.at_install, GAP, "g0 = ΔLh + m")
    rounded, step = _rounded_up(gap.at_install, work.si)
    title = "joint gap at the installation temperature"
    work.result_quantity("joint_gap", "g", title, rounded, f"g = g0, rounded up to {step}")
    title = "gap left when hottest, not less than the margin"
    work.result("gap_hot", "gh", title, rounded.value - closing, GAP, "gh = g - ΔLh")
    work.result("gap_cold", "gc", "gap when coldest", rounded.value + opening, GAP, "gc = g + ΔLc")
    title = "lap of the cover plate on each piece that movement uses up"
    work.result("cover_lap", "lc", title, opening, GAP, "lc = ΔLc, one end moving for the whole piece")
    # At least the piece itself: a metal set at its hottest needs no room to grow, and any length will do.
    longest = length * (rounded.value - margin) / closing if closing > 0.0 else length
    formula = "lx = (g - m)/(α (Th - Ti))"
    work.result(
        "longest_piece", "lx", "longest piece that this gap serves", max(longest, length), HEIGHT, formula
    )


def _rounded_up(gap: float, si: bool) -> tuple[Quantity, str]:
    """The gap on the next step a shop can set, with the name of the step."""
    step, unit, name = (MILLIMETER, "mm", "1 mm") if si else (SIXTEENTH, "in", "1/16 in")
    return from_si(whole_steps(gap / step) * step, "length", unit), name
