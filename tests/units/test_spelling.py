"""Spellings that stand on the trade's documents: characters that look alike, words in full, and other symbols."""

from __future__ import annotations

import pytest

from specgen.units.quantity import parse
from specgen.units.spelling import candidates, key, nearest, units_of, words_of

# As it may come out of a PDF, a word processor or a pocket calculator, and as it is typed.
LOOK_ALIKE = [
    ("3 m²", "3 m2"), ("3 m³", "3 m3"), ("3 inH₂O", "3 inH2O"), ("3 W·m⁻¹·K⁻¹", "3 W/(m·K)"),
    ("−3 in", "-3 in"), ("–3 in", "-3 in"), ("1‑1/2 in", "1-1/2 in"), ("3 perm⋅in", "3 perm·in"),
    ("3 perm•in", "3 perm·in"), ("3 perm×in", "3 perm·in"), ("3 perm*in", "3 perm·in"), ("3 μm", "3 µm"),
    ("3 ºF", "3 °F"), ("3 ˚F", "3 °F"), ("3 ∆°F", "3 Δ°F"), ("3″", '3"'), ("3”", '3"'), ("3“", '3"'),
    ("3′", "3'"), ("3’", "3'"), ("3‘", "3'"), ("3⁄16 in", "3/16 in"), ("3∕16 in", "3/16 in"),
    ("1∶48", "1:48"), ("3\u00a0in", "3 in"), ("3\u202fin", "3 in"), ("3\u2009in", "3 in"),
    ("3\u2007in", "3 in"), ("1½ in", "1 1/2 in"), ("1¼ in", "1 1/4 in"), ("¾ in", "3/4 in"),
    ("⅛ in", "1/8 in"), ("⅜ in", "3/8 in"), ("⅝ in", "5/8 in"), ("⅞ in", "7/8 in"), ("⅓ ft", "1/3 ft"),
    ("⅔ ft", "2/3 ft"), ("3 ℃", "3 degC"), ("3 ℉", "3 degF"), ("3 °C", "3 degC"), ("3°", "3 deg"),
    ("3 degrees celsius", "3 degC"), ("3 delta degC", "3 deltaC"), ("3 delta K", "3 deltaK"),
    ("3 (h·ft²·°F) / Btu", "3 h·ft2·F/Btu"), ("3 inches of mercury", "3 inHg"),
    ("3 in. Hg", "3 inHg"), ("3 in w.g.", "3 inH2O"),
    ("3 cubic feet", "3 ft3"), ("3 sq. in.", "3 in2"),
]  # fmt: skip


@pytest.mark.parametrize(("written", "typed"), LOOK_ALIKE)
def test_what_looks_alike_is_read_alike(written: str, typed: str) -> None:
    one, other = parse(written), parse(typed)
    assert (one.exact, one.unit, one.dimension) == (other.exact, other.unit, other.dimension)


WORDS = {
    "in": "in inch inches", "ft": "ft foot feet", "yd": "yd yard yards", "mi": "mi mile miles", "mil": "mil mils thou",
    "mm": "mm millimeter millimeters millimetre millimetres", "cm": "cm centimeter centimeters", "km": "km",
    "m": "m meter meters metre metres", "µm": "um micron microns micrometer micrometers micrometre",
    "s": "s sec second seconds", "min": "min minute minutes", "h": "h hr hrs hour hours",
    "day": "d day days", "week": "week weeks wk", "year": "year years yr yrs", "degF": "degf f fahrenheit",
    "degC": "degc c celsius", "deltaF": "deltaf", "deltaC": "deltac", "K": "K kelvin",
    "deg": "deg degree degrees", "rad": "rad radian radians", "psf": "psf lbf/ft2",
    "psi": "psi lbf/in2 lb/in2", "ksi": "ksi", "Pa": "Pa N/m2", "kPa": "kpa kN/m2", "hPa": "hpa",
    "MPa": "MPa N/mm2", "inH2O": "inH2O", "inHg": "inHg", "cfm": "cfm ft3/min", "cfm/ft2": "ft3/(min·ft2)",
    "gpm": "gpm gal/min", "mph": "mph mi/h mile/h miles/h", "km/h": "kph kmh km/h",
    "knot": "knot knots kt kts",
    "perm": "perm perms gr/(h·ft2·inHg) grain/(h·ft2·inHg) grains/(h·ft2·inHg)",
    "lb": "lb lbs pound pounds", "lbf": "lbf", "lbf/ft": "lbf/ft plf lb/ft", "lbf/in": "lbf/in pli lb/in",
    "lbf·ft/ft": "lbf·ft/ft ft·lbf/ft lb·ft/ft ft·lb/ft", "lb/ft3": "pcf lb/ft3", "oz": "oz ounce ounces",
    "g": "g gram grams", "kg": "kg", "gal": "gal gallon gallons", "L": "L l liter liters litre litres",
    "mL": "ml", "ga": "ga gage gauge", "V": "V volt volts", "ppm/K": "ppm/K µm/(m·K)",
    "Btu/(h·ft2)": "btu/(h·ft2)", "W/(m·K)": "W/mK", "J/(kg·K)": "J/kgK", "kJ/(kg·K)": "kJ/kgK",
}  # fmt: skip


@pytest.mark.parametrize(("unit", "spelling"), [(u, s) for u, every in WORDS.items() for s in every.split()])
def test_words_in_full_and_other_symbols(unit: str, spelling: str) -> None:
    assert parse(f"3 {spelling}").unit == unit


# As it stands in the capitals of a title block or a schedule.
CAPITALS = """
    IN INCHES FT FEET YD MIL MILS THOU MI MM CM KM MICRON SEC MIN HR DAYS WEEKS YEARS F C DELTAF DELTAC KELVIN DEG RAD
    PSF PSI KPA HPA CFM GPM MPH KPH KNOTS PERM LB LBS LBF PLF PLI PCF OZ GR KG GAL L ML BTU GA VOLTS PPM
"""


@pytest.mark.parametrize("word", CAPITALS.split())
def test_capitals_of_what_has_no_prefix_that_they_would_change(word: str) -> None:
    assert key(word) == key(word.lower())


# What a spelling means where the reader asks for a dimension in which it is not the plain one.
@pytest.mark.parametrize(
    ("text", "dimension", "unit"),
    [
        ("3 lb/ft2", "pressure", "psf"),
        ("3 lb", "force", "lbf"),
        ("3 oz", "mass per area", "oz/ft2"),
        ("3 degF", "temperature difference", "deltaF"),
        ("3 degC", "temperature difference", "deltaC"),
        ("3 K", "temperature difference", "K"),
        ("3 %", "slope", "%"),
        ("3 deg", "slope", "deg"),
        ("3:1", "ratio", ":1"),
        ("0.3", "ratio", ""),
    ],
)
def test_a_shared_spelling_means_what_is_asked_for(text: str, dimension: str, unit: str) -> None:
    assert parse(text, {dimension}).unit == unit and parse(text).dimension != dimension


def test_the_case_of_si_symbols_counts() -> None:
    """A thousandth of a pascal is not a million of them."""
    assert candidates("MPa") and not candidates("mPa")
    assert words_of("MPa") == () and words_of("ft") == ("ft", "foot", "feet")


@pytest.mark.parametrize(
    "text", ["W/(m/K)", "L/(s)·m2", "in (min)", "m**2", "Btu[h]", "in?", "3:12 in", "m^", "lb!"]
)
def test_what_no_rule_reads_is_no_unit(text: str) -> None:
    assert candidates(text) == ()


def test_below_the_line_is_all_behind_the_first_slash() -> None:
    assert key("L/s·m2") == key("L/(s·m2)") == key("L/s/m2") == key("L·s-1·m-2") != key("L·m2/s")
    assert key("1/F") == key("F-1") and key("m1") == key("m") and key(": 12") == key(":12")


@pytest.mark.parametrize(
    ("misspelt", "accept", "found"),
    [
        ("inchs", None, "in"),
        ("inchs", {"length"}, "in"),
        ("foots", None, "ft"),
        ("dayz", {"time"}, "day"),
        ("PERMS", None, "perm"),
        ("Psf", {"pressure"}, "psf"),
        ("mpa", {"pressure"}, "MPa"),
        ("perm.inch", {"vapor permeability"}, "perm·in"),
        ("furlong", None, None),
        ("psff", {"length"}, None),
        ("", {"ratio"}, None),
        ("x:1", {"ratio"}, None),
    ],
)
def test_the_nearest_unit_of_what_is_accepted(
    misspelt: str, accept: set[str] | None, found: str | None
) -> None:
    assert nearest(misspelt, frozenset(accept) if accept is not None else None) == found


def test_the_units_of_a_dimension_stand_with_inch_pound_first() -> None:
    assert [unit.symbol for unit in units_of("vapor permeance")] == ["perm", "ng/(Pa·s·m2)", "kg/(Pa·s·m2)"]
    assert [unit.system for unit in units_of("length")] == ["inch-pound"] * 5 + ["SI"] * 5
    with pytest.raises(
        ValueError, match="no dimension is named 'lengths'; the names are length, area, volume"
    ):
        units_of("lengths")


@pytest.mark.parametrize(
    ("unit", "many"),
    [
        ("mil", "mils"),
        ("day", "days"),
        ("week", "weeks"),
        ("year", "years"),
        ("perm", "perms"),
        ("knot", "knots"),
    ],
)
def test_a_unit_that_is_a_word_has_a_plural(unit: str, many: str) -> None:
    assert [one.plural for one in candidates(unit)] == [many]
