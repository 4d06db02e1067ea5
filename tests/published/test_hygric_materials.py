"""Water that materials hold, against tables that were read: wood, concrete, and the practical contents of a standard."""

from __future__ import annotations

import numpy as np
import pytest

from specgen.design.hygric_materials import porous
from specgen.physics.heat_moisture.porous import potential_at, potentials, tabulate
from specgen.physics.wood_moisture import equilibrium_moisture
from specgen.practice.load import load_practice
from tests.published.register import How, published

PRACTICE = load_practice()
HUMIDITIES = (
    0.05,
    0.1,
    0.15,
    0.2,
    0.25,
    0.3,
    0.35,
    0.4,
    0.45,
    0.5,
    0.55,
    0.6,
    0.65,
    0.7,
    0.75,
    0.8,
    0.85,
    0.9,
)
WOOD = {  # percent of oven-dry mass, by temperature in °F; the last column of 90 °F and above broke off
    30: (1.4, 2.6, 3.7, 4.6, 5.5, 6.3, 7.1, 7.9, 8.7, 9.5, 10.4, 11.3, 12.4, 13.5, 14.9, 16.5, 18.5, 21.0),
    50: (1.4, 2.6, 3.6, 4.6, 5.5, 6.3, 7.1, 7.9, 8.7, 9.5, 10.3, 11.2, 12.3, 13.4, 14.8, 16.4, 18.4, 20.9),
    70: (1.3, 2.5, 3.5, 4.5, 5.4, 6.2, 6.9, 7.7, 8.5, 9.2, 10.1, 11.0, 12.0, 13.1, 14.4, 16.0, 17.9, 20.5),
    90: (1.2, 2.3, 3.4, 4.3, 5.1, 5.9, 6.7, 7.4, 8.1, 8.9, 9.7, 10.5, 11.5, 12.6, 13.9, 15.4, 17.3),
    110: (1.1, 2.2, 3.2, None, 4.9, 5.6, 6.3, 7.0, 7.7, 8.4, 9.2, 10.0, 11.0, 12.0, 13.2, 14.7, 16.6),
    130: (1.0, 2.0, 2.9, 3.7, 4.5, 5.2, 5.9, 6.6, 7.2, 7.9, 8.7, 9.4, 10.3, 11.3, 12.5, 14.0, 15.8),
}
CONCRETE = ((0.25, 0.94), (0.447, 1.22), (0.648, 1.82), (0.798, 2.68), (0.896, 3.45), (0.978, 4.25))


def content(material: str, humidity: float, thickness: float = 0.0127) -> float:
    """Water over dry mass in the tables that are calculated with, in percent."""
    made = porous(PRACTICE, material, thickness)
    water = np.interp(potential_at(humidity), potentials(), tabulate(made).water)
    return 100.0 * float(water) / made.density


@published(
    "materials",
    "equilibrium moisture content of wood, 5 to 90 % RH, 30 to 130 °F",
    "USDA Forest Products Laboratory, Wood Handbook",
    "table 4-2, read as a wood supplier prints it",
    "0.1 % of mass",
    How.READ,
)
@pytest.mark.parametrize("fahrenheit", WOOD)
def test_wood(fahrenheit: int) -> None:
    for humidity, printed in zip(HUMIDITIES, WOOD[fahrenheit], strict=False):
        if printed is not None:  # one cell of the print has a slip of the pen
            found = 100.0 * float(equilibrium_moisture(humidity, (fahrenheit - 32) / 1.8))
            assert found == pytest.approx(printed, abs=0.1), humidity


@published(
    "materials",
    "sorption curve of softwood as it is calculated with, 40 to 90 % RH",
    "USDA Forest Products Laboratory, Wood Handbook",
    "table 4-2 at 70 °F, read as a wood supplier prints it",
    "0.2 % of mass",
    How.READ,
)
@pytest.mark.parametrize("name", ["softwood", "southern yellow pine", "spruce, pine, fir"])
def test_curve_of_softwood(name: str) -> None:
    for humidity, printed in zip(HUMIDITIES, WOOD[70], strict=True):
        if humidity >= 0.4 and printed is not None:
            assert content(name, humidity) == pytest.approx(printed, abs=0.2)


@published(
    "materials",
    "sorption curve of concrete, 25 to 98 % RH",
    "IEADATA, public catalogue of building material properties",
    "concrete, sorption curve, first series",
    "7.5 %",
    How.READ,
)
def test_curve_of_concrete() -> None:
    for humidity, printed in CONCRETE:
        assert content("cast concrete", humidity) == pytest.approx(printed, rel=0.075), humidity


@published(
    "materials",
    "sorption of exterior-grade plywood, 58 to 97 % RH, against the board that is calculated with",
    "ASHRAE Handbook of Fundamentals",
    "chapter 26, table 7, specimens of another laboratory, sorption and desorption; read in a public copy",
    "between the two, or 10 % of mass outside",
    How.READ,
    "2021",
)
def test_curve_of_plywood() -> None:
    for humidity, taken_up, given_off in (
        (0.58, 6.9, 9.3),
        (0.787, 9.5, 13.7),
        (0.845, 12.1, 15.2),
        (0.938, 17.9, 19.8),
    ):
        assert taken_up * 0.9 <= content("plywood", humidity) <= given_off * 1.1, humidity


@published(
    "materials",
    "practical moisture content of brick, concrete, wood, plywood, and plastic foam",
    "DIN V 4108-4",
    "table of practical moisture contents, read as an inspector of buildings prints it",
    "at 80 % RH not above by more than a third",
    How.READ,
)
@pytest.mark.parametrize(
    ("name", "practical"),
    [
        ("clay brick", 1.0),
        ("cast concrete", 2.0),
        ("gypsum board", 2.0),
        ("softwood", 15.0),
        ("plywood", 15.0),
        ("mineral wool", 1.5),
        ("expanded polystyrene", 1.0),
        ("extruded polystyrene", 1.0),
    ],
)
def test_practical_moisture_content(name: str, practical: float) -> None:
    assert content(name, 0.8) <= practical * 4.0 / 3.0
