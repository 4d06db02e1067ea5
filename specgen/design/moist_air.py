"""The air on both sides of the wall: what it holds, and at what temperature it wets a surface."""

from __future__ import annotations

from specgen.design.worksheet import (
    DIFFERENCE,
    NUMBER,
    SHARE,
    TEMPERATURE,
    VAPOR_PRESSURE,
    Worksheet,
    calculation,
)
from specgen.model.source import Source, Status
from specgen.physics.moist_air import dew_point, humidity_ratio, saturation_pressure
from specgen.units.compare import computed_at_most

SUBJECT = "moist air"
TITLE = "Moist air outdoors and indoors"
SETS = (
    "outdoor_vapor_pressure",
    "outdoor_humidity",
    "outdoor_ratio",
    "indoor_vapor_pressure",
    "indoor_dew_point",
    "winter_below_dew_point",
)
SATURATION = Source("ISO 13788", "2012", "saturation pressure, E.7 to E.10", Status.STANDARD)
RATIO = Source("ASHRAE Handbook of Fundamentals", "", "psychrometrics, humidity ratio", Status.MEMORY)
INDOORS = ("indoor_temp", "indoor_humidity")
VALIDITY = "Air at the pressure of sea level, -40 to 100 °C."
LEAVES_OUT = (
    "Elevation: the humidity ratio grows as the air pressure falls.",
    "The hours of a day and a year: these are the design states that the project names.",
)


@calculation(SUBJECT, TITLE, VALIDITY, LEAVES_OUT)
def calculate(work: Worksheet) -> None:
    """Vapor pressure, relative humidity and humidity ratio outdoors; vapor pressure and dew point indoors.

    Formulas: psat over water and ice (ISO 13788, E.7 to E.10); po = psat(Td); φ = po/psat(To);
    W = 0.622 po/(P - po) (ASHRAE Handbook of Fundamentals, psychrometrics); pi = φi psat(Ti), psat(Tdi) = pi.

    Given: site.temp_summer, site.dew_point_summer; building.indoor_temp and indoor_humidity where known.
    Unknown where the outdoor state is not given.
    """
    work.require("site.temp_summer", "site.dew_point_summer")
    air, dew = work.input("To", "site.temp_summer"), work.input("Td", "site.dew_point_summer")
    if not computed_at_most(dew, air):
        raise work.stop("site.dew_point_summer: the dew point lies above the air temperature")
    _outdoors(work, air, dew)
    _indoors(work)


def _outdoors(work: Worksheet, air: float, dew: float) -> None:
    source = work.cite(SATURATION)
    full = float(saturation_pressure(air))
    work.step("pso", "saturation pressure of the outdoor air", full, VAPOR_PRESSURE, "psat(To)", source)
    held = float(saturation_pressure(dew))
    title = "vapor pressure of the outdoor air in summer"
    work.result("outdoor_vapor_pressure", "po", title, held, VAPOR_PRESSURE, "po = psat(Td)")
    title = "relative humidity of the outdoor air in summer"
    work.result("outdoor_humidity", "φ", title, held / full, SHARE, "φ = po/pso")
    work.cite(RATIO)
    title = "water to a pound of dry air; in SI, kilograms to a kilogram"
    ratio = float(humidity_ratio(held))
    work.result("outdoor_ratio", "W", title, ratio, NUMBER, "W = 0.622 po/(P - po), P of sea level")


def _indoors(work: Worksheet) -> None:
    titles = {
        "indoor_vapor_pressure": "vapor pressure of the indoor air",
        "indoor_dew_point": "dew point of the indoor air: a colder surface gets wet",
        "winter_below_dew_point": "the winter design temperature lies below it by; above zero a surface as cold gets wet",
    }
    lacking = [f"building.{name}" for name in INDOORS if not work.given(f"building.{name}")]
    if lacking:
        for name, title in titles.items():
            work.result_word(name, title, f"not stated: {', '.join(lacking)}")
        return
    air, humidity = (
        work.input(symbol, f"building.{name}") for symbol, name in zip(("Ti", "φi"), INDOORS, strict=True)
    )
    held = humidity * float(saturation_pressure(air))
    name = "indoor_vapor_pressure"
    work.result(name, "pi", titles[name], held, VAPOR_PRESSURE, "pi = φi psat(Ti)")
    name, dew = "indoor_dew_point", float(dew_point(held))
    work.result(name, "Tdi", titles[name], dew, TEMPERATURE, "psat(Tdi) = pi")
    name = "winter_below_dew_point"
    if work.given("site.temp_winter"):
        below = dew - work.input("Tw", "site.temp_winter")
        work.result(name, "ΔT", titles[name], below, DIFFERENCE, "ΔT = Tdi - Tw")
    else:
        work.result_word(name, titles[name], "not stated: site.temp_winter")
