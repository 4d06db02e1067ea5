"""comments.yaml: what is read, and what every mistake is told."""

from __future__ import annotations

from pathlib import Path

import pytest

from specgen.files.marks import InputError
from specgen.intake.comments import LONGEST_TEXT, MOST_ANSWERS, MOST_COMMENTS, comments_beside, load_comments
from specgen.model.comment import About
from specgen.practice.load import load_practice
from tests.conftest import LONG

PRACTICE = load_practice()
TIME = '"2026-11-30T09:15:00-05:00"'
FIRST = f"  - about: {{finding: CP02, parapet: P-1}}\n    name: A. B.\n    time: {TIME}\n    text: why?\n"


def load(folder: Path, text: str):
    (folder / "comments.yaml").write_text(text, "utf-8")
    return load_comments(folder / "comments.yaml", PRACTICE)


def problems(folder: Path, text: str) -> list[str]:
    with pytest.raises(InputError) as caught:
        load(folder, text)
    return [str(one).replace(f"{folder}/comments.yaml:", "") for one in caught.value.problems]


def test_all_that_is_written_is_read(tmp_path: Path) -> None:
    more = (
        f"  - about: {{section: 07 71 00, paragraph: drip}}\n    name: 7\n    time: 2026-11-30T09:15:00Z\n"
        f"    text: |\n      two\n      lines\n    answered: yes\n    answers:\n"
        f"      - {{name: C, time: {TIME}, text: because}}\n"
        f"  - about: {{value: slope, of: coping, parapet: P-1}}\n    name: D\n"
        f"    time: {TIME}\n    text: x\n    answers:\n"
    )
    one, two, three = load(tmp_path, f"format: 2\ncomments:\n{FIRST}{more}")
    assert (one.about, one.name, one.text, one.answered) == (
        About(finding="CP02", parapet="P-1"),
        "A. B.",
        "why?",
        False,
    )
    assert one.mark.line == 3
    assert (two.about.section, two.about.paragraph, two.name, two.text) == (
        "07 71 00",
        "drip",
        "7",
        "two\nlines",
    )
    assert two.answered and [(each.name, each.text) for each in two.answers] == [("C", "because")]
    assert three.about.words == "slope of coping at parapet P-1" and three.answers == ()
    assert len({each.key for each in (one, two, three)}) == 3


def test_an_answer_changes_the_state_and_not_the_key(tmp_path: Path) -> None:
    (before,) = load(tmp_path, f"comments:\n{FIRST}")
    (after,) = load(tmp_path, f"comments:\n{FIRST}    answers: [{{name: C, time: {TIME}, text: x}}]\n")
    (marked,) = load(tmp_path, f"comments:\n{FIRST}    answered: yes\n")
    assert before.key == after.key == marked.key
    assert len({before.state, after.state, marked.state}) == 3


@pytest.mark.parametrize("text", ["comments: []\n", "comments:\n", "format: 2\ncomments:  # none yet\n"])
def test_an_empty_list_holds_no_comment(tmp_path: Path, text: str) -> None:
    assert load(tmp_path, text) == ()


def test_without_a_file_there_is_none(tmp_path: Path) -> None:
    assert comments_beside(tmp_path / "project.yaml", PRACTICE) == ()


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("coments: []\n", "comments"),
        ("comments: x\n", "stands where a list is wanted"),
        ("comments: [x]\n", "stands where a comment is wanted"),
        (f"comments:\n{FIRST}    texd: x\n", "did you mean `text`"),
        (f"comments:\n{FIRST.replace('    text: why?', '')}", "`text` is missing"),
        (f"comments:\n{FIRST.replace('why?', '')}", "`text` is nothing"),
        (f"comments:\n{FIRST.replace('why?', 'yes')}", "`text` is a yes or no"),
        (f"comments:\n{FIRST.replace('why?', 'x' * (LONGEST_TEXT + 1))}", "at most 4,000"),
        (f"comments:\n{FIRST.replace('A. B.', chr(34) + 'a' + chr(92) + 'x07' + chr(34))}", "U+0007"),
        (f"comments:\n{FIRST.replace(TIME, '2026-11-30')}", "no time with its zone"),
        (f"comments:\n{FIRST.replace(TIME, '2026-11-30T09:15:00')}", "no time with its zone"),
        (f"comments:\n{FIRST.replace(TIME, 'noon')}", "`time` is `noon`"),
        (f"comments:\n{FIRST.replace('2026-11', '0206-11')}", "correct the year"),
        (f"comments:\n{FIRST.replace('{finding: CP02, parapet: P-1}', 'CP02')}", "an object is wanted"),
        (f"comments:\n{FIRST.replace('finding: CP02, ', '')}", "names no object"),
        (f"comments:\n{FIRST.replace('parapet: P-1', 'value: slope')}", "finding and value"),
        (
            f"comments:\n{FIRST.replace('finding: CP02', 'finding: CP02, of: coping')}",
            "a finding has no `of`",
        ),
        (f"comments:\n{FIRST.replace('finding: CP02, parapet: P-1', 'paragraph: drip')}", "`section` of the"),
        (f"comments:\n{FIRST.replace('finding', 'findng')}", "did you mean `finding`"),
        (f"comments:\n{FIRST}    answered: done\n", "a yes or no is wanted"),
        (f"comments:\n{FIRST}    answers: [x]\n", "stands where an answer is wanted"),
        (f"comments:\n{FIRST}    answers: [{{name: C, text: x}}]\n", "`time` is missing"),
        (f"comments:\n{FIRST}{FIRST}", "the same comment stands in line 2"),
    ],
)
def test_each_mistake_is_told_once_with_its_place_and_fix(tmp_path: Path, text: str, message: str) -> None:
    (found,) = problems(tmp_path, text)
    assert message in found and "fix: " in found and found[0].isdigit(), found


def test_every_problem_of_a_file_is_told_in_one_run(tmp_path: Path) -> None:
    text = f"comments:\n{FIRST.replace('why?', '')}{FIRST.replace(TIME, 'noon')}"
    assert [one.partition(":")[0] for one in problems(tmp_path, text)] == ["5", "8"]


def test_a_list_without_end_is_refused(tmp_path: Path) -> None:
    many = "".join(FIRST.replace("why?", f"w{number}") for number in range(MOST_COMMENTS + 1))
    assert f"at most {MOST_COMMENTS}" in problems(tmp_path, f"comments:\n{many}")[0]
    answers = "".join(f"      - {{name: C, time: {TIME}, text: w{n}}}\n" for n in range(MOST_ANSWERS + 1))
    assert f"at most {MOST_ANSWERS}" in problems(tmp_path, f"comments:\n{FIRST}    answers:\n{answers}")[0]


@pytest.mark.skipif(not LONG, reason="a full file")
def test_a_full_file_is_read(tmp_path: Path) -> None:
    many = "".join(FIRST.replace("why?", f"w{number}") for number in range(MOST_COMMENTS))
    assert len(load(tmp_path, f"comments:\n{many}")) == MOST_COMMENTS
