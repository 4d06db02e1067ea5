"""What does not apply is stated with its reason, at a value or a role; nothing of it passes in silence."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from specgen.assessment import Assessment, assess
from specgen.basis.content import findings as basis_findings
from specgen.files.marks import InputError
from specgen.intake.project import load_project
from specgen.model.finding import Finding, Outcome
from specgen.model.project import Component, Project
from specgen.practice.load import load_practice
from specgen.wall.change import of_kind, with_values
from tests import plain_yaml
from tests.chain.runs import REPO, copied, run

MIDRISE = REPO / "tests" / "stated" / "mixed-humid-midrise"
PRACTICE = load_practice()
WHY = "the wall is clad panel by panel"
Content = dict[str, Any]


def part_of(content: Content, role: str) -> Content:
    (one,) = content["types"].values()
    found: Content = next(part for key in ("build_up", "top") for part in one[key] if part["role"] == role)
    return found


def loaded(change: Callable[[Content], None], folder: Path) -> Project:
    content = plain_yaml.load((MIDRISE / "project.yaml").read_text("utf-8"))
    change(content)
    path = folder / "project.yaml"
    path.write_text(plain_yaml.dump(content), "utf-8")
    return load_project(path, PRACTICE)


@pytest.fixture(scope="module")
def stated() -> Assessment:
    return assess(load_project(MIDRISE, PRACTICE), PRACTICE)


def not_applied(at: Callable[[Content], Content], name: str, why: str = WHY) -> Callable[[Content], None]:
    """A change that takes a value away and says why it does not apply."""

    def change(content: Content) -> None:
        record = at(content)
        record.pop(name, None)
        record.setdefault("not_applicable", {})[name] = why

    return change


def exposure(content: Content) -> Content:
    return part_of(content, "barrier")


def found(one: Assessment, code: str) -> list[Finding]:
    return [each for each in one.findings if each.code == code]


def test_a_question_of_practice_is_lifted_with_the_reason(stated: Assessment, tmp_path: Path) -> None:
    after = stated.again(loaded(not_applied(exposure, "planned_exposure"), tmp_path))
    lifted = found(after, "WB03")
    assert {one.outcome for one in lifted} == {Outcome.NOT_APPLICABLE}
    assert all(f"`planned_exposure` does not apply: {WHY}" in one.message for one in lifted)
    assert any(WHY in row.finding.message for row in basis_findings(after))
    assert not after.walls[0].part("barrier").has("planned_exposure")  # type: ignore[union-attr]


def test_a_value_that_a_requirement_asks_for_is_not_taken_from_it(stated: Assessment, tmp_path: Path) -> None:
    def at(content: Content) -> Content:
        return part_of(content, "plaster")

    after = stated.again(loaded(not_applied(at, "cure_before_load"), tmp_path))
    assert {one.outcome for one in found(after, "PL13")} == {Outcome.UNKNOWN}
    assert {one.word for one in found(after, "MV07")} == {"query"}
    assert not any(part.specified.get("cure_before_load") for part in after.walls[0].parapet.components())


def test_a_claim_for_one_layer_lifts_nothing_of_another(stated: Assessment, tmp_path: Path) -> None:
    def change(content: Content) -> None:
        part_of(content, "top flashing").pop("planned_exposure", None)
        not_applied(exposure, "planned_exposure")(content)

    after = stated.again(loaded(change, tmp_path))
    assert Outcome.NOT_APPLICABLE not in {one.outcome for one in found(after, "TF07")}
    assert {one.outcome for one in found(after, "WB03")} == {Outcome.NOT_APPLICABLE}


def test_a_second_value_that_nobody_states_keeps_the_question(stated: Assessment, tmp_path: Path) -> None:
    def change(content: Content) -> None:
        content["site"].pop("temp_winter")
        not_applied(lambda one: one["site"], "temp_install")(content)

    after = stated.again(loaded(change, tmp_path))
    outcomes = {one.outcome for one in found(after, "CP08")}
    assert Outcome.UNKNOWN in outcomes and Outcome.NOT_APPLICABLE not in outcomes


def site(content: Content) -> Content:
    found: Content = content["site"]
    return found


@pytest.mark.parametrize("why", ["", "tbd", "n/a", "unknown", "?", None, 3, ["a"]])
def test_a_reason_that_says_nothing_is_refused(why: Any, tmp_path: Path) -> None:
    with pytest.raises(InputError) as caught:
        loaded(not_applied(site, "salt_water_distance", why), tmp_path)
    (problem,) = caught.value.problems
    assert "`not_applicable`" in problem.message and "the reason for `salt_water_distance`" in problem.message
    assert problem.fix == "say in words why it does not apply" and problem.mark.line > 1


def both(content: Content) -> None:
    content["site"]["not_applicable"] = {"wind_speed": WHY}


def left_open(content: Content) -> None:
    content["site"] |= {"wind_speed": "unknown", "not_applicable": {"wind_speed": WHY}}


def needed(content: Content) -> None:
    del content["project"]["number"]
    content["project"]["not_applicable"] = {"number": WHY}


def misspelt(content: Content) -> None:
    content["site"]["not_applicable"] = {"wind_sped": WHY}


def bare(content: Content) -> None:
    content["site"]["not_applicable"] = "salt_water_distance"


def in_place(content: Content) -> None:
    content["site"]["salt_water_distance"] = "N/A"


def beside_none(content: Content) -> None:
    part_of(content, "bridging tape").update(kind="none", not_applicable={"rolled": WHY})


def reason_for_a_kind(content: Content) -> None:
    part_of(content, "coping")["because"] = {"kind": WHY}


@pytest.mark.parametrize(
    ("change", "message", "fix"),
    [
        (both, "`wind_speed` is stated, and said not to apply", "delete one of the two (the other: line "),
        (left_open, "`wind_speed` is stated, and said not to apply", "delete one of the two"),
        (needed, "`number` applies to every project", "state it"),
        (misspelt, "unknown key `wind_sped`", "did you mean `wind_speed`?"),
        (bare, "`not_applicable`: `salt_water_distance` stands where reasons are wanted", "write `not_app"),
        (in_place, "`salt_water_distance`: `N/A` gives no reason", "`not_applicable: {salt_water_distance:"),
        (beside_none, "is stated to be none", "delete the other values"),
        (reason_for_a_kind, "unknown key `kind`", "known here"),
    ],
)
def test_what_contradicts_itself_is_refused(
    change: Callable[[Content], None], message: str, fix: str, tmp_path: Path
) -> None:
    with pytest.raises(InputError) as caught:
        loaded(change, tmp_path)
    assert any(message in one.message and fix in one.fix for one in caught.value.problems), caught.value


def test_a_parapet_states_what_does_not_apply_to_its_type(tmp_path: Path) -> None:
    def change(content: Content) -> None:
        (one,) = content["types"].values()
        one.pop("snow_fetch", None)
        one["not_applicable"] = {"snow_fetch": "no snow lies here", "weight": "it stands free"}
        one.pop("weight", None)
        first, second, _ = content["parapets"]
        first["snow_fetch"] = "40 ft"
        second["not_applicable"] = {"thickness": "it is measured on the wall"}
        first.setdefault("changes", {})["barrier"] = {"not_applicable": {"planned_exposure": WHY}}

    first, second, third = loaded(change, tmp_path).parapets
    assert set(first.inapplicable) == {"weight"} and first.has("snow_fetch")
    assert set(second.inapplicable) == {"snow_fetch", "weight", "thickness"} and not second.has("thickness")
    assert set(third.inapplicable) == {"snow_fetch", "weight"} and third.has("thickness")
    assert [bool(one.part("barrier").inapplicable) for one in (first, second)] == [True, False]  # type: ignore[union-attr]
    assert second.at("thickness").line > third.at("thickness").line


def test_what_is_tried_or_of_another_kind_is_stated_again() -> None:
    part = Component(
        "barrier", {}, {}, load_project(MIDRISE, PRACTICE).site.mark, id="b", kind="self-adhered"
    )
    apart = Component(**{**vars(part), "inapplicable": {"planned_exposure": WHY}})
    assert not with_values(apart, {"planned_exposure": "30 days"}).inapplicable
    assert not of_kind(apart, "fluid-applied", PRACTICE).inapplicable
    assert of_kind(apart, "self-adhered", PRACTICE).inapplicable


def test_check_prints_it_as_text_json_and_sarif(tmp_path: Path) -> None:
    change = ("  code: IBC", "  not_applicable: {salt_water_distance: the site lies far inland}\n  code: IBC")
    project = copied(MIDRISE, tmp_path / "job", change)
    done = run("check", project)
    line = "not applicable MV07 distance to salt water of the site does not apply: the site lies far inland"
    assert done.status == 0 and done.out.count(line) == 1
    findings = json.loads(run("check", project, "--format", "json").out)["findings"]
    (one,) = [each for each in findings if each["code"] == "MV07"]
    assert one["inapplicable"] == "the site lies far inland" and one["outcome"] == "not applicable"
    results = json.loads(run("check", project, "--format", "sarif").out)["runs"][0]["results"]
    kinds = [(each["kind"], each["level"]) for each in results if each["ruleId"] == "MV07"]
    assert set(kinds) == {("notApplicable", "none")} and len(kinds) == 3  # at each parapet
