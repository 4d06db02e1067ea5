"""The largest share that a criterion forgives: the right one, in few runs, broken off and gone on, coming and going."""

from __future__ import annotations

import math

import numpy as np
import pytest

from specgen.physics.errors import NotFinite, OutOfRange, PhysicsError
from specgen.physics.largest_share import LargestShare, NotMonotone, largest_share


class Asked:
    """A criterion that holds up to a share, and what it was asked."""

    def __init__(self, limit: float) -> None:
        self.limit = limit
        self.shares: list[float] = []

    def __call__(self, share: float) -> bool:
        self.shares.append(share)
        return share <= self.limit


@pytest.mark.parametrize("seed", range(40))
def test_it_is_the_largest_of_the_grid_that_holds(seed: int) -> None:
    rng = np.random.default_rng(seed)
    steps = int(rng.integers(1, 200))
    criterion = Asked(float(rng.uniform(-0.01, 0.06)))
    found = largest_share(criterion, 0.0, 0.05, 0.05 / steps)
    grid = [round(k * 0.05 / steps, 12) for k in range(steps + 1)]
    holding = [share for share in grid if share <= criterion.limit]
    failing = [share for share in grid if share > criterion.limit]
    assert found.share == (holding[-1] if holding else None)
    assert found.fails == (failing[0] if failing else None)
    assert found.runs == len(criterion.shares) == len(set(criterion.shares))
    assert found.runs <= 2 + math.ceil(math.log2(steps + 1)) + 2


def test_where_even_none_fails_it_says_so_after_one_run() -> None:
    found = largest_share(Asked(-1.0), 0.0, 0.05, 0.01)
    assert found == LargestShare("fails at the lowest", None, 0.0, 1, {0.0: False})


def test_where_the_highest_holds_it_says_so() -> None:
    found = largest_share(Asked(1.0), 0.0, 0.05, 0.01)
    assert (found.outcome, found.share, found.fails) == ("holds at the highest", 0.05, None)
    assert found.results == {0.0: True, 0.02: True, 0.05: True}


def test_one_share_is_a_grid() -> None:
    assert largest_share(Asked(1.0), 0.01, 0.01, 0.01).share == 0.01


def test_a_search_that_was_broken_off_goes_on_without_asking_twice() -> None:
    whole = Asked(0.0231)
    once = largest_share(whole, 0.0, 0.05, 0.001)
    for kept in range(len(whole.shares) + 1):
        known = {share: share <= whole.limit for share in whole.shares[:kept]}
        rest = Asked(whole.limit)
        found = largest_share(rest, 0.0, 0.05, 0.001, known)
        assert (found.outcome, found.share, found.fails) == (once.outcome, once.share, once.fails)
        assert not set(rest.shares) & set(known) and found.runs == len(rest.shares)
        assert found.runs + kept == once.runs
    assert largest_share(Asked(0.0231), 0.0, 0.05, 0.001, once.results).runs == 0


def test_what_is_known_off_the_grid_narrows_the_search() -> None:
    criterion = Asked(0.0231)
    found = largest_share(criterion, 0.0, 0.05, 0.001, {0.02345: False, 0.0229: True})
    assert found.share == 0.023
    assert all(share >= 0.0229 or share == 0.011 for share in criterion.shares)


def test_a_criterion_that_comes_and_goes_is_named() -> None:
    with pytest.raises(NotMonotone, match=r"fails at 0\.03 and holds again at 0\.04"):
        largest_share(lambda share: share != 0.03, 0.0, 0.05, 0.01, {0.03: False})
    with pytest.raises(NotMonotone):  # seen by the share half way: the ends alone would have hidden it
        largest_share(lambda share: not 0.01 < share < 0.04, 0.0, 0.05, 0.01)
    with pytest.raises(NotMonotone):
        largest_share(lambda share: share < 0.02 or 0.03 < share < 0.045, 0.0, 0.05, 0.005)
    with pytest.raises(NotMonotone):
        largest_share(Asked(1.0), 0.0, 0.05, 0.01, {0.01: False, 0.02: True})


def test_what_the_criterion_raises_is_not_caught() -> None:
    def breaks(share: float) -> bool:
        raise OutOfRange("suction [Pa]", share, 1.0, 2.0, "test")

    with pytest.raises(OutOfRange):
        largest_share(breaks, 0.0, 0.05, 0.01)


@pytest.mark.parametrize(
    ("low", "high", "step", "error"),
    [
        (0.0, 0.05, 0.03, PhysicsError),
        (0.05, 0.0, 0.01, PhysicsError),
        (0.0, 0.05, 0.0, OutOfRange),
        (0.0, 0.05, -0.01, OutOfRange),
        (0.0, math.inf, 0.01, NotFinite),
        (0.0, math.nan, 0.01, NotFinite),
        (0.0, 1e6, 1e-3, PhysicsError),
    ],
)
def test_a_grid_that_is_none_is_refused(low: float, high: float, step: float, error: type) -> None:
    with pytest.raises(error):
        largest_share(Asked(0.0), low, high, step)
