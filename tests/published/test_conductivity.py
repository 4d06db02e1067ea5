"""Thermal conductivities of the practice table against the material tables of the package `ht`.

`ht.insulation` carries the building material tables of the ASHRAE Handbook of Fundamentals: reference library.
Generic materials differ by density and age, so each row states how near it must be.
"""

import pytest
from ht.insulation import k_material

from specgen.practice.entries import cell
from specgen.practice.load import load_practice
from tests.published.register import How, published

# role, kind, name in ht, tolerance
ROWS = [
    ("plaster", "portland cement plaster", "Cement plaster, sand aggregate", 0.01),
    ("sheathing", "glass-mat gypsum", "Gypsum or plaster board", 0.01),
    ("sheathing", "plywood", "Wood, plywood 500 kg/m^3", 0.10),
    ("sheathing", "OSB", "Wood, oriented strand board", 0.10),
    ("sheathing", "concrete", "Concrete, Sand and gravel or stone aggregate concretes, 2240 kg/m^3", 0.15),
    ("insulation", "polyisocyanurate", "Polyisocyanurate, aged, unfaced", 0.05),
    ("insulation", "extruded polystyrene", "Expanded polystyrene, extruded", 0.15),
    ("insulation", "expanded polystyrene", "Expanded polystyrene, molded beads", 0.05),
    ("insulation", "mineral wool", "Mineral fiber", 0.02),
]


@published(
    "materials",
    "thermal conductivity of generic materials",
    "ht, k_material",
    "building materials of the ASHRAE Handbook of Fundamentals",
    "1 to 15 %, stated a row",
    How.PACKAGE,
)
@pytest.mark.parametrize(("role", "kind", "name", "tolerance"), ROWS)
def test_conductivity(role, kind, name, tolerance):
    (row,) = load_practice().tables["materials"].where(role=role, kind=kind)
    assert cell(row, "conductivity").value == pytest.approx(k_material(name), rel=tolerance)
