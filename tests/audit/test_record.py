"""The record of one project: whose the findings are, what is in the wall in the end, what another paper took out."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

from click.testing import CliRunner

from specgen.audit.engine import Done, Job
from specgen.commands import main
from specgen.commands.audit_job import audit_job, lost_line
from specgen.work.hourly_file import keep
from specgen.work.inputs import read_inputs
from tests.audit.portfolio import MIXED
from tests.chain.runs import CONFORMING
from tests.hourly_results import result_of


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
        "hourly-moisture.json",
        "barrier-conforming.yaml",
    }
    assert audited(tmp_path, "accepted:\n" + BARRIER)["key"] == before["key"]
    for name in ("project.yaml", "accepted.yaml"):
        path = tmp_path / "p" / name
        kept = path.read_bytes()
        path.write_bytes(kept + b"# a remark\n")
        assert json.loads(audit_job(Job(str(tmp_path), "p", "", "program")))["key"] != before["key"]
        path.write_bytes(kept)
    keep(tmp_path / "p", [result_of("P-1")])
    assert json.loads(audit_job(Job(str(tmp_path), "p", "", "program")))["key"] != before["key"]
    assert json.loads(audit_job(Job(str(tmp_path), "p", "", "other program")))["key"] != before["key"]


def test_a_project_whose_workers_ended_is_a_row_that_says_so():
    line = json.loads(lost_line(Job("/r", "a/b", "", "")))
    assert line["path"] == "a/b" and "ended" in line["problems"][0]["message"] and line["status"] == 70


def test_a_crash_is_a_row_with_the_status_of_a_fault(tmp_path, monkeypatch):
    for name in ("a", "b"):
        shutil.copytree(CONFORMING, tmp_path / "jobs" / name)
    sound = read_inputs

    def broken(folder, *words):
        if folder.name == "a":
            raise KeyError("two\nlines")
        return sound(folder, *words)

    monkeypatch.setattr("specgen.commands.audit_job.read_inputs", broken)
    monkeypatch.setattr(
        "specgen.commands.audit._engine", lambda todo, *_: (Done(one, audit_job(one)) for one in todo)
    )
    done = CliRunner().invoke(main, ["audit", str(tmp_path / "jobs"), "-o", str(tmp_path / "out")])
    assert done.exit_code == 70 and "KeyError" in done.output
    rows = json.loads((tmp_path / "out" / "audit.json").read_text("utf-8"))["projects"]
    assert [(one["path"], one["status"]) for one in rows] == [("a", 70), ("b", 0)]
    assert rows[1]["designed"] and not rows[1]["problems"]
