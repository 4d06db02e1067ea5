"""Air through the drainage gap on a sunny afternoon, and the vapor it carries off."""

from __future__ import annotations

import numpy as np

from specgen.design.gap_path import gap_height, gap_losses
from specgen.design.worksheet import (
    CONDENSATE,
    NUMBER,
    PRESSURE,
    TEMPERATURE,
    VAPOR_PRESSURE,
    Unit,
    Worksheet,
)
from specgen.model.calculation import Calculation
from specgen.model.project import Parapet, Project
from specgen.model.source import Source, Status
from specgen.physics.gap_air import gap_flow, stack_pressure, vapour_conductance
from specgen.physics.moist_air import saturation_pressure
from specgen.physics.sol_air import sol_air
from specgen.practice.entries import Practice

SUBJECT = "gap ventilation"
TITLE = "Ventilation of the drainage gap by the sun"
SETS = ("velocity", "air_changes", "removed")
VELOCITY = Unit("speed", "ft/s", "m/s")
SHARE_OF_SUN = 0.5  # the gap lies between the face at sol-air temperature and the shaded wall
PLATES = Source(
    "Fluid Mechanics, White", "", "laminar flow between parallel plates, f Re = 96", Status.MEMORY
)
STACK = Source(
    "ASHRAE Handbook of Fundamentals", "", "ventilation and infiltration, stack pressure", Status.MEMORY
)
VALIDITY = (
    "A gap open at bottom and top, laminar (Reynolds on twice the gap to 2300); dry air at sea level; outlets free "
    "as stated."
)
LEAVES_OUT = (
    "Wind, which drives more air than the sun or holds it back.",
    "The shape of dimples, filaments and grooves, which slow the air more than plane faces do.",
    "Warming of the air on its way, beyond a mean gap temperature halfway between face and outdoor air.",
    "Evaporation that cannot keep up: the air is taken to leave saturated at the gap temperature, an upper bound.",
)


def calculate(project: Project, parapet: Parapet, practice: Practice) -> Calculation:
    """Velocity and air changes in the gap, and the vapor removed in a sun-heated afternoon from a soaked plaster.

    Formulas: Δp = g H (ρo - ρg); Δp = 12 μ H v/b² + ½ ρ v² Σ ζ/r²; K = |q|/(H Rv T); m = K (psat - po) τ.

    Args:
        project: gives site.temp_summer, and site.dew_point_summer where there is one.
        parapet: gives the depth of the drainage layer, whether it is open at the top, the height of the plastered face.
        practice: outlet share and losses, afternoon design state.

    Returns:
        The calculation; undetermined where the gap is not open at the top or a datum is missing.
    """
    work = Worksheet(SUBJECT, TITLE, project, parapet, practice, VALIDITY, list(LEAVES_OUT))
    with work.writing():
        work.require("drainage layer.depth", "drainage layer.open_at_top", "site.temp_summer")
        depth = work.input("b", "drainage layer.depth")
        height = gap_height(work)
        losses = gap_losses(work)
        if losses is None:
            raise work.stop("not covered: the gap is not open at bottom and top, its air stands still")
        air = work.input("To", "site.temp_summer")
        warm = _gap_temperature(work, air)
        pressure = float(np.asarray(stack_pressure(height, warm, air)))
        work.cite(STACK)
        work.step(
            "Δp", "stack pressure", pressure, PRESSURE, "Δp = g H (ρo - ρg) (ASHRAE Handbook of Fundamentals)"
        )
        flow = gap_flow(pressure, depth, height, losses)
        work.cite(PLATES)
        formula = "Δp = 12 μ H v/b² + ½ ρ v² Σ ζ/r²"
        work.result(
            "velocity",
            "v",
            "velocity of the air in the gap",
            float(np.asarray(flow.velocity_m_s)),
            VELOCITY,
            formula,
        )
        changes = float(np.asarray(flow.air_changes_per_h))
        work.result("air_changes", "n", "air changes of the gap in an hour", changes, NUMBER, "n = 3600 v/H")
        _removed(work, float(np.asarray(vapour_conductance(flow.flow_m2_s, height, warm))), warm, air)
    return work.close()


def _gap_temperature(work: Worksheet, air: float) -> float:
    irradiance = work.practice_input("E", "vapor.irradiance")
    absorptance = work.practice_input("α", "vapor.absorptance")
    film = work.practice_input("ho", "vapor.film_coefficient")
    face = float(np.asarray(sol_air(air, absorptance, irradiance, film, 0.0, 0.0)))
    work.step(
        "Te", "sol-air temperature of the face", face, TEMPERATURE, "Te = To + α E/ho, ΔR = 0 for a wall"
    )
    warm = air + SHARE_OF_SUN * (face - air)
    return work.step("Tg", "temperature of the air in the gap", warm, TEMPERATURE, "Tg = (Te + To)/2")


def _removed(work: Worksheet, conductance: float, warm: float, air: float) -> None:
    if work.given("site.dew_point_summer"):
        dew = work.input("Td", "site.dew_point_summer")
    else:
        span = work.practice_input("ΔT", "drive.daily_range")
        why = "No summer dew point is given (site.dew_point_summer): the air is taken as saturated at the day's lowest."
        dew = work.assume("Td", "dew point", air - span, TEMPERATURE, why)
    outside, inside = float(saturation_pressure(dew)), float(saturation_pressure(warm))
    work.step("po", "vapor pressure outdoors", outside, VAPOR_PRESSURE, "psat(Td) (ISO 13788)")
    work.step("pg", "vapor pressure in the gap, saturated", inside, VAPOR_PRESSURE, "psat(Tg) (ISO 13788)")
    seconds = work.practice_input("τ", "vapor.sun_hours")
    removed = conductance * (inside - outside) * seconds
    title = "vapor that the air can carry off in one afternoon"
    work.result("removed", "m", title, removed, CONDENSATE, "m = K (pg - po) τ, K = |q|/(H Rv T)")
