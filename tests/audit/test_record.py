"""The record of one project: whose the findings are, what is in the wall in the end, what another paper took out."""

from __future__ import annotations

import json
from pathlib import Path

from specgen.audit.engine import Job
from specgen.commands.audit_job import audit_job, lost_line
from tests.audit.portfolio import MIXED


def audited(folder: Path, accepted: str, **files: str) -> dict:
    text = (MIXED / "project.yaml").read_text("utf-8")
    place = folder / "p"
    place.mkdir(exist_ok=True)
    (place / "project.yaml").write_text(text[: text.index("  - name: P-3")], "utf-8")
    for name in ("submittals/barrier-conforming", "substitutions/mesh", "substitutions/wrap"):
        (place / f"{Path(name).name}.yaml").write_bytes((MIXED / f"{name}.yaml").read_bytes())
    for name, content in files.items():
        (place / f"{name}.yaml").write_text(content, "utf-8")
    (place / "accepted.yaml").write_text(accepted, "utf-8")
    return json.loads(audit_job(Job(str(folder), "p", "", "program")))


def entry(paper: str, file: str, day: str) -> str:
    return (
        f"  - {{{paper}: {file}.yaml, date: {day}, by: 'architect, J.K.', result: make corrections noted}}\n"
    )


BARRIER = entry("submittal", "barrier-conforming", "2026-11-20")
WRAP = entry("substitution", "wrap", "2026-12-01")
MESH = entry("substitution", "mesh", "2026-12-02")


def codes(rows: list[dict]) -> set[str]:
    return {row["code"] for row in rows}


def test_a_finding_belongs_to_the_paper_it_came_with(tmp_path):
    line = audited(tmp_path, "accepted:\n" + MESH + BARRIER + WRAP)
    assert line["problems"] == []
    barrier, wrap, mesh = line["papers"]
    assert barrier["brings"] == [] and barrier["against"] == []
    assert "WB01" in codes(wrap["brings"]) and "DL03" not in codes(wrap["brings"])
    assert "DL03" in codes(mesh["brings"]) and "WB01" not in codes(mesh["brings"])
    new = codes(line["accepted"]) - codes(line["designed"])
    assert new == codes([*wrap["brings"], *mesh["brings"]])


def test_what_is_accepted_against_a_requirement_is_told(tmp_path):
    (wrap,) = audited(tmp_path, "accepted:\n" + WRAP)["papers"]
    assert [row["title"] for row in wrap["against"]] == ["generic kind", "air permeance"]
    assert wrap["by"] == "architect, J.K." and wrap["unproven"] > 0


def test_a_later_paper_takes_an_earlier_product_out_of_the_wall(tmp_path):
    line = audited(tmp_path, "accepted:\n" + WRAP + BARRIER.replace("11-20", "12-24"))
    products = {part["product"] for part in line["parts"]}
    assert "Barrier A" in products and "Wrap W" not in products
    assert "WB01" in codes(line["papers"][1]["closes"])
    assert "WB01" not in codes(line["accepted"])


def test_without_papers_the_wall_is_as_designed(tmp_path):
    line = audited(tmp_path, "accepted: []\n")
    assert line["accepted"] == line["designed"] and line["papers"] == []


def test_papers_that_cannot_be_used_leave_the_findings_as_designed(tmp_path):
    line = audited(tmp_path, "accepted:\n" + entry("submittal", "torn", "2026-11-20"), torn="products: [\n")
    assert line["designed"] and line["accepted"] is None
    assert line["problems"][0]["place"].startswith("p/torn.yaml:")


def test_a_paper_of_another_project_or_parapet_is_a_problem(tmp_path):
    text = (MIXED / "submittals" / "barrier-conforming.yaml").read_text("utf-8")
    wrong = text.replace('"2601"', '"9"').replace("name: Barrier A", "name: Barrier A\n    parapets: [P-9]")
    line = audited(tmp_path, "accepted:\n" + entry("submittal", "wrong", "2026-11-20"), wrong=wrong)
    messages = [one["message"] for one in line["problems"]]
    assert messages == [
        "the paper is for project `9`, this is project `2601`",
        "no parapet `P-9` in the project",
    ]


def test_the_key_changes_with_every_file_that_was_read(tmp_path):
    before = audited(tmp_path, "accepted:\n" + BARRIER)
    assert set(before["inputs"]) == {
        "project.yaml",
        "office.yaml",
        "accepted.yaml",
        "barrier-conforming.yaml",
    }
    assert audited(tmp_path, "accepted:\n" + BARRIER)["key"] == before["key"]
    for name in ("project.yaml", "accepted.yaml"):
        path = tmp_path / "p" / name
        kept = path.read_bytes()
        path.write_bytes(kept + b"# a remark\n")
        assert json.loads(audit_job(Job(str(tmp_path), "p", "", "program")))["key"] != before["key"]
        path.write_bytes(kept)
    assert json.loads(audit_job(Job(str(tmp_path), "p", "", "other program")))["key"] != before["key"]


def test_a_project_whose_workers_ended_is_a_row_that_says_so():
    line = json.loads(lost_line(Job("/r", "a/b", "", "")))
    assert line["path"] == "a/b" and "ended" in line["problems"][0]["message"]
