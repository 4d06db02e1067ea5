"""Kept hourly results and a project assessed again: what was read of them is worked out anew where they change."""

from __future__ import annotations

from dataclasses import replace

import pytest

from specgen.assessment import Assessment, assess
from specgen.design.hourly_kept import KeyNow
from specgen.intake.project import load_project
from specgen.model.hourly import HourlyResult
from specgen.model.project import Parapet, Project
from specgen.practice.load import load_practice
from specgen.units.quantity import parse
from tests.chain.runs import CONFORMING
from tests.hourly_results import SOUND, cut_of, result_of, run_of

MOLDY = cut_of([run_of(0.0, replace(SOUND, mold=(4.0, 4.0)), holds=False)], forgiven=None)


@pytest.fixture(autouse=True)
def key(monkeypatch: pytest.MonkeyPatch) -> None:
    """A key of the barrier alone, which is read as any key reads: through the records of the wall."""

    def now(project: Project, parapet: Parapet, *_: object) -> KeyNow:
        barrier = parapet.part("barrier")
        return KeyNow(str(barrier and barrier.values.get("vapor_permeance")))

    monkeypatch.setattr("specgen.design.hourly_kept.key_now", now)


def stated() -> Project:
    return load_project(CONFORMING, load_practice())


def with_kept(project: Project, *cuts: object) -> Project:
    """The project with a result of its first wall that holds for it."""
    barrier = project.parapets[0].part("barrier")
    assert barrier is not None
    kept: HourlyResult = result_of("P-1", *cuts, key=str(barrier.values["vapor_permeance"]))  # type: ignore[arg-type]
    return replace(project, hourly={"P-1": kept})


def hours(assessment: Assessment) -> set[tuple[str, str, str]]:
    return {
        (one.code, one.parapet, one.outcome.value) for one in assessment.findings if one.code.startswith("HM")
    }


def test_a_result_that_comes_changes_and_goes_is_seen_by_what_rests_on_it() -> None:
    base = assess(stated(), load_practice())
    assert {outcome for _, _, outcome in hours(base)} == {"not applicable"}
    for project in (with_kept(stated()), with_kept(stated(), MOLDY), stated()):
        base = base.again(project)
        new = assess(project, load_practice())
        assert base.findings == new.findings
    moldy = base.again(with_kept(stated(), MOLDY))
    assert ("HM02", "P-1", "fail") in hours(moldy)


def test_a_wall_that_changes_loses_its_result_and_one_that_comes_back_has_it_again() -> None:
    project = with_kept(stated(), MOLDY)
    base = assess(project, load_practice())
    barrier = project.parapets[0].part("barrier")
    assert barrier is not None
    other = replace(barrier, values={**barrier.values, "vapor_permeance": parse("12 perm")})
    walls = tuple(
        replace(one, build_up=tuple(other if part is barrier else part for part in one.build_up))
        for one in project.parapets
    )
    changed = base.again(replace(project, parapets=walls))
    assert ("HM01", "P-1", "fail") in hours(changed) and ("HM02", "P-1", "fail") not in hours(changed)
    assert hours(changed.again(project)) == hours(base)
