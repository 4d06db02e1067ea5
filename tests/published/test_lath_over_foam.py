"""Nails that carry plaster through foam against the code's table, cell by cell.

At the thickest foam of each cell the calculation of weight alone is to use the nail nearly up, and never much beyond it.
The screws of the table are left out: their root and yield are not in it. No. 10 screws into 43 mil carry more by the
table than the calculation gives them with a free head, so that there the calculation governs.
"""

from __future__ import annotations

import pytest

from specgen.physics.constants import GRAVITY
from specgen.physics.fasteners import lath_demand, plastic_moment
from specgen.practice.entries import Row, cell
from specgen.practice.load import load_practice
from specgen.units.quantity import parse
from tests.published.register import How, published

PRACTICE = load_practice()
HALF_PLASTER = parse("7/16 in").value
WEIGHT = parse("11 lb/ft2").value  # the column that plaster of 7/8 in reads
KSI = parse("1000 psi").value
INCH = parse("1 in").value
NAILS = [
    row
    for row in PRACTICE.table("lath_over_foam").where(framing="wood studs")
    if cell(row, "weight").value == pytest.approx(WEIGHT)
]


@published(
    "lath fasteners",
    "use of a nail through the thickest foam of the code's table under plaster of 11 psf, head free",
    "IBC, Table 2603.13.1",
    "column of 11 psf, read in a public copy of a state code made from this edition; yield of nails of 130.4 less "
    "213.9 D ksi, D in inches, read on a university's course page on the NDS",
    "70 to 96 %",
    How.READ,
    "2021",
)
@pytest.mark.parametrize(
    "row", NAILS, ids=lambda row: f"{row['fastener']}, {row['spacing']} by {row['supports']}"
)
def test_nails_are_used_up_where_the_table_ends(row: Row) -> None:
    diameter = parse(str(row["fastener"]).removesuffix(" nail")).value
    strength = (130.4 - 213.9 * diameter / INCH) * KSI
    supports, spacing, foam = (cell(row, name).value for name in ("supports", "spacing", "foam"))
    demand = lath_demand(WEIGHT * GRAVITY, 0.0, supports, spacing, foam + HALF_PLASTER, 1.0)
    allowed = float(plastic_moment(diameter, strength)) / PRACTICE.quantity("lath.bending_factor").value
    assert 0.70 <= float(demand.moment_nm) / allowed <= 0.96
