"""The largest share at which a criterion still holds: how much leakage a wall forgives."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final, Literal

from specgen.physics.errors import PhysicsError, check_range

MOST_STEPS: Final = 1_000_000
DIGITS: Final = 12
"""Decimals to which shares are told apart."""
_NONE_KNOWN: Final[Mapping[float, bool]] = MappingProxyType({})


class NotMonotone(PhysicsError):  # noqa: N818 - the name reads as the statement it makes
    """The criterion holds at a larger share than one at which it fails: no largest share can be stated.

    >>> raise NotMonotone(0.01, 0.02)
    Traceback (most recent call last):
    ...
    specgen.physics.largest_share.NotMonotone: the criterion fails at 0.01 and holds again at 0.02
    """

    def __init__(self, fails: float, holds: float) -> None:
        self.fails = fails
        self.holds = holds
        super().__init__(f"the criterion fails at {fails:.9g} and holds again at {holds:.9g}")


@dataclass(frozen=True)
class LargestShare:
    """What the bisection found.

    outcome: "fails at the lowest", "holds at the highest", or "between". share: the largest that was seen to hold, None
    where even the lowest fails. fails: the least that was seen to fail, None where the highest holds. runs: how often the
    criterion was asked. results: every share that was asked or known, from the lowest, with its answer: hand it on as
    ``known`` and a search that was broken off goes on.
    """

    outcome: Literal["fails at the lowest", "holds at the highest", "between"]
    share: float | None
    fails: float | None
    runs: int
    results: Mapping[float, bool]


def largest_share(
    criterion: Callable[[float], bool],
    low: float,
    high: float,
    step: float,
    known: Mapping[float, bool] = _NONE_KNOWN,
) -> LargestShare:
    """The largest share of a grid from `low` by `step` to `high` at which a criterion holds, by bisection.

    First the lowest is asked, then the highest, then the middle of what is left, and at last, where that is no answer
    yet, one share half way down and one half way up: a criterion that comes and goes is told and not believed.

    Args:
        criterion: whether it holds at a share; a share of the grid each time.
        low, high: ends of the grid, both of it.
        step: of the grid, above 0; `high` less `low` is a whole number of steps.
        known: answers of an earlier search, by share; they are not asked again.

    Returns:
        The largest share with what was asked.

    Raises:
        NotMonotone: it holds at a larger share than one at which it fails.
        PhysicsError: `high` below `low`, or not a whole number of steps above it.

    >>> found = largest_share(lambda share: share <= 0.013, 0.0, 0.05, 0.005)
    >>> found.outcome, found.share, found.fails, found.runs
    ('between', 0.01, 0.015, 7)
    """
    search = _Search(criterion, _grid(low, high, step), known)
    last = len(search.shares) - 1
    if not search.holds(0):
        return search.found("fails at the lowest", None, search.shares[0])
    if search.holds(last):
        search.asked(last // 2)
        return search.found("holds at the highest", search.shares[last], None)
    good, bad = 0, last
    while bad - good > 1:
        middle = (good + bad) // 2
        good, bad = (middle, bad) if search.holds(middle) else (good, middle)
    for probe in (good // 2, (bad + last + 1) // 2):
        search.asked(probe)
    return search.found("between", search.shares[good], search.shares[bad])


class _Search:
    """The shares of a grid and the answers there are."""

    def __init__(
        self, criterion: Callable[[float], bool], shares: list[float], known: Mapping[float, bool]
    ) -> None:
        self.criterion = criterion
        self.shares = shares
        self.results = {round(share, DIGITS): bool(held) for share, held in known.items()}
        self.runs = 0
        self._hold_together()

    def holds(self, at: int) -> bool:
        """Whether the criterion holds at a place of the grid: asked where the answers there are leave a doubt."""
        share = self.shares[at]
        if any(held and larger >= share for larger, held in self.results.items()):
            return True
        if any(not held and smaller <= share for smaller, held in self.results.items()):
            return False
        return self.asked(at)

    def asked(self, at: int) -> bool:
        """The answer at a place of the grid itself."""
        share = self.shares[at]
        if share not in self.results:
            self.runs += 1
            self.results[share] = bool(self.criterion(share))
            self._hold_together()
        return self.results[share]

    def found(
        self, outcome: Literal["fails at the lowest", "holds at the highest", "between"],
        share: float | None, fails: float | None,
    ) -> LargestShare:  # fmt: skip
        return LargestShare(outcome, share, fails, self.runs, dict(sorted(self.results.items())))

    def _hold_together(self) -> None:
        holding = [share for share, held in self.results.items() if held]
        failing = [share for share, held in self.results.items() if not held]
        if holding and failing and max(holding) > min(failing):
            raise NotMonotone(min(failing), max(holding))


def _grid(low: float, high: float, step: float) -> list[float]:
    least = float(check_range("lowest share", low, -1e9, 1e9, "definition"))
    width = float(check_range("step of the shares", step, 1e-12, 1e9, "definition"))
    most = float(check_range("highest share", high, -1e9, 1e9, "definition"))
    steps = round((most - least) / width)
    if steps < 0 or steps > MOST_STEPS or abs(least + steps * width - most) > 1e-6 * width:
        raise PhysicsError(f"{least:.9g} to {most:.9g} is no whole number of steps of {width:.9g}")
    return [round(least + number * width, DIGITS) for number in range(steps + 1)]
