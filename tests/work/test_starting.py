"""A project is started in an empty folder, however it starts, and nothing stands in its way."""

from __future__ import annotations

import threading
from pathlib import Path

import pytest

from specgen.files.faults import OutputError
from specgen.files.marks import InputError
from specgen.intake.project import load_project
from specgen.intake.start import FIRST, MORE, NAMING, QUESTIONS, reasoned
from specgen.intake.start_sheet import start_sheet
from specgen.intake.worked import worked_examples
from specgen.practice.load import load_practice
from specgen.render.workbook import workbook_bytes
from specgen.work import starting
from tests.chain.runs import contents, run
from tests.commands.test_new import ANSWERS, options

PRACTICE = load_practice()


def test_ten_facts_come_first_and_each_question_says_why_once() -> None:
    asked = reasoned(PRACTICE)
    assert sorted((one.question for one in asked), key=str) == sorted(QUESTIONS, key=str)
    assert len(asked) == len(QUESTIONS) == len({one.question.option for one in asked})
    groups = [one.group for one in asked]
    assert groups == [*[NAMING] * 5, *[FIRST] * 10, *[MORE] * (len(asked) - 15)]
    for one in asked:
        for words in (one.why, one.hangs):
            assert words.endswith(".") and len(words) < 160, words
    assert len({one.why for one in asked}) >= len(asked) - 3  # papers bear three of them
    assert {"backup-wall", "roof-membrane"} == {
        one.question.option for one in asked if "No wall is proposed" in one.hangs
    }


def test_answers_make_the_file_that_the_command_makes(tmp_path: Path) -> None:
    assert run("new", tmp_path / "a", *options(ANSWERS)).status == 0
    file = starting.start(tmp_path / "b", starting.answered_text(ANSWERS, PRACTICE), PRACTICE)
    assert contents(tmp_path / "a") == contents(tmp_path / "b")
    assert load_project(file, PRACTICE).building.values["height"].text == "40 ft"


def test_every_bad_answer_is_told_at_once_and_at_its_question() -> None:
    bad = {
        "name": "\x07", "height": "tall", "wind-speed": "3000 mph", "exposure": "E", "roof-membrane": "mod bit",
        "issue-date": "2. 11. 2026", "fire-rated": "perhaps", "backup-wall": "CMU",
    }  # fmt: skip
    wrong = starting.wrong_answers({**ANSWERS, **bad}, PRACTICE)
    assert set(wrong) == set(bad)
    assert "SBS-modified bitumen" in wrong["roof-membrane"] and "concrete masonry" in wrong["backup-wall"]
    assert starting.wrong_answers(ANSWERS, PRACTICE) == {}
    assert starting.wrong_answers({"height": "unknown", "name": "A"}, PRACTICE) == {}


HOSTILE = [
    "a: b # c",
    "{x}",
    "- a",
    "'",
    '"',
    "\\",
    "!!python/none",
    "&a *a",
    "<script>",
    "yes",
    "0x10",
    "~",
    "é",
]


@pytest.mark.parametrize("words", HOSTILE)
def test_words_stay_words_in_the_file(tmp_path: Path, words: str) -> None:
    answers = {"name": words, "place": words, "number": words}
    assert starting.wrong_answers(answers, PRACTICE) == {}
    project = load_project(
        starting.start(tmp_path / "w", starting.answered_text(answers, PRACTICE), PRACTICE), PRACTICE
    )
    assert (project.info.word("name"), project.site.word("place"), project.info.word("number")) == (
        words,
    ) * 3


def test_a_quantity_is_echoed_in_the_other_language() -> None:
    answers = {
        "height": "76 ft",
        "parapet-height": "1.07 m",
        "wind-speed": "fast",
        "exposure": "C",
        "name": "A",
    }
    assert starting.echoes(answers, PRACTICE) == {
        "height": "76 ft = 23.2 m",
        "parapet-height": "1.07 m = 42 1/8 in",
    }


@pytest.mark.parametrize("name", sorted(worked_examples()))
def test_a_worked_example_is_copied_under_a_name_of_its_own(name: str) -> None:
    text = starting.example_text(name, PRACTICE, {"name": 'The "Mill": 2', "number": "0042"})
    shipped = worked_examples()[name].read_text("utf-8")
    kept = [line for line in shipped.splitlines() if "name:" not in line and "number:" not in line]
    assert [line for line in kept if line not in text.splitlines()] == []
    assert starting.example_text(name, PRACTICE, {}).partition("\n")[2] == shipped


def test_a_copied_example_reads_under_its_new_name(tmp_path: Path) -> None:
    text = starting.example_text("marine-library", PRACTICE, {"name": "Mill", "number": "0042"})
    project = load_project(starting.start(tmp_path / "w", text, PRACTICE), PRACTICE)
    assert (project.info.word("name"), project.info.word("number")) == ("Mill", "0042")
    with pytest.raises(LookupError, match="did you mean `marine-library`"):
        starting.example_text("marine-libary", PRACTICE, {})
    with pytest.raises(LookupError):
        starting.example_text("../../etc/passwd", PRACTICE, {})


def test_a_folder_that_holds_something_is_left_as_it_is(tmp_path: Path) -> None:
    (tmp_path / ".git").mkdir()
    assert starting.is_free(tmp_path) and starting.is_free(tmp_path / "new")
    (tmp_path / "notes.txt").write_text("mine")
    before = contents(tmp_path)
    with pytest.raises(OutputError, match=r"notes\.txt exists"):
        starting.start(tmp_path, "project: {name: A}\n", PRACTICE)
    assert contents(tmp_path) == before and not starting.is_free(tmp_path)


def test_of_two_who_start_at_once_one_is_told(tmp_path: Path) -> None:
    texts = [f"project: {{name: A{number}}}\n" for number in range(6)]
    refused: list[str] = []

    def start(text: str) -> None:
        try:
            starting.start(tmp_path / "w", text, PRACTICE)
        except OutputError as error:
            refused.append(str(error))

    threads = [threading.Thread(target=start, args=(text,)) for text in texts]
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    assert len(refused) == 5 and (tmp_path / "w" / "project.yaml").read_text() in texts


def test_a_name_leads_to_a_folder_directly_below_and_nowhere_else(tmp_path: Path) -> None:
    assert starting.folder_for(tmp_path, "") == tmp_path
    assert starting.folder_for(tmp_path, "library roof") == tmp_path / "library roof"
    (tmp_path / "away").symlink_to(tmp_path.parent)
    for name in ("..", "a/b", "/tmp", "C:\\x", ".hidden", "away", "con", "a\x00b", "x" * 300, "a."):
        with pytest.raises(OutputError):
            starting.folder_for(tmp_path, name)
    (tmp_path / "mill").mkdir()
    assert starting.folder_name("Mill", tmp_path) == "mill-2"
    assert starting.folder_name("–", tmp_path) == "project"


def test_a_project_file_that_is_brought_stays_as_it_is() -> None:
    data = worked_examples()["marine-library"].read_bytes()
    assert starting.brought_text("Library (final).YAML", data, PRACTICE).encode() == data


def test_a_filled_workbook_that_is_brought_is_read(tmp_path: Path) -> None:
    blank = workbook_bytes(start_sheet(PRACTICE))
    with pytest.raises(InputError) as found:
        starting.brought_text("walls.xlsx", blank, PRACTICE)
    assert all(one.mark.file == "walls.xlsx" for one in found.value.problems)
    assert "name" in str(found.value)


BAD = [
    ("notes.docx", b"PK", "neither a project file nor the workbook"),
    ("walls.xlsx", b"no workbook", "walls.xlsx"),
    ("project.yaml", b"project: [", "project.yaml:1"),
    ("project.yaml", b"\xff\xfe\x00bad", "project.yaml"),
    ("project.yaml", b"project: {nam: A}\n", "did you mean `name`"),
    ("project.yaml", b"", "project.yaml"),
    ("project.yaml", b"project: {name: A}\nsite: {weather: ../../x.epw}\n", "weather"),
    ("a\x1b[2J.yaml", b"- 1\n", "x1b"),
    ("project.yaml", b"a: &a [*a]\n", "project.yaml"),
    ("project.yaml", b"x" * (starting.LARGEST + 1), "limit"),
]


@pytest.mark.parametrize(("name", "data", "why"), BAD, ids=range(len(BAD)))
def test_what_cannot_be_read_is_refused_in_words(name: str, data: bytes, why: str) -> None:
    with pytest.raises(InputError) as found:
        starting.brought_text(name, data, PRACTICE)
    assert why in str(found.value) and "/tmp/" not in str(found.value)


def test_the_projects_below_a_folder_are_found(tmp_path: Path) -> None:
    for place in ("a", "b/c", ".hidden"):
        (tmp_path / place).mkdir(parents=True)
        (tmp_path / place / "project.yaml").write_text("project: {name: A}\n")
    (tmp_path / "b" / "project.yaml").write_text("project: [")
    found = starting.projects_below(tmp_path)
    assert [(one.path, one.name) for one in found] == [("a", "A"), ("b", ""), ("b/c", "A")]


def test_the_command_copies_an_example_under_a_name_and_a_number(tmp_path: Path) -> None:
    done = run("new", tmp_path / "w", "--from", "marine-library", "--name", "Mill", "--number", "0042")
    assert done.status == 0
    assert load_project(tmp_path / "w", PRACTICE).info.word("number") == "0042"
    assert run("new", tmp_path / "x", "--from", "marine-library", "--name", "\x07").status == 2
    assert not (tmp_path / "x").exists()
