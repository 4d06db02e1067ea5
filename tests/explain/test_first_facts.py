"""The ten facts that a new project is asked first are those without which nothing is proposed, or on which most hangs."""

from __future__ import annotations

from dataclasses import replace

import pytest

from specgen.files.marks import InputError
from specgen.files.yaml_reader import read_yaml_text
from specgen.intake.project import ProjectReader
from specgen.intake.start import FIRST, reasoned, start_text
from specgen.intake.worked import worked_examples
from specgen.model.project import Record
from specgen.practice.load import load_practice
from specgen.propose.proposals import refuse_unready
from specgen.work.inputs import read_inputs
from specgen.work.questions import questions_of

PRACTICE = load_practice()
ASKED = [(one.question.what, one.question.key, one.group) for one in reasoned(PRACTICE)]
FIRST_FACTS = {(what, key) for what, key, group in ASKED if group == FIRST}
NEEDED = {("framing", "kind"), ("building", "roof_membrane")}
KIND_OF_WORK = ("parapet", "existing")  # what of the wall is new: no value of a wall that is described


def unanswered(record: Record) -> Record:
    """A record that leaves open whatever a new project is asked of it."""
    keys = {key for what, key, _ in ASKED if what == record.what} & set(record.values)
    kept = {name: value for name, value in record.values.items() if name not in keys}
    return replace(record, values=kept, unknown=dict.fromkeys(keys, record.mark))


def test_without_two_of_them_nothing_is_proposed() -> None:
    text = start_text({"name": "A"}, PRACTICE)
    project = ProjectReader(PRACTICE, read_yaml_text(text, "project.yaml", want=dict), "project.yaml").read()
    with pytest.raises(InputError) as found:
        refuse_unready(project)
    assert len(found.value.problems) == len(NEEDED) and {*NEEDED, KIND_OF_WORK} <= FIRST_FACTS


@pytest.mark.slow
def test_on_the_others_hangs_more_than_on_any_other_that_is_asked() -> None:
    one = read_inputs(worked_examples()["mixed-humid-midrise"], None, False).assessed()
    project = one.project
    first, *_ = project.parapets
    bare = replace(
        project,
        site=unanswered(project.site),
        building=unanswered(project.building),
        parapets=(unanswered(first),),
    )
    found = questions_of(one.again(bare))  # type: ignore[arg-type]
    counts = {tuple(each.key.split(".")): each.count for each in found.questions}
    others = FIRST_FACTS - NEEDED - {KIND_OF_WORK}
    assert len(others) == 7 and others <= set(counts)
    rest = [count for key, count in counts.items() if key not in others]
    assert len(rest) > 4 and min(counts[key] for key in others) > max(rest)  # type: ignore[index]
