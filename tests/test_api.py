"""The front door for Python: its page runs as a notebook would, and it says what the commands say."""

from __future__ import annotations

import inspect
import json
import re
import shutil
import subprocess
import sys
import typing
from pathlib import Path
from typing import Any

import pytest

import specgen
from specgen import api
from tests.chain.runs import CONFORMING, FAULTY, REPO, SUBMITTAL, contents, run

PAGE = REPO / "docs" / "python.md"
SHORT = REPO / "projects" / "mixed-humid-midrise"  # which the page reads
BLOCK = re.compile(r"^```python\n(.*?)^```$", re.DOTALL | re.MULTILINE)


@pytest.fixture(scope="module")
def ran(tmp_path_factory) -> dict[str, Any]:
    """The names that the page's blocks leave, run in order in one namespace."""
    names: dict[str, Any] = {}
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(REPO)
        patch.setattr("tempfile.tempdir", str(tmp_path_factory.mktemp("page")))
        for block in BLOCK.findall(PAGE.read_text("utf-8")):
            exec(compile(block, str(PAGE), "exec"), names)
    return names


def test_the_page_runs_top_to_bottom(ran):
    assert ran["failed"] and all(one.outcome is api.Outcome.FAIL for one in ran["failed"])
    (problem,) = [one for one in ran["problems"] if "parapetz" in one.message]
    assert "parapets" in problem.fix
    assert ran["wind"].subject == "coping wind"
    assert {(one.state, one.holds) for one in ran["studied"]} == {("unknown", None)}
    assert all("weather" in one.why for one in ran["studied"])
    assert len(ran["specification"].sections) >= 10
    assert ran["reviews"][0].recommendation in api.Recommendation
    assert [one.name for one in ran["proposed"].walls] == ["wall-1"]
    assert (ran["folder"] / "walls" / "comparison.html").exists()
    assert [one.number for one in ran["open_"].questions] == list(range(1, len(ran["open_"].questions) + 1))
    assert ran["asked"] == ()
    assert ran["open_"].questions and (ran["folder"] / "questions" / "open-questions.docx").exists()


def test_the_page_names_every_call(ran):
    page = PAGE.read_text("utf-8")
    calls = [name for name in api.__all__ if inspect.isfunction(getattr(api, name))]
    assert calls == [
        "assess",
        "calculate",
        "comments",
        "exchange",
        "hourly",
        "load",
        "propose",
        "questions",
        "review",
        "specify",
        "substitute",
        "write",
    ]
    assert all(f"api.{name}(" in page for name in calls)
    assert f"`api.API` (now {api.API})" in page


def test_what_is_written_is_what_the_command_writes(ran, tmp_path):
    assert run("write", SHORT, "-o", tmp_path / "issue").status in (0, 3)
    mine, theirs = contents(Path(ran["issued"].files.folder)), contents(tmp_path / "issue")
    assert set(mine) == set(theirs)
    assert [
        name for name in mine if mine[name] != theirs[name] and name.endswith((".docx", ".xlsx", ".svg"))
    ] == []


def test_findings_are_those_of_check():
    (summary,) = [json.loads(run("check", FAULTY, "--format", "json").out)["summary"]]
    findings = api.assess(api.load(FAULTY)).findings
    failed = sum(one.failed for one in findings)
    assert failed == summary["defect"] + summary["risk"] > 0


def test_a_submittal_is_judged_as_by_the_command(ran, tmp_path):
    done = run("review", SHORT, SUBMITTAL, "-o", tmp_path, "--format", "json")
    (data,) = json.loads(done.out)["reviews"]
    assert [one["recommendation"] for one in data["products"]] == [
        one.recommendation.value for one in ran["reviews"]
    ]


def test_every_call_is_typed_and_the_package_says_so():
    assert (Path(specgen.__file__).parent / "py.typed").is_file()
    for name in api.__all__:
        call = getattr(api, name)
        if inspect.isfunction(call):
            hints = typing.get_type_hints(call)
            assert set(hints) == {*inspect.signature(call).parameters, "return"}
            assert Any not in hints.values()


def test_an_issue_with_open_points_is_refused_or_marked_as_by_the_command(tmp_path):
    content = (CONFORMING / "project.yaml").read_text("utf-8")
    assert "  wind_speed: 115 mph\n" in content
    (tmp_path / "project.yaml").write_text(content.replace("  wind_speed: 115 mph\n", ""), "utf-8")
    specification = api.specify(api.assess(api.load(tmp_path)))
    with pytest.raises(api.OpenPointsError) as refused:
        api.write(specification, tmp_path / "refused")
    assert refused.value.points and all(one.open for one in refused.value.points)
    assert not (tmp_path / "refused").exists()
    api.write(specification, tmp_path / "marked", with_open_points=True)
    done = run("write", tmp_path, "-o", tmp_path / "theirs", "--with-open-points")
    assert done.status == 3
    mine, theirs = contents(tmp_path / "marked"), contents(tmp_path / "theirs")
    sheets = [name for name in mine if name.endswith(".svg")]
    assert sheets and all(b"Issued with open points" in mine[name] for name in sheets)
    alike = (".docx", ".xlsx", ".svg")
    assert [name for name in mine if mine[name] != theirs[name] and name.endswith(alike)] == []


def test_the_front_door_knows_no_command_line():
    ask = "import sys, specgen.api; print(sorted({'click', 'specgen.commands'} & set(sys.modules)))"
    done = subprocess.run([sys.executable, "-c", ask], capture_output=True, text=True, cwd=REPO, check=True)
    assert done.stdout == "[]\n"


def test_a_request_is_weighed_as_by_the_command(ran, tmp_path):
    paths = sorted((SHORT / "substitutions").glob("*.yaml"))[:2]
    found = api.substitute(ran["specification"], ran["job_inputs"], *paths)
    done = run("substitute", SHORT, *paths, "-o", tmp_path, "--format", "json")
    data = json.loads(done.out)["requests"]
    assert [one["recommendation"] for one in data] == [one.recommendation.value for one in found]
    assert [len(one["together"]) for one in data] == [len(one.together) for one in found]


def test_strict_refuses_what_the_linter_remarks_and_without_it_the_remark_is_told(tmp_path):
    job, clauses = tmp_path / "job", tmp_path / "clauses"
    shutil.copytree(CONFORMING, job)
    clauses.mkdir()
    vague = "section: 07 71 00\nreplace: {hems: {text: Hem the edges properly.}}\n"
    (clauses / "a.yaml").write_text(vague, "utf-8")
    specification = api.specify(api.assess(api.load(job, clauses=clauses)))
    with pytest.raises(api.StrictError) as refused:
        api.write(specification, tmp_path / "strict", strict=True)
    assert "vague: `properly`" in str(refused.value) and not (tmp_path / "strict").exists()
    (remark,) = api.write(specification, tmp_path / "out").remarks
    assert refused.value.remarks == (remark,)
    done = run("write", job, "-o", tmp_path / "strict", "--clauses", clauses, "--strict", "--format", "json")
    assert done.status == 1 and [one["message"] for one in json.loads(done.out)["remarks"]] == [
        remark.message
    ]
