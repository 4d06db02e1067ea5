"""Wind on the parapet itself, handed to its framing and its base: both load cases as shear and moment."""

from __future__ import annotations

from specgen.design import coping_wind
from specgen.design.worksheet import BASE_MOMENT, HEIGHT, LINE_LOAD, PRESSURE, Worksheet, calculation
from specgen.physics.parapet_loads import base_of, brace_of
from specgen.physics.wind import allowable
from specgen.wall.memo import once

SUBJECT = "parapet wind"
TITLE = "Wind on the parapet at its base"
SETS = (
    "shear_toward_roof",
    "moment_toward_roof",
    "shear_outward",
    "moment_outward",
    "shear_toward_roof_service",
    "moment_toward_roof_service",
    "shear_outward_service",
    "moment_outward_service",
    "brace",
    "brace_service",
    "pressure_deflection",
)
VALIDITY = (
    "A parapet that stands as a cantilever above the roof, without bracing; pressure even over its height. Structural "
    "values are for the design professional of record to confirm."
)
LEAVES_OUT = (
    "The depth of the base below the finished roof: the moment grows by the shear times this depth.",
    "What braces take off the base: the base is given as without them, the braces as if the base were a hinge.",
    "Railings, signs, and equipment on the parapet.",
    "The larger effective wind area of framing that spans more than the smallest tabulated area: pressures stay high.",
    "The base itself: anchors, roof edge, and the wall below carry these loads on.",
)
NO_BRACES = "no braces are stated"
CASES = (
    ("toward_roof", "A", "load toward the roof, case A, roof corner governing", "parapet_case_a_corner"),
    ("outward", "B", "load away from the roof, case B, wall edge governing", "parapet_case_b"),
)


@calculation(SUBJECT, TITLE, VALIDITY, LEAVES_OUT)
def calculate(work: Worksheet) -> None:
    """Shear and moment at the base of the parapet, per length, for each load case at strength and service level.

    Formulas: V = p h, M = p h²/2 with the net pressure of each load case (ASCE 7-16 Eq. 30.8-1, 7-22 Eq. 30.6-1);
    service level 0.6 W; pressure for the deflection 0.42 W (IBC Table 1604.3).

    Given: what the wind pressure needs; parapet.height. Unknown where a datum is missing.
    """
    wind = once(coping_wind.calculate, work.project, work.parapet, work.practice)
    work.missing += [f"{reason} ({wind.subject})" for reason in wind.missing]
    work.require("parapet.height")
    height = work.input("hp", "parapet.height")
    service = work.practice_input("f", "wind.allowable_factor")
    pressures = {}
    for name, mark, title, result in CASES:
        found = wind.result(result)
        assert found is not None
        pressures[name] = work.step(
            f"p{mark}", f"net pressure, {title}, strength level", found.value, PRESSURE, FROM_WIND
        )
        base = base_of(pressures[name], height)
        for level, factor, end, symbol in (("strength", 1.0, "", ""), ("service", service, "_service", "s")):
            shear, moment = allowable(base.shear, factor), allowable(base.moment, factor)
            times = "" if factor == 1.0 else "f "
            work.result(
                f"shear_{name}{end}",
                f"V{mark}{symbol}",
                f"shear at the base, {title}, {level} level",
                float(shear),
                LINE_LOAD,
                f"V{mark}{symbol} = {times}p{mark} hp",
            )
            work.result(
                f"moment_{name}{end}",
                f"M{mark}{symbol}",
                f"moment at the base, {title}, {level} level",
                float(moment),
                BASE_MOMENT,
                f"M{mark}{symbol} = {times}p{mark} hp²/2",
            )
    braces(work, max(pressures.values()), height, service)
    work.step("c", "height above the base at which the load acts", height / 2.0, HEIGHT, "c = hp/2")
    share = work.practice_input("fd", "structure.deflection_wind")
    title = "pressure for the deflection of the framing, wind on components and cladding"
    largest = float(allowable(max(pressures.values()), share))
    work.result(
        "pressure_deflection", "pd", title, largest, PRESSURE, "pd = fd max(pA, pB) (IBC Table 1604.3 note f)"
    )


FROM_WIND = f"from the calculation {coping_wind.SUBJECT}"


def braces(work: Worksheet, pressure: float, height: float, service: float) -> None:
    """Horizontal force of the braces at strength and service level, or that the project states none.

    Args:
        work: takes the results.
        pressure: strength-level pressure across the parapet [Pa].
        height: of the parapet [m].
        service: factor from strength to service level [-].
    """
    title = "horizontal force of the braces"
    if not work.parapet.has("brace_height"):
        for name, level in (("brace", "strength"), ("brace_service", "service")):
            work.result_word(name, f"{title}, {level} level", NO_BRACES)
        return
    at = work.input("hb", "parapet.brace_height")
    force = brace_of(pressure, height, at)
    work.result(
        "brace", "R", f"{title}, strength level", force, LINE_LOAD, "R = p hp²/(2 hb), the base a hinge"
    )
    work.result("brace_service", "Rs", f"{title}, service level", service * force, LINE_LOAD, "Rs = f R")
