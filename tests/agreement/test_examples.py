"""The documents of every worked example agree; so do those of walls made by chance."""

from __future__ import annotations

import pytest

from specgen.agreement.reader import contradictions
from specgen.files.marks import InputError
from specgen.intake.project import load_project
from specgen.practice.load import load_practice
from tests.agreement.issues import WAITING, found_in, issue_of, waits_for
from tests.agreement.walls import EXAMPLES, generated
from tests.chain.runs import CONFORMING, copied
from tests.conftest import LONG

WALLS = 200 if LONG else 6


@pytest.mark.parametrize("example", EXAMPLES)
def test_the_documents_of_an_example_agree(example):
    assert [str(one) for one in found_in(example) if not waits_for(one)] == []


@pytest.mark.slow
def test_the_documents_of_walls_made_by_chance_agree(tmp_path):
    made, seed, wrong = 0, 0, []
    while made < WALLS:
        seed += 1
        assert seed < 10 * WALLS, f"only {made} of {seed} walls can be read"
        path = tmp_path / f"{seed}" / "project.yaml"
        path.parent.mkdir()
        path.write_text(generated(seed), "utf-8")
        try:
            load_project(path, load_practice())
        except InputError:
            continue
        made += 1
        found = contradictions(issue_of(path.parent))
        wrong += [f"wall {seed}: {one}" for one in found if not waits_for(one)]
    assert wrong == []


def _waiting(*causes):
    return [pytest.param(one, marks=pytest.mark.xfail(strict=True, reason=WAITING[one])) for one in causes]


@pytest.mark.parametrize("cause", _waiting("order", "late", "roof", "zinc", "counts"))
def test_nothing_waits(cause):
    found = [one for name in EXAMPLES for one in found_in(name) if waits_for(one) == cause]
    assert found == []


@pytest.mark.parametrize("cause", _waiting("failing"))
def test_a_size_that_fails_is_told_at_the_size(cause, tmp_path):
    short = ("        outer_drip: 1 in\n", "        outer_drip: 1/2 in\n")
    wall = copied(CONFORMING, tmp_path / "wall", short)
    assert [one for one in contradictions(issue_of(wall)) if waits_for(one) == cause] == []
