"""Readers of foreign words and files end with what they declare, soon and small, whatever they are given.

``make test`` tries every kept input and some 2,000 made by chance; ``SPECGEN_LONG=1`` 1,000,000, most on the cheap
readers. ``python -m tests.fuzz.run TARGET`` searches further, guided by coverage where atheris is there.
"""

from __future__ import annotations

import os

import pytest

from tests.fuzz.held import Failure, by_chance, outcome, seeds
from tests.fuzz.targets import SEEDS, TARGETS, Target

LONG = os.environ.get("SPECGEN_LONG") == "1"
IN_ALL = 1_000_000
SAMPLE = {300: 250, 100: 180, 20: 120, 1: 40}  # runs of a target with at most that share


def runs(name: str) -> int:
    share = TARGETS[name].share
    return IN_ALL * share // 1000 if LONG else SAMPLE[min(most for most in SAMPLE if share <= most)]


def test_the_shares_make_the_whole_and_the_sample_is_some_two_thousand() -> None:
    assert sum(one.share for one in TARGETS.values()) == 1000
    assert {path.name for path in SEEDS.iterdir()} == set(TARGETS)
    if not LONG:
        assert 1_500 <= sum(map(runs, TARGETS)) <= 2_600


@pytest.mark.parametrize("name", TARGETS)
def test_every_kept_input_and_inputs_made_by_chance(name: str) -> None:
    ends = [outcome(TARGETS[name], data) for data in seeds(name)]
    assert [one for one in ends if isinstance(one, Failure)] == []
    assert "" in ends, "no input of this target is read: the search begins at the door"
    assert by_chance(name, runs(name), seed=11)[1] == []


def test_a_reader_that_breaks_its_promise_is_told_by_place() -> None:
    def broken(data: bytes) -> None:
        if data == b"loop":
            while True:
                pass
        raise KeyError(data)

    target = Target(broken, (ValueError,), 0)
    wrong, slow = outcome(target, b"x"), outcome(target, b"loop", seconds=0.2)
    assert (
        isinstance(wrong, Failure)
        and wrong.what.startswith("KeyError")
        and wrong.place.startswith("test_fuzz.py:")
    )
    assert isinstance(slow, Failure) and slow.what == "TooSlow: more than 0.2 s of the processor"
    assert outcome(Target(broken, (KeyError,), 0), b"x") == "KeyError: bx"
