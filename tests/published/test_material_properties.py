"""The table of material properties against the package `ht` and against limits that no material passes.

Thermal values of sources "ashrae" and "din": reference library. `ht.insulation` carries the building material tables of
the ASHRAE Handbook of Fundamentals 2013 and of DIN EN 12524; every such cell must be the library's own number.
"""

from __future__ import annotations

import pytest
from ht.insulation import ASHRAE, building_materials

from specgen.practice.entries import Row, cell
from specgen.practice.load import load_practice
from specgen.units.quantity import Quantity
from tests.published.register import How, published

TABLE = load_practice().table("material_properties")
LIBRARY = ("ASHRAE Handbook of Fundamentals", "DIN EN 12524")
PLACES = {
    "ashrae": ("density", "heat_capacity", "conductivity"),
    "din": ("density", "conductivity", "heat_capacity"),
}
LIMITS = {  # no solid or still air lies outside
    "density": (1.0, 12_000.0),
    "conductivity": (0.015, 420.0),
    "heat_capacity": (100.0, 4_200.0),
    "permeability_dry": (0.0, 2.01e-10),  # still air: 2.0e-10 kg/(m·s·Pa), ISO 13788
    "permeability_wet": (0.0, 2.01e-10),
    "free_saturation": (1.0, 1000.0),
    "absorptance": (0.0, 1.0),
    "emittance": (0.0, 1.0),
    "expansion": (0.0, 3e-4),
}


def test_there_are_sixty_materials_with_distinct_names() -> None:
    names = [row["material"] for row in TABLE.rows]
    assert len(set(names)) == len(names) >= 60


@published(
    "materials",
    "density, heat capacity, conductivity cited from two tables",
    "ht, ht.insulation.ASHRAE and building_materials",
    "ASHRAE Handbook of Fundamentals 2013; DIN EN 12524",
    "1e-9",
    How.PACKAGE,
)
@pytest.mark.parametrize(
    "row", [row for row in TABLE.rows if row["entry"]], ids=lambda row: str(row["material"])
)
def test_thermal_values_are_the_librarys(row: Row) -> None:
    entry = str(row["entry"])
    library, names = (
        (building_materials, PLACES["din"]) if entry in building_materials else (ASHRAE, PLACES["ashrae"])
    )
    for name, value in zip(names, library[entry], strict=False):
        cited = TABLE.source_of(row, name).document in LIBRARY
        if isinstance(row[name], Quantity) and cited:
            assert cell(row, name).value == pytest.approx(value, rel=1e-9), name


@pytest.mark.parametrize("row", TABLE.rows, ids=lambda row: str(row["material"]))
def test_values_are_possible(row: Row) -> None:
    for name, (low, high) in LIMITS.items():
        value = row[name]
        assert value is None or low <= cell(row, name).value <= high, name
    for kind in ("permeability", "permeance"):
        dry, wet = row[f"{kind}_dry"], row[f"{kind}_wet"]
        same = TABLE.source_of(row, f"{kind}_dry") == TABLE.source_of(row, f"{kind}_wet")
        if dry is not None and wet is not None and same:
            assert cell(row, f"{kind}_wet").value >= cell(row, f"{kind}_dry").value
