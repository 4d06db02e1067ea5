"""Steady flow through layers: closed forms, symmetry, conservation, the tangent construction, refusals."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from specgen.physics import steady
from specgen.physics.errors import NotFinite, OutOfRange
from specgen.physics.moist_air import saturation_pressure, vapor_pressure
from specgen.physics.steady import Layers, Profile, Side, steady_state, subdivide

THERMAL = st.floats(0.01, 5.0)
VAPOR = st.floats(1e7, 1e13)
PAIRS = st.lists(st.tuples(THERMAL, VAPOR), min_size=1, max_size=8)


@st.composite
def sides(draw: st.DrawFn) -> Side:
    temp_c = draw(st.floats(-30.0, 70.0))
    return Side(temp_c, float(vapor_pressure(temp_c, draw(st.floats(0.05, 1.0)))), draw(st.floats(0.01, 0.2)))


def layers_of(pairs: list[tuple[float, float]]) -> Layers:
    names = tuple(f"layer {i}" for i in range(len(pairs)))
    return Layers(names, tuple(r for r, _ in pairs), tuple(z for _, z in pairs))


def kept(state: Profile) -> float:
    return sum(plane.rate for plane in state.planes)


def flow_scale(state: Profile) -> float:
    return abs(state.vapor_in) + abs(state.vapor_out) + 1e-30


# --- closed forms -------------------------------------------------------------------------------------------


def test_two_slabs_temperature_by_hand() -> None:
    """Series resistances: 25 K over 0.13 + 2 + 0.5 + 0.04 m²K/W."""
    state = steady_state(Layers(("a", "b"), (2.0, 0.5), (1e9, 1e9)), Side(20, 500, 0.13), Side(-5, 300, 0.04))
    flux = 25.0 / 2.67
    assert state.heat_flux == pytest.approx(flux, rel=1e-12)
    expected = [20 - 0.13 * flux, 20 - 2.13 * flux, -5 + 0.04 * flux]
    assert state.temp_c == pytest.approx(expected, rel=1e-12)


def test_dry_wall_has_a_straight_vapor_line() -> None:
    state = steady_state(Layers(("a", "b"), (1, 1), (3e9, 1e9)), Side(20, 800, 0.13), Side(15, 400, 0.04))
    assert state.planes == ()
    assert state.vapor_pa == pytest.approx((800, 500, 400))
    assert state.vapor_in == pytest.approx(400 / 4e9)
    assert state.vapor_in == state.vapor_out


def test_one_condensation_plane_by_hand() -> None:
    """Second method: with the plane at saturation, the two flows are single divisions."""
    wall = Layers(("wool", "board"), (2.0, 0.1), (1e9, 1e11))
    state = steady_state(wall, Side(20.0, 1200.0, 0.13), Side(-5.0, 320.0, 0.04))
    temp = 20.0 - 25.0 * 2.13 / 2.27
    p = float(saturation_pressure(temp))
    (plane,) = state.planes
    assert (plane.number, plane.between) == (1, ("wool", "board"))
    assert plane.temp_c == pytest.approx(temp)
    assert plane.rate == pytest.approx((1200.0 - p) / 1e9 - (p - 320.0) / 1e11, rel=1e-12)
    assert state.condensing == plane.rate


def test_several_planes() -> None:
    wall = Layers(("wool", "sheet", "wool", "sheet"), (1.0, 0.001, 1.0, 0.001), (1e8, 2e10, 1e8, 5e11))
    state = steady_state(wall, Side(22.0, 1500.0, 0.13), Side(-20.0, 60.0, 0.04))
    assert [plane.number for plane in state.planes] == [1, 3]
    assert all(plane.rate > 0.0 for plane in state.planes)


def test_a_tight_layer_outside_the_cold_side_moves_the_plane() -> None:
    """The retarder on the warm side ends condensation; on the cold side it makes it."""
    warm, cold = Side(20.0, 1168.0, 0.13), Side(-10.0, 200.0, 0.04)
    inside = Layers(("sheet", "wool", "board"), (0.0, 3.0, 0.1), (1e12, 1e9, 1e9))
    outside = Layers(("wool", "board", "sheet"), (3.0, 0.1, 0.0), (1e9, 1e9, 1e12))
    assert steady_state(inside, warm, cold).planes == ()
    assert steady_state(outside, warm, cold).planes != ()


# --- properties ---------------------------------------------------------------------------------------------


@given(PAIRS, sides(), sides())
def test_vapor_pressure_never_exceeds_saturation(pairs: list[tuple[float, float]], a: Side, b: Side) -> None:
    state = steady_state(layers_of(pairs), a, b)
    assert np.all(np.array(state.vapor_pa) <= np.array(state.saturation_pa) * (1 + 1e-9))


@given(PAIRS, sides(), sides())
def test_vapor_that_goes_in_comes_out_or_stays(pairs: list[tuple[float, float]], a: Side, b: Side) -> None:
    state = steady_state(layers_of(pairs), a, b)
    assert state.vapor_in - state.vapor_out - kept(state) == pytest.approx(0.0, abs=1e-9 * flow_scale(state))


@given(PAIRS, sides(), sides())
def test_heat_flux_is_the_same_through_every_layer(
    pairs: list[tuple[float, float]], a: Side, b: Side
) -> None:
    layers = layers_of(pairs)
    state = steady_state(layers, a, b)
    drops = -np.diff(state.temp_c)
    scale = abs(a.temp_c - b.temp_c) + 1.0
    assert drops == pytest.approx(state.heat_flux * np.array(layers.thermal), abs=1e-9 * scale)
    assert (a.temp_c - state.temp_c[0]) == pytest.approx(state.heat_flux * a.film, abs=1e-9 * scale)


@given(PAIRS, sides(), sides())
def test_a_plane_without_wet_start_only_condenses(pairs: list[tuple[float, float]], a: Side, b: Side) -> None:
    assert all(plane.rate > 0.0 for plane in steady_state(layers_of(pairs), a, b).planes)


@given(PAIRS, sides(), sides())
def test_reversing_mirrors(pairs: list[tuple[float, float]], a: Side, b: Side) -> None:
    layers = layers_of(pairs)
    one, other = steady_state(layers, a, b), steady_state(layers.reversed(), b, a)
    assert one.temp_c == pytest.approx(other.temp_c[::-1], abs=1e-9)
    assert one.vapor_pa == pytest.approx(other.vapor_pa[::-1], rel=1e-6, abs=1e-6)
    assert one.heat_flux == pytest.approx(-other.heat_flux, abs=1e-9)
    tolerance = 1e-6 * flow_scale(one)
    assert one.vapor_in == pytest.approx(-other.vapor_out, abs=tolerance)
    assert kept(one) == pytest.approx(kept(other), abs=tolerance)
    assert one.surface_wet == other.surface_wet[::-1]


@given(PAIRS, sides(), sides(), st.floats(0.05, 1.0))
def test_splitting_a_layer_changes_nothing(
    pairs: list[tuple[float, float]], a: Side, b: Side, fraction: float
) -> None:
    """Where the slices find no condensation inside a layer, the answer is the same; temperatures always."""
    layers = layers_of(pairs)
    whole, sliced = steady_state(layers, a, b), steady_state(subdivide(layers, fraction), a, b)
    assert sliced.heat_flux == pytest.approx(whole.heat_flux, rel=1e-9, abs=1e-12)
    assert sliced.temp_c[-1] == pytest.approx(whole.temp_c[-1], abs=1e-9)
    assume(all(plane.between[0] != plane.between[1] for plane in sliced.planes))
    tolerance = 1e-6 * flow_scale(whole)
    assert sliced.vapor_in == pytest.approx(whole.vapor_in, abs=tolerance)
    assert sliced.vapor_out == pytest.approx(whole.vapor_out, abs=tolerance)


def _second_hull(z: list[float], upper: list[float]) -> list[float]:
    """Second method: at each plane the least chord value over all pairs of points around it."""
    return [
        min(
            upper[k],
            *(
                upper[i] + (upper[j] - upper[i]) * (z[k] - z[i]) / (z[j] - z[i])
                for i in range(k)
                for j in range(k + 1, len(z))
            ),
        )
        if 0 < k < len(z) - 1
        else upper[k]
        for k in range(len(z))
    ]


@settings(max_examples=60)
@given(PAIRS, sides(), sides())
def test_tight_string_against_least_chord(pairs: list[tuple[float, float]], a: Side, b: Side) -> None:
    state = steady_state(layers_of(pairs), a, b)
    upper = list(state.saturation_pa)
    upper[0], upper[-1] = min(a.vapor_pa, upper[0]), min(b.vapor_pa, upper[-1])
    z = [0.0, *np.cumsum([v for _, v in pairs]).tolist()]
    assert state.vapor_pa == pytest.approx(_second_hull(z, upper), rel=1e-7)


# --- wet planes, slices, surfaces ---------------------------------------------------------------------------


def test_a_wet_plane_dries_to_both_sides() -> None:
    wall = Layers(("a", "b"), (1.0, 1.0), (1e9, 2e9))
    state = steady_state(wall, Side(20.0, 800.0, 0.1), Side(20.0, 800.0, 0.1), wet=[1])
    p = float(saturation_pressure(20.0))
    (plane,) = state.planes
    assert plane.rate == pytest.approx(-(p - 800.0) * (1 / 1e9 + 1 / 2e9))
    assert state.vapor_in < 0.0 < state.vapor_out
    assert state.condensing == 0.0


def test_drying_vapor_condenses_at_a_colder_plane() -> None:
    """Water leaves the warm wet plane and condenses behind the tight cold face."""
    wall = Layers(("plaster", "wool", "membrane"), (0.03, 2.0, 0.01), (5e8, 1e8, 1e13))
    state = steady_state(wall, Side(60.0, 2000.0, 0.04), Side(25.0, 2000.0, 0.04), wet=[1])
    rates = {plane.number: plane.rate for plane in state.planes}
    assert rates[1] < 0.0 < rates[2]


def test_slices_find_condensation_inside_a_thick_layer() -> None:
    wall = Layers(("wool",), (4.0,), (2e10,))
    warm, cold = Side(22.0, 0.95 * 2643.0, 0.04), Side(-15.0, 160.0, 0.04)
    assert steady_state(wall, warm, cold).planes == ()
    sliced = steady_state(subdivide(wall, 0.05), warm, cold)
    assert sliced.planes
    assert {plane.between for plane in sliced.planes} == {("wool", "wool")}


def test_subdivide_keeps_totals_and_limits_each_slice() -> None:
    layers = subdivide(Layers(("a", "b", "c"), (3.0, 0.5, 0.0), (1e9, 2e9, 3e9)), 0.1)
    assert sum(layers.thermal) == pytest.approx(3.5)
    assert sum(layers.vapor) == pytest.approx(6e9)
    assert max(layers.thermal) <= 0.35 + 1e-12
    assert layers.names.count("c") == 1


def test_wet_surface_is_flagged_and_stands_at_saturation() -> None:
    wall = Layers(("a",), (1.0,), (1e9,))
    state = steady_state(wall, Side(20.0, 2300.0, 0.13), Side(-10.0, 100.0, 0.04))
    assert state.surface_wet == (True, False)
    assert state.vapor_pa[0] == state.saturation_pa[0]


def test_layers_without_vapor_resistance_share_one_pressure() -> None:
    wall = Layers(("wool", "foam", "sheet"), (1.0, 1.0, 0.0), (0.0, 0.0, 1e12))
    state = steady_state(wall, Side(20.0, 500.0, 0.1), Side(10.0, 400.0, 0.1))
    assert state.vapor_pa[0] == state.vapor_pa[1] == state.vapor_pa[2] == 500.0


def test_saturated_air_on_both_sides_at_one_temperature_is_no_condensation() -> None:
    p = float(saturation_pressure(20.0))
    state = steady_state(Layers(("a", "b"), (1, 1), (1e9, 3e9)), Side(20, p, 0.1), Side(20, p, 0.1))
    assert state.planes == ()


# --- refusals -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("blank", [None, math.nan])
def test_blank_property_names_its_layer(blank: float | None) -> None:
    with pytest.raises(NotFinite, match="vapor resistance of membrane"):
        Layers(("plaster", "membrane"), (0.1, 0.1), (1e9, blank))  # type: ignore[arg-type]
    with pytest.raises(NotFinite, match="thermal resistance of plaster"):
        Layers(("plaster", "membrane"), (blank, 0.1), (1e9, 1e9))  # type: ignore[arg-type]


def test_infinite_vapor_resistance_is_refused() -> None:
    with pytest.raises(NotFinite, match="vapor resistance of metal"):
        Layers(("metal",), (0.0,), (math.inf,))
    with pytest.raises(OutOfRange, match="sheet metal"):
        steady.resistance_from_permeance(0.0)


def test_sheet_metal_lets_next_to_nothing_through() -> None:
    metal = 1500.0 / 2.0e-10  # an equivalent air layer of 1500 m
    state = steady_state(Layers(("a", "metal"), (1, 0), (1e9, metal)), Side(20, 900, 0.1), Side(20, 300, 0.1))
    assert 0.0 < state.vapor_out < 1e-10


@pytest.mark.parametrize("plane", [0, 2, 7])
def test_wet_plane_must_lie_inside(plane: int) -> None:
    with pytest.raises(OutOfRange, match="wet plane"):
        steady_state(
            Layers(("a", "b"), (1, 1), (1e9, 1e9)), Side(20, 500, 0.1), Side(20, 500, 0.1), wet=[plane]
        )


def test_wet_plane_open_to_the_air_is_refused() -> None:
    wall = Layers(("gap", "b"), (1.0, 1.0), (0.0, 1e9))
    with pytest.raises(OutOfRange, match="vapor resistance between wet plane and air"):
        steady_state(wall, Side(20, 500, 0.1), Side(20, 500, 0.1), wet=[1])


def test_other_refusals() -> None:
    with pytest.raises(ValueError, match="differ in length"):
        Layers(("a",), (1.0, 2.0), (1e9,))
    with pytest.raises(OutOfRange, match="total vapor resistance"):
        Layers(("a",), (1.0,), (0.0,))
    with pytest.raises(OutOfRange, match="total vapor resistance"):
        Layers((), (), ())
    with pytest.raises(OutOfRange, match="thermal resistance of a"):
        Layers(("a",), (-1.0,), (1e9,))
    wall = Layers(("a",), (0.0,), (1e9,))
    with pytest.raises(OutOfRange, match="total thermal resistance"):
        steady_state(wall, Side(20, 500, 0.0), Side(10, 500, 0.0))
    with pytest.raises(NotFinite, match="vapor pressure of the second side"):
        steady_state(wall, Side(20, 500, 0.1), Side(10, math.nan, 0.1))
    with pytest.raises(OutOfRange, match="max_fraction"):
        subdivide(wall, 0.0)
