"""The Tab key: every list that is completed is the list that the command knows; a broken project file prints nothing."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from click.shell_completion import CompletionItem, ShellComplete

from specgen.commands import COMMANDS, COMPLETING, completion, main
from specgen.commands.layers import KINDS_OF_PLACE
from specgen.commands.schema import FILES
from specgen.design.run import subjects
from specgen.intake.project import FILE_NAME, load_project
from specgen.intake.worked import worked_examples
from specgen.model.finding import Severity
from specgen.paths.shapes import LAYERS
from specgen.practice.load import load_practice
from specgen.rules.book import load_book
from specgen.rules.papers import PAPER_BOOK
from specgen.sections.clause_file import load_clauses
from tests.chain.runs import CONFORMING, REPO, copied
from tests.conftest import LONG

SHELLS = ["bash", "zsh", "fish"]


def completed(*words: str) -> list[str]:
    """What completes the last of some words."""
    found: list[CompletionItem] = ShellComplete(main, {}, "specgen", COMPLETING).get_completions(
        list(words[:-1]), words[-1]
    )
    return [one.value for one in found]


def known(words: object) -> list[str]:
    return [word for word, _ in words]  # type: ignore[attr-defined]


def test_each_list_is_the_one_that_the_program_has():
    practice = load_practice()
    entries = [*load_book(practice), *PAPER_BOOK]
    rules = dict(completion.rule_words())
    assert set(rules) == {one.rule.code for one in entries}
    assert all(rules[one.rule.code] for one in entries)
    assert known(completion.subject_words()) and set(known(completion.subject_words())) == set(subjects())
    assert known(completion.state_words()) == list(
        practice.vocabulary.records["project"].fields["state"].choices
    )
    assert known(completion.role_words()) == list(practice.vocabulary.roles)
    assert set(known(completion.example_words())) == set(worked_examples())
    assert set(known(completion.section_words())) == {one.number for one in load_clauses(practice).sections}


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        (("",), list(COMMANDS)),
        (("wr",), ["write"]),
        (("exchange", "id"), ["ids"]),
        (("rules", "wb0"), [f"WB0{number}" for number in range(1, 10)]),
        (("calc", "x", "--subject", "coping m"), ["coping movement"]),
        (("check", "x", "--severity", ""), [one.value for one in Severity]),
        (("layers", "x", "--layer", ""), list(LAYERS)),
        (("layers", "x", "--place", ""), list(KINDS_OF_PLACE)),
        (("comment", "x", "--section", "07 7"), ["07 71 00", "07 71 23"]),
        (("write", "x", "--state", "dr"), ["draft"]),
        (("read", "x", "--role", "top f"), ["top flashing"]),
        (("new", "x", "--from", "exi"), ["existing-repair"]),
        (("new", "x", "--from", "walls.x"), ["walls.x"]),  # a file
        (("schema", ""), list(FILES)),
        (("check", str(CONFORMING), "--parapet", "P-"), ["P-1", "P-2", "P-3"]),
        (("hourly", str(CONFORMING / FILE_NAME), "--again", "--parapet", ""), ["P-1", "P-2", "P-3"]),
        (("check", "x", "--ques"), ["--questions"]),
        (("chekc", "x", "--ques"), []),
    ],
    ids=lambda one: " ".join(map(str, one))[-30:],
)
def test_a_word_is_completed(words, expected):
    assert completed(*words) == expected


def test_the_project_of_this_folder_is_looked_into(monkeypatch):
    monkeypatch.chdir(CONFORMING)
    assert completed("sequence", "--parapet", "") == ["P-1", "P-2", "P-3"]


def test_the_names_are_those_that_a_command_reads():
    practice = load_practice()
    files = [*REPO.glob("projects/*/project.yaml"), *REPO.glob("tests/stated/*/project.yaml")]
    assert len(files) > 15
    for file in files if LONG else files[::5]:
        read = [one.name for one in load_project(file, practice).parapets]
        assert completion.parapet_names(file.read_text("utf-8")) == read, file


@pytest.mark.parametrize(
    "text",
    [
        "",
        "parapets: [",
        "parapets:\n\t- name: P",
        "parapets: 7",
        "\0",
        "parapets:\n- {name: [\n",
        "é" * 9,
        "- - - name:",
    ],
)
def test_a_broken_file_gives_what_can_be_seen_and_no_error(text, tmp_path):
    (tmp_path / FILE_NAME).write_text(text, "utf-8")
    assert set(completed("check", str(tmp_path), "--parapet", "")) <= {"P"}
    (tmp_path / FILE_NAME).write_bytes(b"\xff\xfe" + text.encode("utf-16-le"))
    assert completed("check", str(tmp_path), "--parapet", "") == []


def test_a_file_that_is_still_being_written_gives_its_parapets(tmp_path):
    job = copied(CONFORMING, tmp_path / "job", ("\nsite:", "\nsite: [["))
    assert completed("check", str(job), "--parapet", "") == ["P-1", "P-2", "P-3"]


def shell(variable: str, words: str, at: object) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", "from specgen.commands import main; main(prog_name='specgen')"],
        env={**os.environ, "PYTHONPATH": str(REPO), COMPLETING: variable, "COMP_WORDS": words, "COMP_CWORD": str(at)},
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        timeout=60,
    )  # fmt: skip


@pytest.mark.parametrize("name", SHELLS if LONG else SHELLS[:1])
def test_a_shell_gets_its_script(name):
    done = shell(f"{name}_source", "", 0)
    assert done.returncode == 0 and f"{COMPLETING}={name}_complete" in done.stdout, done.stderr


def test_bash_gets_a_word_with_spaces_as_one_word():
    done = shell("bash_complete", "specgen\ncalc\nx\n--subject\ncoping\\ m", 4)
    assert (done.stdout, done.stderr) == ("plain,coping\\\\ movement\n", "")
    done = shell("bash_complete", 'specgen\ncalc\nx\n--subject\n"coping m', 4)
    assert (done.stdout, done.stderr) == ("plain,coping movement\n", "")


def test_no_word_of_the_program_reaches_the_line_when_it_fails():
    done = shell("bash_complete", "specgen\ncheck", "many")
    assert (done.returncode, done.stdout, done.stderr) == (1, "", "")
    done = shell("no_such_shell", "specgen", 0)
    assert (done.stdout, done.stderr) == ("", "")


@pytest.mark.skipif(
    shutil.which("bash") is None or not LONG, reason="in bash itself: tried by make test-long"
)
def test_in_bash_itself():
    folder = Path(sys.executable).parent
    script = f"""
export PATH={folder}:$PATH PYTHONPATH={REPO}
eval "$({COMPLETING}=bash_source specgen)"
COMP_WORDS=(specgen calc {CONFORMING} --subject 'coping\\ m') COMP_CWORD=4
_specgen_completion specgen
printf '%s\\n' "${{COMPREPLY[@]}}"
"""
    done = subprocess.run(["bash", "-c", script], capture_output=True, text=True, timeout=120)
    assert done.stdout == "coping\\ movement\n", done.stderr
