"""What nobody has mentioned yet is not known to be absent; ``kind: none`` says that there is none."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest

from specgen.assessment import assess
from specgen.files.marks import InputError
from specgen.intake.project import load_project
from specgen.model.finding import Finding, Outcome
from specgen.practice.load import load_practice
from tests import plain_yaml
from tests.chain.runs import REPO
from tests.conftest import LONG

MIDRISE = "mixed-humid-midrise"
EXAMPLES = sorted(one.name for one in (REPO / "tests" / "stated").iterdir() if one.name != "faulty-parapet")
Content = dict[str, Any]

# A role that is taken away can make a failure of its own right: what stays is wrong whatever the role would have been.
MAY_FAIL = {
    ("bridging tape", "TF02"): "without a tape the two membranes touch, and the lap is described",
    ("bridging tape", "TF03"): "without a tape the two membranes touch, and the lap is described",
}


def content_of(example: str) -> Content:
    return plain_yaml.load((REPO / "tests" / "stated" / example / "project.yaml").read_text("utf-8"))


def holders(content: Content) -> Iterator[Content]:
    yield from (*content.get("types", {}).values(), *content["parapets"])


def without(content: Content, role: str, none: bool) -> Content:
    """A project without the components of a role and what names them; ``none``: with the line that there is none."""
    out = deepcopy(content)
    gone: set[str] = set()
    for one in holders(out):
        for key in ("build_up", "top"):
            for part in [part for part in one.get(key, []) if part["role"] == role]:
                gone.add(part.get("id", role))
                one[key].remove(part)
                if none and all(other["role"] != role for other in one[key]):
                    one[key].append({"role": role, "kind": "none"})
    for one in holders(out):
        if "transitions" in one:
            one["transitions"] = [lap for lap in one["transitions"] if not gone & set(lap["between"])]
            for lap in one["transitions"]:
                if lap.get("tape") in gone:
                    del lap["tape"]
        one["penetrations"] = [hole for hole in one.get("penetrations", []) if hole["through"] not in gone]
        one["changes"] = {part: change for part, change in one.get("changes", {}).items() if part not in gone}
        for key in ("penetrations", "changes"):
            if not one[key]:
                del one[key]
    return out


def findings(content: Content, folder: Path) -> tuple[Finding, ...]:
    path = folder / "project.yaml"
    path.write_text(plain_yaml.dump(content), "utf-8")
    practice = load_practice()
    return assess(load_project(path, practice), practice).findings


def failing(found: tuple[Finding, ...]) -> set[tuple[str, str]]:
    return {(one.code, one.parapet) for one in found if one.outcome is Outcome.FAIL}


def roles_of(content: Content) -> list[str]:
    parts = (part for one in holders(content) for key in ("build_up", "top") for part in one.get(key, []))
    return sorted({part["role"] for part in parts})


CASES = [(one, role) for one in (EXAMPLES if LONG else [MIDRISE]) for role in roles_of(content_of(one))]


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], tuple[Finding, ...]]:
    kept: dict[str, tuple[Finding, ...]] = {}

    def of(example: str) -> tuple[Finding, ...]:
        if example not in kept:
            kept[example] = findings(content_of(example), tmp_path_factory.mktemp("whole"))
        return kept[example]

    return of


@pytest.mark.parametrize(("example", "role"), CASES)
def test_what_nobody_mentions_makes_no_defect_and_is_asked_for(
    example: str, role: str, whole: Callable[[str], tuple[Finding, ...]], tmp_path: Path
) -> None:
    before, found = whole(example), findings(without(content_of(example), role, none=False), tmp_path)
    new = {code for code, _ in failing(found) - failing(before) if (role, code) not in MAY_FAIL}
    assert new == set(), [one.message for one in found if one.code in new and one.outcome is Outcome.FAIL]
    if role not in (
        "bridging tape",
        "insulation",
        "top insulation",
        "base seal",
    ):  # a wall may do without these
        asked = [one for one in found if one.outcome is Outcome.UNKNOWN]
        assert any(f"the {role} is not described" in one.message for one in asked) or any(
            f"no {role} is described yet" in one.message for one in asked
        )
        assert any(f"role: {role}" in one.missing or "`kind: none`" in one.missing for one in asked)


@pytest.mark.parametrize(
    "role", ["coping", "barrier", "drainage layer", "top flashing", "weep screed", "cleat"]
)
def test_what_the_file_says_is_not_there_is_a_failure_at_that_line(role: str, tmp_path: Path) -> None:
    content = without(content_of(MIDRISE), role, none=True)
    found = [one for one in findings(content, tmp_path) if one.outcome is Outcome.FAIL]
    lines = (tmp_path / "project.yaml").read_text("utf-8").splitlines()
    assert any(role in lines[one.mark.line - 1] for one in found) or role == "cleat"
    assert found and not any("is not described" in one.message for one in found)


def with_coping(change: Callable[[Content], None], folder: Path) -> tuple[Finding, ...]:
    content = content_of(MIDRISE)
    (one,) = content["types"].values()
    change(next(part for part in one["top"] if part["role"] == "coping"))
    return findings(content, folder)


@pytest.mark.parametrize("how", ["unknown", "no kind"])
def test_a_kind_that_nobody_knows_keeps_what_is_stated_and_is_asked_for(how: str, tmp_path: Path) -> None:
    def change(coping: Content) -> None:
        if how == "unknown":
            coping["kind"] = "unknown"
        else:
            del coping["kind"]

    found = with_coping(change, tmp_path)
    asked = [one for one in found if one.code == "MV04" and one.outcome is Outcome.UNKNOWN]
    assert {one.parapet for one in asked} == {"P-1", "P-2", "P-3"}
    assert all(
        "the kind of the coping is not known; what is stated of it counts" in one.message for one in asked
    )
    first = next(one for one in found if one.code == "CP01")
    assert first.outcome is Outcome.UNKNOWN and first.missing == "layer `coping`: find out `kind`"


@pytest.mark.parametrize(
    ("more", "message", "fix"),
    [
        (
            {"slope": "1/4 in/ft"},
            "`coping` is stated to be none, and `slope` beside it",
            "delete the other values",
        ),
        ({}, "the parapet `P-1` has no coping, and one is described", "delete one of the two"),
    ],
)
def test_none_beside_something_is_refused(more: Content, message: str, fix: str, tmp_path: Path) -> None:
    content = content_of(MIDRISE)
    (one,) = content["types"].values()
    if more:
        one["top"] = [part for part in one["top"] if part["role"] != "coping"]
    one["top"].append({"role": "coping", "kind": "none", **more})
    for parapet in content["parapets"]:
        parapet.pop("changes", None)
    with pytest.raises(InputError) as caught:
        findings(content, tmp_path)
    assert message in str(caught.value) and fix in str(caught.value)


def test_a_lap_of_what_is_none_is_refused_and_one_of_what_is_not_decided_waits(tmp_path: Path) -> None:
    content = content_of(MIDRISE)
    (one,) = content["types"].values()
    part = next(part for part in one["top"] if part["role"] == "top flashing")
    part["kind"] = "unknown"
    found = findings(content, tmp_path)
    assert not any(new.code == "LP01" and new.outcome is Outcome.FAIL for new in found)
    one["top"] = [
        *(other for other in one["top"] if other is not part),
        {"role": "top flashing", "kind": "none"},
    ]
    with pytest.raises(InputError) as caught:
        findings(content, tmp_path)
    assert "`top flashing` is stated to be none, and meets another component" in str(caught.value)


def test_one_parapet_of_a_type_may_have_none(tmp_path: Path) -> None:
    content = content_of(MIDRISE)
    content["types"]["street parapet"]["transitions"] = []
    content["parapets"][1].setdefault("changes", {})["cleat"] = {"kind": "none"}
    found = [one for one in findings(content, tmp_path) if one.code == "CP06"]
    assert {one.parapet for one in found if one.outcome is Outcome.FAIL} == {content["parapets"][1]["name"]}
