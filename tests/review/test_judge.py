"""Verdicts on single values (judgements.yaml), which requirements a product must answer, and the recommendation."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Mapping
from functools import lru_cache
from itertools import product as combinations
from pathlib import Path
from typing import Any

import pytest
import yaml

from specgen.files.marks import Mark
from specgen.intake.project import load_project
from specgen.intake.submittal import load_submission
from specgen.model.calculation import CalcLine, Calculation
from specgen.model.project import Record
from specgen.model.requirement import Limit, Origin, Requirement, RequirementSet
from specgen.model.source import Source, Status
from specgen.model.submission import Claim, Product, Recommendation, Result, Submission, Verdict
from specgen.practice.load import load_practice
from specgen.requirements.derive import derive
from specgen.review.judge import judged, recommend, review, row_of_product
from specgen.units.quantity import parse
from specgen.wall.products import doubted_claims
from tests.review.conforming import design

PRACTICE = load_practice()
CASES = yaml.load(Path(__file__).with_name("judgements.yaml").read_text(), yaml.BaseLoader)
PROJECT = """\
project: {name: Mill Yard, number: "7", issue_date: 2026-11-02, units: %s}
site: {place: a town}
building: {height: 30 ft}
parapets:
  - name: P-1
    height: 36 in
    build_up:
      - {role: drainage layer, kind: dimpled sheet, depth: 7/16 in}
      - {role: weep screed, kind: vented weep screed}
      - {role: barrier, kind: fluid-applied, planned_exposure: 60 days}
      - {role: roof turn-up, kind: TPO}
    top:
      - {role: top flashing, kind: self-adhered butyl}
      - {role: bridging tape, kind: butyl tape}
      - {role: coping, kind: formed metal, metal: aluminum, slope: 1/2 in/ft, outer_face_height: 10 in}
    transitions:
      - {between: [top flashing, roof turn-up], tape: bridging tape}
"""
MARK = Mark("s.yaml", 1, 1)
EVIDENCE = "test report, page 1"


@lru_cache(maxsize=2)
def required(units: str, folder: Path) -> RequirementSet:
    path = folder / f"{units}.yaml"
    path.write_text(PROJECT % units)
    pressure = CalcLine("p", "p", parse("41.2 psf"))
    results = {"resistance_face": pressure, "resistance_top": pressure, "resistance_inner": pressure}
    wind = Calculation("coping wind", "wind", "P-1", (), (), results, (), "", ())
    return derive(load_project(path, PRACTICE), [wind], PRACTICE)


@pytest.fixture(scope="session")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("judge")


def submitted(folder: Path, role: str, lines: str) -> Submission:
    path = folder / "submittal.yaml"
    path.write_text(f'submittal: {{number: "1"}}\nproducts:\n  - role: {role}\n    name: sample\n{lines}')
    return load_submission(path, PRACTICE)


@lru_cache(maxsize=8)
def demo(name: str) -> RequirementSet:
    return design(name).assessment.requirements


def asked(case: Mapping[str, Any], folder: Path) -> tuple[Requirement, str]:
    """The requirement a case is about, and the project's language of units."""
    units = case.get("units", "SI" if case.get("project") == "marine-library" else "inch-pound")
    all_of = demo(case["project"]) if "project" in case else required(units, folder)
    if "@" in case["on"]:
        return all_of.by_id[case["on"]], units
    return all_of.named(case["on"])[0], units


def written(case: Mapping[str, Any], attribute: str) -> str:
    if "claim" not in case:
        return ""
    claim = case["claim"]
    if attribute == "kind":
        return f"    kind: {json.dumps({'value': claim, 'evidence': EVIDENCE})}\n"
    more = {"method": case["method"]} if "method" in case else {}
    if evidence := case.get("evidence", EVIDENCE):
        more["evidence"] = evidence
    stated = claim if isinstance(claim, dict) else {"value": plain(claim)}
    beside = f"    {case['with']}\n" if "with" in case else ""
    return f"    {attribute}: {json.dumps({**stated, **more})}\n{beside}"


def plain(claim: Any) -> Any:
    """A claim as YAML would read it: whole numbers, yes and no are no text."""
    if isinstance(claim, str) and claim.isdigit():
        return int(claim)
    return {"yes": True, "no": False}.get(claim, claim) if isinstance(claim, str) else claim


def named(case: Mapping[str, Any]) -> str:
    parts = (case.get(key, "") for key in ("project", "on", "claim", "method", "with", "units"))
    parts = (*parts, "" if case.get("evidence", EVIDENCE) else "no evidence")
    return " ".join(str(part) for part in parts if part)


@pytest.mark.parametrize("case", CASES, ids=named)
def test_a_value(case: Mapping[str, Any], folder: Path) -> None:
    requirement, units = asked(case, folder)
    lines = written(case, requirement.attribute)
    (found,) = submitted(folder, requirement.role, lines).products
    doubt = doubted_claims(found, PRACTICE, units).get(requirement.attribute, "")
    verdict = row_of_product(requirement, found, doubt, PRACTICE, units)
    assert verdict.result.value == case["result"], verdict
    for words in case.get("says", ()):
        assert words in verdict.reason, verdict
    for words in case.get("cure", ()):
        assert words in verdict.cure, verdict
    assert bool(verdict.cure) is (verdict.result is not Result.MEETS)
    assert "\n" not in verdict.reason + verdict.cure


def test_the_cases_cover_every_result_and_no_case_is_given_twice() -> None:
    counts = Counter(case["result"] for case in CASES)
    assert counts.total() >= 200 and len({named(case) for case in CASES}) == len(CASES)
    assert set(counts) == {result.value for result in Result}
    assert min(counts[result.value] for result in Result) >= 20


def reviewed(folder: Path, role: str, lines: str) -> Any:
    (found,) = review(
        submitted(folder, role, lines), required("inch-pound", folder), {}, PRACTICE, "inch-pound"
    )
    return found


def test_a_data_sheet_need_not_speak_of_installation(folder: Path) -> None:
    asked = {one.requirement.name for one in reviewed(folder, "coping", "    kind: formed metal\n").verdicts}
    assert {"coping.kind", "coping.metal", "coping.slope", "coping.resistance_top"} <= asked
    assert "coping.exposed_fasteners" not in asked


def test_a_shop_drawing_that_speaks_of_installation_is_judged_on_it(folder: Path) -> None:
    found = reviewed(folder, "coping", "    exposed_fasteners: yes\n")
    verdict = next(one for one in found.verdicts if one.requirement.name == "coping.exposed_fasteners")
    assert verdict.result is Result.FAILS and verdict.submitted == "yes"
    assert verdict.mark.line == 5, "the verdict points at the value"
    missing = next(one for one in found.verdicts if one.requirement.name == "coping.slope")
    assert missing.submitted == "not stated" and missing.mark.line == 3, "and else at the product"


def test_a_product_for_another_parapet_is_not_asked(folder: Path) -> None:
    found = reviewed(folder, "coping", "    kind: formed metal\n    parapets: [P-9]\n")
    assert found.verdicts == () and found.recommendation is Recommendation.RESUBMIT
    assert "no requirement" in found.why


def test_a_role_the_project_does_not_have(folder: Path) -> None:
    found = reviewed(folder, "cleat", "    kind: continuous\n")
    assert found.verdicts == () and found.recommendation is Recommendation.RESUBMIT


SOURCE = Source("common practice", "", "copings", Status.PRACTICE)


def verdict(result: Result, identity: bool = False) -> Verdict:
    """A verdict of which the recommendation reads the result, and the requirement's title and identity."""
    held = Requirement(
        id="coping.slope",
        name="coping.slope",
        role="coping",
        attribute="slope",
        title="slope of the top",
        limit=Limit("at least", parse("1/4 in/ft", {"slope"})),
        method="",
        condition="",
        reason="Water stands.",
        stage="product",
        evidence="shop drawing",
        section="07 71 00",
        parapets=("P-1",),
        everywhere=True,
        origin=Origin("practice", "coping.slope", SOURCE),
        identity=identity,
    )
    return Verdict(held, "", result, "", "", "", "", "", MARK)


M, F, N, C = Result.MEETS, Result.FAILS, Result.NOT_STATED, Result.CONFIRM
X = Result.OTHER_METHOD


@pytest.mark.parametrize(
    ("results", "recommendation", "why"),
    [
        ([M], Recommendation.NO_EXCEPTIONS, "1 requirement met"),
        ([M, M, M], Recommendation.NO_EXCEPTIONS, "all 3 requirements met"),
        ([M, C], Recommendation.CORRECTIONS, "1 to confirm"),
        ([C, C], Recommendation.CORRECTIONS, "2 to confirm"),
        ([M, F], Recommendation.RESUBMIT, "1 not met"),
        ([M, N], Recommendation.RESUBMIT, "1 not stated"),
        ([M, X], Recommendation.RESUBMIT, "1 by another method"),
        ([F, F, N, X, C, M], Recommendation.RESUBMIT, "2 not met, 1 not stated, 1 by another method"),
        ([C, X], Recommendation.RESUBMIT, "1 by another method"),
        ([], Recommendation.RESUBMIT, "no requirement"),
    ],
)
def test_the_recommendation(results: list[Result], recommendation: Recommendation, why: str) -> None:
    found, reason = recommend(tuple(verdict(result) for result in results))
    assert found is recommendation and why in reason


def test_another_kind_of_product_is_rejected_whatever_else_it_does() -> None:
    for others in combinations(Result, repeat=2):
        verdicts = (verdict(F, identity=True), *(verdict(result) for result in others))
        found, why = recommend(verdicts)
        assert found is Recommendation.REJECTED
        assert why == "another product than specified by its slope of the top"


def test_an_identity_that_is_only_missing_or_open_does_not_reject() -> None:
    for result in (N, X, C, M):
        assert recommend((verdict(result, identity=True),))[0] is not Recommendation.REJECTED


def test_a_claim_of_another_kind_of_value_is_a_loud_error(folder: Path) -> None:
    (depth,) = required("inch-pound", folder).named("drainage.depth")
    (found,) = submitted(folder, "drainage layer", "    vapor_permeance: 0.05 perm\n").products
    with pytest.raises(TypeError, match="cannot be held against"):
        judged(depth, found.claims["vapor_permeance"], PRACTICE, "inch-pound")


def test_a_condition_of_another_dimension_is_another_condition(folder: Path) -> None:
    (air,) = required("inch-pound", folder).named("barrier.air_permeance")
    claim = Claim(parse("0.003 cfm/ft2 @ 75 m"), "ASTM E2178", EVIDENCE, MARK)  # the number alone would pass
    verdict = judged(air, claim, PRACTICE, "inch-pound")
    assert verdict.result is Result.CONFIRM and "another condition" in verdict.reason


@pytest.mark.parametrize(
    ("method", "result"),
    [
        ("ASTM E2273", Result.MEETS),
        ("ASTM E2925-19a, Annex A2", Result.MEETS),
        ("ASTM E2925", Result.CONFIRM),
        ("ASTM E2925 Annex A1", Result.OTHER_METHOD),
    ],
)
def test_either_of_two_accepted_methods(method: str, result: Result, tmp_path: Path) -> None:
    path = tmp_path / "project.yaml"
    layer = "kind: mesh, drainage_efficiency: 95 %"
    path.write_text((PROJECT % "inch-pound").replace("kind: dimpled sheet, depth: 7/16 in", layer))
    (drains,) = derive(load_project(path, PRACTICE), (), PRACTICE).named("drainage.efficiency")
    claim = Claim(parse("95 %"), method, EVIDENCE, MARK)
    assert judged(drains, claim, PRACTICE, "inch-pound").result is result


def test_products_are_reviewed_in_the_order_submitted(folder: Path) -> None:
    names = ["c", "a", "b"]
    products = tuple(Product("coping", name, "", {}, MARK) for name in names)
    submission = Submission(Record("submittal", {}, {}, MARK), products, "s.yaml")
    found = review(submission, required("inch-pound", folder), {}, PRACTICE, "inch-pound")
    assert [one.product.name for one in found] == names


def test_a_value_to_confirm_is_counted_beside_what_fails(folder: Path) -> None:
    """Why a product comes back names every open row, those to confirm as well."""
    lines = "    air_permeance: {value: 0.003 cfm/ft2 @ 75 Pa, evidence: sheet}\n"
    lines += "    pull_adhesion: {value: 5 psi, method: ASTM D4541}\n"
    product = submitted(folder, "barrier", lines).products[0]
    asked_for = [
        one
        for name in ("barrier.air_permeance", "barrier.pull_adhesion")
        for one in asked({"on": name}, folder)[:1]
    ]
    verdicts = tuple(
        Verdict(
            one,
            "",
            judged(one, product.claims[one.attribute], PRACTICE, "inch-pound").result,
            "",
            "",
            "",
            "",
            "",
            product.mark,
        )
        for one in asked_for
    )
    assert recommend(verdicts)[1] == "1 not met, 1 to confirm"


@pytest.mark.parametrize(
    ("value", "printed"),
    [
        (
            "{value: 45 psi, method: ASTM D4541, confirm: compare with page 2}",
            "45 psi, ASTM D4541 (not confirmed)",
        ),
        ("{confirm: the sheet has no value}", "not confirmed"),
    ],
)
def test_a_value_that_nobody_has_compared_with_its_sheet_decides_nothing(
    value: str, printed: str, folder: Path
) -> None:
    submission = submitted(folder, "barrier", f"    pull_adhesion: {value}\n")
    (one,) = review(submission, required("inch-pound", folder), {}, PRACTICE, "inch-pound")
    (row,) = [v for v in one.verdicts if v.requirement.attribute == "pull_adhesion"]
    assert row.result is Result.CONFIRM and row.submitted == printed
    assert row.reason.startswith("The value was read from a data sheet and is not confirmed: ") and row.cure
