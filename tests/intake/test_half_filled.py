"""A half-filled file is read: whatever is missing is an unknown, or is named with its fix; and paper asks for the rest.

Every key of every worked example is taken away, one at a time, and many at once; ``SPECGEN_LONG=1`` takes all of them.
"""

from __future__ import annotations

import json
import os
import random
from collections.abc import Iterator
from copy import deepcopy
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from specgen.assessment import Assessment, assess
from specgen.audit.engine import Job
from specgen.commands.audit_job import audit_job
from specgen.commands.common import status
from specgen.drawing.sheets import by_parapets
from specgen.files.marks import InputError
from specgen.intake.project import load_project
from specgen.intake.worked import worked_examples
from specgen.practice.load import load_practice
from specgen.specification import specify
from tests import plain_yaml
from tests.chain.runs import REPO, copied, run

LONG = os.environ.get("SPECGEN_LONG") == "1"
PRACTICE = load_practice()
FEW, MANY = 3, 3  # of each example in the short run: single keys, and sets of keys
Path_ = tuple[str | int, ...]
TO_ISSUE = ("number", "issue_date", "place")


def paths(node: Any, at: Path_ = ()) -> Iterator[Path_]:
    """Every key and every item below a node."""
    items = node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()
    for key, value in items:
        yield (*at, key)
        yield from paths(value, (*at, key))


def without(content: Any, gone: list[Path_], unknown: bool = False) -> Any:
    """A copy without some of its places, or with `unknown` there; the last go first, so that the others stay."""
    content = deepcopy(content)
    for path in sorted(gone, key=str, reverse=True):
        node = content
        try:
            for key in path[:-1]:
                node = node[key]
            if unknown:
                node[path[-1]] = "unknown"
            else:
                del node[path[-1]]
        except (KeyError, IndexError, TypeError):
            continue  # taken away with what holds it
    return content


@cache
def worked(name: str) -> tuple[Any, Assessment]:
    file = worked_examples()[name]
    return plain_yaml.load(file.read_text("utf-8")), assess(load_project(file, PRACTICE), PRACTICE)


def ends(content: Any, before: Assessment, folder: Path) -> int:
    """The status with which a check of the content ends; bad input names a key and its fix."""
    file = folder / "project.yaml"
    file.write_text(plain_yaml.dump(content), "utf-8")
    try:
        project = load_project(file, PRACTICE)
    except InputError as error:
        assert all("`" in one.message or "a parapet needs a name" in one.message for one in error.problems)
        assert all(one.fix.strip().rstrip(":") for one in error.problems)
        return 2
    return status(before.again(project).findings)


def drawn(name: str) -> Iterator[tuple[list[Path_], bool]]:
    """What is taken away from an example, or made unknown."""
    content, _ = worked(name)
    every, chance = list(paths(content)), random.Random(f"half-filled {name}")
    leaves = [one for one in every if isinstance(one[-1], str)]
    for one in every if LONG else chance.sample(every, FEW):
        yield [one], False
    for one in leaves if LONG else chance.sample(leaves, FEW):
        yield [one], True
    for _ in range(200 if LONG else MANY):
        yield chance.sample(every, chance.randrange(2, len(every) // 2)), chance.random() < 0.3


@pytest.mark.parametrize("name", sorted(worked_examples()) if LONG else ["existing-repair"])
def test_whatever_is_missing_is_unknown_or_is_named_with_its_fix(name: str, tmp_path: Path) -> None:
    content, before = worked(name)
    seen = set()
    for gone, unknown in drawn(name):
        found = ends(without(content, gone, unknown), before, tmp_path)
        assert found in (0, 1, 2, 3), gone
        seen.add(found)
    assert 2 in seen and seen - {2}  # both ends were reached


def test_a_value_that_is_meant_waits_for_its_kind(tmp_path: Path) -> None:
    content, before = worked("fluid-applied-roof")
    where = ("types", "library parapet", "build_up", 4, "kind")
    assert ends(without(content, [where]), before, tmp_path) in (1, 3)


def test_only_the_name_is_needed_to_check(tmp_path: Path) -> None:
    file = tmp_path / "project.yaml"
    for written in ("project: {name: mill}\n", "project: {name: mill}\nsite:\nbuilding:\nparapets:\n"):
        file.write_text(written, "utf-8")
        done = run("check", tmp_path)
        assert done.status in (1, 3) and "Traceback" not in done.err
        assert done.out.splitlines()[-1].startswith("mill: ") and "unknown" in done.out
    file.write_text("site: {place: a town}\n", "utf-8")
    done = run("check", tmp_path)
    assert done.status == 2 and "`project` is missing" in done.err and "name: …" in done.err


@pytest.mark.parametrize("words", ["compare", "layers", "sequence", "calc"])
def test_what_writes_no_paper_reads_a_file_of_one_name(words: str, tmp_path: Path) -> None:
    (tmp_path / "project.yaml").write_text("project: {name: mill}\n", "utf-8")
    assert run(words, tmp_path, *([tmp_path] if words == "compare" else [])).status in (0, 1, 3)


DEMO = REPO / "tests" / "stated" / "mixed-humid-midrise"
DOORS = {
    "write": (),
    "letters": (),
    "register": (),
    "review": (DEMO / "submittals" / "barrier-conforming.yaml",),
    "substitute": (next((DEMO / "substitutions").glob("*.yaml")),),
}


@pytest.mark.parametrize("words", DOORS)
def test_paper_asks_for_what_it_bears_and_writes_nothing(words: str, tmp_path: Path) -> None:
    project = copied(DEMO, tmp_path / "job")
    content = without(
        plain_yaml.load((project / "project.yaml").read_text("utf-8")),
        [("project", "number"), ("project", "issue_date"), ("site", "place")],
    )
    (project / "project.yaml").write_text(plain_yaml.dump(content), "utf-8")
    done = run(words, project, *DOORS[words], "-o", tmp_path / "out")
    assert done.status == 2 and not (tmp_path / "out").exists()
    for key, question in zip(
        TO_ISSUE, ("Number of the project?", "Issue date?", "Place of the building?"), strict=True
    ):
        assert f"`{key}` is not known, and papers bear it: {question}" in done.err, key
        assert f"add `{key}: …` below " in done.err


def test_a_parapet_of_which_nothing_is_listed_has_no_sheet(tmp_path: Path) -> None:
    project = copied(DEMO, tmp_path / "job", ("parapets:\n", "parapets:\n  - name: P-9\n"))
    drawn = by_parapets(specify(assess(load_project(project, PRACTICE), PRACTICE)))
    assert set(drawn) == {"P-1", "P-2", "P-3"} and all(drawn.values())


def test_an_audit_asks_for_the_number_where_a_paper_is_of_a_project(tmp_path: Path) -> None:
    project = copied(DEMO, tmp_path / "job", ('  number: "2601"\n', ""))
    (project / "paper.yaml").write_bytes((DEMO / "submittals" / "barrier-conforming.yaml").read_bytes())
    line = "{submittal: paper.yaml, date: 2026-11-20, by: an architect, result: no exceptions taken}"
    (project / "accepted.yaml").write_text(f"format: 2\naccepted:\n  - {line}\n", "utf-8")
    found = json.loads(audit_job(Job(str(tmp_path), "job", "", "")))
    assert [one["message"] for one in found["problems"]] == [
        "`number` is not known, and papers bear it: Number of the project?"
    ]
