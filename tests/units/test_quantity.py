"""Reading quantities: numbers, spellings, dimensions, refusals, round trips."""

import math
import pickle
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.units.quantity import (
    Quantity,
    QuantityError,
    accepted_units,
    dimensions,
    from_si,
    parse,
    quantity,
    to_unit,
)
from specgen.units.table import UNITS

NUMBERS = [
    ("0.040 in", 0.040), (".04 in", 0.04), ("1e-3 in", 0.001), ("3/16 in", 0.1875), ("1 1/2 in", 1.5),
    ("1-1/2 in", 1.5), ("-1-1/2 in", -1.5), ("-3/16 in", -0.1875), ("1½ in", 1.5), ("⅜ in", 0.375),
    ("−2 in", -2.0), ("+2 in", 2.0), ("3 / 16 in", 0.1875), ("3/16in", 0.1875), ("2. in", 2.0),
    ("5 ft 6 in", 66.0), ("5'-6\"", 66.0), ("5'6\"", 66.0), ("5′-6 1/2″", 66.5),
    ("5 feet 6-1/2 inches", 66.5),
    ("-5 ft 6 in", -66.0), ("6\"", 6.0), ("5' - 6\"", 66.0), ("0 ft 6.25 in.", 6.25),
]  # fmt: skip


@pytest.mark.parametrize(("text", "inches"), NUMBERS)
def test_numbers(text: str, inches: float) -> None:
    q = parse(text, {"length"})
    assert (q.number, q.unit, q.dimension) == (inches, "in", "length")
    assert q.value == pytest.approx(inches * 0.0254, rel=1e-13)


SPELLINGS = {
    "in": 'in in. inch inches " ″ IN',
    "ft": "ft ft. foot feet ' ′",
    "ft2": "ft2|ft²|ft^2|sq ft|sq. ft.|square feet",
    "µm": "µm μm um micron microns",
    "degF": "°F|degF|deg F|F|degrees F|deg. F|º F|℉",
    "deltaF": "deltaF|F deg|delta degF|Δ°F|delta F",
    "deltaC": "deltaC|delta degC|Δ°C|C deg",
    "cfm/ft2": "cfm/ft2|cfm/ft²|cfm/sq ft|cfm per sq. ft.|CFM/ft^2",
    "L/(s·m2)": "L/(s·m2)|L/(s·m²)|L/s·m2|L/s/m²|L/(s*m^2)|L/(s m2)|L·s⁻¹·m⁻²|l/(s·m²)",
    "perm": "perm perms Perm U.S.perm",
    "perm·in": "perm-in|perm in|perm·in|perm inch|perms·in.",
    "ng/(Pa·s·m2)": "ng/(Pa·s·m2)|ng/Pa·s·m²|ng/(Pa s m2)|ng/(s·m²·Pa)",
    "Btu·in/(h·ft2·F)": "Btu·in/(h·ft2·F)|Btu-in/hr-ft2-F|BTU in/(h·ft²·°F)|Btu·in/h·ft²·°F",
    "h·ft2·F/Btu": "h·ft2·F/Btu|(h·ft²·°F)/Btu|hr ft2 F/Btu",
    "W/(m·K)": "W/(m·K)|W/mK|W/m·K|W m-1 K-1|W/m/K",
    "m2·K/W": "m2·K/W|m²K/W|m² K/W",
    "kg/(m2·s0.5)": "kg/(m2·s0.5)|kg/(m²·s^0.5)|kg/(m2·sqrt(s))|kg/(m²·√s)|kg/m²s½|kg/(m2·s^(1/2))",
    "kg/(m2·h0.5)": "kg/(m2·h0.5)|kg/(m2·sqrt(h))|kg/(m²·√h)|kg/(m2·hr^0.5)",
    "g/(m2·day)": "g/(m2·day)|g/m2·day|g/m²/d|g/(m²·24h)|g/(m2·24 hours)",
    "inH2O": "inH2O|in. H2O|in. w.c.|in wg|inches of water",
    "in/(in·F)": "in/(in·F)|in/in/°F|in./in.·°F|in/in-F",
    "psf": "psf|lbf/ft2|PSF|lbf/sq ft",
    "lbf/ft": "lbf/ft|plf|lb/ft",
    "lb/ft3": "lb/ft3|pcf|lb/cu ft|lb per cubic foot",
    "ga": "ga gage gauge ga.",
    "%": "%|percent|per cent|pct",
    "day": "day days d",
    "in/h": "in/h|in/hr|in. per hour|inches/hour",
}


@pytest.mark.parametrize(
    ("unit", "spelling"),
    [(u, s) for u, all_ in SPELLINGS.items() for s in all_.split("|" if "|" in all_ else " ")],
)
def test_spellings(unit: str, spelling: str) -> None:
    assert parse(f"3 {spelling}").unit == unit


# A spelling of several dimensions: what it means alone, and what the accepted dimension makes of it.
SHARED = [
    ("10 lb", None, "mass", 4.5359237),
    ("10 lb", {"force"}, "force", 44.482216152605),
    ("2 %", None, "ratio", 0.02),
    ("2 %", {"slope"}, "slope", 0.02),
    ("2 percent", {"slope"}, "slope", 0.02),
    ("2 %", {"slope", "ratio"}, "ratio", 0.02),
    ("300 K", None, "temperature", 26.85),
    ("20 K", {"temperature difference"}, "temperature difference", 20.0),
    ("20 ΔK", None, "temperature difference", 20.0),
    ("18 °F", {"temperature difference"}, "temperature difference", 10.0),
    ("212 °F", None, "temperature", 100.0),
    ("45 deg", None, "angle", math.pi / 4),
    ("45 deg", {"slope"}, "slope", 1.0),
    ("16 oz", None, "mass", 0.45359237),
    ("16 oz", {"mass per area"}, "mass per area", 0.45359237 / 0.09290304),
    ("2.5:1", {"ratio"}, "ratio", 2.5),
    ("1/4:12", {"slope"}, "slope", 1 / 48),
    ("1:48", None, "slope", 1 / 48),
    ("1/4 in/ft", None, "slope", 1 / 48),
    ("10 lb/ft2", {"pressure"}, "pressure", 478.80258980336),
    ("0.9", {"ratio"}, "ratio", 0.9),
    ("22 gage", None, "gauge", 22.0),
    ("R-20", None, "thermal resistance", 3.522203673646),
]


@pytest.mark.parametrize(("text", "accept", "dimension", "value"), SHARED)
def test_accept_decides(text: str, accept: set[str] | None, dimension: str, value: float) -> None:
    q = parse(text, accept)
    assert q.dimension == dimension
    assert q.value == pytest.approx(value, rel=1e-12)


def test_plain_numbers() -> None:
    assert parse(3) == Quantity(3.0, "number", 3.0, "", "3")
    assert parse(2.5, {"number"}).value == 2.5
    assert parse("7").dimension == "number"


def test_condition() -> None:
    for text in ("0.004 cfm/ft² @ 75 Pa", "0.004 cfm/ft2  at 75 Pa", "0.004 cfm/ft2@75 Pa"):
        q = parse(text, {"air permeance"})
        assert q.condition == parse("75 Pa")
        assert q.text == " ".join(text.split())


REFUSED = [
    ("1,200 mm", None, "write 1200, or 1.200 if the comma marks decimals"),
    ("1,234,567 mm", None, "write 1234567"),
    ("3,5 mm", None, "write 3.5"),
    ("1,2,3 mm", None, "without commas"),
    ("10 perm", {"length"}, "`10 perm` is a vapor permeance; write a length: in, ft, mm, m"),
    (
        "3 in",
        {"area", "pressure"},
        "is a length; write an area: ft2, in2, m2, mm2 or a pressure: psf, psi, Pa, hPa",
    ),
    ("5", {"length"}, "`5` has no unit; write a length"),
    (5, {"length"}, "`5` has no unit; write a length"),
    ("3 in", {"number"}, "write a number without a unit"),
    ("3 in", set(), "no dimension is accepted"),
    ("10 perms.m", {"vapor permeance"}, "is not known; did you mean `perm`?"),
    ("10 mPa", None, "did you mean `MPa`?"),
    ("10 pounds-mass", None, "is not known"),
    ("3 months", {"time"}, "a month has no fixed length; write days"),
    ("90", {"ratio"}, "is a ratio above 1; write a percentage"),
    ("", None, "an empty text"),
    ("   ", None, "an empty text"),
    ("steel", None, "does not start with a number"),
    ("nan in", None, "not a finite number"),
    (".inf", None, "not a finite number"),
    ("1e999 in", None, "not a finite number"),
    ("1e300 ft", {"number"}, "is a length"),
    (math.nan, None, "not a finite number"),
    (math.inf, None, "not a finite number"),
    (10**400, None, "more than 120 digits"),
    (True, None, "`True` is not a quantity"),
    (None, None, "`None` is not a quantity"),
    (["3 in"], None, "is not a quantity"),
    ("1/0 in", None, "divides by zero"),
    ("1 5/4 in", None, "fraction of one or more"),
    ("1:0", None, "divides by zero or less"),
    ("1:x", None, "no number after the colon"),
    ("5'-13\"", None, "12 inches or more"),
    ("2-3 in", None, "more than one number"),
    ("2 to 3 in", None, "more than one number"),
    ("1 200 mm", None, "more than one number"),
    ("-500 °F", None, "below absolute zero"),
    ("-1 K", {"temperature"}, "below absolute zero"),
    ("90 deg", {"slope"}, "is no slope"),
    ("1 in @ 2 psf @ 3 psf", None, "more than one condition"),
    ("1 in at 75", None, "the condition `75` has no unit"),
    ("4 in (min)", None, "is not known"),
    ("4 Btu/(h/ft2)", None, "is not known"),
    ("4 L/(s)·m2", None, "is not known"),
    ("4" * 121, None, "longer than 120"),
    ("3 in\x00\x1b[31m`x`", None, "is not known"),
    ("٣ in", None, "does not start with a number"),
]


@pytest.mark.parametrize(("text", "accept", "expected"), REFUSED)
def test_refused_with_a_fix(text: object, accept: set[str] | None, expected: str) -> None:
    with pytest.raises(QuantityError) as caught:
        parse(text, accept)
    error = caught.value
    assert expected in str(error)
    assert error.message and error.fix
    assert str(error) == f"{error.message}; {error.fix}"
    assert str(error).isprintable()


def test_unknown_dimension_is_the_callers_mistake() -> None:
    with pytest.raises(ValueError, match="no dimension is named 'lenght'"):
        parse("3 in", {"lenght"})
    with pytest.raises(ValueError, match="no dimension is named"):
        accepted_units("x")


def test_error_survives_a_worker_process() -> None:
    error = pickle.loads(pickle.dumps(QuantityError("what", "fix")))
    assert (error.message, error.fix) == ("what", "fix")


def test_to_unit() -> None:
    q = parse("3/16 in")
    assert to_unit(q, "mm") == 4.7625
    assert to_unit(q, "inches") == 0.1875
    assert to_unit(parse("100 % ", {"slope"}), "deg") == pytest.approx(45)
    with pytest.raises(QuantityError, match="`psf` is a pressure; write a length"):
        to_unit(q, "psf")


def test_built() -> None:
    assert quantity(0.1875, "in").text == "3/16 in"
    assert quantity(1.5, "in").text == "1 1/2 in"
    assert quantity(0.040, "in").text == "0.04 in"
    assert quantity(75, "Pa") == parse("75 Pa")
    assert from_si(0.0254, "length") == parse("1 in")
    assert from_si(0.005, "length", "mm") == parse("5 mm")
    assert from_si(100.0, "temperature").text == "212 degF"
    for bad in (math.nan, math.inf):
        with pytest.raises(QuantityError, match="finite"):
            quantity(bad, "in")
        with pytest.raises(QuantityError, match="finite"):
            from_si(bad, "length")
    with pytest.raises(QuantityError, match="is a pressure"):
        from_si(1.0, "length", "psf")


def test_equal_lengths_have_equal_values() -> None:
    # A product stated in mm meets a limit stated in inches exactly, not but for the last bit.
    for sixteenths in range(1, 2000):
        inches = Fraction(sixteenths, 16)
        mm = float(inches * Fraction("25.4"))
        assert parse(f"{inches} in", {"length"}).value == parse(f"{mm!r} mm").value


@given(st.sampled_from(UNITS), st.floats(0.001, 80))
def test_round_trip_of_every_unit(unit: object, number: float) -> None:
    row = unit
    if row.dimension == "ratio" and row.symbol == "":
        number /= 80
    text = f"{number!r}{row.symbol}" if row.symbol.startswith(":") else f"{number!r} {row.symbol}"
    q = parse(text, {row.dimension})
    assert q.unit == row.symbol
    assert to_unit(q, row.symbol) == pytest.approx(number, rel=1e-12)
    built = from_si(q.value, row.dimension, row.symbol)
    # Temperatures carry their offset, so twelve digits of the number are not twelve of the value.
    assert built.number == pytest.approx(number, rel=1e-10, abs=1e-10)
    assert parse(built.text, {row.dimension}).value == pytest.approx(q.value, rel=1e-9, abs=1e-9)


@given(st.integers(0, 200), st.integers(1, 63), st.sampled_from((2, 4, 8, 16, 32, 64)), st.sampled_from(" -"))
def test_mixed_numbers(whole: int, over: int, under: int, between: str) -> None:
    over %= under
    text = f"{whole}{between}{over}/{under} in"
    assert parse(text).number == float(whole + Fraction(over, under))


@given(st.text(max_size=130), st.sampled_from((None, *dimensions())))
def test_any_text_gives_a_quantity_or_a_clear_error(text: str, dimension: str | None) -> None:
    accept = None if dimension is None else {dimension}
    try:
        q = parse(text, accept)
    except QuantityError as error:
        assert str(error).isprintable()
    else:
        assert math.isfinite(q.value)
        assert dimension in (None, q.dimension)


@given(st.text(alphabet="0123456789/.-+eE ,:'\"ftinFdegRmPa@·²()%", max_size=60))
def test_text_of_the_grammar_gives_a_quantity_or_a_clear_error(text: str) -> None:
    try:
        q = parse(text)
    except QuantityError as error:
        assert error.fix
    else:
        assert math.isfinite(q.value)
