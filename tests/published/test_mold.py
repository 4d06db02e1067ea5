"""Mold: growth times of the published regressions on pine sapwood, by the hours of the index."""

from __future__ import annotations

import math

import numpy as np
import pytest

from specgen.physics.mold import mold_index
from tests.published.register import How, published

SOURCE = "Hukka and Viitanen, A mathematical model of mould growth on wooden material, Wood Science and Technology 33"


def weeks_to(index: float, temp_c: float, humidity: float) -> float:
    """Weeks until the index on pine sapwood is reached at constant conditions."""
    ones = np.ones((24 * 7 * 40, 1))
    grown = mold_index(temp_c * ones, humidity * ones, ["very sensitive"], 1.0)[:, 0]
    assert grown[-1] >= index
    return (int(np.argmax(grown >= index)) + 1) / (24 * 7)


@published(
    "mold",
    "weeks to index 1 on pine sapwood, resawn",
    SOURCE,
    "response time t_m, as the source code of a public package for the care of collections quotes it",
    "1 % and half an hour",
    How.READ,
    "1999",
)
@pytest.mark.parametrize("temp_c", [5.0, 10.0, 20.0, 30.0, 40.0])
@pytest.mark.parametrize("humidity", [0.95, 0.97, 1.0])
def test_weeks_to_the_first_growth(temp_c: float, humidity: float) -> None:
    stated = math.exp(-0.68 * math.log(temp_c) - 13.9 * math.log(100 * humidity) + 66.02)
    assert weeks_to(1.0, temp_c, humidity) == pytest.approx(stated, rel=0.01, abs=0.5 / 168 + 0.01)


@published(
    "mold",
    "weeks to index 3, the first seen growth, on pine sapwood: a regression of its own, not of the model",
    SOURCE,
    "response time t_v, as the source code of a public package for the care of collections quotes it",
    "12 %; 1 % at 20 °C and 97 %",
    How.READ,
    "1999",
)
@pytest.mark.parametrize("temp_c", [5.0, 10.0, 20.0, 30.0, 40.0])
@pytest.mark.parametrize("humidity", [0.93, 0.97, 1.0])
def test_weeks_to_growth_that_is_seen(temp_c: float, humidity: float) -> None:
    stated = math.exp(-0.74 * math.log(temp_c) - 12.72 * math.log(100 * humidity) + 61.50)
    near = 0.01 if (temp_c, humidity) == (20.0, 0.97) else 0.12
    assert weeks_to(3.0, temp_c, humidity) == pytest.approx(stated, rel=near)
