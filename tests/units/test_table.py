"""Every row of the unit table against pint (second method), and published factors."""

import math

import pint
import pytest

from specgen.units.quantity import accepted_units, dimensions, parse, to_unit
from specgen.units.spelling import candidates, key, units_of
from specgen.units.table import BASES, UNITS, Unit

# Our symbol in pint's language, where the two differ. Built from pint's own definitions, not from ours.
PINT = {
    "in": "inch", "ft": "foot", "yd": "yard", "mil": "thou", "µm": "micrometer", "min": "minute", "h": "hour",
    "gal": "gallon", "deltaF": "delta_degF", "deltaC": "delta_degC", "psf": "force_pound/foot**2",
    "inH2O": "inch_H2O", "inHg": "inch_Hg", "cfm/ft2": "foot**3/minute/foot**2", "gpm": "gallon/minute",
    "cfm": "foot**3/minute", "perm": "grain/hour/foot**2/inch_Hg",
    "perm·in": "grain/hour/foot**2/inch_Hg*inch",
    "lbf": "force_pound", "lbf/ft": "force_pound/foot", "lbf/in": "force_pound/inch", "ppm/K": "1e-6/kelvin",
    "%": "0.01", ":12": "1/12", ":1": "1", "": "1", "ga": "1", "deg": "degree", "in/h": "inch/hour",
    "kg/(m2·s0.5)": "kg/m**2/second**0.5", "kg/(m2·h0.5)": "kg/m**2/hour**0.5", "L/s": "liter/second",
    "Btu·in/(h·ft2·F)": "Btu_it*inch/hour/foot**2/delta_degF",
    "Btu/(h·ft·F)": "Btu_it/hour/foot/delta_degF",
    "h·ft2·F/Btu": "hour*foot**2*delta_degF/Btu_it", "Btu/(h·ft2·F)": "Btu_it/hour/foot**2/delta_degF",
    "Btu/(h·ft2)": "Btu_it/hour/foot**2", "Btu/(lb·F)": "Btu_it/pound/delta_degF",
    "in/(in·F)": "1/delta_degF",
    "1/F": "1/delta_degF", "gr/(h·ft2)": "grain/hour/foot**2", "L/(s·m2)": "liter/second/m**2",
    "mm/h": "mm/hour",
    "oz/ft2": "ounce/foot**2", "lb/ft2": "pound/foot**2", "lb/ft3": "pound/foot**3",
    "oz/yd2": "ounce/yard**2", "lb/yd2": "pound/yard**2", "gr/ft2": "grain/foot**2",
    "m3/h": "m**3/hour", "m3/(h·m2)": "m**3/hour/m**2", "ft2": "foot**2", "in2": "inch**2", "yd2": "yard**2",
    "ft3": "foot**3", "in3": "inch**3", "in/ft": "inch/foot", "ft/s": "foot/second", "km/h": "km/hour",
    "g/(m2·h)": "g/m**2/hour", "K": "kelvin",
}  # fmt: skip
# The base of a difference and of the dimensionless ones in pint's language.
PINT_BASE = {"temperature difference": "kelvin", "gauge": "1", "ratio": "1", "slope": "1", "number": "1"}


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry:
    return pint.UnitRegistry(cache_folder=None)


def in_pint(symbol: str) -> str:
    if symbol in PINT:
        return PINT[symbol]
    return symbol.replace("m2", "m**2").replace("m3", "m**3").replace("·", "*")


@pytest.mark.parametrize("unit", UNITS, ids=lambda u: f"{u.dimension}:{u.symbol}")
def test_unit_agrees_with_pint(unit: Unit, registry: pint.UnitRegistry) -> None:
    number = 7.25
    text = f"{number}{unit.symbol}" if unit.symbol.startswith(":") else f"{number} {unit.symbol}"
    if unit.dimension == "ratio" and not unit.symbol:
        text, number = "0.725", 0.725
    ours = parse(text, {unit.dimension}).value
    if unit.tangent:
        assert ours == pytest.approx(math.tan(math.radians(number)), rel=1e-12)
        return
    base = PINT_BASE.get(unit.dimension, in_pint(BASES[unit.dimension]))
    if unit.dimension == "temperature":
        theirs = registry.Quantity(number, {"degF": "degF", "degC": "degC", "K": "kelvin"}[unit.symbol]).to(
            "degC"
        )
    else:
        theirs = (number * registry.parse_expression(in_pint(unit.symbol))) * registry.Quantity(
            1, "dimensionless"
        )
        theirs = theirs.to(registry.parse_expression(base).units if base != "1" else "dimensionless")
    # pint derives the inch of mercury from a density of 13.5951 kg/L; the table holds NIST's rounded one.
    mercury = unit.symbol in ("inHg", "perm", "perm·in")
    assert ours == pytest.approx(theirs.magnitude, rel=3e-7 if mercury else 1e-11)


# NIST SP 811 (2008), Appendix B.8, six figures (memory, except the inch of mercury: read in a mirror).
PUBLISHED = [
    ("1 perm", "kg/(Pa·s·m2)", 5.72135e-11),
    ("1 perm·in", "kg/(Pa·s·m)", 1.45322e-12),
    ("1 inHg", "Pa", 3.386389e3),
    ("1 inH2O", "Pa", 2.490889e2),
    ("1 psi", "Pa", 6.894757e3),
    ("1 psf", "Pa", 4.788026e1),
    ("1 lbf/ft", "N/m", 1.459390e1),
    ("1 mph", "m/s", 4.4704e-1),
    ("1 gpm", "m3/s", 6.309020e-5),
    ("1 lb/ft3", "kg/m3", 1.601846e1),
    ("1 oz/ft2", "kg/m2", 3.051517e-1),
    ("1 Btu·in/(h·ft2·F)", "W/(m·K)", 1.442279e-1),
    ("1 h·ft2·F/Btu", "m2·K/W", 1.761102e-1),
    ("1 Btu/(h·ft2·F)", "W/(m2·K)", 5.678263),
    ("1 Btu/(h·ft2)", "W/m2", 3.154591),
]


@pytest.mark.parametrize(("text", "unit", "expected"), PUBLISHED)
def test_published_factor(text: str, unit: str, expected: float) -> None:
    assert to_unit(parse(text), unit) == pytest.approx(expected, rel=1.5e-6)


def test_trade_facts() -> None:
    # The energy codes print both: 0.004 cfm/ft² as 0.02 L/(s·m²), and 1.57 psf as 75 Pa.
    assert to_unit(parse("0.004 cfm/ft²"), "L/(s·m2)") == pytest.approx(0.02, rel=0.02)
    assert to_unit(parse("1.57 psf"), "Pa") == pytest.approx(75, rel=0.003)


def test_every_base_has_factor_one() -> None:
    for dimension, base in BASES.items():
        rows = {u.symbol: u for u in units_of(dimension)}
        if dimension not in ("slope", "rainfall intensity"):
            assert (rows[base].factor, rows[base].offset) == (1.0, 0.0)
    assert set(BASES) == {u.dimension for u in UNITS} == set(dimensions())


def test_no_spelling_means_two_units_without_a_hint() -> None:
    plainly: dict[str, Unit] = {}
    for unit in UNITS:
        shared = {key(s) for s in unit.shared}
        for k in {key(s) for s in (unit.symbol, *unit.also)} - shared:
            assert k not in plainly, f"{unit} and {plainly[k]}"
            plainly[k] = unit
    for unit in UNITS:  # and what is shared has a plain meaning to be shared with
        assert all(key(s) in plainly for s in unit.shared)


def test_every_symbol_is_found_and_unique_in_its_dimension() -> None:
    for dimension in dimensions():
        symbols = accepted_units(dimension)
        assert len(set(symbols)) == len(symbols)
        for symbol in symbols:
            assert [u.symbol for u in candidates(symbol) if u.dimension == dimension] == [symbol]
