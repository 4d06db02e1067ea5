"""What the sections say where a wall rests on a kept result of its hours."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import pytest

from specgen.assessment import assess
from specgen.design.hourly_kept import KeyNow
from specgen.intake.project import load_project
from specgen.model.document import numbered
from specgen.model.hourly import HourlyResult
from specgen.practice.load import load_practice
from specgen.specification import specify
from tests.chain.runs import CONFORMING
from tests.hourly_results import cut_of, result_of, run_of

KEY = "a" * 32
RESTS = "Wall moisture: calculated over years of hours with the vapor permeance of barrier and drainage layer"
OUTSIDE = "Do not furnish a drainage layer, a plaster, or a finish coat other than was calculated with in"


@pytest.fixture(autouse=True)
def key(monkeypatch: pytest.MonkeyPatch) -> None:
    """The key of every wall, without weather and materials."""
    monkeypatch.setattr("specgen.design.hourly_moisture.read", lambda *_: SimpleNamespace(key=KEY))
    monkeypatch.setattr("specgen.design.hourly_kept.key_now", lambda *_: KeyNow(KEY))


def texts(*kept: HourlyResult) -> str:
    """All paragraphs of the sections of a project with kept results."""
    project = replace(load_project(CONFORMING, load_practice()), hourly={one.parapet: one for one in kept})
    sections = specify(assess(project, load_practice())).sections
    return "\n".join(
        str(paragraph) for section in sections for paragraph in numbered(section.document.blocks)
    )


def test_a_result_that_holds_states_what_it_rests_on_and_what_needs_a_new_one() -> None:
    words = texts(result_of("P-1", key=KEY))
    assert RESTS in words and OUTSIDE in words
    assert "with 1 % of the driving rain on the face of the barrier" in words


@pytest.mark.parametrize(
    "kept",
    [
        (),
        (result_of("P-1", key="another"),),
        (result_of("P-1", cut_of([run_of(0.0, holds=False)]), key=KEY),),
    ],
    ids=["none kept", "of another wall", "criterion fails"],
)
def test_no_other_result_is_named(kept: tuple[HourlyResult, ...]) -> None:
    words = texts(*kept)
    assert RESTS not in words and OUTSIDE not in words
