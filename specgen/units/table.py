"""The one table of units: every dimension, its SI base, and the exact factor of every unit.

A value in the SI base is ``(number - offset) * exact``. Every factor is a rational number; those of angles hold π
as a float does. Definitions come from the 1959 international yard and pound agreement, the third CGPM of 1901
(standard gravity) and NIST SP 811 Appendix B (conventional columns of mercury and water, IT British thermal unit).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Literal

System = Literal["inch-pound", "SI", "either"]

# International yard and pound agreement, 1959: exact.
FOOT = Fraction("0.3048")  # m
INCH = Fraction("0.0254")  # m
YARD = Fraction("0.9144")  # m
MILE = Fraction("1609.344")  # m
POUND = Fraction("0.45359237")  # kg
OUNCE = POUND / 16  # kg
GRAIN = POUND / 7000  # kg, 64.79891 mg
FOOT2 = FOOT**2
INCH2 = INCH**2
# US liquid gallon: 231 cubic inches, exact (NIST Handbook 44, Appendix C).
GALLON = 231 * INCH**3  # m3
# International nautical mile: 1852 m, exact (1929 hydrographic conference).
KNOT = Fraction(1852, 3600)  # m/s
# Standard gravity, third CGPM 1901: exact.
GRAVITY = Fraction("9.80665")  # m/s2
POUND_FORCE = POUND * GRAVITY  # N
# International table British thermal unit (NIST SP 811): 1 Btu/lb = 2326 J/kg exactly.
BTU = 2326 * POUND  # J, 1055.05585262
# Conventional inch of mercury (NIST SP 811, Appendix B).
INCH_MERCURY = Fraction("3386.389")  # Pa
# Conventional inch of water, 1000 kg/m3 under standard gravity (NIST SP 811, Appendix B).
INCH_WATER = 1000 * GRAVITY * INCH  # Pa
HOUR = Fraction(3600)  # s
DAY = Fraction(86400)  # s
# Julian year of 365.25 days. A month has no fixed length and is refused.
YEAR = Fraction("365.25") * DAY  # s
FAHRENHEIT = Fraction(5, 9)  # K
# US perm: one grain per hour, square foot and inch of mercury; 57.2135 ng/(Pa·s·m2) at 0 °C (NIST SP 811).
PERM = GRAIN / (HOUR * FOOT2 * INCH_MERCURY)  # kg/(Pa·s·m2)


DEGREE = Fraction(math.pi) / 180  # rad


@dataclass(frozen=True, slots=True)
class Unit:
    """One row: a unit of one dimension.

    ``exact`` is the factor as a rational number, ``factor`` the same as a float. ``also`` are further spellings.
    ``shared`` are spellings that mean this unit only where the reader asks for this dimension, because without
    that they mean something else (``lb`` is a mass). ``plural`` is the printed name above one.
    """

    symbol: str
    dimension: str
    exact: Fraction
    system: System
    also: tuple[str, ...] = ()
    shared: tuple[str, ...] = ()
    offset: float = 0.0
    plural: str = ""
    tangent: bool = False  # value = tan(number * factor): a slope given as an angle
    factor: float = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "factor", float(self.exact))


def _rows(dimension: str, *rows: tuple[str, Fraction, System] | Unit) -> tuple[Unit, ...]:
    return tuple(r if isinstance(r, Unit) else Unit(r[0], dimension, r[1], r[2]) for r in rows)


IP: System = "inch-pound"
SI: System = "SI"
EITHER: System = "either"

# SI base unit of each dimension, in the order in which one spelling is tried against them.
BASES: dict[str, str] = {
    "length": "m",
    "area": "m2",
    "volume": "m3",
    "time": "s",
    "temperature": "degC",
    "temperature difference": "K",
    "pressure": "Pa",
    "air permeance": "m3/(s·m2)",
    "vapor permeance": "kg/(Pa·s·m2)",
    "vapor permeability": "kg/(Pa·s·m)",
    "speed": "m/s",
    "volume flow": "m3/s",
    "rainfall intensity": "m/s",
    "mass": "kg",
    "force": "N",
    "line load": "N/m",
    "moment per length": "N·m/m",
    "mass per area": "kg/m2",
    "density": "kg/m3",
    "thermal conductivity": "W/(m·K)",
    "thermal resistance": "m2·K/W",
    "heat transfer coefficient": "W/(m2·K)",
    "heat flux": "W/m2",
    "heat capacity": "J/(kg·K)",
    "expansion coefficient": "1/K",
    "water absorption coefficient": "kg/(m2·s0.5)",
    "mass flux": "kg/(s·m2)",
    "ratio": "",
    "slope": "",
    "voltage": "V",
    "angle": "rad",
    "gauge": "ga",
    "number": "",
}

UNITS: tuple[Unit, ...] = (
    *_rows(
        "length",
        ("in", INCH, IP),
        ("ft", FOOT, IP),
        ("yd", YARD, IP),
        ("mi", MILE, IP),
        Unit("mil", "length", INCH / 1000, IP, also=("thou",), plural="mils"),
        ("mm", Fraction("1e-3"), SI),
        ("m", Fraction(1), SI),
        ("cm", Fraction("1e-2"), SI),
        ("km", Fraction("1e3"), SI),
        Unit("µm", "length", Fraction("1e-6"), SI, also=("micron", "um")),
    ),
    *_rows(
        "area",
        ("ft2", FOOT2, IP),
        ("in2", INCH2, IP),
        ("yd2", YARD**2, IP),
        ("m2", Fraction(1), SI),
        ("mm2", Fraction("1e-6"), SI),
        ("cm2", Fraction("1e-4"), SI),
    ),
    *_rows(
        "volume",
        ("ft3", FOOT**3, IP),
        ("in3", INCH**3, IP),
        ("gal", GALLON, IP),
        ("m3", Fraction(1), SI),
        ("L", Fraction("1e-3"), SI),
        ("mL", Fraction("1e-6"), SI),
    ),
    *_rows(
        "time",
        Unit("day", "time", DAY, EITHER, plural="days"),
        ("h", HOUR, EITHER),
        Unit("week", "time", 7 * DAY, EITHER, plural="weeks"),
        Unit("year", "time", YEAR, EITHER, plural="years"),
        ("min", Fraction(60), EITHER),
        ("s", Fraction(1), EITHER),
    ),
    *_rows(
        "temperature",
        Unit("degF", "temperature", FAHRENHEIT, IP, offset=32.0),
        ("degC", Fraction(1), SI),
        Unit("K", "temperature", Fraction(1), SI, offset=273.15),
    ),
    *_rows(
        "temperature difference",
        Unit("deltaF", "temperature difference", FAHRENHEIT, IP, shared=("degF",)),
        Unit("K", "temperature difference", Fraction(1), SI, also=("deltaK",), shared=("K",)),
        Unit("deltaC", "temperature difference", Fraction(1), SI, shared=("degC",)),
    ),
    *_rows(
        "pressure",
        Unit("psf", "pressure", POUND_FORCE / FOOT2, IP, also=("lbf/ft2",), shared=("lb/ft2",)),
        Unit("psi", "pressure", POUND_FORCE / INCH2, IP, also=("lbf/in2", "lb/in2")),
        ("ksi", 1000 * POUND_FORCE / INCH2, IP),
        ("inH2O", INCH_WATER, IP),
        ("inHg", INCH_MERCURY, IP),
        Unit("Pa", "pressure", Fraction(1), SI, also=("N/m2",)),
        ("hPa", Fraction("1e2"), SI),
        Unit("kPa", "pressure", Fraction("1e3"), SI, also=("kN/m2",)),
        Unit("MPa", "pressure", Fraction("1e6"), SI, also=("N/mm2",)),
    ),
    *_rows(
        "air permeance",
        Unit("cfm/ft2", "air permeance", FOOT / 60, IP, also=("ft3/(min·ft2)",)),
        ("L/(s·m2)", Fraction("1e-3"), SI),
        ("m3/(s·m2)", Fraction(1), SI),
        ("m3/(h·m2)", 1 / HOUR, SI),
    ),
    *_rows(
        "vapor permeance",
        Unit("perm", "vapor permeance", PERM, IP, also=("gr/(h·ft2·inHg)",), plural="perms"),
        ("ng/(Pa·s·m2)", Fraction("1e-12"), SI),
        ("kg/(Pa·s·m2)", Fraction(1), SI),
    ),
    *_rows(
        "vapor permeability",
        ("perm·in", PERM * INCH, IP),
        ("ng/(Pa·s·m)", Fraction("1e-12"), SI),
        ("kg/(Pa·s·m)", Fraction(1), SI),
    ),
    *_rows(
        "speed",
        Unit("mph", "speed", MILE / HOUR, IP, also=("mi/h",)),
        ("ft/s", FOOT, IP),
        Unit("knot", "speed", KNOT, IP, also=("kt",), plural="knots"),
        ("m/s", Fraction(1), SI),
        Unit("km/h", "speed", 1000 / HOUR, SI, also=("kph",)),
    ),
    *_rows(
        "volume flow",
        Unit("gpm", "volume flow", GALLON / 60, IP, also=("gal/min",)),
        Unit("gal/h", "volume flow", GALLON / HOUR, IP, also=("gph",)),
        Unit("cfm", "volume flow", FOOT**3 / 60, IP, also=("ft3/min",)),
        ("L/s", Fraction("1e-3"), SI),
        ("m3/s", Fraction(1), SI),
        ("m3/h", 1 / HOUR, SI),
        ("L/h", Fraction("1e-3") / HOUR, SI),
    ),
    *_rows("rainfall intensity", ("in/h", INCH / HOUR, IP), ("mm/h", Fraction("1e-3") / HOUR, SI)),
    *_rows(
        "mass", ("lb", POUND, IP), ("oz", OUNCE, IP), ("kg", Fraction(1), SI), ("g", Fraction("1e-3"), SI)
    ),
    *_rows(
        "force",
        Unit("lbf", "force", POUND_FORCE, IP, shared=("lb",)),
        ("N", Fraction(1), SI),
        ("kN", Fraction("1e3"), SI),
    ),
    *_rows(
        "line load",
        Unit("lbf/ft", "line load", POUND_FORCE / FOOT, IP, also=("plf", "lb/ft")),
        Unit("lbf/in", "line load", POUND_FORCE / INCH, IP, also=("pli", "lb/in")),
        ("N/m", Fraction(1), SI),
        ("kN/m", Fraction("1e3"), SI),
        ("N/mm", Fraction("1e3"), SI),
    ),
    *_rows(
        "moment per length",
        Unit("lbf·ft/ft", "moment per length", POUND_FORCE, IP, also=("ft·lbf/ft", "lb·ft/ft", "ft·lb/ft")),
        ("N·m/m", Fraction(1), SI),
        ("kN·m/m", Fraction("1e3"), SI),
    ),
    *_rows(
        "mass per area",
        ("lb/ft2", POUND / FOOT2, IP),
        # Copper sheet is ordered by the ounce: "16 oz" means ounces per square foot.
        Unit("oz/ft2", "mass per area", OUNCE / FOOT2, IP, shared=("oz",)),
        ("oz/yd2", OUNCE / YARD**2, IP),
        # Metal lath is ordered by the pound a square yard.
        ("lb/yd2", POUND / YARD**2, IP),
        # Vapor is counted in grains, as the perm is: a rate in gr/(h·ft2) times hours gives gr/ft2.
        ("gr/ft2", GRAIN / FOOT2, IP),
        ("kg/m2", Fraction(1), SI),
        ("g/m2", Fraction("1e-3"), SI),
    ),
    *_rows(
        "density",
        Unit("lb/ft3", "density", POUND / FOOT**3, IP, also=("pcf",)),
        ("kg/m3", Fraction(1), SI),
    ),
    *_rows(
        "thermal conductivity",
        ("Btu·in/(h·ft2·F)", BTU * INCH / (HOUR * FOOT2 * FAHRENHEIT), IP),
        ("Btu/(h·ft·F)", BTU / (HOUR * FOOT * FAHRENHEIT), IP),
        Unit("W/(m·K)", "thermal conductivity", Fraction(1), SI, also=("W/mK",)),
    ),
    *_rows(
        "thermal resistance",
        ("h·ft2·F/Btu", HOUR * FOOT2 * FAHRENHEIT / BTU, IP),
        ("m2·K/W", Fraction(1), SI),
    ),
    *_rows(
        "heat transfer coefficient",
        ("Btu/(h·ft2·F)", BTU / (HOUR * FOOT2 * FAHRENHEIT), IP),
        ("W/(m2·K)", Fraction(1), SI),
    ),
    *_rows("heat flux", ("Btu/(h·ft2)", BTU / (HOUR * FOOT2), IP), ("W/m2", Fraction(1), SI)),
    *_rows(
        "heat capacity",
        ("Btu/(lb·F)", BTU / (POUND * FAHRENHEIT), IP),
        Unit("J/(kg·K)", "heat capacity", Fraction(1), SI, also=("J/kgK",)),
        Unit("kJ/(kg·K)", "heat capacity", Fraction("1e3"), SI, also=("kJ/kgK",)),
    ),
    *_rows(
        "expansion coefficient",
        ("in/(in·F)", 1 / FAHRENHEIT, IP),
        ("1/F", 1 / FAHRENHEIT, IP),
        ("1/K", Fraction(1), SI),
        ("mm/(m·K)", Fraction("1e-3"), SI),
        Unit("ppm/K", "expansion coefficient", Fraction("1e-6"), SI, also=("µm/(m·K)",)),
    ),
    *_rows(
        "water absorption coefficient",
        ("kg/(m2·s0.5)", Fraction(1), SI),
        ("kg/(m2·h0.5)", Fraction(1, 60), SI),
    ),
    *_rows(
        "mass flux",
        ("gr/(h·ft2)", GRAIN / (HOUR * FOOT2), IP),
        ("g/(m2·day)", Fraction("1e-3") / DAY, SI),
        ("g/(m2·h)", Fraction("1e-3") / HOUR, SI),
        ("kg/(s·m2)", Fraction(1), SI),
    ),
    *_rows(
        "ratio",
        ("%", Fraction("0.01"), EITHER),
        Unit("", "ratio", Fraction(1), EITHER, shared=("",)),
        Unit(":1", "ratio", Fraction(1), EITHER, shared=(":1",)),
    ),
    *_rows(
        "slope",
        ("in/ft", Fraction(1, 12), IP),
        Unit("%", "slope", Fraction("0.01"), SI, shared=("%",)),
        ("mm/m", Fraction("1e-3"), SI),
        (":12", Fraction(1, 12), EITHER),
        (":1", Fraction(1), EITHER),
        Unit("deg", "slope", DEGREE, EITHER, shared=("deg",), tangent=True),
    ),
    *_rows("voltage", ("V", Fraction(1), EITHER), ("mV", Fraction("1e-3"), EITHER)),
    *_rows("angle", ("deg", DEGREE, EITHER), ("rad", Fraction(1), EITHER)),
    *_rows("gauge", ("ga", Fraction(1), EITHER)),
    *_rows("number", ("", Fraction(1), EITHER)),
)
