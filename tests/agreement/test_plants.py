"""Each contradiction that is planted by hand into the finished files is noticed, and called what it is."""

from __future__ import annotations

import pytest

from specgen.agreement.issue import read_pages
from specgen.agreement.reader import among
from tests.agreement.issues import written
from tests.agreement.plants import PLANTS
from tests.conftest import LONG

EXAMPLE = "mixed-humid-midrise"


@pytest.fixture(scope="module")
def pages():
    """The pages of the issue as it was written, by file."""
    return {page.file: page for page in read_pages(written(EXAMPLE))}


@pytest.fixture(scope="module")
def known(pages):
    """What the issue contradicts itself in before anything is planted."""
    return {_key(one) for one in among(tuple(pages.values()))}


def _key(one):
    return one.about, one.one.text, one.other.text


def test_there_are_at_least_forty():
    assert len({plant.name for plant in PLANTS}) == len(PLANTS) >= 40


@pytest.mark.parametrize("plant", PLANTS if LONG else PLANTS[::4], ids=lambda plant: plant.name)
def test_a_planted_contradiction_is_noticed(plant, pages, known):
    planted = {name: edit(written(EXAMPLE)[name]) for name, edit in plant.edits.items()}
    changed = {page.file: page for page in read_pages(planted)}
    new = [one for one in among(tuple({**pages, **changed}.values())) if _key(one) not in known]
    named = [one for one in new if {one.one.file, one.other.file} & set(planted)]
    assert plant.kind in {one.kind for one in named}, [str(one) for one in new]
