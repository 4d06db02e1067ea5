"""The checks name what is wrong and pass what is right."""

from __future__ import annotations

import numpy as np
import pytest

from specgen.physics.errors import NotFinite, OutOfRange, PhysicsError, check_finite, check_range, plain


def test_ends_of_the_range_pass() -> None:
    assert check_range("x", [0.0, 1.0], 0.0, 1.0, "s").tolist() == [0.0, 1.0]


def test_the_first_offender_is_reported() -> None:
    with pytest.raises(OutOfRange) as caught:
        check_range("x [m]", [0.5, 2.0, 3.0], 0.0, 1.0, "the source")
    error = caught.value
    assert (error.name, error.value, error.source) == ("x [m]", 2.0, "the source")
    assert (error.low, error.high) == (0.0, 1.0)
    assert isinstance(error, PhysicsError)


@pytest.mark.parametrize("bad", [None, float("nan"), float("inf"), "text", [1.0, None]])
def test_what_is_no_number_is_refused(bad: object) -> None:
    with pytest.raises(NotFinite, match=r"x \[m\]"):
        check_finite("x [m]", bad)  # type: ignore[arg-type]


def test_plain_keeps_arrays_and_unwraps_scalars() -> None:
    assert type(plain(np.array(1.5))) is float
    assert np.asarray(plain(np.array([1.5]))).shape == (1,)
