"""One fastener in pull and shear against the interactions that wood and steel specifications have.

No worked example of a coping's cleat was found in public text; the pieces are held one by one. The straight line of this
tool is to allow no load that either specification refuses, and not so little that it is of no use.
"""

from __future__ import annotations

from math import cos, radians, sin

import pytest

from specgen.physics.fasteners import joint_use, needed_beside
from tests.published.register import How, published

# A No. 10 wood screw: adjusted withdrawal and lateral values [lbf], angle of the load to the surface of the wood [°], and
# the load that 12.4.1 allows [lbf], as a public structural program works it in its tests.
PULL_OUT, LATERAL, ANGLE, ALLOWED = 162.0, 164.0, 60.0, 162.5


@published(
    "cleat fasteners",
    "load at 60° on a No. 10 wood screw in pull and shear",
    "ANSI/AWC NDS, 12.4.1",
    "worked in the tests of a public structural program, read: 162.5 lbf of W' 162 lbf and Z' 164 lbf",
    "0 to 30 % less",
    How.READ,
)
def test_screw_of_the_nds_example() -> None:
    pull, shear = sin(radians(ANGLE)), cos(radians(ANGLE))
    assert PULL_OUT * LATERAL / (PULL_OUT * shear**2 + LATERAL * pull**2) == pytest.approx(ALLOWED, abs=0.05)
    allowed_here = 1.0 / joint_use(pull, PULL_OUT, shear, LATERAL)
    assert 0.7 * ALLOWED <= allowed_here <= ALLOWED


@published(
    "cleat fasteners",
    "shear capacity that a screw needs beside its pull",
    "ANSI/AWC NDS, 12.4.1",
    "the formula printed in the tests of a public structural program, read, solved for Z'",
    "never less",
    How.READ,
)
@pytest.mark.parametrize("angle", [0.0, 15.0, 30.0, 45.0, 60.0, 75.0])
@pytest.mark.parametrize("load", [40.0, 100.0, 150.0])
def test_needed_shear_is_never_less_than_that_of_the_nds(load: float, angle: float) -> None:
    pull, shear = load * sin(radians(angle)), load * cos(radians(angle))
    by_nds = load * PULL_OUT * cos(radians(angle)) ** 2 / (PULL_OUT - load * sin(radians(angle)) ** 2)
    assert needed_beside(shear, pull, PULL_OUT) >= by_nds * (1 - 1e-12)


@published(
    "cleat fasteners",
    "screw in a metal cleat, in shear and pull-over together",
    "AISI S100, eq. E4.5.1-1",
    "Q/(2.7 t1 d Fu1) + 0.71 T/(1.5 t1 dw Fu1) at most 1.1/Ω, printed on a public calculation page, read",
    "9 to 36 % less",
    How.READ,
    "2007",
)
@pytest.mark.parametrize("pull_share", [0.0, 0.25, 0.5, 0.75, 1.0])
def test_cleat_of_sheet_metal_in_pull_over(pull_share: float) -> None:
    """A No. 10 screw with a 3/8 in. head in a 22 gauge cleat of 45 ksi; Ω stands on both sides and falls out."""
    thickness, diameter, head, strength = 0.0336, 0.190, 0.375, 45_000.0
    shear_over, pull_over = 2.7 * thickness * diameter * strength, 1.5 * thickness * head * strength
    pull, shear = pull_share * pull_over, (1.0 - pull_share) * shear_over
    assert joint_use(pull, pull_over, shear, shear_over) == pytest.approx(1.0)
    by_aisi = (shear / shear_over + 0.71 * pull / pull_over) / 1.1
    assert 0.64 < by_aisi < 0.91
