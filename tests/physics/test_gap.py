"""Water in the drainage gap: limits, round trips and the choice of regime."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.physics.errors import NotFinite, OutOfRange
from specgen.physics.gap import (
    FILM_REYNOLDS_LIMIT,
    SLOT_REYNOLDS_LIMIT,
    capillary_rise,
    drainage,
    falling_film,
    slot_drainage,
    smallest_gap,
)


@given(st.floats(1e-4, 1e-2))
def test_slot_flow_equals_the_integrated_parabola(gap):
    """Second method: the velocity profile of plane Poiseuille flow, integrated by numbers."""
    y = np.linspace(0, gap, 2001)
    profile = 998.2 * 9.80665 / (2 * 1.0016e-3) * y * (gap - y)
    assert slot_drainage(gap).flow_m2_s == pytest.approx(np.trapezoid(profile, y), rel=1e-6)


def test_slot_is_laminar_to_a_gap_of_about_a_millimetre():
    assert slot_drainage(1.05e-3).laminar and not slot_drainage(1.10e-3).laminar
    assert slot_drainage(1.05e-3).reynolds < SLOT_REYNOLDS_LIMIT < slot_drainage(1.10e-3).reynolds


def test_eightfold_flow_at_double_the_gap():
    flow = slot_drainage([0.4e-3, 0.8e-3]).flow_m2_s
    assert flow[1] / flow[0] == pytest.approx(8.0)


def test_film_limit_is_reported():
    limit = FILM_REYNOLDS_LIMIT * 1.0016e-3 / 4 / 998.2
    assert falling_film(limit * 0.999).laminar and not falling_film(limit * 1.001).laminar


def test_regimes():
    result = drainage([1e-5, 1e-5, 2e-3, 1e-2], [0.5e-3, 5e-3, 5e-3, 0.5e-3], wet_faces=2)
    assert result.regime.tolist() == ["slot", "film", "unknown", "unknown"]
    assert (result.use[:2] <= 1).all() and (result.use[2:] > 1).all()
    assert result.film_m[0] == 0.0 and result.film_m[1] == pytest.approx(falling_film(5e-6).thickness_m)


@given(st.floats(1e-7, 1e-5), st.floats(2e-4, 0.02), st.floats(0, 0.9))
def test_clogging_reduces_capacity_in_proportion(flow, gap, clogged):
    free = drainage(flow, gap, wet_faces=1)
    blocked = drainage(flow, gap, wet_faces=1, clogged_fraction=clogged)
    assert blocked.capacity_m2_s == pytest.approx(free.capacity_m2_s * (1 - clogged))
    assert blocked.use >= free.use


def test_capillary_rise_bounds():
    assert capillary_rise(1e-3, 90.0).height_m == pytest.approx(0.0, abs=1e-12)
    rise = capillary_rise([1e-3, 1.5e-3, 10e-3], 30.0)
    assert rise.upper_bound.tolist() == [False, True, True]
    assert rise.height_m[0] / rise.height_m[1] == pytest.approx(1.5)


@given(st.floats(1e-7, 2e-4), st.floats(1e-3, 0.5), st.floats(0, 80), st.sampled_from([1, 2]))
def test_smallest_gap_meets_both_conditions_exactly(flow, height, angle, faces):
    gap = smallest_gap(flow, height, angle, faces)
    assert capillary_rise(gap, angle).height_m <= height * (1 + 1e-9)
    films = faces * falling_film(flow / faces).thickness_m
    assert gap >= films * (1 - 1e-12)
    assert gap == pytest.approx(max(films, 1e-3 * capillary_rise(1e-3, angle).height_m / height))


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: slot_drainage(0.0), "gap"),
        (lambda: falling_film(-1e-6), "flow per metre"),
        (lambda: drainage(1e-5, 0.01, 3), "wet faces"),
        (lambda: drainage(1e-5, 0.01, 2, clogged_fraction=1.0), "blocked"),
        (lambda: capillary_rise(1e-3, 120.0), "contact angle"),
        (lambda: smallest_gap(1e-2, 0.01, 0.0, 2), "film Reynolds"),
        (lambda: slot_drainage(1e-3, viscosity=0.0), "viscosity"),
    ],
)
def test_out_of_range_is_named(call, says):
    with pytest.raises(OutOfRange, match=says):
        call()


def test_nan_is_refused():
    with pytest.raises(NotFinite, match="gap"):
        slot_drainage(float("nan"))


@given(st.floats(700, 1300), st.floats(1e-4, 1e-2))
def test_two_last_laminar_films_fit_the_last_laminar_slot(density, viscosity):
    nu = viscosity / density
    gap = np.cbrt(12 * SLOT_REYNOLDS_LIMIT * nu**2 / 9.80665)
    assert slot_drainage(gap, density, viscosity).reynolds == pytest.approx(SLOT_REYNOLDS_LIMIT)
    assert 2 * falling_film(FILM_REYNOLDS_LIMIT * nu / 4, density, viscosity).thickness_m < gap


def test_capacity_of_a_wide_gap_is_that_of_its_last_laminar_films():
    one, two = (drainage(1e-5, 0.01, wet_faces=faces).capacity_m2_s for faces in (1, 2))
    assert one == pytest.approx(FILM_REYNOLDS_LIMIT * 1.0016e-3 / 998.2 / 4)
    assert two == pytest.approx(2 * one)
