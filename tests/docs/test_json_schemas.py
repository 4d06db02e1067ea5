"""Every JSON output has a schema that is made from its record, describes each key, and fits what is really printed."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from specgen.commands.hourly import HourlyRun
from specgen.commands.unusable import heading
from specgen.intake.hourly import FILE_NAME, Kept
from specgen.model.plain import FORMAT_NUMBER, plain
from specgen.render.files import json_bytes
from specgen.render.outputs import CHECKLIST, TRACE, Papers
from specgen.specification import specify
from specgen.work.hourly import RAN, Studied
from specgen.work.inputs import read_inputs
from tests.chain.runs import CONFORMING, FAULTY, REPO, SUBMITTAL, copied, run
from tests.commands.test_unusable import printing
from tests.conftest import LONG
from tests.docs import json_schemas
from tests.docs.json_schemas import FOLDER, PRINTED, WRITTEN, files, gone, kept_at, lines, made, words
from tests.hourly_results import result_of
from tests.render.test_word_office import office_file

SHORT = [FAULTY]
EVERY = sorted(file.parent for file in (REPO / "projects").glob("*/project.yaml"))
PROJECTS = EVERY if LONG else SHORT
SAMPLE = REPO / "projects" / "mixed-humid-midrise"


def fits(name: str, data: Any) -> None:
    """Hold a document against a schema that stands in docs/json."""
    schema = json.loads((FOLDER / f"{name}.json").read_text("utf-8"))
    wrong = [
        (list(one.absolute_path), one.message[:300], [inner.message[:300] for inner in one.context or ()])
        for one in Draft202012Validator(schema).iter_errors(data)
    ]
    assert not wrong, wrong[:5]


def printed(name: str, *given: object) -> Any:
    """What a command prints, held against its schema."""
    data = json.loads(run(name, *given, "--format", "json").out)
    assert "errors" not in data, data["errors"]
    fits(name, data)
    return data


def test_the_folder_is_what_the_records_make() -> None:
    standing = {path: path.read_text("utf-8") for path in FOLDER.iterdir()}
    assert standing == files(), "run `make docs`"


def test_each_schema_is_one() -> None:
    names = set()
    for name, schema in made()[0].items():
        if LONG or name in ("audit", "trace"):
            Draft202012Validator.check_schema(schema)
        assert schema["$id"] == f"urn:specgen:json:{FORMAT_NUMBER}:{name}"
        names.add(schema["title"])
    assert len(names) == len(PRINTED) + len(WRITTEN)


def test_every_command_that_prints_json_has_a_schema() -> None:
    assert set(PRINTED) == printing()


def _properties(node: Any) -> Iterator[tuple[str, Any]]:
    if isinstance(node, dict):
        for key, one in node.get("properties", {}).items():
            yield key, one
        for one in node.values():
            yield from _properties(one)
    elif isinstance(node, list):
        for one in node:
            yield from _properties(one)


def test_every_key_is_described_and_every_word_is_taken() -> None:
    schemas, every = made()
    assert not every.undescribed, "write a comment at the field, or words into tests/docs/json_keys.yaml"
    written = {("", key) for key in words()["common"]}
    written |= {(record, key) for record, keys in words()["records"].items() for key in keys}
    assert written == every.used
    described = [one["description"] for schema in schemas.values() for _, one in _properties(schema)]
    assert all(re.match(r'[A-Z"`].*(\.|…)$', one) for one in described)


def test_a_record_takes_no_further_key_and_lacks_none() -> None:
    schema = made()[0]["layers"]
    validator = Draft202012Validator(schema)
    data = printed("layers", FAULTY)
    assert not validator.is_valid({**data, "further": 1})
    assert not validator.is_valid({key: one for key, one in data.items() if key != "paths"})


def test_the_keys_of_this_number_stand_as_they_were_kept() -> None:
    assert not gone(FORMAT_NUMBER), json_schemas.RAISE
    assert kept_at(FORMAT_NUMBER).read_text("utf-8").splitlines() == list(lines()), "run `make docs`"
    changes = [REPO / "CHANGELOG.md", *(REPO / "changes").glob("*.md")]
    assert any(f"`format: {FORMAT_NUMBER}`" in path.read_text("utf-8") for path in changes), (
        json_schemas.RAISE
    )


def test_a_key_that_is_gone_or_changed_stops_the_writer(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(json_schemas, "KEPT", tmp_path)
    assert not gone(FORMAT_NUMBER)  # nothing is kept yet
    (one,) = [line for line in lines() if line.startswith("Mark.column ")]
    kept_at(FORMAT_NUMBER).write_text(f"{one}\nMark.colour {{}}\n", "utf-8")
    assert gone(FORMAT_NUMBER) == ["Mark.colour {}"]
    before = {path: path.read_bytes() for path in FOLDER.iterdir()}
    with pytest.raises(SystemExit, match="Raise FORMAT_NUMBER"):
        json_schemas.main()
    assert before == {path: path.read_bytes() for path in FOLDER.iterdir()}


@pytest.mark.parametrize("project", PROJECTS, ids=lambda one: one.name)
def test_what_is_printed_of_a_project_fits(project: Path) -> None:
    for name in ("check", "layers", "sequence"):
        printed(name, project)
    if LONG:
        printed("calc", project)
        printed("comment", project)
        printed("check", project, "--questions")
        printed("check", project, "--explain")
        printed("compare", project, SAMPLE)


def test_what_is_printed_without_a_project_fits() -> None:
    printed("rules")
    printed("rules", "CP02")
    printed("upgrade", FAULTY)
    fits("check", json.loads(run("check", "no-such", "--format", "json").out))
    fits("audit", json.loads(run("audit", "no-such", "-o", "out", "--format", "json").out))


def test_what_is_written_beside_the_sections_fits() -> None:
    papers = Papers(specify(read_inputs(FAULTY, None, False).assessed()))
    for name in (TRACE, f"{CHECKLIST}.json"):
        data = json.loads(papers.content(name))
        fits(name.removesuffix(".json"), data)
        assert data["format"] == FORMAT_NUMBER


def test_what_is_entered_fits(tmp_path: Path) -> None:
    by = ("--by", "architect, A. B.", "--date", "2026-12-03", "--result", "approved")
    job = copied(CONFORMING, tmp_path / "job")
    paper = job / "paper.yaml"
    paper.write_bytes(SUBMITTAL.read_bytes())
    printed("accept", job, paper, *by)


def test_hours_fit() -> None:
    result = result_of("P-1")
    fits("hourly-moisture", json.loads(json_bytes(Kept((result,)))))
    ran = HourlyRun("A wall", (Studied("P-1", RAN, result),), ("P-2",), FILE_NAME)
    fits("hourly", {**heading("hourly"), **plain(ran)})


def test_the_register_and_its_states_fit(tmp_path: Path) -> None:
    out = tmp_path / "out"
    printed("register", FAULTY, "-o", out)
    for path in out.glob("*-states/*.json"):
        fits("register-state", json.loads(path.read_bytes()))


@pytest.mark.skipif(not LONG, reason="writes and reviews whole issues: with SPECGEN_LONG=1")
@pytest.mark.parametrize("project", EVERY, ids=lambda one: one.name)
def test_all_that_is_written_of_an_example_fits(project: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    printed("write", project, "-o", out)
    papers, requests = (sorted((project / one).glob("*.yaml")) for one in ("submittals", "substitutions"))
    if papers:
        printed("review", project, *papers, "-o", out)
        printed("letters", project, *papers, "-o", out)
    if requests:
        printed("substitute", project, *requests, "-o", out)
    printed("upgrade", project, "--issued", out)
    job = copied(project, tmp_path / "job", ("\nparapets:", "\n# changed\nparapets:"))
    printed("write", job, "-o", out)
    for name, (pattern, command, _) in WRITTEN.items():
        if command in ("write", "review", "substitute"):
            for path in out.glob(pattern):
                fits(name, json.loads(path.read_bytes()))


@pytest.mark.skipif(not LONG, reason="assesses every example: with SPECGEN_LONG=1")
def test_the_audit_fits(tmp_path: Path) -> None:
    printed("audit", REPO / "projects", "-o", tmp_path / "out")
    fits("audit", json.loads((tmp_path / "out" / "audit.json").read_bytes()))


def test_what_is_read_fits(tmp_path: Path) -> None:
    folder = tmp_path / "in"
    folder.mkdir()
    sheet = folder / "barrier WB-1.csv"
    sheet.write_text(
        "Air barrier WB-1\nVapor permeance,ASTM E96 B,14 perms\nPull adhesion,,42 psi\n", "utf-8"
    )
    (folder / "notes.txt").write_text("nothing of use\n", "utf-8")
    printed("read", sheet, "--role", "barrier", "-o", tmp_path / "product.yaml")
    if LONG:
        printed("package", folder, "-o", tmp_path / "out")
        office = tmp_path / "office.docx"
        office.write_bytes(office_file())
        printed("template", office)


@pytest.mark.skipif(not LONG, reason="searches walls: with SPECGEN_LONG=1")
def test_proposals_fit(tmp_path: Path) -> None:
    facts = sorted((REPO / "tests" / "propose" / "facts").glob("*.yaml"))
    printed("propose", facts[0], "-o", tmp_path / "out")
