"""Printing: the trade's typography, and limits that never come out weaker."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from specgen.units.quantity import from_si, parse, quantity
from specgen.units.show import Rounding, read_back, show
from specgen.units.table import UNITS, Unit

CASES = [
    ("3/16 in", None, "both", "nearest", "3/16 in (5 mm)"),
    ("3/16 in", None, "both", "up", "3/16 in (5 mm)"),
    ("3/16 in", None, "both", "down", "3/16 in (4.7 mm)"),
    ('1-1/2"', None, "inch-pound", "nearest", "1 1/2 in"),
    ("5'-6\"", None, "inch-pound", "nearest", "5 ft 6 in"),
    ("0.040 in.", None, "both", "up", "0.040 in (1.02 mm)"),
    (".04 inches", None, "inch-pound", "nearest", "0.04 in"),
    ("0.019 in", None, "SI", "nearest", "0.5 mm"),
    ("8 in", None, "SI", "up", "204 mm"),
    ("10 ft", None, "SI", "nearest", "3.05 m"),
    ("5 mm", None, "inch-pound", "up", "0.2 in"),
    ("100 mm", None, "inch-pound", "up", "3 15/16 in"),
    ("3.4 lb/yd2", None, "both", "up", "3.4 lb/yd² (1.85 kg/m²)"),
    ("33 ksi", None, "both", "nearest", "33 ksi (230 MPa)"),
    ("3 m", None, "inch-pound", "nearest", "9 ft 10 in"),
    ("1.6 mm", None, "inch-pound", "nearest", "0.063 in"),
    ("240 F", None, "inch-pound", "nearest", "240 °F"),
    ("240 F", None, "both", "up", "240 °F (116 °C)"),
    ("240 F", None, "SI", "down", "115 °C"),
    ("-40 degC", None, "both", "nearest", "-40 °F (-40 °C)"),
    ("100 F", {"temperature difference"}, "both", "nearest", "100 °F (56 K)"),
    ("10 perm", None, "both", "nearest", "10 perms (570 ng/(Pa·s·m²))"),
    ("0.1 perm", None, "inch-pound", "nearest", "0.1 perm"),
    ("16 psi", None, "both", "up", "16 psi (111 kPa)"),
    ("75 Pa", None, "inch-pound", "nearest", "1.57 psf"),
    ("0.004 cfm/ft2 @ 75 Pa", None, "inch-pound", "down", "0.004 cfm/ft² at 75 Pa"),
    ("0.04 cfm/ft2 @ 75 Pa", None, "both", "nearest", "0.04 cfm/ft² (0.2 L/(s·m²)) at 75 Pa"),
    ("R 20", None, "both", "nearest", "R-20 (3.5 m²·K/W)"),
    ("3.5 m2K/W", None, "inch-pound", "nearest", "R-20"),
    ("1e-6 h·ft2·F/Btu", None, "inch-pound", "nearest", "1 × 10⁻⁶ h·ft²·°F/Btu"),
    ("1/2 h·ft2·F/Btu", None, "inch-pound", "nearest", "1/2 h·ft²·°F/Btu"),
    ("1/4 in/ft", None, "both", "nearest", "1/4 in/ft (2 %)"),
    ("1/4 : 12", None, "both", "nearest", "1/4:12"),
    ("1.2 deg", None, "SI", "nearest", "1.2°"),
    ("40 mil", None, "SI", "up", "1.02 mm"),
    ("500 µm", None, "inch-pound", "nearest", "20 mils"),
    ("5 pli", None, "both", "nearest", "5 lbf/in (0.88 N/mm)"),
    ("22e-6 1/K", None, "both", "nearest", "1.2 × 10⁻⁵ in/(in·°F) (2.2 × 10⁻⁵ 1/K)"),
    ("16 oz", {"mass per area"}, "inch-pound", "nearest", "16 oz/ft²"),
    ("0.03 kg/m2s½", None, "both", "nearest", "0.03 kg/(m²·√s)"),
    ("1 day", None, "SI", "nearest", "1 day"),
    ("90 d", None, "both", "nearest", "90 days"),
    ("22 gage", None, "both", "nearest", "22 ga"),
    ("0 in", None, "both", "nearest", "0 in (0 mm)"),
    ("-1-1/2 in", None, "inch-pound", "nearest", "-1 1/2 in"),
    ("42 in", None, "SI", "down", "1060 mm"),
]


@pytest.mark.parametrize(("text", "accept", "system", "rounding", "printed"), CASES)
def test_printed(text: str, accept: set[str] | None, system: str, rounding: Rounding, printed: str) -> None:
    assert show(parse(text, accept), system, rounding) == printed


def test_built_quantities() -> None:
    assert show(quantity(0.1875, "in")) == "3/16 in"
    assert show(from_si(0.005, "length")) == "0.2 in"
    assert show(from_si(0.005, "length"), "both", "down") == "0.196 in (5 mm)"
    assert show(from_si(1 / 3, "ratio", "%"), "SI", "up") == "33.4 %"


def test_bad_arguments() -> None:
    with pytest.raises(ValueError, match="system 'metric'"):
        show(parse("3 in"), "metric")
    with pytest.raises(ValueError, match="rounding 'floor'"):
        show(parse("3 in"), "SI", "floor")  # type: ignore[arg-type]


def read_value(text: str, dimension: str) -> float:
    """A printed quantity read again, in the SI base of its dimension."""
    return read_back(text, {dimension}).value


@pytest.mark.parametrize("unit", [u for u in UNITS if u.symbol], ids=lambda u: f"{u.dimension}:{u.symbol}")
def test_every_printed_unit_can_be_read_again(unit: Unit) -> None:
    q = parse(f"3{unit.symbol}" if unit.symbol.startswith(":") else f"3 {unit.symbol}", {unit.dimension})
    own = "SI" if unit.system == "SI" else "inch-pound"
    assert parse(show(q, own), {unit.dimension}).value == q.value


@given(
    st.sampled_from([u for u in UNITS if u.symbol and not u.tangent]),
    st.one_of(st.floats(1e-6, 1e6), st.integers(1, 2000).map(lambda n: n / 16), st.floats(0.01, 100)),
    st.sampled_from(("inch-pound", "SI")),
)
def test_a_limit_is_never_weakened(unit: Unit, number: float, system: str) -> None:
    number = float(f"{number:.5g}")
    text = f"{number}{unit.symbol}" if unit.symbol.startswith(":") else f"{number} {unit.symbol}"
    q = parse(text, {unit.dimension})
    # Within a degree of absolute zero, rounding down prints a temperature that does not exist.
    assume(unit.dimension != "temperature" or q.value > -272)
    at_least = read_value(show(q, system, "up"), unit.dimension)
    at_most = read_value(show(q, system, "down"), unit.dimension)
    near = read_value(show(q, system), unit.dimension)
    slack = 1e-12 * abs(q.value) + 1e-12 * (unit.dimension == "temperature")
    assert at_most - slack <= q.value <= at_least + slack
    assert at_most - slack <= near <= at_least + slack or abs(near - q.value) <= 0.05 * abs(q.value)
    if unit.dimension == "temperature":
        assert at_least - at_most <= 1.0001
    else:  # and a printed limit is not needlessly harsh
        assert at_least - at_most <= 0.1 * abs(q.value)


@given(st.floats(1e-4, 100), st.sampled_from(("up", "down")))
def test_computed_lengths_are_never_weakened_in_their_own_unit(value: float, rounding: Rounding) -> None:
    printed = read_value(show(from_si(value, "length"), "inch-pound", rounding), "length")
    assume(printed != value)
    # from_si keeps twelve digits of the number.
    assert (printed >= value * (1 - 1e-11)) if rounding == "up" else (printed <= value * (1 + 1e-11))


@given(st.floats(-200, 500))
def test_temperatures_round_towards_the_asked_side(celsius: float) -> None:
    q = from_si(celsius, "temperature", "degC")
    down, up = (read_value(show(q, "inch-pound", r), "temperature") for r in ("down", "up"))
    assert down - 1e-9 <= celsius <= up + 1e-9


@pytest.mark.parametrize("number", [9.9371e-5, 3.2e-9, 4.56e8, 0.5, 14.0])
def test_a_printed_number_is_read_back_whatever_its_size(number: float) -> None:
    shown = show(quantity(number, "perm"), "inch-pound", "down")
    back = read_back(shown, {"vapor permeance"})
    assert back.number == pytest.approx(number, rel=0.02) and back.number <= number * (1 + 1e-9)
    assert show(back, "inch-pound") == shown
