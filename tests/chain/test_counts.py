"""Findings are counted in one way: whoever prints how many there are prints the same number."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path

import pytest
from lxml import html

from specgen.assessment import Assessment
from specgen.audit.record import finding_rows
from specgen.design.run import everyday
from specgen.field.papers import field_papers
from specgen.model.document import Document, Table
from specgen.model.finding import count_words
from specgen.model.folded import ANSWERED, OPEN_WORDS, folded, summary
from specgen.render.basis import basis_bytes
from specgen.review.forms import deficiencies, request_for_information
from specgen.sections.form_text import FormText
from specgen.sections.manual import manual
from specgen.specification import Specification, specify
from specgen.work.inputs import read_inputs
from tests.chain.runs import CONFORMING, REPO, run
from tests.conftest import sampled

SHOWN = (*OPEN_WORDS, "waived", ANSWERED)
ANSWER = """
answers:
  - {rule: CP01, by: the architect of record, date: 2026-10-01, answer: the wall meets it, reference: code 4.2}
"""
PROJECTS = sorted(path.parent for path in (REPO / "tests" / "stated").glob("*/project.yaml"))


@pytest.fixture(
    scope="module",
    params=[*sampled("counted examples", PROJECTS), "bare", "abroad"],
    ids=lambda one: Path(one).name,
)
def folder(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Each example, one whose three parapets lack and fail much, and one abroad with a question answered."""
    if isinstance(request.param, Path):
        return request.param
    bare = tmp_path_factory.mktemp("changed") / "p"
    shutil.copytree(CONFORMING, bare)
    text = (bare / "project.yaml").read_text("utf-8")
    if request.param == "abroad":
        assert "\nsite:\n" in text
        text = text.replace("\nsite:\n", "\nsite:\n  country: Elsewhere\n") + ANSWER
        (bare / "project.yaml").write_text(text, "utf-8")
        return bare
    for gone in ("wind_speed", "exposure", "outer_drip", "service_temperature", "family"):
        text = re.sub(rf"^ +{gone}:.*\n", "", text, flags=re.MULTILINE)
    (bare / "project.yaml").write_text(text, "utf-8")
    return bare


@pytest.fixture(scope="module")
def spec(folder: Path) -> Specification:
    return specify(read_inputs(folder, None, False).assessed())


@pytest.fixture(scope="module")
def counts(spec: Specification) -> dict[str, int]:
    return summary(spec.assessment.findings)


def to_act_on(counts: dict[str, int]) -> int:
    return sum(counts[word] for word in OPEN_WORDS)


def printed(counts: dict[str, int]) -> str:
    return ", ".join(count_words(counts[word], word) for word in SHOWN if counts[word]) or "none"


def test_check_prints_as_many_as_it_counts(folder: Path, counts: dict[str, int]) -> None:
    done = run("check", folder)
    assert f": {printed(counts)}; {counts['pass']} checks passed" in done.out.splitlines()[-1]
    lines = re.findall(
        r"^\S+:\d+:\d+: (defect|risk|query|unknown|not covered|waived) ", done.out, re.MULTILINE
    )
    closed = done.out.count("\n    answer: ")
    assert closed == counts[ANSWERED]
    found = {word: lines.count(word) for word in SHOWN}
    found |= {ANSWERED: closed, "not covered": found["not covered"] - closed}
    assert found == {word: counts[word] for word in SHOWN}


def test_json_lists_as_many_as_it_counts(folder: Path, counts: dict[str, int]) -> None:
    content = json.loads(run("check", folder, "--format", "json").out)
    assert content["summary"] == counts
    assert len(content["findings"]) == to_act_on(counts) + counts["waived"] + counts[ANSWERED]


def test_write_says_what_check_says(folder: Path, counts: dict[str, int], tmp_path: Path) -> None:
    done = run("write", folder, "-o", tmp_path / "out", "--with-open-points")
    assert f"Findings: {printed(counts)}." in done.out


def test_the_basis_report_counts_and_lists_the_same(spec: Specification, counts: dict[str, int]) -> None:
    tree = html.fromstring(basis_bytes(spec, everyday()).decode())
    printed = [item.text_content() for item in tree.xpath("//ul[@class='counts']/li")]
    assert printed[: len(OPEN_WORDS)] == [count_words(counts[word], word) for word in OPEN_WORDS]
    assert len(tree.xpath("//section[@aria-labelledby='findings']/article")) == (
        to_act_on(counts) + counts["waived"] + counts[ANSWERED]
    )


def test_the_audit_has_as_many_rows(spec: Specification, counts: dict[str, int]) -> None:
    rows = [row["severity"] for row in finding_rows(spec.assessment.findings, "")]
    assert {word: rows.count(word) for word in OPEN_WORDS} == {word: counts[word] for word in OPEN_WORDS}


def test_the_audit_command_counts_them(folder: Path, counts: dict[str, int], tmp_path: Path) -> None:
    shutil.copytree(folder, tmp_path / "all" / "p")
    (tmp_path / "all" / "p" / "accepted.yaml").unlink(missing_ok=True)
    done = run("audit", tmp_path / "all", "-o", tmp_path / "out", "--format", "json")
    assert json.loads(done.out)["designed"] == {word: counts[word] for word in OPEN_WORDS}


def test_the_papers_list_as_many(spec: Specification, counts: dict[str, int]) -> None:
    assessment: Assessment = spec.assessment
    bound = manual(assessment, spec.sections, spec.paragraphs)
    assert rows_of(bound.parts[-1], "Findings that stand") == to_act_on(counts)
    about = FormText("field/field")("agenda_open")
    agenda = field_papers(spec)["conference-agenda"]
    lines = [row for table in tables(agenda) for row in table.rows if row[1] == about]
    assert len(lines) == to_act_on(counts)
    _, *asked = tables(request_for_information(assessment))
    failed = counts["defect"] + counts["risk"]
    assert sum(len(table.rows) for table in asked) == to_act_on(counts) - failed
    assert len(deficiencies(assessment)) == failed


def tables(document: Document) -> list[Table]:
    return [block for block in document.blocks if isinstance(block, Table)]


def rows_of(document: Document, caption: str) -> int:
    return sum(len(table.rows) for table in tables(document) if table.caption == caption)


def test_the_bare_wall_has_findings_that_parapets_share_and_that_they_do_not(
    tmp_path_factory: pytest.TempPathFactory,
) -> None:
    findings = read_inputs(CONFORMING, None, False).assessed().findings
    shared = {len(one.parapets) for one in folded(findings)}
    assert {1, 3} <= shared
    assert sum(len(one.parapets) for one in folded(findings)) == len(findings)
