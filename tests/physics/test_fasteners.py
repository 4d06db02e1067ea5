"""Fasteners across a gap: statics and utilisation."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.physics.errors import NotFinite, OutOfRange
from specgen.physics.fasteners import cleat_load, lath_demand, utilisation


@given(st.floats(100, 1000), st.floats(0, 5000), st.floats(0.1, 0.6), st.floats(0.1, 0.6), st.floats(0, 0.1))
def test_fasteners_together_carry_the_wall(dead, suction, across, up, lever):
    demand = lath_demand(dead, suction, across, up, lever, 1.0)
    count = 1.0 / (across * up)
    assert demand.shear_n * count == pytest.approx(dead)
    assert demand.withdrawal_n * count == pytest.approx(suction)
    assert demand.moment_nm == pytest.approx(demand.shear_n * lever)


def test_held_head_halves_the_moment():
    free, held = lath_demand(500.0, 0.0, 0.4, 0.2, 0.01, [1.0, 0.5]).moment_nm
    assert held == pytest.approx(free / 2)


def test_no_gap_no_bending():
    assert lath_demand(500.0, 900.0, 0.4, 0.2, 0.0, 1.0).moment_nm == 0.0


def test_utilisation_adds():
    demand = lath_demand([400.0, 800.0], 1000.0, 0.4, 0.2, 0.02, 1.0)
    use = utilisation(demand, 200.0, 1.0)
    assert use.withdrawal == pytest.approx(0.4)
    assert use.bending == pytest.approx([0.64, 1.28])
    assert use.combined == pytest.approx([1.04, 1.68])


def test_cleat_load_by_hand():
    assert cleat_load(1500.0, 0.2, 0.4, 0.5) == pytest.approx(60.0)


def test_bad_values_are_named():
    with pytest.raises(OutOfRange, match="fastener spacing up"):
        lath_demand(500.0, 900.0, 0.4, 0.0, 0.01, 1.0)
    with pytest.raises(OutOfRange, match="withdrawal capacity"):
        utilisation(lath_demand(1.0, 1.0, 0.1, 0.1, 0.01, 1.0), 0.0, 1.0)
    with pytest.raises(NotFinite, match="wind pressure away from the surface"):
        cleat_load(float("nan"), 0.2, 0.4, 1.0)
