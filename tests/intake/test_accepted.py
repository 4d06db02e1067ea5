"""accepted.yaml: what is read, and what every mistake is told."""

from __future__ import annotations

from pathlib import Path

import pytest

from specgen.files.marks import InputError
from specgen.intake.accepted import load_accepted, problem_of_number
from specgen.model.submission import Recommendation
from specgen.practice.load import load_practice

PRACTICE = load_practice()
ENTRY = (
    "  - submittal: a.yaml\n    date: 2026-11-20\n    by: architect, J.K.\n    result: no exceptions taken\n"
)


def load(folder: Path, text: str):
    (folder / "a.yaml").touch()
    (folder / "b.yaml").touch()
    (folder / "accepted.yaml").write_text(text, "utf-8")
    return load_accepted(folder / "accepted.yaml", PRACTICE)


def problems(folder: Path, text: str) -> list[str]:
    with pytest.raises(InputError) as caught:
        load(folder, text)
    return [str(one) for one in caught.value.problems]


def test_entries_come_by_date_with_all_that_was_written(tmp_path):
    later = (
        "  - {substitution: b.yaml, date: 2026-10-01, by: 'owner, P.D.',\n"
        "     result: make corrections noted, note: by letter}\n"
    )
    first, second = load(tmp_path, f"accepted:\n{ENTRY}{later}")
    assert (first.paper, first.file, str(first.date)) == ("substitution", "b.yaml", "2026-10-01")
    assert (first.word("by"), first.word("result"), first.word("note")) == (
        "owner, P.D.",
        "make corrections noted",
        "by letter",
    )
    assert (second.paper, second.file, second.word("note")) == ("submittal", "a.yaml", None)


def test_entries_of_one_day_stay_in_the_order_of_the_file(tmp_path):
    same = ENTRY.replace("submittal: a", "substitution: b")
    assert [one.file for one in load(tmp_path, f"accepted:\n{same}{ENTRY}")] == ["b.yaml", "a.yaml"]


def test_an_empty_list_is_a_record_of_nothing(tmp_path):
    assert load(tmp_path, "accepted: []\n") == ()


def test_the_results_are_those_with_which_work_goes_on():
    choices = PRACTICE.vocabulary.records["acceptance"].fields["result"].choices
    assert choices == (Recommendation.NO_EXCEPTIONS.value, Recommendation.CORRECTIONS.value)


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ("accept:\n" + ENTRY, 1, "did you mean `accepted`?"),
        ("{}\n", 1, "`accepted` is missing"),
        ("accepted: yes\n", 1, "a yes or no stands where a list is wanted"),
        ("accepted:\n  - wrap\n", 2, "stands where"),
        ("accepted:\n" + ENTRY.replace("    date: 2026-11-20\n", ""), 2, "`date` is missing"),
        ("accepted:\n" + ENTRY.replace("2026-11-20", "yesterday"), 3, "date"),
        ("accepted:\n" + ENTRY.replace("no exceptions taken", "rejected"), 5, "no exceptions taken"),
        ("accepted:\n" + ENTRY.replace("by:", "bye:"), 4, "did you mean `by`?"),
        ("accepted:\n" + ENTRY.replace("submittal: a.yaml", "note: x"), 2, "names no paper"),
        ("accepted:\n" + ENTRY + "    substitution: b.yaml\n", 2, "names two papers"),
        ("accepted:\n" + ENTRY.replace("a.yaml", "c.yaml"), 2, "no file 'c.yaml'"),
        ("accepted:\n" + ENTRY.replace("a.yaml", "../a.yaml"), 2, "leaves the project folder"),
        ("accepted:\n" + ENTRY.replace("a.yaml", "/etc/hosts"), 2, "leaves the project folder"),
        ("accepted:\n" + ENTRY.replace("a.yaml", "[a.yaml]"), 2, "a list, a file's name is wanted"),
        ("accepted:\n" + ENTRY + ENTRY, 6, "is accepted twice (first: line 2)"),
    ],
)
def test_mistakes_are_told_with_their_line_and_the_fix(tmp_path, text, line, words):
    (printed,) = problems(tmp_path, text)
    assert f"accepted.yaml:{line}:" in printed
    assert words in printed and "fix: " in printed


def test_a_link_that_leaves_the_folder_is_refused(tmp_path):
    (tmp_path / "p").mkdir()
    (tmp_path / "p" / "link.yaml").symlink_to(tmp_path / "a.yaml")
    (tmp_path / "a.yaml").touch()
    (printed,) = problems(tmp_path / "p", "accepted:\n" + ENTRY.replace("a.yaml", "link.yaml"))
    assert "leaves the project folder" in printed


def test_all_mistakes_of_a_file_are_told_in_one_run(tmp_path):
    wrong = ENTRY.replace("2026-11-20", "soon").replace("a.yaml", "none.yaml")
    assert len(problems(tmp_path, f"accepted:\n{wrong}{wrong.replace('none', 'gone')}")) == 4


def test_a_paper_of_another_project_is_told(tmp_path):
    (entry,) = load(tmp_path, "accepted:\n" + ENTRY)
    assert problem_of_number(None, "2601", entry.mark) is None
    assert problem_of_number("2601", "2601", entry.mark) is None
    assert "project `7`, this is project `2601`" in str(problem_of_number("7", "2601", entry.mark))
