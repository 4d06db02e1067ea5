"""Blank of a coping: a flat box by hand, bends that add up, runs that fill."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.physics.coping_blank import Section, coping_blank, divide_run, sheet_yield
from specgen.physics.errors import OutOfRange

SIZE = st.floats(0.01, 0.8)


def test_flat_box_by_hand():
    """Legs 100 and 80, top 300, drips and hems 10: 520, bends at 10, 20, 120, 420, 500, 510."""
    blank = coping_blank(Section(0.3, 0.1, 0.08, 0.0, False, 0.01, 0.5, 0.01))
    assert blank.girth_m == pytest.approx(0.52)
    assert [bend.turned_deg for bend in blank.bends][2:4] == [90.0, 90.0]


def test_a_ridge_of_three_four_five():
    """Half width 0.4 and fall 3 to 4 give slants of 0.5 each."""
    blank = coping_blank(Section(0.8, 0.1, 0.1, 0.75, True, 0.0, 0.0, 0.0))
    assert blank.girth_m == pytest.approx(0.1 + 0.5 + 0.5 + 0.1)
    assert blank.rise_m == pytest.approx(0.3)


@given(SIZE, SIZE, SIZE, st.floats(-1.0, 1.0), st.booleans())
def test_the_legs_come_out_vertical(width, outer, inner, fall, ridge):
    """From the exterior face down to the interior face down the metal turns by 180°, a ridge turned outward included."""
    fall = abs(fall) if ridge else fall
    blank = coping_blank(Section(width, outer, inner, fall, ridge, 0.01, 0.5, 0.01))
    turned = sum(
        bend.turned_deg for bend in blank.bends if bend.name in ("outer edge", "inner edge", "ridge")
    )
    assert turned == pytest.approx(180.0)
    places = [bend.at_m for bend in blank.bends]
    assert places == sorted(places)
    assert blank.girth_m - places[-1] == pytest.approx(0.01)


def test_the_high_edge_turns_more_than_a_right_angle():
    """A fall of 3 in 4 toward the outer face: the inner edge stands high, by 0.75 of the width."""
    blank = coping_blank(Section(0.4, 0.1, 0.1, -0.75, False, 0.01, 0.5, 0.01))
    turned = {bend.name: bend.turned_deg for bend in blank.bends}
    assert turned["inner edge"] == pytest.approx(90 + 36.8699, abs=1e-4)
    assert turned["outer edge"] == pytest.approx(90 - 36.8699, abs=1e-4)
    assert blank.rise_m == pytest.approx(0.3)


def test_a_fall_beyond_45_degrees_is_refused():
    with pytest.raises(OutOfRange, match="fall of the coping"):
        coping_blank(Section(0.3, 0.1, 0.1, 1.5, False, 0.01, 0.5, 0.01))


def test_three_blanks_of_a_third_fit():
    assert sheet_yield(1.2 / 3, 1.2) == (3, pytest.approx(1.0))


@given(
    st.floats(1.0, 300.0),
    st.lists(st.floats(0.1, 0.3), max_size=3),
    st.floats(0.5, 4.0),
    st.floats(0.0, 0.02),
)
def test_a_run_is_filled_with_the_fewest_pieces(length, special, most, gap):
    run = divide_run(length, tuple(special), most, gap)
    assert run.pieces * run.piece_m + run.joints * gap + sum(special) == pytest.approx(length)
    assert run.piece_m <= most * (1 + 1e-9)
    if run.pieces > 1:
        fewer = (length - sum(special) - (run.joints - 1) * gap) / (run.pieces - 1)
        assert fewer > most * (1 - 1e-9)


def test_no_room_between_the_corners():
    with pytest.raises(OutOfRange, match="left for straight pieces"):
        divide_run(1.0, (0.6, 0.6), 3.0, 0.006)
