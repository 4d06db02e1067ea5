"""Base reactions by a second method, and the force of an earthquake between its bounds."""

from __future__ import annotations

import pytest
from scipy.integrate import quad

from specgen.physics.errors import OutOfRange
from specgen.physics.parapet_loads import SeismicBounds, base_of, seismic_share

BOUNDS = SeismicBounds(0.3, 1.6)


@pytest.mark.parametrize(("pressure", "height"), [(500.0, 0.6), (2400.0, 1.07), (8000.0, 3.0)])
def test_base_against_integration(pressure: float, height: float) -> None:
    base = base_of(pressure, height)
    assert base.shear == pytest.approx(quad(lambda z: pressure, 0.0, height)[0])
    assert base.moment == pytest.approx(quad(lambda z: pressure * z, 0.0, height)[0])


@pytest.mark.parametrize(
    ("amplification", "expected"), [(0.1, 0.3), (0.3, 0.3), (1.2, 1.2), (1.6, 1.6), (2.0, 1.6)]
)
def test_force_stands_between_its_bounds(amplification: float, expected: float) -> None:
    assert seismic_share(0.5, 1.5, amplification, BOUNDS) == pytest.approx(expected * 0.5 * 1.5)


def test_out_of_range_is_refused() -> None:
    with pytest.raises(OutOfRange):
        seismic_share(92.0, 1.0, 1.2, BOUNDS)
    with pytest.raises(OutOfRange):
        base_of(2000.0, 0.0)
