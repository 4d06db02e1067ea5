"""Scuppers against the table of the ASCE 7 commentary, public tables, and the hydraulics of the package `fluids`.

The table is written here from memory of ASCE 7 commentary, rain loads (flow of scuppers in gal/min by head):
status M. It rounds by up to 3.4 % (18 for 17.4). The reference library is `fluids.open_flow`.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from fluids.open_flow import Q_weir_rectangular_full_Ackers, Q_weir_rectangular_Kindsvater_Carter

from specgen.design import scuppers
from specgen.physics.scupper import discharge, head_for_flow, ponded_water, rain_flow
from tests.design.projects import full, number
from tests.published.register import How, published

INCH, GPM = 0.0254, 6.30902e-5

# width, opening height, head [in.], flow [gal/min]: ASCE 7 commentary, from memory
OPEN = [
    (6, 20, 1, 18),
    (6, 20, 2, 50),
    (6, 20, 3, 90),
    (6, 20, 4, 140),
    (24, 20, 1, 72),
    (24, 20, 2, 200),
    (24, 20, 3, 360),
    (24, 20, 4, 560),
]
# Roof area [ft²] that a scupper drains at 5 in/h, by its length and a head of 1, 2, 3, and 4 in.: a table on a public
# calculation page. A second public page has 230 ft² for 4 in. and 1 in., and the rule 5 / rate for other rates.
AREAS = {
    4: (230, 641, 1153, 1794),
    6: (346, 961, 1730, 2692),
    8: (461, 1282, 2307, 3589),
    12: (692, 1923, 3461, 5384),
    16: (923, 2564, 4615, 7179),
    20: (1153, 3205, 5769, 8974),
    24: (1384, 3846, 6923, 10769),
}
RATE = 5.0
CLOSED = [(6, 4, 5, 177), (6, 4, 7, 231), (6, 4, 8, 253), (24, 4, 5, 708), (24, 4, 7, 924), (24, 4, 8, 1012)]


@published(
    "scuppers",
    "flow of open scuppers",
    "ASCE 7 commentary, rain loads",
    "table, from memory",
    "3.5 %",
    How.MEMORY,
)
@pytest.mark.parametrize(("width", "opening", "head", "gpm"), OPEN)
def test_open_scuppers_of_the_table(width, opening, head, gpm):
    flow = discharge(head * INCH, width * INCH, opening * INCH)
    assert flow.flow_m3_s / GPM == pytest.approx(gpm, rel=0.035)
    assert flow.regime == "weir"


@published(
    "scuppers",
    "flow of scuppers under head",
    "ASCE 7 commentary, rain loads",
    "table, from memory",
    "1 %",
    How.MEMORY,
)
@pytest.mark.parametrize(("width", "opening", "head", "gpm"), CLOSED)
def test_closed_scuppers_of_the_table(width, opening, head, gpm):
    assert discharge(head * INCH, width * INCH, opening * INCH).flow_m3_s / GPM == pytest.approx(
        gpm, rel=0.01
    )


@published(
    "scuppers",
    "head for the flows of the table",
    "ASCE 7 commentary, rain loads",
    "table, from memory",
    "2 %",
    How.MEMORY,
)
@pytest.mark.parametrize(("width", "opening", "head", "gpm"), OPEN[1:4] + CLOSED)
def test_head_for_the_flows_of_the_table(width, opening, head, gpm):
    found = head_for_flow(gpm * GPM, width * INCH, opening * INCH) / INCH
    assert found == pytest.approx(head, rel=0.02)


@published(
    "scuppers",
    "discharge of a contracted weir",
    "fluids, Q_weir_rectangular_Kindsvater_Carter",
    "Kindsvater and Carter",
    "1 %",
    How.PACKAGE,
)
@pytest.mark.parametrize("head", [1, 2, 3, 4])
def test_contracted_weir_of_the_reference_library(head):
    """Kindsvater & Carter, contracted weir: `fluids`. Within 1 %."""
    reference = Q_weir_rectangular_Kindsvater_Carter(h1=head * INCH, h2=1.0, b=6 * INCH)
    assert discharge(head * INCH, 6 * INCH, 0.5).flow_m3_s == pytest.approx(reference, rel=0.01)


@published(
    "scuppers",
    "bound by the full-width weir",
    "fluids, Q_weir_rectangular_full_Ackers",
    "Ackers",
    "0 to 7 % less",
    How.PACKAGE,
)
@pytest.mark.parametrize("head", [1, 2, 3, 4])
def test_full_width_weir_passes_more(head):
    """Ackers, full-width weir: `fluids`. A scupper contracts the stream, so it passes 1 % to 6 % less."""
    reference = Q_weir_rectangular_full_Ackers(h1=head * INCH, h2=1.0, b=6 * INCH)
    assert 0.93 * reference < discharge(head * INCH, 6 * INCH, 0.5).flow_m3_s < reference


@published(
    "scuppers",
    "flow of rain off a roof, Q = 0.0104 A i",
    "ASCE 7 commentary",
    "eq. C8-1, read in a public copy",
    "0.3 %",
    How.READ,
    "2005",
)
def test_rain_to_flow_in_inch_pound_form():
    """Q[gpm] = 0.0104 A[ft²] i[in./h]: read in a public copy of the 2005 ASCE 7 commentary, eq. C8-1."""
    flow = rain_flow(3.0 * 25.4, 2500 * 0.3048**2)
    assert flow / GPM == pytest.approx(0.0104 * 2500 * 3.0, rel=0.003)


@published(
    "scuppers",
    "weight of an inch of water, 5.2 psf",
    "slides of a code training on roof drainage",
    "one square foot one inch deep, read",
    "0.3 %",
    How.READ,
    "2007",
)
def test_rain_load_of_an_inch_of_water():
    """R = 5.2 (ds + dh) psf: one square foot of water one inch deep weighs 5.2 lb (read, public code training)."""
    assert ponded_water(INCH, 0.0).load_pa == pytest.approx(5.2 * 47.880259, rel=0.003)


@published(
    "scuppers",
    "head and rain load of a channel scupper 12 in. wide",
    "worked sheet on rain loads and ponding after ASCE 7-10, on a public document site",
    "0.0113 m³/s, inlet 51 mm up: head 76 mm, load 26 psf, read",
    "1 %",
    How.READ,
)
def test_worked_sheet_of_a_channel_scupper():
    head = head_for_flow(0.0113, 12 * INCH, 20 * INCH)
    assert head == pytest.approx(0.076, rel=0.01)
    assert ponded_water(0.051, head).load_pa == pytest.approx(26 * 47.880259, rel=0.01)


@published(
    "scuppers",
    "rain of 15 minutes to gal/min: in./h over 12, times 7.48 gal, over 60 min",
    "National Standard Plumbing Code, appendix A.1",
    "the rule of its rainfall table, with 60 and 15 minutes apart, read in a public copy",
    "0.1 %",
    How.READ,
    "2015",
)
@pytest.mark.parametrize("rate", [3.75, 7.0])
def test_rain_of_both_times_to_flow(rate):
    area = 2500.0
    expected = rate / 12.0 * 7.48 / 60.0 * area
    assert rain_flow(rate * 25.4, area * 0.3048**2) / GPM == pytest.approx(expected, rel=1e-3)


@published(
    "scuppers",
    "roof area that a scupper drains at 5 in./h, every cell of the table",
    "table of roof scuppers by length and head, on a public calculation page",
    "lengths 4 to 24 in., heads 1 to 4 in., read; a second public page has the first cell and the rule for other rates",
    "3.5 %",
    How.READ,
)
@pytest.mark.parametrize("head", [1, 2, 3, 4])
@pytest.mark.parametrize("length", AREAS)
def test_areas_of_the_public_table(length: int, head: int) -> None:
    drained = discharge(head * INCH, length * INCH, 10 * INCH).flow_m3_s / rain_flow(RATE * 25.4, 0.3048**2)
    assert drained == pytest.approx(AREAS[length][head - 1], rel=0.035)


@published(
    "scuppers",
    "primary and overflow scuppers of one roof, at 3.75 in./h of 60 minutes and 7.2 in./h of 15 minutes",
    "a state's plumbing code, appendix with an example of sizing roof drains and scuppers",
    "2500 ft² a drain and both rates, read on a public page of the code, which ends before the size of the scuppers; "
    "heads by the public table of scuppers at 5 in./h",
    "2 %",
    How.READ,
)
def test_both_rates_of_the_plumbing_codes_example(tmp_path: Path) -> None:
    """The whole calculation: the head that it gives drains just these 2500 ft² by the table, at each of the two rates."""
    rates = ("  design_rainfall: 4 in/h\n", "  design_rainfall: 3.75 in/h\n  secondary_rainfall: 7.2 in/h\n")
    calc = full(scuppers, tmp_path, rates, ("1200 ft2", "2500 ft2"), ("width: 6 in", "width: 12 in"))
    for result, rate in (("primary_head", 3.75), ("overflow_head", 7.2)):
        head = number(calc, result, "in")
        area = np.interp(head**1.5, [one**1.5 for one in (1, 2, 3, 4)], AREAS[12]) * RATE / rate
        assert area == pytest.approx(2500, rel=0.02), result
    head = number(calc, "overflow_head", "in")
    assert 3 < head < 4
    assert number(calc, "water_load", "psf") == pytest.approx(5.2 * (2 + head), rel=0.003)
