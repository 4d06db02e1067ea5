"""Control joints: limits kept, nothing fewer possible (every layout tried)."""

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from specgen.physics.errors import NotFinite, OutOfRange, PhysicsError
from specgen.physics.panels import PanelLimits, panel_layout

C1063_WALL = PanelLimits(144 * 0.3048**2, 18 * 0.3048, 2.5)


def panels(length, height, layout):
    xs, ys = [0, *layout.vertical_m, length], [0, *layout.horizontal_m, height]
    return [(b - a, d - c) for a, b in zip(xs, xs[1:]) for c, d in zip(ys, ys[1:])]  # noqa: B905, RUF007


def within(w, h, limits):
    slack = 1 + 1e-7
    return (
        w * h <= limits.area_m2 * slack
        and max(w, h) <= limits.length_m * slack
        and max(w, h) / min(w, h) <= limits.ratio * slack
    )


def fewest_by_force(xs, ys, limits, most):
    """Second method: every number of panels in every segment."""
    best = None
    for nx in product(range(1, most + 1), repeat=len(xs)):
        for ny in product(range(1, most + 1), repeat=len(ys)):
            widths = [s / n for s, n in zip(xs, nx, strict=True)]
            heights = [s / n for s, n in zip(ys, ny, strict=True)]
            if all(within(w, h, limits) for w in widths for h in heights):
                count = sum(nx) - len(xs) + sum(ny) - len(ys)
                best = count if best is None else min(best, count)
    return best


SIDE = st.floats(0.5, 12.0)
LIMITS = st.builds(PanelLimits, st.floats(4.0, 20.0), st.floats(2.0, 6.0), st.floats(1.5, 4.0))


@settings(deadline=None)
@given(SIDE, SIDE, LIMITS)
def test_plain_faces_match_brute_force(length, height, limits):
    expected = fewest_by_force([length], [height], limits, 24)
    layout = panel_layout(length, height, limits)
    assert all(within(w, h, limits) for w, h in panels(length, height, layout))
    assert layout.added == expected == len(layout.vertical_m) + len(layout.horizontal_m)


@settings(deadline=None, max_examples=60)
@given(st.floats(1.0, 8.0), st.floats(1.0, 8.0), st.floats(1.0, 6.0), LIMITS)
def test_a_fixed_joint_matches_brute_force(left, right, height, limits):
    expected = fewest_by_force([left, right], [height], limits, 12)
    if expected is None:
        return
    layout = panel_layout(left + right, height, limits, vertical_fixed=[left])
    assert any(abs(x - left) < 1e-9 for x in layout.vertical_m)
    assert all(within(w, h, limits) for w, h in panels(left + right, height, layout))
    assert layout.added == expected


def test_long_low_parapet_is_ruled_by_the_ratio():
    layout = panel_layout(20.0, 1.2, C1063_WALL)
    assert layout.added == 6 and layout.horizontal_m == ()
    assert layout.greatest_ratio == pytest.approx(20 / 7 / 1.2)
    assert [x / 20 for x in layout.vertical_m] == pytest.approx([n / 7 for n in range(1, 7)])


def test_exact_limit_needs_no_joint():
    assert panel_layout(12 * 0.3048, 12 * 0.3048, C1063_WALL).added == 0
    assert panel_layout(12.1 * 0.3048, 12 * 0.3048, C1063_WALL).added == 1


def test_reported_extremes_are_those_of_the_panels():
    layout = panel_layout(9.0, 5.0, C1063_WALL, vertical_fixed=[2.0], horizontal_fixed=[3.0])
    sizes = panels(9.0, 5.0, layout)
    assert layout.greatest_area_m2 == pytest.approx(max(w * h for w, h in sizes))
    assert layout.greatest_side_m == pytest.approx(max(max(s) for s in sizes))
    assert layout.greatest_ratio == pytest.approx(max(max(s) / min(s) for s in sizes))
    assert layout.added == len(layout.vertical_m) + len(layout.horizontal_m) - 2


def test_impossible_and_bad_input():
    with pytest.raises(PhysicsError, match="no layout"):
        panel_layout(10.0, 10.0, PanelLimits(10.0, 5.0, 1.01), vertical_fixed=[0.1])
    with pytest.raises(OutOfRange, match="vertical joint"):
        panel_layout(10.0, 1.0, C1063_WALL, vertical_fixed=[10.0])
    with pytest.raises(OutOfRange, match="ratio"):
        panel_layout(10.0, 1.0, PanelLimits(10.0, 5.0, 0.9))
    with pytest.raises(NotFinite, match="length of the face"):
        panel_layout(float("nan"), 1.0, C1063_WALL)
