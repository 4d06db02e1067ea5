"""Parapet load cases: signs, worst internal pressure, minimum, refusals."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.physics.errors import OutOfRange
from specgen.physics.wind import Directionality, allowable
from specgen.physics.wind_parapet import ParapetCoefficients, parapet_pressures, required_resistance

ONE = Directionality(1.0, "q")
LEAST = 766.0  # 16 psf
EDGE = ParapetCoefficients(wall_toward=1.0, wall_away=-1.4, roof_away=-2.3)


def test_each_face_by_hand() -> None:
    p = parapet_pressures(2000.0, EDGE, 0.18, ONE, LEAST)
    assert p.outer_toward == pytest.approx(2000.0 * 1.18)
    assert p.outer_away == pytest.approx(-2000.0 * 1.58)
    assert p.inner_toward == pytest.approx(2000.0 * 1.18)
    assert p.inner_away == pytest.approx(-2000.0 * 2.48)
    assert p.top_away == pytest.approx(-2000.0 * 2.48)
    assert p.net_a == pytest.approx(2000.0 * 3.3)
    assert p.net_b == pytest.approx(2000.0 * 2.4)


def test_minimum_holds_in_light_wind() -> None:
    p = parapet_pressures(100.0, EDGE, 0.0, ONE, LEAST)
    assert (p.outer_toward, p.outer_away, p.inner_toward, p.inner_away, p.top_away) == (
        766,
        -766,
        766,
        -766,
        -766,
    )
    assert (p.net_a, p.net_b) == (766, 766)


@given(st.floats(1000.0, 5000.0), st.floats(0.0, 0.55))
def test_internal_pressure_makes_every_face_worse_and_no_net(q: float, gcpi: float) -> None:
    solid, hollow = parapet_pressures(q, EDGE, 0.0, ONE, LEAST), parapet_pressures(q, EDGE, gcpi, ONE, LEAST)
    for face in ("outer_toward", "outer_away", "inner_toward", "inner_away", "top_away"):
        assert abs(getattr(hollow, face)) >= abs(getattr(solid, face))
    assert (hollow.net_a, hollow.net_b) == (solid.net_a, solid.net_b)


def test_directionality_in_p_scales_every_pressure() -> None:
    bare = parapet_pressures(3000.0, EDGE, 0.0, ONE, LEAST)
    scaled = parapet_pressures(3000.0, EDGE, 0.0, Directionality(0.85, "p"), LEAST)
    assert scaled.net_a == pytest.approx(0.85 * bare.net_a)
    assert scaled.top_away == pytest.approx(0.85 * bare.top_away)
    assert parapet_pressures(3000.0, EDGE, 0.0, Directionality(0.85, "q"), LEAST).net_a == bare.net_a


def test_required_resistance_has_no_sign() -> None:
    away, toward = allowable(-2000.0, 0.6), allowable(2000.0, 0.6)
    assert required_resistance(away, 2.0) == required_resistance(toward, 2.0) == pytest.approx(2400.0)


@pytest.mark.parametrize(
    ("call", "name"),
    [
        (lambda: ParapetCoefficients(-1.0, -1.4, -2.3), "positive wall"),
        (lambda: ParapetCoefficients(1.0, 1.4, -2.3), "negative wall"),
        (lambda: ParapetCoefficients(1.0, -1.4, 2.3), "negative roof"),
        (lambda: parapet_pressures(1000.0, EDGE, -0.18, ONE, LEAST), "GCpi, without sign"),
        (lambda: parapet_pressures(-1.0, EDGE, 0.0, ONE, LEAST), "velocity pressure"),
        (lambda: required_resistance(1000.0, 0.5), "safety factor"),
    ],
)
def test_out_of_range_is_named(call, name: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(OutOfRange, match=name):
        call()
