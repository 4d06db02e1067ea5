"""A project assessed again from what has changed equals the same project assessed anew, and holds no more memory."""

from __future__ import annotations

import os
import random
import weakref
from collections.abc import Callable, Iterator
from dataclasses import fields, replace
from pathlib import Path
from typing import Any, TypeVar

import pytest

from specgen.assessment import Assessment, assess
from specgen.design import coping_wind
from specgen.design.run import everyday
from specgen.files.faults import Fault
from specgen.intake.project import load_project
from specgen.model.project import PLACES, Parapet, Project, Record
from specgen.model.reading import READER, Reader
from specgen.model.requirement import RequirementSet
from specgen.practice.load import load_practice
from specgen.rules.book import load_book
from specgen.units.quantity import parse
from specgen.wall.differing import LISTS, SECTIONS
from specgen.wall.edit import with_value
from tests.random_changes import Changes, moved_lines

T = TypeVar("T")
PRACTICE = load_practice()
BOOK = load_book(PRACTICE)
PROJECTS = Path(__file__).parents[1] / "tests" / "stated"
DEMO = load_project(PROJECTS / "mixed-humid-midrise", PRACTICE)
LONG = os.environ.get("SPECGEN_LONG") == "1"
STEPS = 5_000 if LONG else 32  # changes in all, over all demos


def demos() -> list[Path]:
    return sorted(path.parent for path in PROJECTS.glob("*/project.yaml"))


def anew(project: Project) -> Assessment:
    return assess(project, PRACTICE, None, BOOK)


def outcome(work: Callable[..., T], *of: Any) -> T | str:
    """What some work gives, or what stops it."""
    try:
        return work(*of)
    except (Fault, ArithmeticError, ValueError, KeyError, TypeError, AttributeError) as error:
        return f"{type(error).__name__}: {error}"


def differences(one: Assessment, other: Assessment, subjects: list[str]) -> Iterator[str]:
    """What two assessments of one project say otherwise."""
    if one.findings != other.findings:
        pairs = zip(one.findings, other.findings, strict=False)
        yield f"findings: {next((pair for pair in pairs if pair[0] != pair[1]), 'count')}"
    if list(one.requirements.by_id.items()) != list(other.requirements.by_id.items()):
        differing = one.requirements.differing(other.requirements)
        yield f"requirements: {sorted(map(str, differing))[:4]}"
    if outcome(getattr, one, "paths") != outcome(getattr, other, "paths"):
        yield "paths"
    for parapet in other.calculations:
        for subject in subjects:
            made = [outcome(of.calculations[parapet].__getitem__, subject) for of in (one, other)]
            if made[0] != made[1]:
                yield f"calculation {subject} at {parapet}"


@pytest.mark.parametrize("folder", demos(), ids=lambda folder: folder.name)
def test_a_changed_project_is_assessed_as_if_anew(folder: Path) -> None:
    """Trials from one base and chains of edits, mixed: every result is that of a new assessment."""
    project = load_project(folder, PRACTICE)
    count = STEPS // len(demos())
    draw = Changes(PRACTICE, seed=len(folder.name) * 1_000 + count)
    choose = random.Random(count)
    first = current = anew(project)
    for step in range(count):
        base = choose.choice((first, current, current))
        done, project = draw.changed(base.project)
        incremental, fresh = outcome(base.again, project), outcome(anew, project)
        if isinstance(fresh, str) or isinstance(incremental, str):
            assert incremental == fresh, f"step {step}: {done}"
            continue
        subjects = choose.sample(everyday(), 3)
        assert not list(differences(incremental, fresh, subjects)), f"step {step}: {done}"
        current = incremental if choose.random() > 0.02 else first


def test_a_value_that_no_one_reads_is_worked_out_nowhere(monkeypatch) -> None:
    """A value of one parapet that decides little leaves the wind and the other parapets alone."""
    made = []
    whole = coping_wind.calculate
    monkeypatch.setattr(coping_wind, "calculate", lambda *of: made.append(of[1].name) or whole(*of))
    base = anew(DEMO)
    assert sorted(made) == sorted(
        one.name for one in DEMO.parapets
    )  # once each, though cleat and lath ask too
    made.clear()
    thicker = with_value(DEMO, PRACTICE, "P-1.coping.thickness", parse("0.063 in"))
    changed = base.again(thicker)
    assert made == [] and changed.findings != base.findings
    higher = with_value(DEMO, PRACTICE, "P-1.height", parse("50 in"))
    base.again(higher)
    assert set(made) <= {"P-1"}


def test_another_file_with_the_same_words_is_not_worked_out_at_all() -> None:
    """Results are kept under what was read, not under the objects that hold it."""
    base = anew(DEMO)
    same = Changes(PRACTICE, 1).again(DEMO)
    again = base.again(same)
    assert again.project is same and again.project.parapets[0] is not DEMO.parapets[0]
    for old, new in zip(base.findings, again.findings, strict=True):
        assert old is new


def test_each_who_asks_for_the_requirements_of_a_parapet_rests_on_them() -> None:
    """They are listed once and kept: the second rule that asks rests on them as the first does."""
    requirements = anew(DEMO).requirements
    for _ in range(2):
        reader = Reader()
        reader.reads, reader.asked = set(), {}
        token = READER.set(reader)
        try:
            assert requirements.at_parapet("P-1")
        finally:
            READER.reset(token)
        assert reader.reads == {(id(requirements), ("at parapet", "P-1"))}
    one = next(one for one in requirements.by_id.values() if one.floor and "P-1" in one.parapets)
    limit = replace(one.floor, value=parse("1 in"))
    other = RequirementSet({**requirements.by_id, one.id: replace(one, floor=limit)})
    assert ("at parapet", "P-1") in other.differing(requirements)
    assert ("at parapet", "P-9") not in other.differing(requirements)
    assert not requirements.differing(RequirementSet(dict(requirements.by_id)))


def test_a_moved_line_shows_in_the_findings() -> None:
    """An edit above moves the marks of what stands below; nothing of the old places is left."""
    base = anew(DEMO)
    moved = base.again(_shifted(DEMO, 7))
    assert [one.mark.line for one in moved.findings] == [
        one.mark.line + 7 if one.mark.line > 1 else one.mark.line for one in base.findings
    ]


def _shifted(project: Project, by: int) -> Project:
    return moved_lines(project, 1, by)


def test_memory_is_bounded_by_two_assessments() -> None:
    """A chain of edits keeps the results of the last two alone; whatever no one holds is freed, without a collector."""
    current, held = anew(DEMO), []
    entries = sum(len(stage.memo.made) for stage in current.stages)
    for number in range(30):
        current = current.again(
            with_value(DEMO, PRACTICE, "P-1.coping.thickness", parse(f"0.0{40 + number} in"))
        )
        held.append(weakref.ref(current.project))
    assert [one for one in held if one() is not None] == held[-1:]
    assert sum(len(stage.memo.made) for stage in current.stages) <= entries + 10


def test_every_list_of_a_project_tells_that_it_is_read() -> None:
    """A field that is added to a project or a parapet must tell, and be looked at for changes."""
    reported = {
        name
        for kind in (Project, Parapet)
        for name, of in vars(kind).items()
        if type(of).__name__ == "_TellingField"
    }
    # That an issue has open points, and whose papers they are, stands on documents; nothing that is assessed reads it.
    of_project = {field.name for field in fields(Project)} - {*SECTIONS, "open_points", "issuer"}
    of_parapet = {field.name for field in fields(Parapet)} - {"name", *(one.name for one in fields(Record))}
    assert reported == of_project | of_parapet
    assert of_project == {"parapets", "path", "weather", "hourly", "stated_only", *LISTS}
    assert of_parapet == {"build_up", "top", "transitions", "existing", *PLACES, "undecided", "absent"}


def test_an_office_or_another_language_of_units_starts_anew() -> None:
    """Nothing is taken over from another practice."""
    metric = replace(DEMO, info=replace(DEMO.info, values={**DEMO.info.values, "units": "SI"}))
    assert anew(DEMO).again(metric).findings == anew(metric).findings
