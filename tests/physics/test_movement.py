"""Movement of metal: limits, gaps that never close, refusals."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.physics import movement as mv
from specgen.physics.errors import OutOfRange
from specgen.physics.movement import MetalRange


def test_no_change_of_temperature_no_movement() -> None:
    assert mv.length_change(3.0, 24e-6, 0.0) == 0.0


def test_cooling_shortens() -> None:
    assert mv.length_change(3.0, 24e-6, -40.0) == pytest.approx(-0.00288)


LENGTH = st.floats(0.5, 6.0)
ALPHA = st.floats(10e-6, 30e-6)
INSTALL = st.floats(-25.0, 85.0)


@given(LENGTH, ALPHA, INSTALL, st.floats(0.0, 0.01), st.floats(1.0, 2.0))
def test_the_gap_never_falls_below_the_least(
    length: float, alpha: float, install: float, least: float, factor: float
) -> None:
    gap = mv.joint_gap(length, alpha, MetalRange(-25.0, 85.0), install, least, factor)
    assert gap.hottest >= least - 1e-12
    assert gap.coldest - gap.hottest == pytest.approx(gap.movement)
    assert gap.movement == pytest.approx(mv.length_change(length, alpha, 110.0))
    assert gap.hottest <= gap.at_install + 1e-12
    assert gap.at_install <= gap.coldest + 1e-12


def test_metal_set_on_a_hot_day_needs_a_smaller_gap() -> None:
    span = MetalRange(-25.0, 85.0)
    warm, cold = (mv.joint_gap(3.0, 24e-6, span, t, 0.002, 1.0).at_install for t in (40.0, 0.0))
    assert warm < cold


def test_set_at_the_hottest_only_the_least_gap_is_left() -> None:
    assert mv.joint_gap(3.0, 24e-6, MetalRange(-25.0, 85.0), 85.0, 0.002, 1.5).at_install == pytest.approx(
        0.002
    )


@pytest.mark.parametrize(
    ("call", "name"),
    [
        (lambda: MetalRange(20.0, 10.0), "hottest temperature"),
        (lambda: mv.length_change(3.0, 24.0, 50.0), "expansion coefficient"),
        (lambda: mv.length_change(-3.0, 24e-6, 50.0), "length"),
        (
            lambda: mv.joint_gap(3.0, 24e-6, MetalRange(-20.0, 80.0), 90.0, 0.0, 1.0),
            "temperature at installation",
        ),
        (lambda: mv.joint_gap(3.0, 24e-6, MetalRange(-20.0, 80.0), 20.0, 0.2, 1.0), "least clear gap"),
        (lambda: mv.joint_gap(3.0, 24e-6, MetalRange(-20.0, 80.0), 20.0, 0.002, 0.5), "range factor"),
    ],
)
def test_out_of_range_is_named(call, name: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(OutOfRange, match=name):
        call()
