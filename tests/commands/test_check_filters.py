"""``specgen check``: filters, their misspelling, the exit status that follows what is shown; office file; SARIF."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from specgen.commands import main

ROOT = Path(__file__).parents[2]
FAULTY = str(ROOT / "tests/stated/faulty-parapet")
SOUND = ROOT / "tests/stated/mixed-humid-midrise"
OFFICE = 'office: {name: Sample Office, document: Wall Standards, edition: "2026"}\n'


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


def check(*words: str | Path) -> dict[str, Any]:
    return json.loads(run("check", *words, "--format", "json").stdout)


def test_a_filter_shows_and_counts_a_part() -> None:
    everything = check(FAULTY)
    part = check(FAULTY, "--code", "CP03", "--code", "tf02", "--severity", "defect")
    assert part["filters"] == {"parapets": [], "severities": ["defect"], "codes": ["CP03", "TF02"]}
    wanted = [
        one
        for one in everything["findings"]
        if one["code"] in ("CP03", "TF02") and one["severity"] == "defect"
    ]
    assert part["findings"] == wanted != []
    assert part["summary"]["defect"] == sum(one["outcome"] == "fail" for one in wanted)


def test_a_parapet_keeps_what_is_about_the_whole_project(tmp_path: Path) -> None:
    shutil.copytree(SOUND, tmp_path / "p")
    (tmp_path / "p/office.yaml").write_text(OFFICE + "limits: {drainage.depth: 1/8 in}\n")
    shown = check(tmp_path / "p", "--parapet", "P-2")["findings"]
    assert {name for one in shown for name in one["parapets"]} == {"P-2", "all"}


def test_the_exit_status_follows_what_is_shown() -> None:
    assert run("check", FAULTY).exit_code == 1
    assert run("check", FAULTY, "--severity", "query").exit_code == 0
    assert run("check", FAULTY, "--severity", "query", "--severity", "defect").exit_code == 1


@pytest.mark.parametrize(
    ("option", "word", "message"),
    [
        ("--parapet", "P1", "no parapet `P1`; did you mean `P-1`?"),
        ("--severity", "deffect", "no severity `deffect`; did you mean `defect`?"),
        ("--code", "CP003", "no rule `CP003`; did you mean `CP03`?"),
        ("--severity", "zebra", "no severity `zebra`; known: defect, risk, query"),
    ],
)
def test_a_misspelt_filter_shows_nothing(option: str, word: str, message: str) -> None:
    result = run("check", FAULTY, option, word)
    assert (result.exit_code, result.stdout, result.stderr) == (2, "", message + "\n")


def test_rules_on_papers_may_be_asked_for() -> None:
    assert run("check", SOUND, "--code", "WV01", "--code", "OF01").exit_code == 0


def test_sarif_on_the_command_line() -> None:
    result = run("check", FAULTY, "--format", "sarif", "--severity", "defect")
    log = json.loads(result.stdout)
    assert result.exit_code == 1
    assert {one["properties"]["severity"] for one in log["runs"][0]["results"]} == {"defect"}


def test_an_office_file_beside_the_project_is_used_and_named(tmp_path: Path) -> None:
    shutil.copytree(SOUND, tmp_path / "p")
    assert check(tmp_path / "p")["office"] is None
    (tmp_path / "p/office.yaml").write_text(OFFICE + "limits: {drainage.depth: 1/2 in}\n")
    result = run("check", tmp_path / "p")
    assert result.exit_code == 1 and "With the standards of Sample Office (" in result.stdout
    assert "Wall Standards 2026" in result.stdout
    (tmp_path / "other.yaml").write_text(OFFICE.replace("Sample", "Other"))
    assert check(tmp_path / "p", "--office", tmp_path / "other.yaml")["office"]["name"] == "Other Office"


def _write(tmp_path: Path) -> tuple[str | Path, ...]:
    return ("write", tmp_path / "p", "-o", tmp_path / "out")


def _review(tmp_path: Path) -> tuple[str | Path, ...]:
    return ("review", tmp_path / "p", SOUND / "submittals/top-failing.yaml", "-o", tmp_path / "out")


@pytest.mark.parametrize(
    "words",
    [lambda at: ("check", at / "p"), lambda at: ("calc", at / "p", "--parapet", "P-1"), _write, _review],
    ids=["check", "calc", "write", "review"],
)
def test_every_command_reads_the_office_file_and_refuses_a_bad_one(
    words: Callable[[Path], tuple[str | Path, ...]], tmp_path: Path
) -> None:
    shutil.copytree(SOUND, tmp_path / "p")
    bad = tmp_path / "p/office.yaml"
    bad.write_text(OFFICE + "limits: {drainage.dpth: 1 in}\nrules: code\n")
    (tmp_path / "p/code").mkdir()
    (tmp_path / "p/code/ab01_x.py").write_text("raise RuntimeError\n")
    result = run(*words(tmp_path))
    assert result.exit_code == 2 and result.stdout == ""
    assert f"{bad}:2:10: error: no limit `drainage.dpth`" in result.stderr
    assert "--allow-office-code" in result.stderr
    assert not (tmp_path / "out").exists()
    bad.write_text(OFFICE + "rules: code\n")
    result = run(*words(tmp_path), "--allow-office-code")
    assert result.exit_code == 70 and "does not import: RuntimeError" in result.stderr
    assert not (tmp_path / "out").exists()


def test_a_document_prints_the_source_of_the_office(tmp_path: Path) -> None:
    (tmp_path / "office.yaml").write_text(
        OFFICE + "limits: {drainage.depth: {value: 1/2 in, place: item 4}}\n"
    )
    run("write", SOUND, "-o", tmp_path / "out", "--office", tmp_path / "office.yaml")
    trace = (tmp_path / "out/trace.json").read_text()
    assert '"office": "Sample Office"' in trace and '"place": "item 4"' in trace


@pytest.mark.parametrize("file", ["project", "submittal", "office"])
def test_schema_prints_a_schema(file: str) -> None:
    result = run("schema", file)
    assert result.exit_code == 0
    assert json.loads(result.stdout)["title"] == f"specgen {file} file"


def test_schema_of_a_file_nobody_knows() -> None:
    result = run("schema", "projekt")
    assert (result.exit_code, result.stderr) == (2, "no file `projekt`; did you mean `project`?\n")
