"""Wind on the coping and on the parapet behind it, by ASCE 7-16 or 7-22, for the edition the project adopts.

Velocity pressure at the top of the parapet, then components-and-cladding pressures on the outer face (outward,
inward) and on the top (up), at strength and at allowable level; the tested resistance the coping needs; and
the two load cases of the whole parapet for the anchorage of the blocking.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from specgen.design.worksheet import HEIGHT, NUMBER, PRESSURE, Worksheet, calculation
from specgen.model.source import Source, Status
from specgen.physics.wind import (
    Directionality,
    allowable,
    at_least_minimum,
    coefficient_at_area,
    design_pressure,
    exposure_coefficient,
    ground_elevation_factor,
    velocity_pressure,
)
from specgen.physics.wind_parapet import ParapetCoefficients, parapet_pressures, required_resistance
from specgen.practice.entries import cell
from specgen.units.compare import computed_at_most
from specgen.units.show import show
from specgen.wall.code import BY_RISK_CATEGORY, standard_by_code

SUBJECT = "coping wind"
TITLE = "Wind on the coping and the parapet"
SETS = (
    "velocity_pressure",
    "face_outward_strength",
    "face_outward_allowable",
    "face_field_strength",
    "face_field_allowable",
    "face_inward_strength",
    "face_inward_allowable",
    "top_uplift_strength",
    "top_uplift_allowable",
    "top_corner_strength",
    "top_corner_allowable",
    "resistance_face",
    "resistance_top",
    "resistance_inner",
    "parapet_case_a",
    "parapet_case_a_corner",
    "parapet_case_b",
)
COUNTRY = "US"
KD_ENTERS = {"ASCE 7-16": "q", "ASCE 7-22": "p"}
# The number that each edition gives the formula of a parapet, by its order of sections and second hand.
NUMBERS = Source("ASCE 7", "16 and 22", "chapter 30, number of the formula of parapets", Status.MEMORY)
PARAPETS = {"ASCE 7-16": "ASCE 7-16 Eq. 30.8-1", "ASCE 7-22": "ASCE 7-22 Eq. 30.6-1"}
VALIDITY = (
    "Enclosed buildings in the US with a low-slope roof, within the slope of the flat-roof coefficients; basic wind "
    "speed at strength level for the building's risk category; parapet top below the gradient height. Structural "
    "values are for the design professional of record to confirm."
)
LEAVES_OUT = (
    "Special wind regions and wind-borne debris.",
    "Internal pressure under the coping: GCpi is taken as 0, as for a solid parapet envelope.",
    "The reduction of corner zone 3 to zone 2 that a parapet of 3 ft or more allows: it is not taken, so the top "
    "corner governs.",
    "Where the zones begin and end along the wall. The requirement takes the governing corner zone everywhere.",
    "Cleat, fasteners, blocking and its anchors: the load path goes on through each of them.",
)


@dataclass(frozen=True)
class Zone:
    """A surface of the table of coefficients and the symbol of its coefficient and pressure."""

    surface: str
    mark: str
    title: str


EDGE = Zone("wall edge outward", "5", "outer face, wall edge zone, outward")
FIELD = Zone("wall field outward", "4", "outer face, wall field, outward")
INWARD = Zone("wall inward", "in", "outer face, inward")
TOP = Zone("roof edge", "2", "top, roof edge zone, up")
CORNER = Zone("roof corner", "3", "top, roof corner zone, up")


@calculation(SUBJECT, TITLE, VALIDITY, LEAVES_OUT)
def calculate(work: Worksheet) -> None:
    """Wind pressures on the coping of one parapet and the resistance they ask for.

    Formulas: Kz = c (z/zg)^(2/α), Ke = e^(-0.0000362 zg), q = 0.00256 Kz Kzt Kd Ke V² (ASCE 7-16
    Eq. 26.10-1; in 7-22 Kd stands in the pressure instead), p = q (GCp - GCpi) (ASCE 7-16
    Eq. 30.8-1, 7-22 Eq. 30.6-1).

    Given: site.wind_speed, site.exposure, building.height, site.code or site.wind_standard; parapet.height,
    at whose top the pressure acts. Of practice: coefficients, exposure constants and factors with their sources.
    Unknown where a datum is missing or the standard does not cover the case.
    """
    standard = _standard(work)
    work.require("site.wind_speed", "site.exposure", "building.height", "parapet.height")
    _check_slope(work)
    _tornado(work, standard)
    directionality = _directionality(work, standard)
    q = _velocity_pressure(work, standard, directionality)
    _pressures(work, q, directionality, PARAPETS[standard])


def _tornado(work: Worksheet, standard: str) -> None:
    """ASCE 7-22 asks for tornado loads of buildings of risk category III and IV, which are not calculated here."""
    category = work.word("building.risk_category")
    if standard == BY_RISK_CATEGORY and category not in ("I", "II"):
        what = f"of risk category {category}" if category else "whose risk category is not stated"
        work.leaves_out.append(
            f"Tornado loads: ASCE 7-22 chapter 32 asks for them of a building {what} where that is III or IV, in the "
            "tornado-prone region, about all that lies east of the Continental Divide. The structural engineer adds them."
        )


def _standard(work: Worksheet) -> str:
    """The wind load standard: what the project names, else what its building code refers to."""
    lacking = "site.wind_standard: wind load standard (or site.code: adopted building code)"
    standard = standard_of(work, "wind", "wind load standard of that code", lacking)
    if standard and standard not in KD_ENTERS:
        code = work.word("site.code")
        raise work.stop(
            f"not covered: {code} refers to {standard}, this calculation to {' and '.join(KD_ENTERS)}"
        )
    return standard


def standard_of(work: Worksheet, loads: str, title: str, lacking: str) -> str:
    """The edition of ASCE 7 for a kind of load, written as an input, or as a step from the building code.

    Args:
        work: the sheet.
        loads: "wind" or "earthquake".
        title: of the step, where the code decides.
        lacking: what is missing where nothing decides; the answer is then "".

    Raises:
        Unknown: the site does not lie in the US.
    """
    country = work.word("site.country")
    if country != COUNTRY:
        raise work.stop(f"not covered: site.country is {country}, the {loads} loads of ASCE 7 hold in the US")
    if work.word("site.wind_standard"):
        return work.input_word("", "site.wind_standard")
    standard, source = standard_by_code(work.project, work.practice)
    if source is None:
        work.missing.append(lacking)
        return ""
    work.input_word("", "site.code")
    return work.step_word("", title, standard, "", work.cite(source))


def _check_slope(work: Worksheet) -> None:
    slope, steepest = work.given("building.roof_slope"), work.practice_input("θx", "wind.flat_slope")
    end = show(work.practice.quantity("wind.flat_slope"), work.project.system)
    if slope is None:
        work.leaves_out.append(
            f"The roof slope is not given: {end} or less is assumed (building.roof_slope)."
        )
    elif not computed_at_most(math.atan(work.input("θ", "building.roof_slope")), steepest):
        raise work.stop(f"not covered: building.roof_slope is {slope.text}, the coefficients end at {end}")


def _directionality(work: Worksheet, standard: str) -> Directionality:
    kd = work.practice_input("Kd", "wind.kd")
    return Directionality(kd, "q" if KD_ENTERS[standard] == "q" else "p")


def _velocity_pressure(work: Worksheet, standard: str, directionality: Directionality) -> float:
    speed = work.input("V", "site.wind_speed")
    exposure = work.input_word("", "site.exposure")
    height = work.input("h", "building.height") + work.input("hp", "parapet.height")
    work.step("z", "height of the parapet top", height, HEIGHT, "z = h + hp")
    (row,) = work.practice.table("exposure").where(standard=standard, exposure=exposure)
    alpha, zg, lowest, factor = (
        work.table_input(symbol, "exposure", row, column, title)
        for symbol, column, title in (
            ("α", "alpha", f"power law exponent, exposure {exposure}"),
            ("zg", "zg", f"gradient height, exposure {exposure}"),
            ("zmin", "z_min", "least height in Kz"),
            ("c", "factor", f"factor of Kz in {standard}"),
        )
    )
    kz = float(exposure_coefficient(height, alpha, zg, lowest, factor))
    work.step(
        "Kz", "exposure coefficient", kz, NUMBER, f"Kz = c (z/zg)^(2/α), z ≥ zmin ({standard} Table 26.10-1)"
    )
    kzt = _topography(work)
    ke = _elevation(work, standard)
    formula = "q = 0.00256 Kz Kzt Kd Ke V²" if directionality.enters == "q" else "q = 0.00256 Kz Kzt Ke V²"
    q = float(velocity_pressure(speed, kz, kzt, ke, directionality))
    formula = f"{formula} [psf, mph] ({standard} Eq. 26.10-1; 0.613 with Pa and m/s)"
    return work.result("velocity_pressure", "q", "velocity pressure at the parapet top", q, PRESSURE, formula)


def _topography(work: Worksheet) -> float:
    if work.given("site.topographic_factor"):
        return work.input("Kzt", "site.topographic_factor")
    why = "No topographic factor is given: Kzt = 1.0 is assumed, which hills, ridges and escarpments exceed."
    return work.assume("Kzt", "topographic factor, flat ground", 1.0, NUMBER, why)


def _elevation(work: Worksheet, standard: str) -> float:
    if work.given("site.elevation") is None:
        why = "No ground elevation is given: Ke = 1.0 is taken, which the standard allows at every elevation."
        return work.assume("Ke", "ground elevation factor", 1.0, NUMBER, why)
    ke = float(ground_elevation_factor(work.input("ze", "site.elevation")))
    formula = f"Ke = e^(-0.0000362 ze) [ft] ({standard} Table 26.9-1 note 2)"
    return work.step("Ke", "ground elevation factor", ke, NUMBER, formula)


def _coefficient(work: Worksheet, zone: Zone, height_class: str, area: float) -> float:
    table = work.practice.table("pressure_coefficients")
    (row,) = table.where(height_class=height_class, surface=zone.surface)
    small, large = cell(row, "area_small").value, cell(row, "area_large").value
    gcp = (cell(row, "gcp_small").value, cell(row, "gcp_large").value)
    value = float(coefficient_at_area(area, (small, large), gcp))
    title = f"external coefficient: {zone.title}"
    ends = [show(cell(row, name), work.project.system, "close") for name in ("area_small", "area_large")]
    formula = (
        f"{gcp[0]:g} at {ends[0]} to {gcp[1]:g} at {ends[1]}, straight in log A; building {height_class}"
    )
    return work.step(f"GCp,{zone.mark}", title, value, NUMBER, formula, work.cite(table.source))


def _pressures(work: Worksheet, q: float, directionality: Directionality, equation: str) -> None:
    area = work.practice_input("A", "wind.effective_area")
    least = work.practice_input("pmin", "wind.minimum")
    to_allowable = work.practice_input("f", "wind.allowable_factor")
    roof = work.given("building.height")
    assert roof is not None
    low = work.practice_input("hx", "wind.low_building")
    height_class = "up to 60 ft" if computed_at_most(roof.value, low) else "over 60 ft"
    work.step_word("", "building height class, by mean roof height", height_class, "h against hx")
    coefficients = {
        zone: _coefficient(work, zone, height_class, area) for zone in (EDGE, FIELD, INWARD, TOP, CORNER)
    }
    kd = "" if directionality.enters == "q" else "Kd "
    strength: dict[Zone, float] = {}
    allowed: dict[Zone, float] = {}
    for zone, name in (
        (EDGE, "face_outward"),
        (FIELD, "face_field"),
        (INWARD, "face_inward"),
        (TOP, "top_uplift"),
        (CORNER, "top_corner"),
    ):
        p = abs(float(design_pressure(q, coefficients[zone], 0.0, directionality)))
        work.step(
            f"p0,{zone.mark}",
            f"{zone.title}, before the minimum",
            p,
            PRESSURE,
            f"p0 = {kd}q |GCp| ({equation})",
            work.cite(NUMBERS),
        )
        strength[zone] = float(at_least_minimum(p, least))
        title, symbol = zone.title, f"p{zone.mark}"
        formula = "p = max(p0, pmin)"
        work.result(f"{name}_strength", symbol, f"{title}, strength level", strength[zone], PRESSURE, formula)
        allowed[zone] = float(allowable(strength[zone], to_allowable))
        work.result(
            f"{name}_allowable",
            f"{symbol}a",
            f"{title}, allowable level",
            allowed[zone],
            PRESSURE,
            "pa = f p",
        )
    _resistances(work, allowed[EDGE], allowed[CORNER])
    _cases(work, q, coefficients, directionality, least, equation)


def _resistances(work: Worksheet, face: float, top: float) -> None:
    factor = work.practice_input("SF", "wind.test_factor")
    test = "(ANSI/SPRI/FM 4435/ES-1 RE-3)"
    for name, symbol, title, pressure, from_symbol in (
        ("face", "Rf", "of the face to outward load, wall edge zone governing", face, "p5a"),
        ("top", "Rt", "of the top to uplift, roof corner zone governing", top, "p3a"),
        (
            "inner",
            "Ri",
            "of the interior face, pulled toward the roof in load case A by the pressure of the top",
            top,
            "p3a",
        ),
    ):
        needed = float(required_resistance(pressure, factor))
        formula = f"{symbol} = SF {from_symbol} {test}"
        work.result(f"resistance_{name}", symbol, f"tested resistance {title}", needed, PRESSURE, formula)


def _cases(
    work: Worksheet,
    q: float,
    gcp: dict[Zone, float],
    directionality: Directionality,
    least: float,
    equation: str,
) -> None:
    """Load cases of the whole parapet: both faces at once, internal pressure cancels."""
    kd = "" if directionality.enters == "q" else "Kd "
    edge, corner = (
        parapet_pressures(
            q, ParapetCoefficients(gcp[INWARD], gcp[EDGE], gcp[roof]), 0.0, directionality, least
        )
        for roof in (TOP, CORNER)
    )
    toward, away = "across the parapet toward the roof", "across the parapet away from the roof"
    for name, symbol, title, back, net in (
        ("parapet_case_a", "pA", f"{toward}, case A (windward), roof edge", TOP, edge.net_a),
        ("parapet_case_a_corner", "pA3", f"{toward}, case A (windward), roof corner", CORNER, corner.net_a),
        ("parapet_case_b", "pB", f"{away}, case B (leeward), wall edge", EDGE, edge.net_b),
    ):
        formula = f"{symbol} = {kd}q (GCp,in - GCp,{back.mark}), at least pmin ({equation})"
        work.result(name, symbol, f"{title}, strength level", net, PRESSURE, formula)
