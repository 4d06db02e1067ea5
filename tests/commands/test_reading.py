"""What a command line may leave out or replace: the project of the folder one is in, standard input for ``-``."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from specgen.commands import main
from specgen.files.standard_input import STDIN, held
from specgen.intake.project import FILE_NAME
from tests.chain.runs import CONFORMING, FAULTY, SUBMITTAL, copied, run
from tests.conftest import LONG

SHORT = ("check", "calc", "layers", "sequence") if LONG else ("sequence", "check")
long = pytest.mark.skipif(not LONG, reason="papers of a project that is not named: tried by make test-long")
REQUEST = CONFORMING / "substitutions" / "mesh.yaml"


def fed(data: bytes, *words: object) -> Result:
    """A run with something on standard input."""
    return CliRunner().invoke(main, [str(one) for one in words], input=data)


@pytest.fixture
def job(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The folder of a project, in which one is."""
    folder = copied(FAULTY, tmp_path / "job")
    monkeypatch.chdir(folder)
    return folder


@pytest.mark.parametrize("name", SHORT)
def test_in_the_folder_of_a_project_none_is_named(name, job):
    here, named = run(name), run(name, ".")
    assert here == named and here.status in (0, 1, 3) and here.out


@long
def test_papers_and_a_rewriting_are_of_the_project_here(job):
    assert run("write", "-o", "out").status == run("write", ".", "-o", "out").status == 1
    assert run("letters", "-o", "letters").status == 0
    assert "nothing to do" in run("upgrade").out


@pytest.mark.parametrize("name", [*SHORT, "upgrade", "propose", "hourly", "comment", "register"])
def test_elsewhere_one_is_wanted(name, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    done = run(name, *(("-o", "out") if name in ("propose", "register") else ()))
    assert done.status == 2 and not done.out
    assert "Missing argument" in done.err and f"the folder you are in holds no {FILE_NAME}" in done.err
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("name", SHORT)
def test_a_project_on_standard_input_is_the_file(name, job):
    data = (job / FILE_NAME).read_bytes()
    there, piped = run(name, FILE_NAME), fed(data, name, "-")
    assert piped.exit_code == there.status
    assert piped.stdout == there.out.replace(FILE_NAME, str(STDIN))


def test_its_problems_name_it_with_line_and_column():
    done = fed(b"project: {name: x}\nparapetz: []\n", "check", "-", "--format", "json")
    (first, *_) = json.loads(done.stdout)["errors"]
    assert done.exit_code == 2 and (first["file"], first["line"]) == (str(STDIN), 2)
    assert f"{STDIN}:2:1: error: " in done.stderr
    assert held(STDIN) is None  # let go with the end of the command


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "the file is empty"),
        (b"\xff\xfep\0r\0", "UTF-16"),
        (b"\xffabc", "UTF-8"),
        (b"%PDF-1.7", "PDF"),
        (b"project: [", "not closed"),
        (b"a" * 40_000_000, "standard input has more than"),
    ],
    ids=["nothing", "utf-16", "latin", "pdf", "cut off", "too much"],
)
def test_what_is_no_project_is_told_as_of_any_file(data, words):
    done = fed(data, "check", "-")
    assert done.exit_code == 2 and f"{STDIN}:" in done.stderr and words in done.stderr, done.stderr


def test_line_ends_and_byte_order_mark_of_windows_change_nothing(job):
    data = (job / FILE_NAME).read_bytes()
    assert (
        fed(b"\xef\xbb\xbf" + data.replace(b"\n", b"\r\n"), "check", "-").stdout
        == fed(data, "check", "-").stdout
    )


@long
def test_papers_of_a_project_on_standard_input(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    done = fed((CONFORMING / FILE_NAME).read_bytes(), "write", "-", "-o", "out")
    assert done.exit_code == 0 and "specgen check -" in done.stdout, done.stderr
    assert (tmp_path / "out" / "project-manual.docx").exists()


@long
def test_a_submittal_and_a_request_on_standard_input(tmp_path):
    done = fed(SUBMITTAL.read_bytes(), "review", CONFORMING, "-", "-o", tmp_path / "r")
    assert done.exit_code == run("review", CONFORMING, SUBMITTAL, "-o", tmp_path / "s").status, done.stderr
    assert sorted(one.name for one in (tmp_path / "r").iterdir()) == sorted(
        one.name for one in (tmp_path / "s").iterdir()
    )
    done = fed(REQUEST.read_bytes(), "substitute", CONFORMING, "-", "-o", tmp_path / "t")
    assert done.exit_code in (0, 1, 3) and "S-" in done.stdout, done.stderr


@long
def test_one_of_two_projects_may_be_on_standard_input(job):
    data = (job / FILE_NAME).read_bytes()
    assert (
        fed(data, "compare", "-", ".").stdout == fed(data, "compare", ".", "-").stdout == "Nothing differs.\n"
    )


def test_an_older_file_goes_through_upgrade_as_through_a_pipe(job):
    data = (job / FILE_NAME).read_bytes()
    older = data.replace(b"format: 2\n", b"format: 1\n")
    done = fed(older, "upgrade", "-")
    assert (done.exit_code, done.stdout_bytes) == (0, data)
    assert fed(older, "upgrade", "-", "--write").exit_code == fed(older, "upgrade", "-", ".").exit_code == 2


@pytest.mark.parametrize(
    "words",
    [
        ("review", "-", "-", "-o", "out"),
        ("compare", "-", "-"),
        ("upgrade", "-", "-"),
        ("hourly", "-"),
        ("comment", "-"),
    ],
    ids=" ".join,
)
def test_where_standard_input_cannot_be_taken_it_is_told(words, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    done = fed(b"", *words)
    assert (done.exit_code == 2 and "standard input" in done.stderr) or "`-`" in done.stderr
    assert not list(tmp_path.iterdir())


def test_a_file_of_that_name_is_a_file(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    Path("-").write_bytes((CONFORMING / FILE_NAME).read_bytes())
    assert run("check", "./-").status == 0
    done = fed(b"no project", "check", STDIN)
    assert done.exit_code == 2 and "there is no such file" in done.stderr
