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
    exactly,
    from_si,
    parse,
    quantity,
    read_number,
    to_unit,
)
from specgen.units.spelling import fraction, join_unit
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


def test_what_lies_just_inside() -> None:
    assert parse("3." + "0" * 115 + " in").number == 3.0, "120 characters"
    assert parse(10**120 - 1).number == parse("9" * 120).number == 1e120
    assert parse("1 3/4 in").number == 1.75 and parse("11/4 in").number == 2.75
    assert parse("5 ft 11 15/16 in").number == 71.9375
    assert parse("1", {"ratio"}).value == 1.0 and parse("-1", {"ratio"}).value == -1.0
    assert parse("89.9 deg", {"slope"}).value > 500
    assert parse("-459.67 degF").exact == parse("-273.15 degC").exact == Fraction("-273.15")
    assert parse("0e5 in").number == parse("0.00 in").number == 0.0
    assert parse("22e-6 1/K").number == 22e-6 and parse("3 1/F").unit == "1/F"


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
    ('1,200 mm', None, '`1,200 mm` has a comma in its number; write 1200, or 1.200 if the comma marks decimals'),
    ('1,234,567 mm', None, '`1,234,567 mm` has a comma in its number; write 1234567'),
    ('3,5 mm', None, '`3,5 mm` has a comma in its number; write 3.5'),
    ('1,2,3 mm', None, '`1,2,3 mm` has a comma in its number; write the number without commas'),
    ('10 perm', {'length'}, '`10 perm` is a vapor permeance; write a length: in, ft, mm, m'),
    ('3 in', {'pressure', 'area'},
     '`3 in` is a length; '
     'write an area: ft2, in2, m2, mm2 or a pressure: psf, psi, Pa, hPa'),
    ('5', {'length'}, '`5` has no unit; write a length: in, ft, mm, m'),
    (5, {'length'}, '`5` has no unit; write a length: in, ft, mm, m'),
    ('3 in', {'number'}, '`3 in` is a length; write a number without a unit'),
    ('3 in', set(), '`3 in` is a length; no dimension is accepted here'),
    ('10 perms.m', {'vapor permeance'},
     '`10 perms.m`: unit `perms.m` is not known; '
     'did you mean `perm`? write a vapor permeance: perm, ng/(Pa·s·m2), kg/(Pa·s·m2)'),
    ('10 mPa', None,
     '`10 mPa`: unit `mPa` is not known; '
     'did you mean `MPa`? write a unit such as in, mm, psf, Pa, perm'),
    ('10 pounds-mass', None,
     '`10 pounds-mass`: unit `pounds-mass` is not known; '
     'write a unit such as in, mm, psf, Pa, perm'),
    ('3 months', {'time'}, '`3 months`: a month has no fixed length; write days'),
    ('90', {'ratio'}, '`90` is a ratio above 1; write a percentage or a fraction of one, such as 90 %'),
    ('', None, 'an empty text is no quantity; write a number and a unit, such as 3/16 in or 75 Pa'),
    ('   ', None, 'an empty text is no quantity; write a number and a unit, such as 3/16 in or 75 Pa'),
    ('steel', None, '`steel` does not start with a number; write a number and a unit, such as 3/16 in or 75 Pa'),
    ('nan in', None, '`nan in` is not a finite number; write a finite number'),
    ('.inf', None, '`.inf` is not a finite number; write a finite number'),
    ('1e999 in', None, '`1e999 in` is not a finite number; write a finite number'),
    ('1e300 ft', {'number'}, '`1e300 ft` is a length; write a number without a unit'),
    (math.nan, None, '`nan` is not a finite number; write a finite number'),
    (math.inf, None, '`inf` is not a finite number; write a finite number'),
    (10**400, None, 'a whole number of more than 120 digits is no quantity; write a smaller number'),
    (True, None, '`True` is not a quantity; write a number and a unit, such as 3/16 in or 75 Pa'),
    (None, None, '`None` is not a quantity; write a number and a unit, such as 3/16 in or 75 Pa'),
    (['3 in'], None, "`['3 in']` is not a quantity; write a number and a unit, such as 3/16 in or 75 Pa"),
    ('1/0 in', None, '`1/0` divides by zero; correct the fraction'),
    ('1 5/4 in', None, '`1 5/4` carries a fraction of one or more; write the whole number and the rest'),
    ('1:0', None, '`1:0` divides by zero or less; write a run above zero'),
    ('1:x', None, '`1:x` has no number after the colon; write it like 1/4:12'),
    ('5\'-13"', None, '`5\'-13"` has 12 inches or more after the feet; carry them into feet'),
    ('2-3 in', None, '`2-3 in` holds more than one number; write one number without spaces, and no range'),
    ('2 to 3 in', None, '`2 to 3 in` holds more than one number; write one number without spaces, and no range'),
    ('1 200 mm', None, '`1 200 mm` holds more than one number; write one number without spaces, and no range'),
    ('-500 °F', None, '`-500 °F` is below absolute zero; write a temperature above -459.67 degF (-273.15 degC)'),
    ('-1 K', {'temperature'}, '`-1 K` is below absolute zero; write a temperature above -459.67 degF (-273.15 degC)'),
    ('90 deg', {'slope'}, '`90 deg` is no slope; write an angle below 90 deg'),
    ('1 in @ 2 psf @ 3 psf', None, '`1 in @ 2 psf @ 3 psf` states more than one condition; write one `at`'),
    ('1 in at 75', None, 'the condition `75` has no unit; write its unit, such as `at 75 Pa`'),
    ('4 in (min)', None,
     '`4 in (min)`: unit `in (min)` is not known; '
     'did you mean `in/(in·F)`? write a unit such as in, mm, psf, Pa, perm'),
    ('4 Btu/(h/ft2)', None,
     '`4 Btu/(h/ft2)`: unit `Btu/(h/ft2)` is not known; '
     'did you mean `Btu/(h·ft2)`? write a unit such as in, mm, psf, Pa, perm'),
    ('4 L/(s)·m2', None,
     '`4 L/(s)·m2`: unit `L/(s)·m2` is not known; '
     'did you mean `L/(s·m2)`? write a unit such as in, mm, psf, Pa, perm'),
    ("4" * 121, None,
     '`444444444444444444444444444444444444444…` is longer than 120 characters; '
     'write one number and one unit'),
    ('3 in\x00\x1b[31m`x`', None,
     '`3 in [31m x`: unit `in [31m x` is not known; '
     'write a unit such as in, mm, psf, Pa, perm'),
    ('٣ in', None, '`٣ in` does not start with a number; write a number and a unit, such as 3/16 in or 75 Pa'),
    ('1 4/4 in', None, '`1 4/4` carries a fraction of one or more; write the whole number and the rest'),
    ('1/0', None, '`1/0` divides by zero; correct the fraction'),
    ('-3 1/0 in', None, '`-3 1/0` divides by zero; correct the fraction'),
    (10**120, None, 'a whole number of more than 120 digits is no quantity; write a smaller number'),
    ('1e-400 in', None, '`1e-400 in` is too small to convert; write 0, or a larger number'),
    ('1.5e308 mn', None,
     '`1.5e308 mn`: unit `mn` is not known; '
     'did you mean `min`? write a unit such as in, mm, psf, Pa, perm'),
    ('-90 deg', {'slope'}, '`-90 deg` is no slope; write an angle below 90 deg'),
    ('1:-2', None, '`1:-2` divides by zero or less; write a run above zero'),
    ('1:-1/2', None, '`1:-1/2` divides by zero or less; write a run above zero'),
    ('3 month', None, '`3 month`: a month has no fixed length; write days'),
    ('2 mo', None, '`2 mo`: a month has no fixed length; write days'),
    ('5 ft 12 in', None, '`5 ft 12 in` has 12 inches or more after the feet; carry them into feet'),
    ('1 in to 2 in', None, '`1 in to 2 in` holds a second quantity, `2 in`; write the one that decides'),
    ('1 in–2 in', {'length'}, '`1 in–2 in` holds a second quantity, `2 in`; write the one that decides'),
    ('20 psf to 30 psf', None, '`20 psf to 30 psf` holds a second quantity, `30 psf`; write the one that decides'),
    ('2 in x 4 in', None, '`2 in x 4 in` holds a second quantity, `4 in`; write the one that decides'),
    ('3..4 in', None, '`3..4 in` holds more than one number; write one number without spaces, and no range'),
    ('3 ..4 in', None, '`3 ..4 in` holds more than one number; write one number without spaces, and no range'),
    ('1.2.3 in', None, '`1.2.3 in` holds more than one number; write one number without spaces, and no range'),
    ('1 in..2 in', None, '`1 in..2 in` holds a second quantity, `2 in`; write the one that decides'),
    ("x" * 50, None,
     '`xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx…` does not start with a number; '
     'write a number and a unit, such as 3/16 in or 75 Pa'),
    ('1,200,000.5 mm', None, '`1,200,000.5 mm` has a comma in its number; write 1200000.5'),
    ('1,200.5 mm', None, '`1,200.5 mm` has a comma in its number; write 1200.5'),
    ('12,5.5 mm', None, '`12,5.5 mm` has a comma in its number; write the number without commas'),
    ('-∞', None, '`-∞` is not a finite number; write a finite number'),
    ('1.7e308 h', None, '`1.7e308 h` is too large to convert; write a smaller number'),
    ('1e300:1e-300', None, '`1e300:1e-300` is too large to convert; write a smaller number'),
    ('3 .. 4 in', None, '`3 .. 4 in` holds more than one number; write one number without spaces, and no range'),
    ('3 - 4 in', None, '`3 - 4 in` holds more than one number; write one number without spaces, and no range'),
    ('3 -4 in', None, '`3 -4 in` holds more than one number; write one number without spaces, and no range'),
    ('infinite in', None,
     '`infinite in` does not start with a number; '
     'write a number and a unit, such as 3/16 in or 75 Pa'),
    ('5\'-12"', None, '`5\'-12"` has 12 inches or more after the feet; carry them into feet'),
    ('`1,2`', None, '`1,2` does not start with a number; write a number and a unit, such as 3/16 in or 75 Pa'),
    ('-1,200 mm', None, '`-1,200 mm` has a comma in its number; write -1200, or -1.200 if the comma marks decimals'),
    ('+3,5 mm', None, '`+3,5 mm` has a comma in its number; write +3.5'),
    ('1200,000 mm', None, '`1200,000 mm` has a comma in its number; write 1200.000'),
    ('2 infinity', None,
     '`2 infinity`: unit `infinity` is not known; '
     'did you mean `in/ft`? write a unit such as in, mm, psf, Pa, perm'),
    ('infinity in', None, '`infinity in` is not a finite number; write a finite number'),
    ('∞ in', None, '`∞ in` is not a finite number; write a finite number'),
    ('-inf', None, '`-inf` is not a finite number; write a finite number'),
    ('nano m', None, '`nano m` does not start with a number; write a number and a unit, such as 3/16 in or 75 Pa'),
    ('-2', {'ratio'}, '`-2` is a ratio above 1; write a percentage or a fraction of one, such as -2 %'),
    ('2', {'length'}, '`2` has no unit; write a length: in, ft, mm, m'),
    ('3 ozz', {'mass', 'length'},
     '`3 ozz`: unit `ozz` is not known; '
     'did you mean `oz`? write a length: in, ft, mm, m or a mass: lb, oz, kg, g'),
    ('3 stone', {'mass'}, '`3 stone`: unit `stone` is not known; write a mass: lb, oz, kg, g'),
    ('3 yen', {'ratio'}, '`3 yen`: unit `yen` is not known; write a ratio: %, :1'),
    ('4 in', {'thermal conductivity'},
     '`4 in` is a length; '
     'write a thermal conductivity: Btu·in/(h·ft2·F), Btu/(h·ft·F), W/(m·K)'),
    ('4 psi', {'slope', 'number'},
     '`4 psi` is a pressure; '
     'write a slope: in/ft, %, mm/m, :12, :1 or a number without a unit'),
    (3.5, {'slope'}, '`3.5` has no unit; write a slope: in/ft, %, mm/m, :12, :1'),
    (b'3 in', None, "`b'3 in'` is not a quantity; write a number and a unit, such as 3/16 in or 75 Pa"),
    ('-459.68 degF', None,
     '`-459.68 degF` is below absolute zero; '
     'write a temperature above -459.67 degF (-273.15 degC)'),
    ('-273.16 degC', None,
     '`-273.16 degC` is below absolute zero; '
     'write a temperature above -459.67 degF (-273.15 degC)'),
    ('1e400', None, '`1e400` is not a finite number; write a finite number'),
    ('22 gage', {'length'}, '`22 gage` is a gauge; write a length: in, ft, mm, m'),
    ('40² mil', None,
     '`40² mil` holds a raised or lowered digit that no unit carries; '
     'write the number alone, a power of ten like 2e-5'),
    ('1,200,5 mm', None, '`1,200,5 mm` has a comma in its number; write the number without commas'),
    ('3 psff', {'length'}, '`3 psff`: unit `psff` is not known; did you mean `psf`? write a length: in, ft, mm, m'),
    ('3 lbs/fft', {'pressure'},
     '`3 lbs/fft`: unit `lbs/fft` is not known; did you mean `lbf/ft2`? write a pressure: psf, psi, Pa, hPa'),
    ('x' * 40, None, f'`{"x" * 40}` does not start with a number; write a number and a unit, such as 3/16 in or 75 Pa'),
    ('x' * 41, None,
     f'`{"x" * 39}…` does not start with a number; write a number and a unit, such as 3/16 in or 75 Pa'),
    ('3 PERM', {'length'}, '`3 PERM` is a vapor permeance; write a length: in, ft, mm, m'),
]  # fmt: skip


@pytest.mark.parametrize(("text", "accept", "expected"), REFUSED)
def test_refused_with_a_fix(text: object, accept: set[str] | None, expected: str) -> None:
    with pytest.raises(QuantityError) as caught:
        parse(text, accept)
    error = caught.value
    assert str(error) == expected
    assert error.message and error.fix
    assert str(error) == f"{error.message}; {error.fix}"
    assert str(error).isprintable()


def test_unknown_dimension_is_the_callers_mistake() -> None:
    with pytest.raises(ValueError, match="no dimension is named 'lenght'"):
        parse("3 in", {"lenght"})
    with pytest.raises(ValueError, match="no dimension is named"):
        accepted_units("x")


def test_the_exact_number_is_what_was_typed() -> None:
    assert parse("3/16 in").exact == parse("4.7625 mm").exact == Fraction("0.0047625")
    assert parse("1/3 ft").exact == Fraction("0.3048") / 3 and parse("1/3 mm").exact == Fraction(1, 3000)
    assert parse("50 degF").exact == Fraction(10) and parse("100 degF").exact == Fraction(340, 9)
    assert parse("300 K").exact == Fraction("26.85")
    assert parse("45 deg", {"slope"}).exact == 1 and parse("30 deg", {"slope"}).exact == Fraction(
        "0.57735026919"
    )


def test_the_exact_number_of_a_computed_quantity_is_the_shorter_of_its_two_numbers() -> None:
    assert from_si(0.0254 * 3, "length").exact == Fraction("0.0762") == from_si(0.0762, "length", "mm").exact
    assert from_si(0.07, "length").exact == Fraction("0.07"), "2.75590551181 in is longer"
    assert from_si(0.0047625, "length").exact == Fraction("0.0047625"), "0.1875 in is shorter"
    assert from_si(-0.07, "length").exact == Fraction("-0.07")
    assert quantity(1 / 3, "ft").exact == Fraction("0.1016"), "0.333333333333 ft is longer"
    assert quantity(1 / 3, "in").exact == Fraction("0.333333333333") * Fraction("0.0254"), (
        "both have twelve digits"
    )
    assert from_si(0.00012345678, "length").exact == Fraction("0.00012345678"), (
        "zeros before a number are none of its"
    )
    assert quantity(20.0, "in").exact == Fraction("0.508") and quantity(-300.0, "mm").exact == Fraction(
        "-0.3"
    )
    assert quantity(7.0, "degC").exact == 7 and from_si(100.0, "temperature").exact == 100
    assert from_si(0.0001, "length", "mm").exact == Fraction("0.0001")
    assert quantity(45.0, "deg").dimension == "angle"


def test_a_sum_in_the_unit_of_one_of_its_parts() -> None:
    rest = exactly(parse("12 in").exact - parse("50.8 mm").exact, parse("12 in"))
    assert (rest.text, rest.exact, rest.number) == ("10 in", Fraction("0.254"), 10.0)
    assert exactly(parse("1/3 ft").exact, parse("1 ft")).exact == parse("4 in").exact
    assert exactly(parse("50 degF").exact, parse("32 degF")).text == "50 degF"
    assert exactly(parse("30 degC").exact, parse("32 degF")).text == "86 degF"


@pytest.mark.parametrize(
    "text", ["5'-6\" or so", "5 ft 6 in wide", "R-20 nominal", "R-20-30", "1/4:12 or more"]
)
def test_nothing_behind_a_quantity_is_passed_over(text: str) -> None:
    with pytest.raises(QuantityError):
        parse(text)


def test_rise_to_run() -> None:
    found = [parse("3:12"), parse("3:12", {"slope"}), parse("3:12", {"ratio"}), parse("3:11", {"slope"})]
    assert [(one.unit, one.exact) for one in found] == [
        (":12", Fraction(1, 4)), (":12", Fraction(1, 4)), (":1", Fraction(1, 4)), (":1", Fraction(3, 11)),
    ]  # fmt: skip


def test_a_unit_behind_its_number() -> None:
    assert [join_unit("3", unit) for unit in ("in", "", ":12", "°", "°F", "°C")] == [
        "3 in", "3", "3:12", "3°", "3 °F", "3 °C",
    ]  # fmt: skip


def test_a_number_is_read_whole() -> None:
    assert [read_number(one) for one in ("-1 1/2", "+3/4", "7", ".5")] == [
        Fraction(-3, 2), Fraction(3, 4), 7, Fraction(1, 2),
    ]  # fmt: skip
    with pytest.raises(ValueError, match="Invalid literal"):
        read_number("1/2.5")


@pytest.mark.parametrize(
    ("sixteenths", "expected"),
    [
        (0, "0"),
        (1, "1/16"),
        (2, "1/8"),
        (8, "1/2"),
        (15, "15/16"),
        (16, "1"),
        (17, "1 1/16"),
        (-24, "-1 1/2"),
        (-16, "-1"),
    ],
)
def test_fractions_of_an_inch(sixteenths: int, expected: str) -> None:
    assert fraction(sixteenths) == expected


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


BUILT = [
    (0.1875, "in", "3/16 in"), (1.5, "in", "1 1/2 in"), (0.040, "in", "0.04 in"), (-1.5, "in", "-1 1/2 in"),
    (0.25, "in/ft", "1/4 in/ft"), (0.25, ":12", "1/4:12"), (0.25, "ft", "0.25 ft"), (2.5, "mm", "2.5 mm"),
    (1e6 - 0.5, "in", "999999 1/2 in"), (1e6 + 0.5, "in", "1000000.5 in"), (-1e6 - 0.5, "in", "-1000000.5 in"),
    (1 / 3, "in", "0.333333333333 in"), (20.0, "%", "20 %"), (2.0, ":1", "2:1"), (3.0, "", "3"),
]  # fmt: skip


@pytest.mark.parametrize(("number", "unit", "text"), BUILT)
def test_built_text(number: float, unit: str, text: str) -> None:
    made = quantity(number, unit)
    assert (made.text, made.number, made.unit) == (text, number, unit)


def test_built() -> None:
    assert quantity(75, "Pa") == parse("75 Pa")
    assert from_si(0.0254, "length") == parse("1 in")
    assert from_si(0.005, "length", "mm") == parse("5 mm")
    assert from_si(100.0, "temperature").text == "212 degF"
    assert from_si(1 / 3, "length", "m").number == 0.333333333333
    assert from_si(1.0, "slope", "deg").number == 45.0
    for bad in (math.nan, math.inf):
        with pytest.raises(QuantityError, match=f"^`{bad}` is not a finite number; write a finite number$"):
            quantity(bad, "in")
        with pytest.raises(QuantityError, match=f"^`{bad}` is not a finite number; give a finite value$"):
            from_si(bad, "length")
    with pytest.raises(QuantityError, match=r"^`psf` is a pressure; write a length: in, ft, mm, m$"):
        from_si(1.0, "length", "psf")
    with pytest.raises(QuantityError, match=r"^`thing`: unit `thing` is not known"):
        quantity(1.0, "thing")


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
