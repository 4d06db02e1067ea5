"""The existing state of a parapet in the project file."""

from __future__ import annotations

from collections.abc import Callable

from specgen.model.project import Project

HEAD = """\
project: {name: Mill Yard, number: "7", issue_date: 2026-11-02}
site: {place: a town}
building: {}
parapets:
  - name: P-1
    height: 36 in
"""
EXISTING = """\
    existing:
      inspected: 2026-10-01
      observations:
        - {name: O-1, what: crack, where: outer face, pattern: map}
        - {name: M-1, what: moisture reading, where: below the coping, reading: 22 %, material: wood, method: pin meter}
      repairs:
        - what: rebuild top
      openings:
        - {name: T-1, where: below the coping, found: wet}
"""

Load = Callable[[str], Project]
ProblemsOf = Callable[[str], list[str]]


def test_a_parapet_without_it_is_new(load: Load) -> None:
    assert load(HEAD).parapets[0].existing is None


def test_observations_repairs_and_openings_are_read_with_their_marks(load: Load) -> None:
    existing = load(HEAD + EXISTING).parapets[0].existing
    assert existing is not None
    assert existing.mark.line == 7
    assert [one.word("name") for one in existing.observations] == ["O-1", "M-1"]
    assert existing.observations[1].si("reading") == 0.22
    assert [one.word("what") for one in existing.repairs] == ["rebuild top"]
    assert existing.openings[0].at("found").line == 15


def test_two_repairs_need_no_names(load: Load) -> None:
    text = HEAD + EXISTING.replace("rebuild top\n", "rebuild top\n        - what: seal cracks\n")
    existing = load(text).parapets[0].existing
    assert existing is not None and len(existing.repairs) == 2


def test_a_misspelt_condition_is_told_at_its_place(problems_of: ProblemsOf) -> None:
    (problem,) = problems_of(HEAD + EXISTING.replace("what: crack", "what: crak"))
    assert problem.startswith("10:29 ") and "did you mean `crack`?" in problem


def test_a_name_used_twice_is_told(problems_of: ProblemsOf) -> None:
    (problem,) = problems_of(HEAD + EXISTING.replace("name: M-1", "name: O-1"))
    assert "observation `O-1` is described twice" in problem


def test_a_word_where_its_lines_are_wanted_is_told(problems_of: ProblemsOf) -> None:
    (problem,) = problems_of(HEAD + "    existing: cracked\n")
    assert problem.startswith("7:15 existing: ") and "`key: value` lines" in problem


def test_it_does_not_belong_in_a_type(problems_of: ProblemsOf) -> None:
    types = "types:\n  old wall:\n    existing: {by: an architect}\n"
    (problem,) = problems_of(types + HEAD)
    assert "unknown key `existing`" in problem


def test_each_record_of_a_standing_wall_takes_a_note(load: Load) -> None:
    text = HEAD + EXISTING.replace("pattern: map}", "pattern: map, note: seen from a lift}").replace(
        "- what: rebuild top", "- {what: rebuild top, note: in two lifts}"
    ).replace("found: wet}", "found: wet, note: drips from the joint}")
    existing = load(text).parapets[0].existing
    assert existing is not None
    noted = (existing.observations[0], existing.repairs[0], existing.openings[0])
    assert [one.word("note") for one in noted] == ["seen from a lift", "in two lifts", "drips from the joint"]
