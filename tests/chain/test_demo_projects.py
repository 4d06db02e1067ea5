"""The worked examples: each shows exactly the findings that expected.yaml beside it lists, and no others.

A fault is planted, a risk says why it is taken, a query gives its reason. Each stands `at` a path of names, as
`parapets/P-1/top/coping/outer_drip`, so that lines may move. A project without planted faults conforms: no
defect, nothing unknown, and no risk but those listed.
"""

from __future__ import annotations

import json
import re
import shutil
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml

from specgen.specification import specify
from specgen.work.inputs import read_inputs
from tests import plain_yaml
from tests.chain.examples_page import PAGE, text
from tests.chain.runs import FAULTY, REPO, changed, copied, run
from tests.rules.mutations.document import paths_at

SHORT = sorted(file.parent for file in (REPO / "projects").glob("*/expected.yaml"))
PROJECTS = [*SHORT, *sorted(file.parent for file in (REPO / "tests" / "stated").glob("*/expected.yaml"))]
SOUND = [one for one in PROJECTS if not plain_yaml.load((one / "expected.yaml").read_text("utf-8"))["faults"]]


@cache
def checked(project: Path) -> tuple[int, dict[str, Any]]:
    """The status of ``check`` and its report; a folder is checked once and is not changed afterward."""
    done = run("check", project, "--format", "json")
    return done.status, json.loads(done.out)


def expected(project: Path) -> list[dict[str, Any]]:
    """The findings that expected.yaml beside the project lists."""
    file = plain_yaml.load((project / "expected.yaml").read_text("utf-8"))
    assert set(file) <= {"faults", "risks", "queries"}
    groups = []
    for key, why in (("faults", "planted"), ("risks", "why"), ("queries", "reason")):
        assert all(group.get(why) for group in file.get(key, [])), f"{project.name}: {key} without `{why}`"
        groups += file.get(key, [])
    return [finding for group in groups for finding in group["findings"]]


@cache
def _paths(text: str) -> dict[tuple[int, int], str]:
    return paths_at(text)


def at(found: dict[str, Any]) -> str:
    """The path of names to the place of a finding; "" for the file as a whole."""
    return _paths(Path(found["mark"]["file"]).read_text("utf-8")).get(
        (found["mark"]["line"], found["mark"]["column"]), ""
    )


def same(wanted: dict[str, Any], found: dict[str, Any]) -> bool:
    keys = wanted.keys() - {"words", "parapet", "at"}
    if wanted["at"] != at(found):
        return False
    here = wanted.get("parapet", found["parapets"][0]) in found["parapets"]
    return here and all(wanted[key] == found[key] for key in keys) and wanted["words"] in found["message"]


def failed(findings: list[dict[str, Any]]) -> list[dict[str, Any]]:
    return [one for one in findings if one["outcome"] == "fail"]


def compare(project: Path, findings: list[dict[str, Any]]) -> tuple[list[Any], list[Any]]:
    """What failed and is not expected, and what is expected and did not fail."""
    wanted = expected(project)
    findings = failed(findings)
    return (
        [found for found in findings if not any(same(one, found) for one in wanted)],
        [one for one in wanted if not any(same(one, found) for found in findings)],
    )


@pytest.mark.parametrize("project", PROJECTS, ids=lambda one: f"{one.parent.name}-{one.name}")
def test_the_findings_are_those_expected_and_no_others(project):
    got, report = checked(project)
    assert compare(project, report["findings"]) == ([], [])
    assert got == any(one["severity"] != "query" for one in expected(project))


def test_the_faulty_project_has_one_finding_a_line_expected():
    _, report = checked(FAULTY)
    assert len(failed(report["findings"])) == len(expected(FAULTY))


@pytest.mark.parametrize("project", PROJECTS, ids=lambda one: f"{one.parent.name}-{one.name}")
def test_a_line_more_at_the_top_breaks_nothing(project, tmp_path):
    """Expected findings name components and keys: no count of lines stands in them."""
    moved = Path(shutil.copytree(project, tmp_path / project.name))
    text = (moved / "project.yaml").read_text("utf-8")
    (moved / "project.yaml").write_text(f"# One line more.\n{text}", "utf-8")
    _, before = checked(project)
    _, after = checked(moved)
    assert [one["mark"]["line"] for one in failed(after["findings"])] == [
        one["mark"]["line"] + 1 for one in failed(before["findings"])
    ]
    assert compare(moved, after["findings"]) == ([], [])
    assert "line:" not in (project / "expected.yaml").read_text("utf-8")


def test_a_finding_at_another_key_is_no_expected_one():
    wanted = next(one for one in expected(FAULTY) if one["words"] == "no drip on its inner side")
    found = next(one for one in checked(FAULTY)[1]["findings"] if same(wanted, one))
    assert not same({**wanted, "at": wanted["at"].replace("inner_drip", "outer_drip")}, found)


def leaves(node, at=()):
    """Every value of a file by its path of names; a list of records by their names, roles and ends."""
    if isinstance(node, dict):
        for key, value in node.items():
            yield from leaves(value, (*at, key))
    elif isinstance(node, list) and node and isinstance(node[0], dict):
        for one in node:
            name = one.get("name") or one.get("id") or one.get("role") or " + ".join(one.get("between", ()))
            yield from leaves(one, (*at, name or f"{one.get('maker')}, {one.get('one')}, {one.get('other')}"))
    else:
        yield at, node


@pytest.mark.parametrize("project", SHORT, ids=lambda one: one.name)
def test_a_stated_wall_says_all_that_the_short_one_says(project):
    stated = REPO / "tests" / "stated" / project.name
    short, full = (
        dict(leaves(yaml.load((one / "project.yaml").read_text("utf-8"), Loader=yaml.BaseLoader)))
        for one in (project, stated)
    )
    assert short.items() <= full.items()
    for paper in (*project.glob("*/*"), project / "schedule.yaml"):
        if paper.is_file():
            assert paper.read_bytes() == (stated / paper.relative_to(project)).read_bytes()


def test_the_page_of_the_examples_is_as_written():
    assert PAGE.read_text("utf-8") == text(), "python -m tests.chain.examples_page"


@pytest.mark.parametrize("project", SHORT, ids=lambda one: one.name)
def test_the_short_and_the_stated_wall_have_the_same_sections(project):
    sections = [
        [one.number for one in specify(read_inputs(folder, None, False).assessed()).sections]
        for folder in (project, REPO / "tests" / "stated" / project.name)
    ]
    assert sections[0] == sections[1]


def test_the_worked_examples_are_found():
    names = {"cold-continental-school", "hot-humid-lowrise", "marine-library", "mixed-humid-midrise"}
    names |= {"existing-repair", "fluid-applied-roof", "plaster-covered-top"}
    assert names <= {one.name for one in SOUND}
    assert FAULTY in PROJECTS and FAULTY not in SOUND


@pytest.mark.parametrize("project", SOUND, ids=lambda one: f"{one.parent.name}-{one.name}")
def test_a_conforming_project_has_no_defect_and_no_risk_that_is_not_named(project):
    _, report = checked(project)
    counts = report["summary"]
    assert (counts["defect"], counts["unknown"], counts["waived"]) == (0, 0, 0)
    named = [one for one in expected(project) if one["severity"] == "risk"]
    assert bool(counts["risk"]) == bool(named)
    assert counts["pass"] + counts["specified"] > 200


def test_a_vanished_and_a_new_finding_are_both_noticed(tmp_path):
    project = copied(FAULTY, tmp_path / "p", ("inner_drip: 0 in", "inner_drip: 1 in"))
    changed(project / "project.yaml", ("flange: 3 1/2 in", "flange: 1 1/2 in"))
    (project / "expected.yaml").write_bytes((FAULTY / "expected.yaml").read_bytes())
    new, gone = compare(project, checked(project)[1]["findings"])
    assert [one["code"] for one in new] == ["OU01"]
    assert [one["words"] for one in gone] == ["no drip on its inner side"]


def test_every_finding_says_why_and_what_to_do():
    done = run("check", FAULTY)
    assert done.status == 1
    _, report = checked(FAULTY)
    for finding in failed(report["findings"]):
        assert finding["reason"] and finding["remedy"] and finding["sources"]
        mark = finding["mark"]
        place = f"{mark['file']}:{mark['line']}:{mark['column']}: {finding['severity']} {finding['code']}"
        assert place in done.out


def test_each_finding_stands_at_the_word_it_is_about():
    lines = (FAULTY / "project.yaml").read_text("utf-8").splitlines()
    _, report = checked(FAULTY)
    at = {
        (one["code"], one["message"][-15:]): lines[one["mark"]["line"] - 1][one["mark"]["column"] - 1 :]
        for one in failed(report["findings"])
    }
    assert at["WB01", "nically fastened"[-15:]] == "mechanically fastened"
    assert at["CP03", "n its outer side"[-15:]] == "0 in"
    assert at["TF02", "d the bond opens"[-15:]].startswith("between: [top flashing, roof turn-up]")


def test_the_submittals_of_the_library_read_as_their_names_say(tmp_path):
    library = REPO / "tests" / "stated" / "marine-library"
    done = run("review", library, *sorted((library / "submittals").glob("*.yaml")), "-o", tmp_path / "out")
    assert done.status == 1
    # How many rows a product leaves unstated is a matter of the catalogue, and no name speaks of it.
    out = re.sub(r"all \d+|\d+ not stated", lambda one: re.sub(r"\d+", "N", one[0]), done.out)
    printed = dict(line.strip().split(": ", 1) for line in out.splitlines() if line.startswith("    "))
    assert printed == {
        "Barrier K": "no exceptions taken (all N requirements met)",
        "Coping N": "revise and resubmit (N not stated, 1 to confirm)",
        "Mat M": "revise and resubmit (2 not met)",
        "Screed V": "revise and resubmit (1 not met)",
    }
