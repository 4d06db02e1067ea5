"""Earthquake on the parapet as a nonstructural component: out-of-plane force, shear and moment at its base."""

from __future__ import annotations

from specgen.design.coping_wind import standard_of
from specgen.design.parapet_wind import braces
from specgen.design.worksheet import BASE_MOMENT, LINE_LOAD, NUMBER, PRESSURE, SHARE, Worksheet, calculation
from specgen.physics.parapet_loads import SeismicBounds, base_of, seismic_share
from specgen.wall.code import BY_RISK_CATEGORY as LATER

SUBJECT = "parapet seismic"
TITLE = "Earthquake on the parapet at its base"
SETS = ("share", "shear", "moment", "shear_service", "moment_service", "brace", "brace_service")
VALIDITY = (
    "A parapet that nothing braces above its center of mass, fixed at the roof; its weight even over its height. "
    "Structural values are for the design professional of record to confirm."
)
LEAVES_OUT = (
    "The depth of the base below the finished roof: the moment grows by the shear times this depth.",
    "Bracing above the center of mass, which lowers the factors of the table: the base is given as without it.",
    "The vertical effect of 0.2 SDS, which acts with the weight at the same time.",
    "Overstrength of anchors in concrete and masonry (Ω0 of the table).",
    "Relative displacement of the roof and of walls that meet.",
    "A parapet that the wall below reinforces: section 12.11 holds for the wall.",
)
EXEMPT = ("A",)
ESSENTIAL = "IV"


@calculation(SUBJECT, TITLE, VALIDITY, LEAVES_OUT)
def calculate(work: Worksheet) -> None:
    """Out-of-plane force of an earthquake on the parapet, per length of parapet, strength level.

    Formulas: Fp = 0.4 ap SDS Wp (1 + 2 z/h)/(Rp/Ip) to ASCE 7-10 and 7-16; Fp = 0.4 SDS Ip Wp (Hf/Rμ)(CAR/Rpo) in
    ASCE 7-22; at least 0.3 SDS Ip Wp, at most 1.6 SDS Ip Wp (Eq. 13.3-1 to 13.3-3); z = h at the roof; V = Fp,
    M = Fp hp/2.

    Given: site.code, building.seismic_design_category, building.risk_category, building.sds, parapet.weight,
    parapet.height. No force in Seismic Design Category A. Unknown where a datum is missing.
    """
    lacking = "site.code: adopted building code"
    standard = standard_of(work, "earthquake", "load standard of that code", lacking)
    work.require("building.seismic_design_category")
    category = work.input_word("", "building.seismic_design_category")
    if category in EXEMPT:
        source = work.cite(work.practice.source("seismic.category_a"))
        work.step_word("", "components of buildings in this category", "exempt", "", source)
        for name in SETS:
            work.result_word(
                name,
                f"{name.replace('_', ', ')} of an earthquake",
                f"none in Seismic Design Category {category}",
            )
        return
    work.require("building.risk_category", "building.sds", "parapet.weight", "parapet.height")
    amplification = _later(work) if standard == LATER else _earlier(work, standard)
    _force(work, amplification, standard)


def _earlier(work: Worksheet, standard: str) -> float:
    factor = work.practice_input("k", "seismic.factor")
    ap, rp = work.practice_input("ap", "seismic.ap"), work.practice_input("Rp", "seismic.rp")
    roof = work.practice_input("1 + 2z/h", "seismic.at_roof")
    formula = f"a = 0.4 ap (1 + 2z/h)/Rp, z = h ({standard} Eq. 13.3-1)"
    return work.step("a", "force over SDS, Ip, and weight", factor * ap * roof / rp, NUMBER, formula)


def _later(work: Worksheet) -> float:
    factor = work.practice_input("k", "seismic.factor")
    car, rpo = work.practice_input("CAR", "seismic.car"), work.practice_input("Rpo", "seismic.rpo")
    hf, ductility = work.practice_input("Hf", "seismic.hf"), work.practice_input("Rμ", "seismic.rmu")
    formula = f"a = 0.4 (Hf/Rμ)(CAR/Rpo), z = h ({LATER} Eq. 13.3-1)"
    return work.step(
        "a", "force over SDS, Ip, and weight", factor * hf / ductility * car / rpo, NUMBER, formula
    )


def _force(work: Worksheet, amplification: float, standard: str) -> None:
    sds = work.input("SDS", "building.sds")
    risk = work.input_word("", "building.risk_category")
    importance = work.practice_input(
        "Ip", "seismic.importance_essential" if risk == ESSENTIAL else "seismic.importance"
    )
    bounds = SeismicBounds(
        work.practice_input("kmin", "seismic.least"), work.practice_input("kmax", "seismic.most")
    )
    share = seismic_share(sds, importance, amplification, bounds)
    formula = f"Fp/Wp = SDS Ip a, 0.3 ≤ a ≤ 1.6 ({standard} Eq. 13.3-1 to 13.3-3)"
    work.result(
        "share", "Fp/Wp", "force over the weight of the parapet, strength level", share, SHARE, formula
    )
    weight, height = work.input("w", "parapet.weight"), work.input("hp", "parapet.height")
    pressure = work.step("p", "force per area of the parapet", share * weight, PRESSURE, "p = (Fp/Wp) w")
    base = base_of(pressure, height)
    title = "at the base, either direction, strength level"
    work.result("shear", "VE", f"shear {title}", base.shear, LINE_LOAD, "VE = p hp")
    service = work.practice_input("f", "seismic.allowable_factor")
    title_service = title.replace("strength", "service")
    work.result(
        "shear_service", "VEs", f"shear {title_service}", service * base.shear, LINE_LOAD, "VEs = f VE"
    )
    work.result(
        "moment", "ME", f"moment {title}", base.moment, BASE_MOMENT, "ME = p hp²/2, force at mid-height"
    )
    title = f"moment {title_service}"
    work.result("moment_service", "MEs", title, service * base.moment, BASE_MOMENT, "MEs = f ME")
    braces(work, pressure, height, service)
