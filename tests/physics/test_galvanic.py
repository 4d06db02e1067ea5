"""Galvanic couples."""

import pytest

from specgen.physics.errors import OutOfRange, PhysicsError
from specgen.physics.galvanic import galvanic_couple

INDEX = {"gold": 0.0, "copper": 0.35, "zinc": 1.25, "aluminium": 0.90, "tin plate": 0.65, "alloy": 0.75}


def test_order_does_not_matter():
    one, two = galvanic_couple("copper", "zinc", INDEX, 0.25), galvanic_couple("zinc", "copper", INDEX, 0.25)
    assert one == two and one.anode == "zinc" and not one.acceptable


def test_limit_itself_is_acceptable():
    couple = galvanic_couple("aluminium", "alloy", INDEX, 0.15)
    assert couple.difference_v == pytest.approx(0.15) and couple.acceptable


def test_one_metal_has_no_anode():
    couple = galvanic_couple("copper", "copper", INDEX, 0.15)
    assert couple.anode is None and couple.difference_v == 0.0 and couple.acceptable


def test_unknown_metal_names_its_neighbours():
    with pytest.raises(PhysicsError, match=r"'aluminum'.*aluminium"):
        galvanic_couple("aluminum", "zinc", INDEX, 0.15)


def test_bad_limit():
    with pytest.raises(OutOfRange, match="galvanic limit"):
        galvanic_couple("copper", "zinc", INDEX, -0.1)
