"""The array library is loaded by what needs arrays, and by nothing else."""

from __future__ import annotations

import numpy
import pytest

from specgen.arrays import np
from tests.chain.runs import CONFORMING
from tests.commands.test_help import loaded


def test_stands_for_numpy() -> None:
    """Every name is NumPy's own."""
    assert np.asarray is numpy.asarray
    assert np.float64 is numpy.float64
    with pytest.raises(AttributeError):
        _ = np.no_such_function


def test_check_of_a_wall_without_weather_loads_no_arrays() -> None:
    """A quarter of the time of a check went into loading NumPy."""
    assert "numpy" not in loaded("check", str(CONFORMING))
