"""Straight pieces on a curve, held against points sampled along their edges."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.physics.errors import OutOfRange
from specgen.physics.plan_curve import chord_inside, chord_outside, longest_piece

RADII = st.floats(1.0, 100.0)
PIECES = st.floats(0.2, 3.5)
CLEAR = st.floats(0.0, 0.08)


def clearances(node_m: float, turn: float, count: int = 201) -> list[float]:
    """Distances from the center of points along the chord between two joints at one radius."""
    ends = [(node_m * math.cos(sign * turn / 2), node_m * math.sin(sign * turn / 2)) for sign in (-1, 1)]
    (x0, y0), (x1, y1) = ends
    shares = [n / (count - 1) for n in range(count)]
    return [math.hypot(x0 + t * (x1 - x0), y0 + t * (y1 - y0)) for t in shares]


@given(RADII, PIECES, CLEAR)
def test_the_least_clearance_around_a_convex_face_is_the_one_asked_for(radius, piece, least) -> None:
    found = chord_outside(radius, piece, least)
    along = [one - radius for one in clearances(radius + found.clear_m, found.turn_rad)]
    assert min(along) == pytest.approx(least, abs=1e-6)
    assert max(along) == pytest.approx(found.clear_m, abs=1e-9)
    assert 2 * (radius + found.clear_m) * math.sin(found.turn_rad / 2) == pytest.approx(piece)


@given(RADII, PIECES, CLEAR)
def test_the_least_clearance_within_a_concave_face_is_at_the_joints(radius, piece, least) -> None:
    turn = chord_outside(radius + 0.3, piece, least).turn_rad
    found = chord_inside(radius, turn, least)
    along = [radius - one for one in clearances(radius - least, turn)]
    assert min(along) == pytest.approx(least, abs=1e-6)
    assert max(along) == pytest.approx(found.clear_m, abs=1e-6)


@given(RADII, PIECES, st.floats(0.001, 0.08))
def test_the_longest_piece_is_the_one_whose_drip_was_asked_for(radius, piece, least) -> None:
    assert longest_piece(radius, chord_outside(radius, piece, least).clear_m, least) == pytest.approx(piece)


def test_a_great_radius_is_a_straight_line() -> None:
    assert chord_outside(9_999.0, 3.0, 0.025).clear_m == pytest.approx(0.025 + 9.0 / 8 / 9_999.0, rel=1e-4)
    assert longest_piece(10.0, 0.025, 0.025) == 0.0


def test_a_piece_longer_than_any_is_refused() -> None:
    with pytest.raises(OutOfRange, match="piece"):
        chord_outside(10.0, 1_000.0, 0.0)
