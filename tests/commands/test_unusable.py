"""A command that could not do its work still prints a valid document, with its reasons, where a program reads."""

from __future__ import annotations

import importlib
import json

import pytest
from click.testing import CliRunner
from pydantic_sarif.model import StaticAnalysisResultsFormatSarifVersion210JsonSchema as Log

from specgen.commands import COMMANDS, main
from specgen.commands.common import FAULT, UNUSABLE
from specgen.model.plain import FORMAT_NUMBER
from tests.chain.runs import CONFORMING, SUBMITTAL, copied, run

ACCEPTING = ("--by", "architect, A. B.", "--date", "2026-12-03", "--result", "approved")
NEEDS = {  # words of each command that is given a project with a misspelt key
    "accept": (SUBMITTAL, *ACCEPTING),
    "calc": (),
    "check": (),
    "comment": (),
    "compare": (CONFORMING,),
    "hourly": (),
    "layers": (),
    "letters": (SUBMITTAL, "-o", "out"),
    "register": ("-o", "out"),
    "review": (SUBMITTAL, "-o", "out"),
    "sequence": (),
    "substitute": (CONFORMING / "substitutions" / "none.yaml", "-o", "out"),
    "write": ("-o", "out"),
}
OTHER = {  # command lines of those that read no project, each unusable
    "audit": ("no-such-folder", "-o", "out"),
    "package": ("no-such-folder", "-o", "out"),
    "propose": ("no-such", "-o", "out"),
    "read": ("no-such.pdf", "-o", "no.yaml"),
    "rules": ("XX99",),
    "template": ("no-such.docx",),
    "upgrade": ("no-such",),
}


def printing() -> set[str]:
    """The commands that have --format."""
    modules = {name: importlib.import_module(f"specgen.commands.{name}") for name in COMMANDS}
    return {name for name, one in modules.items() if any("--format" in p.opts for p in one.command.params)}


def test_every_command_with_a_format_is_tried():
    assert printing() == {*NEEDS, *OTHER}


@pytest.fixture
def misspelt(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return copied(CONFORMING, tmp_path / "job", ("\nparapets:", "\nparapetz:"))


@pytest.mark.parametrize("name", NEEDS)
def test_a_file_that_cannot_be_used_is_told_with_place_and_fix(name, misspelt, tmp_path):
    done = run(name, misspelt, *NEEDS[name], "--format", "json")
    assert done.status == UNUSABLE
    made = json.loads(done.out)
    assert (made["format"], made["command"], made["status"]) == (FORMAT_NUMBER, name, UNUSABLE)
    (first,) = [one for one in made["errors"] if "parapetz" in one["message"]]
    line = (misspelt / "project.yaml").read_text("utf-8").splitlines().index("parapetz:") + 1
    assert (first["file"], first["line"], first["column"]) == (str(misspelt / "project.yaml"), line, 1)
    assert "parapets" in first["fix"]
    assert f"{first['file']}:{line}:1: error: {first['message']}" in done.err
    assert [path.name for path in tmp_path.iterdir()] == ["job"]


@pytest.mark.parametrize("name", OTHER)
def test_other_unusable_input_is_told_as_json(name, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    done = run(name, *OTHER[name], "--format", "json")
    assert done.status == UNUSABLE, done
    made = json.loads(done.out)
    assert made["command"] == name
    assert all(one["message"] for one in made["errors"])


@pytest.mark.parametrize("name", sorted({*NEEDS, *OTHER}))
def test_a_command_line_that_cannot_be_used_is_told_as_json(name):
    done = run(name, "--no-such-option", "--format=json")
    assert done.status == UNUSABLE
    (one,) = json.loads(done.out)["errors"]
    assert "--no-such-option" in one["message"]


def test_a_word_that_names_nothing_is_told_as_json():
    done = run("check", CONFORMING, "--parapet", "P-99", "--format", "json")
    assert done.status == UNUSABLE
    (one,) = json.loads(done.out)["errors"]
    assert one["message"].startswith("no parapet `P-99`")
    assert one["line"] is None


def test_sarif_tells_what_cannot_be_used_as_notifications(misspelt):
    done = run("check", misspelt, "--format", "sarif")
    assert done.status == UNUSABLE
    made = json.loads(done.out)
    Log.model_validate(made)
    (ran,) = made["runs"][0]["invocations"]
    assert (ran["executionSuccessful"], ran["exitCode"]) == (False, UNUSABLE)
    (one,) = [n for n in ran["toolExecutionNotifications"] if "parapetz" in n["message"]["text"]]
    place = one["locations"][0]["physicalLocation"]
    assert place["artifactLocation"]["uri"] == "job/project.yaml"
    assert place["region"]["startColumn"] == 1
    assert made["runs"][0]["results"] == []


@pytest.mark.parametrize("form", ["json", "sarif"])
def test_a_fault_of_the_program_is_a_document_too(form, monkeypatch):
    def broken(*_: object) -> None:
        raise RuntimeError("a broken rule")

    monkeypatch.setattr("specgen.commands.check.read_inputs", broken)
    done = CliRunner().invoke(main, ["check", str(CONFORMING), "--format", form])
    assert done.exit_code == FAULT
    assert "a broken rule" in done.stderr
    made = json.loads(done.stdout)
    if form == "sarif":
        Log.model_validate(made)
        assert made["runs"][0]["invocations"][0]["exitCode"] == FAULT
    else:
        assert made["status"] == FAULT
    assert "a broken rule" in done.stdout


def test_text_prints_no_document(misspelt):
    assert run("check", misspelt).out == ""
    assert run("check", "--no-such-option").out == ""
