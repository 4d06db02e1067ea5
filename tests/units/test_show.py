"""Printing: the trade's typography, and limits that never come out weaker."""

from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from specgen.units.quantity import Quantity, from_si, parse, quantity
from specgen.units.show import (
    Rounding,
    feet_and_inches,
    printed,
    read_back,
    show,
    show_apart,
    show_beside,
    show_limit,
)
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


IP, SI, BOTH = "inch-pound", "SI", "both"
NEAREST: Rounding = "nearest"
UP: Rounding = "up"
DOWN: Rounding = "down"
# Both sides of each step from one unit to the next, and of each rounding; computed by show; each row was read.
CASES += [
    ("39.395 in", None, SI, NEAREST, "1000 mm"), ("3.2069 mm", None, IP, NEAREST, "1/8 in"),
    ('1.2192 m', None, IP, NEAREST, '4 ft'), ('1.21 m', None, IP, NEAREST, '47 5/8 in'),
    ('1.21 m', None, IP, UP, '47 11/16 in'), ('-1.5 m', None, IP, NEAREST, '-4 ft 11 in'),
    ('-1.5 m', None, IP, DOWN, '-5 ft'), ('0 mm', None, IP, NEAREST, '0 in'),
    ('10 ft', None, SI, NEAREST, '3.05 m'), ('10 ft', None, SI, DOWN, '3.04 m'),
    ('9.8 ft', None, SI, NEAREST, '2990 mm'), ('9.8 ft', None, SI, DOWN, '2980 mm'),
    ('0.0039 in', None, SI, NEAREST, '99 µm'), ('0.0039 in', None, SI, UP, '100 µm'),
    ('0.004 in', None, SI, NEAREST, '0.1 mm'), ('0.004 in', None, SI, UP, '0.102 mm'),
    ('0.003 in', None, SI, NEAREST, '76 µm'), ('0.003 in', None, SI, UP, '77 µm'),
    ('-0.003 in', None, SI, NEAREST, '-76 µm'), ('-0.003 in', None, SI, DOWN, '-77 µm'),
    ('0 in', None, SI, NEAREST, '0 mm'), ('0.0929 m2', None, IP, NEAREST, '144 in²'),
    ('0.0929 m2', None, IP, DOWN, '143 in²'), ('0.09290304 m2', None, IP, NEAREST, '1 ft²'),
    ('1 m2', None, IP, NEAREST, '10.8 ft²'), ('1 m2', None, IP, DOWN, '10.7 ft²'),
    ('50 mm2', None, IP, NEAREST, '0.078 in²'), ('50 mm2', None, IP, DOWN, '0.077 in²'),
    ('15.5 in2', None, SI, NEAREST, '10000 mm²'), ('15.5 in2', None, SI, DOWN, '9900 mm²'),
    ('15.4 in2', None, SI, NEAREST, '9900 mm²'), ('15.4 in2', None, SI, UP, '10000 mm²'),
    ('1 ft2', None, SI, NEAREST, '0.093 m²'), ('1 ft2', None, SI, DOWN, '0.092 m²'),
    ('1 ft3', None, SI, NEAREST, '28 L'), ('1 ft3', None, SI, UP, '28.4 L'),
    ('40 ft3', None, SI, NEAREST, '1.13 m³'), ('40 ft3', None, SI, UP, '1.14 m³'),
    ('0.5 L', None, IP, NEAREST, '0.018 ft³'), ('0.5 L', None, IP, DOWN, '0.0176 ft³'),
    ('2 m3', None, IP, NEAREST, '71 ft³'), ('2 m3', None, IP, DOWN, '70 ft³'),
    ('6894 Pa', None, IP, NEAREST, '1 psi'), ('6894 Pa', None, IP, DOWN, '0.99 psi'),
    ('6893 Pa', None, IP, NEAREST, '144 psf'), ('6893 Pa', None, IP, DOWN, '143 psf'),
    ('75 Pa', None, IP, NEAREST, '1.57 psf'), ('75 Pa', None, IP, DOWN, '1.56 psf'),
    ('100 MPa', None, IP, NEAREST, '14500 psi'), ('100 MPa', None, IP, UP, '14600 psi'),
    ('145 psi', None, SI, NEAREST, '1000 kPa'), ('145 psi', None, SI, DOWN, '990 kPa'),
    ('146 psi', None, SI, NEAREST, '1 MPa'), ('146 psi', None, SI, UP, '1.01 MPa'),
    ('20.8 psf', None, SI, NEAREST, '1000 Pa'), ('20.8 psf', None, SI, DOWN, '990 Pa'),
    ('20.9 psf', None, SI, NEAREST, '1 kPa'), ('20.9 psf', None, SI, UP, '1.01 kPa'),
    ('1 psf', None, SI, NEAREST, '48 Pa'), ('1 psf', None, SI, DOWN, '47 Pa'),
    ('0.4 kg', None, IP, NEAREST, '14 oz'), ('0.4 kg', None, IP, UP, '14.2 oz'),
    ('0.46 kg', None, IP, NEAREST, '1 lb'), ('0.46 kg', None, IP, UP, '1.02 lb'),
    ('2 lb', {'mass'}, SI, NEAREST, '910 g'), ('2 lb', {'mass'}, SI, DOWN, '900 g'),
    ('2.3 lb', {'mass'}, SI, NEAREST, '1.04 kg'), ('2.3 lb', {'mass'}, SI, UP, '1.05 kg'),
    ('224 lbf', None, SI, NEAREST, '1000 N'), ('224 lbf', None, SI, DOWN, '990 N'),
    ('225 lbf', None, SI, NEAREST, '1 kN'), ('225 lbf', None, SI, UP, '1.01 kN'),
    ('1 kN', None, IP, NEAREST, '225 lbf'), ('1 kN', None, IP, DOWN, '224 lbf'),
    ('68 lbf/ft', None, SI, NEAREST, '990 N/m'), ('68 lbf/ft', None, SI, UP, '1000 N/m'),
    ('69 lbf/ft', None, SI, NEAREST, '1 kN/m'), ('69 lbf/ft', None, SI, UP, '1.01 kN/m'),
    ('4.8 kg/m2', None, IP, NEAREST, '16 oz/ft²'), ('4.8 kg/m2', None, IP, DOWN, '15.7 oz/ft²'),
    ('4.9 kg/m2', None, IP, NEAREST, '1 lb/ft²'), ('4.9 kg/m2', None, IP, UP, '1.01 lb/ft²'),
    ('0.2 lb/ft2', {'mass per area'}, SI, NEAREST, '980 g/m²'),
    ('0.2 lb/ft2', {'mass per area'}, SI, DOWN, '970 g/m²'),
    ('0.3 lb/ft2', {'mass per area'}, SI, NEAREST, '1.46 kg/m²'),
    ('0.3 lb/ft2', {'mass per area'}, SI, UP, '1.47 kg/m²'), ('500 µm', None, IP, NEAREST, '20 mils'),
    ('500 µm', None, IP, DOWN, '19.6 mils'), ('20 lbf/in', None, SI, NEAREST, '3.5 N/mm'),
    ('20 lbf/in', None, SI, UP, '3.51 N/mm'), ('5 N/mm', None, IP, NEAREST, '29 lbf/in'),
    ('5 N/mm', None, IP, DOWN, '28 lbf/in'), ('100 m3/h', None, IP, NEAREST, '59 cfm'),
    ('100 m3/h', None, IP, DOWN, '58 cfm'), ('0.5 m3/s', None, IP, NEAREST, '1060 cfm'),
    ('0.5 m3/s', None, IP, DOWN, '1050 cfm'), ('50 g/m2', None, IP, NEAREST, '72 gr/ft²'),
    ('50 g/m2', None, IP, DOWN, '71 gr/ft²'), ('10 oz/yd2', None, SI, NEAREST, '340 g/m²'),
    ('10 oz/yd2', None, SI, DOWN, '339 g/m²'), ('2 lb/yd2', None, SI, NEAREST, '1.1 kg/m²'),
    ('2 lb/yd2', None, SI, DOWN, '1.08 kg/m²'), ('50 ksi', None, SI, NEAREST, '340 MPa'),
    ('50 ksi', None, SI, UP, '350 MPa'), ('23.4 degC', None, IP, NEAREST, '74 °F'),
    ('23.4 degC', None, IP, UP, '75 °F'), ('50.5 degF', None, SI, NEAREST, '10 °C'),
    ('50.5 degF', None, SI, UP, '11 °C'), ('300 K', None, IP, NEAREST, '80 °F'), ('300 K', None, IP, UP, '81 °F'),
    ('9 K', {'temperature difference'}, IP, NEAREST, '16 °F'),
    ('9 K', {'temperature difference'}, IP, UP, '16.2 °F'), ('9 deltaF', None, SI, NEAREST, '5 K'),
    ('9.5 deltaC', None, IP, NEAREST, '17 °F'), ('9.5 deltaC', None, IP, UP, '17.1 °F'),
    ('100 degC', None, BOTH, NEAREST, '212 °F (100 °C)'), ('30 deg', {'slope'}, IP, NEAREST, '30°'),
    ('2 %', {'slope'}, IP, NEAREST, '0.24 in/ft'), ('1/4 in/ft', None, SI, NEAREST, '2 %'),
    ('1/4 in/ft', None, SI, UP, '2.1 %'), ('3 %', {'slope'}, IP, NEAREST, '0.36 in/ft'),
    ('50 %', {'ratio'}, SI, NEAREST, '50 %'), ('0.03 kg/(m2·s0.5)', None, SI, NEAREST, '0.03 kg/(m²·√s)'),
    ('1.8 kg/(m2·h0.5)', None, SI, NEAREST, '1.8 kg/(m²·√h)'), ('2 inH2O', None, IP, NEAREST, '2 in H₂O'),
    ('2 inHg', None, IP, NEAREST, '2 in Hg'), ('2 inH2O', None, SI, NEAREST, '500 Pa'),
    ('2 inH2O', None, SI, DOWN, '490 Pa'), ('1000 mm', None, SI, NEAREST, '1000 mm'),
    ('40 in', None, SI, NEAREST, '1020 mm'), ('40 in', None, SI, DOWN, '1010 mm'),
    ('39 in', None, SI, NEAREST, '991 mm'), ('39 in', None, SI, DOWN, '990 mm'),
    ('41.3 in', None, SI, NEAREST, '1050 mm'), ('41.3 in', None, SI, DOWN, '1040 mm'),
    ('41.33 in', None, SI, NEAREST, '1050 mm'), ('41.33 in', None, SI, DOWN, '1040 mm'),
    ('3.2 mm', None, IP, NEAREST, '1/8 in'), ('3.2 mm', None, IP, UP, '0.126 in'),
    ('3.1 mm', None, IP, NEAREST, '0.12 in'), ('3.1 mm', None, IP, UP, '0.123 in'),
    ('3.175 mm', None, IP, NEAREST, '1/8 in'), ('25 mm', None, IP, NEAREST, '0.98 in'),
    ('25 mm', None, IP, UP, '0.99 in'), ('26 mm', None, IP, NEAREST, '1.02 in'), ('26 mm', None, IP, UP, '1.03 in'),
    ('-25 mm', None, IP, NEAREST, '-0.98 in'), ('-25 mm', None, IP, DOWN, '-0.99 in'),
    ('1.3 m', None, IP, NEAREST, '4 ft 3 in'), ('1.3 m', None, IP, UP, '4.3 ft'),
    ('1.25 m', None, IP, NEAREST, '4 ft 1 in'), ('1.25 m', None, IP, UP, '4.11 ft'),
    ('3.6 m', None, IP, NEAREST, '11 ft 10 in'), ('3.6 m', None, IP, DOWN, '11 ft 9 in'),
    ('-3.7 m', None, IP, NEAREST, '-12 ft 2 in'), ('-3.7 m', None, IP, UP, '-12 ft 1 in'),
    ('12.19 m', None, IP, NEAREST, '40 ft'), ('12.19 m', None, IP, DOWN, '39 ft 11 in'),
    ('1234567 mm', None, SI, NEAREST, '1234570 mm'), ('1234567 mm', None, SI, DOWN, '1234560 mm'),
    ('0.00001234 perm', None, IP, NEAREST, '1.234 × 10⁻⁵ perm'),
    ('0.0000123456 perm', None, IP, NEAREST, '1.23456 × 10⁻⁵ perm'), ('99999 ft2', None, IP, NEAREST, '99999 ft²'),
    ('12345678 ft2', None, IP, NEAREST, '1.23 × 10⁷ ft²'), ('12345678 ft2', None, IP, UP, '1.24 × 10⁷ ft²'),
    ('0.0001 perm', None, IP, NEAREST, '0.0001 perm'), ('9999999 Pa', None, SI, NEAREST, '10 MPa'),
    ('9999999 Pa', None, SI, DOWN, '9900000 Pa'), ('10000000 Pa', None, SI, NEAREST, '10 MPa'),
    ('15900000 Pa', None, SI, UP, '15.9 MPa'),
    ('0.33333333 in', None, IP, NEAREST, '0.33 in'), ('0.33333333 in', None, IP, UP, '0.334 in'),
    ('0.333333 in', None, IP, NEAREST, '0.333333 in'), ('1.0000000 in', None, IP, NEAREST, '1 in'),
    ('0.0400000 in', None, IP, NEAREST, '0.0400000 in'), ('0.00000 in', None, IP, NEAREST, '0.00000 in'),
    ('1e3 mm', None, SI, NEAREST, '1000 mm'),
    ('1.5e-7 mm', None, SI, NEAREST, '1.5 × 10⁻⁷ mm'), ('+3/16 in', None, IP, NEAREST, '3/16 in'),
    ('3 / 16 in', None, IP, NEAREST, '3/16 in'), ('1-1/2 in', None, IP, NEAREST, '1 1/2 in'),
    ('-1-1/2 in', None, IP, NEAREST, '-1 1/2 in'), ('-1 1/2 in', None, IP, NEAREST, '-1 1/2 in'),
    ('+2 in', None, IP, NEAREST, '2 in'), ('R-20', None, IP, NEAREST, 'R-20'),
    ('R 3.5', None, IP, NEAREST, 'R-3.5'), ('R20', None, SI, NEAREST, '3.5 m²·K/W'),
    ('R20', None, SI, UP, '3.53 m²·K/W'), ('20 h·ft2·F/Btu', None, IP, NEAREST, 'R-20'),
    ('-20 h·ft2·F/Btu', None, IP, NEAREST, '-20 h·ft²·°F/Btu'),
    ('1/2 h·ft2·F/Btu', None, IP, NEAREST, '1/2 h·ft²·°F/Btu'), ('1/4:12', None, IP, NEAREST, '1/4:12'),
    ('1 : 48', None, SI, NEAREST, '1:48'), ('5\'-6"', None, IP, NEAREST, '5 ft 6 in'),
    ('-5\' 6 1/2"', None, IP, NEAREST, '-5 ft 6 1/2 in'), ('+5\'-6-1/2"', None, IP, NEAREST, '5 ft 6 1/2 in'),
    ('5 ft 6.25 in', None, SI, NEAREST, '1680 mm'), ('5 ft 6.25 in', None, SI, UP, '1690 mm'),
    ('1 perm', None, IP, NEAREST, '1 perm'), ('1.5 perm', None, IP, NEAREST, '1.5 perms'),
    ('-2 perm', None, IP, NEAREST, '-2 perms'), ('0.5 perm', None, IP, NEAREST, '0.5 perm'),
    ('1 day', None, IP, NEAREST, '1 day'), ('2 day', None, SI, NEAREST, '2 days'),
    ('3 ga', None, SI, NEAREST, '3 ga'), ('20 mil', None, IP, NEAREST, '20 mils'),
    ('1 mil', None, IP, NEAREST, '1 mil'),
    ('0.004 cfm/ft2 @ 1.57 psf', None, SI, NEAREST, '0.02 L/(s·m²) at 1.57 psf'),
    ('0.004 cfm/ft2 @ 1.57 psf', None, SI, UP, '0.0204 L/(s·m²) at 1.57 psf'),
    ('10 perm at 73 degF', None, BOTH, NEAREST, '10 perms (570 ng/(Pa·s·m²)) at 73 °F'),
    ('10 perm at 73 degF', None, BOTH, UP, '10 perms (580 ng/(Pa·s·m²)) at 73 °F'),
    ('5 ft2', None, SI, NEAREST, '0.46 m²'), ('5 ft2', None, SI, UP, '0.47 m²'),
    ('3 in2', None, IP, NEAREST, '3 in²'), ('3 ft/s', None, SI, NEAREST, '0.91 m/s'),
    ('3 ft/s', None, SI, UP, '0.92 m/s'), ('60 mph', None, SI, NEAREST, '27 m/s'),
    ('60 mph', None, SI, DOWN, '26.8 m/s'), ('5 gpm', None, SI, NEAREST, '0.32 L/s'),
    ('5 gpm', None, SI, DOWN, '0.31 L/s'), ('3 in/h', None, SI, NEAREST, '76 mm/h'),
    ('3 in/h', None, SI, UP, '77 mm/h'), ('24 h', None, IP, NEAREST, '24 h'),
    ('0.2 Btu·in/(h·ft2·F)', None, SI, NEAREST, '0.029 W/(m·K)'),
    ('0.2 Btu·in/(h·ft2·F)', None, SI, DOWN, '0.0288 W/(m·K)'),
    ('1 W/(m·K)', None, IP, NEAREST, '6.9 Btu·in/(h·ft²·°F)'), ('1 W/(m·K)', None, IP, UP, '7 Btu·in/(h·ft²·°F)'),
    ('2e-6 in/(in·F)', None, SI, NEAREST, '3.6 × 10⁻⁶ 1/K'),
    ('22 lbf·ft/ft', None, SI, NEAREST, '98 N·m/m'), ('23 lbf·ft/ft', None, SI, NEAREST, '0.102 kN·m/m'),
    ('0.2 kg/m2', None, IP, NEAREST, '0.66 oz/ft²'), ('40 oz/yd2', None, SI, NEAREST, '1360 g/m²'),
    ('0.2 lb/yd2', None, SI, NEAREST, '0.11 kg/m²'), ('0.1 ksi', None, SI, NEAREST, '0.69 MPa'),
    ('332.3 ft', None, SI, NEAREST, '101.3 m'), ('283.1234567 K', None, SI, NEAREST, '283 K'),
    ('71.3 K', {'temperature difference'}, IP, NEAREST, '128 °F'), ('231.1 deltaF', None, SI, NEAREST, '128 K'),
    ('128.3456789 deltaC', None, SI, NEAREST, '128 °C'), ('1.2345678 deltaC', None, SI, NEAREST, '1.23 °C'),
    ('12.24 in/ft', None, SI, NEAREST, '102 %'), ('0 psf', None, SI, NEAREST, '0 Pa'),
    ('0.5 deltaF', None, SI, NEAREST, '0.28 K'),
]  # fmt: skip


@pytest.mark.parametrize(("text", "accept", "system", "rounding", "printed"), CASES)
def test_printed(text: str, accept: set[str] | None, system: str, rounding: Rounding, printed: str) -> None:
    assert show(parse(text, accept), system, rounding) == printed


def test_built_quantities() -> None:
    assert show(quantity(0.1875, "in")) == "3/16 in"
    assert show(from_si(0.005, "length")) == "0.2 in"
    assert show(from_si(0.005, "length"), "both", "down") == "0.196 in (5 mm)"
    assert show(from_si(1 / 3, "ratio", "%"), "SI", "up") == "33.4 %"
    assert (
        show(from_si(1e6, "pressure"), "SI") == "1 MPa" and show(from_si(1e3, "line load"), "SI") == "1 kN/m"
    )
    assert show(from_si(100.0, "moment per length"), "SI") == "0.1 kN·m/m"
    assert feet_and_inches(0.1) == feet_and_inches(0.1, 8)


def test_bad_arguments() -> None:
    with pytest.raises(ValueError, match=r"^system 'metric' is not inch-pound, SI or both$"):
        show(parse("3 in"), "metric")
    with pytest.raises(ValueError, match=r"^rounding 'sideways' is not nearest, down, up or close$"):
        show(parse("3 in"), "SI", "sideways")  # type: ignore[arg-type]


FOOT = replace(parse("12 in"), nominal=(parse("300 mm"),))


@pytest.mark.parametrize(
    ("quantity", "system", "rounding", "printed"),
    [
        (FOOT, SI, UP, "300 mm"),
        (FOOT, IP, UP, "12 in"),
        (FOOT, BOTH, UP, "12 in (300 mm)"),
        (replace(parse("300 mm"), nominal=(parse("12 in"),)), BOTH, DOWN, "12 in (300 mm)"),
        (replace(parse("12 in"), nominal=(parse("1 ft"), parse("300 mm"))), SI, UP, "300 mm"),
        (replace(parse("22 ga"), nominal=(parse("0.03 in"),)), IP, UP, "22 ga"),
        (replace(FOOT, condition=parse("1.57 psf")), SI, UP, "300 mm at 1.57 psf"),
    ],
)
def test_nominal_values(quantity: Quantity, system: str, rounding: Rounding, printed: str) -> None:
    assert show(quantity, system, rounding) == printed


@pytest.mark.parametrize(
    ("limit", "comparison", "system", "printed"),
    [
        (parse("8 in"), "at least", IP, "8 in"),
        (parse("8 in"), "at least", SI, "204 mm (8 in)"),
        (parse("8 in"), "at most", SI, "203 mm (8 in)"),
        (parse("8 in"), "is", SI, "203 mm"),
        (parse("8 in"), "at least", BOTH, "8 in (204 mm)"),
        (parse("8.1234567 in"), "at least", IP, "8 1/8 in"),
        (parse("0.33333333 in"), "at least", IP, "0.334 in"),
        (parse("33.3333333 %"), "at least", SI, "33.4 %"),
        (parse("8.1234567 in"), "at most", SI, "206 mm (8 1/8 in)"),
        (FOOT, "at least", SI, "300 mm"),
        (parse("5 in"), "at least", SI, "127 mm"),
        (parse("22 ga"), "at most", SI, "22 ga"),
        (parse("0.004 cfm/ft2 at 75 Pa"), "at most", SI, "0.02 L/(s·m²) (0.004 cfm/ft²) at 75 Pa"),
        (parse("0.004 cfm/ft2 at 75 Pa"), "at most", IP, "0.004 cfm/ft² at 75 Pa"),
        (replace(parse("12 in"), nominal=(parse("305 mm"),)), "at most", SI, "305 mm"),
        (replace(parse("12 in"), nominal=(parse("310 mm"),)), "at least", SI, "310 mm (12 in)"),
    ],
)
def test_a_limit_is_printed_with_what_was_set_where_the_printed_number_is_stricter(
    limit: Quantity, comparison: str, system: str, printed: str
) -> None:
    assert show_limit(limit, comparison, system) == printed


HAND = replace(parse("4 in"), nominal=(parse("100 mm"),))


@pytest.mark.parametrize(
    ("value", "comparison", "limit", "system", "printed"),
    [
        ("100 mm", "at least", HAND, SI, ("100 mm", "100 mm")),
        ("99 mm", "at least", HAND, SI, ("99 mm", "100 mm")),
        ("4 in", "at least", HAND, SI, ("102 mm", "100 mm")),
        ("3 15/16 in", "at least", HAND, SI, ("3 15/16 in", "100 mm (4 in)")),
        ("100 mm", "at least", HAND, IP, ("100 mm", "4 in (100 mm)")),
        ("100 mm", "at least", HAND, BOTH, ("100 mm", "4 in (100 mm)")),
        ("5 in", "at least", HAND, BOTH, ("5 in", "4 in (100 mm)")),
        ("203.2 mm", "at least", parse("8 in"), SI, ("203.2 mm", "204 mm (8 in)")),
        ("203 mm", "at most", parse("8 in"), SI, ("203 mm", "203 mm (8 in)")),
        ("8.01 in", "at most", parse("8 in"), SI, ("203.5 mm", "203 mm (8 in)")),
        ("7.999 in", "at least", parse("8 in"), IP, ("7.999 in", "8 in")),
        ("203.1 mm", "at least", parse("8 in"), IP, ("7.996 in", "8 in")),
        ("22 ga", "at least", parse("24 ga"), SI, ("22 ga", "24 ga")),
        ("8.1 in", "is", parse("8 in"), SI, ("206 mm", "203 mm")),
        ("203 mm", "is", parse("8 in"), SI, ("203 mm", "203 mm (8 in)")),
        ("1:52.4", "at least", parse("1.9 %", {"slope"}), IP, ("1:52.4", "0.23 in/ft (1.9 %)")),
    ],
)
def test_a_value_beside_its_limit(
    value: str, comparison: str, limit: Quantity, system: str, printed: tuple[str, str]
) -> None:
    assert show_beside(parse(value), comparison, limit, system) == printed


@pytest.mark.parametrize(
    ("value", "system", "limit", "printed"),
    [
        ("800 ng/(Pa·s·m2)", IP, "14 perm", "13.98 perms"),
        ("801 ng/(Pa·s·m2)", IP, "12 perm", "14 perms"),
        ("801 ng/(Pa·s·m2)", IP, "14 perm", "14.0002 perms"),
        ("203.2 mm", IP, "8 in", "8 in"),
        ("203.21 mm", IP, "8 in", "8.0004 in"),
        ("203.19 mm", IP, "8 in", "7.9996 in"),
        ("-203.21 mm", IP, "-8 in", "-8.0004 in"),
        ("8 in", SI, "203.2 mm", "203 mm"),
        ("0.1000001 perm", IP, "0.1 perm", "0.1000001 perm"),
    ],
)
def test_a_value_stays_on_its_side_of_a_limit(value: str, system: str, limit: str, printed: str) -> None:
    assert show_apart(parse(value), system, parse(limit)) == printed


@pytest.mark.parametrize(
    ("meters", "parts", "printed"),
    [
        (2.286, 8, "7 ft 6 in"),
        (0.1, 8, "3 7/8 in"),
        (0.1, 16, "3 15/16 in"),
        (0.1, 2, "4 in"),
        (0.0, 8, "0 in"),
        (0.3048, 8, "1 ft"),
        (0.3047, 8, "1 ft"),
        (0.303, 8, "11 7/8 in"),
        (1.0, 16, "3 ft 3 3/8 in"),
        (3.66, 4, "12 ft"),
        (3.67, 4, "12 ft 1/2 in"),
    ],
)
def test_a_length_laid_out(meters: float, parts: int, printed: str) -> None:
    assert feet_and_inches(meters, parts) == printed


def test_what_was_written_keeps_its_digits_and_a_condition_that_was_computed_does_not() -> None:
    assert show(parse("R-3.50")) == show(parse("R 3.50")) == show(parse("R3.50")) == "R-3.50"
    assert show(parse("1 perm at 75.123456789 Pa")) == "1 perm at 75 Pa"


def test_units_as_printed() -> None:
    rows = {unit.symbol: unit for unit in UNITS}
    assert printed(rows["perm"]) == "perm" and printed(rows["perm"], plural=True) == "perms"
    assert printed(rows["in"], plural=True) == "in"
    symbols = ("h·ft2·F/Btu", "in/(in·F)", "g/(m2·day)", "ft3", "inH2O", "inHg", "m3/(h·m2)")
    assert [printed(rows[one]) for one in symbols] == [
        "h·ft²·°F/Btu", "in/(in·°F)", "g/(m²·day)", "ft³", "in H₂O", "in Hg", "m³/(h·m²)",
    ]  # fmt: skip
    degrees = [printed(rows[one]) for one in ("degF", "degC", "deltaF", "deltaC", "deg", "kg/(m2·h0.5)")]
    assert degrees == ["°F", "°C", "°F", "°C", "°", "kg/(m²·√h)"]


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
