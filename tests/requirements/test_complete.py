"""What nobody states and a requirement asks for is specified: one consistent set, and never a pass."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

import specgen.assessment as assessment
from specgen.assessment import Assessment, assess
from specgen.intake.project import load_project
from specgen.model.finding import Finding, Outcome
from specgen.model.project import Existing
from specgen.model.requirement import Requirement
from specgen.practice.load import load_practice
from specgen.requirements.complete import Filled, fills
from specgen.rules.resting import AT_LIMITS
from specgen.units.quantity import parse
from tests.chain.bare import Change
from tests.chain.bare import bare as bare_of
from tests.chain.runs import REPO, run

PRACTICE = load_practice()
MIDRISE = REPO / "tests" / "stated" / "mixed-humid-midrise"


def bare(tmp_path: Path, change: Change = lambda _: None) -> Path:
    """The mid-rise with no more than kinds, families, metals and the order of laps in its types."""
    return bare_of(MIDRISE, tmp_path / "bare", change)


def assessed(path: Path) -> Assessment:
    return assess(load_project(path, PRACTICE), PRACTICE)


def asked(one: Assessment, name: str) -> Requirement:
    found = one.requirements.at(name, "P-1")
    assert found is not None
    return found


def of(one: Assessment, code: str) -> list[Finding]:
    return [finding for finding in one.findings if finding.code == code and finding.parapet == "P-1"]


@pytest.fixture(scope="module")
def wall(tmp_path_factory: pytest.TempPathFactory) -> Assessment:
    return assessed(bare(tmp_path_factory.mktemp("bare")))


def test_a_wall_of_kinds_alone_is_specified_but_for_a_handful_of_questions(wall: Assessment) -> None:
    outcomes = [finding.outcome for finding in wall.findings if finding.parapet == "P-1"]
    assert outcomes.count(Outcome.SPECIFIED) > 80
    unknown = {finding.code for finding in wall.findings if finding.outcome is Outcome.UNKNOWN}
    # Arrangement, time in the sun, who rolls, seals, and answers, and a property that the product itself sets.
    assert unknown <= {
        "BK03",
        "FR01",
        "PL10",
        "OU02",
        "WB03",
        "WB07",
        "TF07",
        "BT01",
        "BT02",
        "WB16",
        "PA01",
        "TF06",
        "TF08",
    }
    assert not any(finding.failed for finding in wall.findings if finding.severity.value == "defect")


def test_requirements_that_hang_on_one_another_are_one_set(wall: Assessment) -> None:
    coping, cleat = asked(wall, "coping.thickness"), asked(wall, "cleat.thickness")
    assert (coping.limit.value.text, cleat.limit.value.text) == ("0.040 in", "0.050 in")  # type: ignore[union-attr]
    part = wall.walls[0].parapet.part("coping")
    assert part is not None and part.quantity("thickness") == coping.limit.value
    assert part.specified["thickness"] == coping.id
    assert part.specified["outer_leg"] == "coping.outer_leg"
    assert len(wall.stages) > 2


def test_no_limit_that_was_put_in_is_taken_for_a_choice(wall: Assessment) -> None:
    for parapet in wall.walls:
        for part in parapet.parapet.components():
            for name in part.specified:
                requirement = wall.requirements.by_id[part.specified[name]]
                assert requirement.origin.kind != "choice", (part.id, name)


def test_the_project_itself_stays_as_it_is_stated(wall: Assessment) -> None:
    coping = wall.project.parapets[0].part("coping")
    assert coping is not None and not coping.has("thickness") and not coping.specified


def test_a_calculation_says_which_of_its_inputs_is_a_limit(wall: Assessment) -> None:
    movement = wall.calculations["P-1"]["coping movement"]
    assert movement.done and movement.on_limits
    length = next(line for line in movement.inputs if line.title == "length of each piece")
    assert length.source == "limit that the sections ask for: coping.piece_length"


def test_a_pass_that_rests_on_a_limit_is_no_pass(wall: Assessment) -> None:
    (finding,) = of(wall, "VD03")
    assert finding.outcome is Outcome.SPECIFIED and finding.message.endswith(AT_LIMITS)


def test_a_stated_value_is_held_as_ever(tmp_path: Path) -> None:
    def thin(content: dict[str, Any]) -> None:
        for kind in content["types"].values():
            next(one for one in kind["top"] if one["role"] == "coping")["thickness"] = "0.025 in"

    (finding,) = of(assessed(bare(tmp_path, thin)), "CP05")
    assert finding.outcome is Outcome.FAIL


def test_what_is_said_to_be_unknown_is_never_specified(tmp_path: Path) -> None:
    def unknown(content: dict[str, Any]) -> None:
        content["site"]["wind_speed"] = "unknown"
        for kind in content["types"].values():
            next(one for one in kind["build_up"] if one["role"] == "barrier")["air_permeance"] = "unknown"

    path = bare(tmp_path, unknown)
    one = assessed(path)
    permeance = [finding for finding in of(one, "WB02") if finding.attribute == "air_permeance"]
    assert [finding.outcome for finding in permeance] == [Outcome.UNKNOWN]
    assert {finding.attribute for finding in of(one, "MV04")} == {"wind_speed", "air_permeance"}
    assert run("check", path, "--code", "MV04").status == 3


def test_a_missing_fact_of_the_site_stays_unknown(tmp_path: Path) -> None:
    def calm(content: dict[str, Any]) -> None:
        del content["site"]["wind_speed"], content["site"]["exposure"]

    path = bare(tmp_path, calm)
    assert {finding.outcome for finding in of(assessed(path), "CP12")} == {Outcome.UNKNOWN}
    assert run("check", path, "--code", "CP12").status == 3


def test_a_limit_that_the_kind_cannot_meet_stands_for_nothing(tmp_path: Path) -> None:
    def mesh(content: dict[str, Any]) -> None:
        for kind in content["types"].values():
            next(one for one in kind["build_up"] if one["role"] == "drainage layer")["kind"] = "mesh"

    one = assessed(bare(tmp_path, mesh))
    layer = one.walls[0].parapet.part("drainage layer")
    assert layer is not None and "vapor_permeance" not in layer.values
    assert any(finding.outcome is Outcome.FAIL for finding in of(one, "VD01"))


def test_products_and_what_is_built_prove_themselves(wall: Assessment) -> None:
    built = wall.again(replace(wall.project, stated_only=True))
    assert not any(finding.outcome is Outcome.SPECIFIED for finding in built.findings)
    assert {finding.outcome for finding in of(built, "CP05")} == {Outcome.UNKNOWN}
    assert wall.again(wall.project).findings == wall.findings


def test_what_a_standing_wall_keeps_is_not_specified_and_what_a_repair_adds_is(wall: Assessment) -> None:
    first = wall.project.parapets[0]
    repair = replace(first, name="r", what="repair", values={"what": "replace coping"})
    existing = Existing("existing", {}, {}, first.mark, repairs=(repair,))
    standing = wall.again(replace(wall.project, parapets=(replace(first, existing=existing),)))
    assert {finding.outcome for finding in of(standing, "CP05")} == {Outcome.SPECIFIED}
    adhesion = [finding.outcome for finding in of(standing, "WB05")]
    assert adhesion == [Outcome.UNKNOWN]


def test_a_value_that_never_settles_is_taken_out(wall: Assessment, monkeypatch: pytest.MonkeyPatch) -> None:
    at, turns = ("P-1", "coping", "thickness"), iter(range(100))

    def restless(project: Any, requirements: Any, practice: Any, leave: frozenset[Any]) -> dict[str, Any]:
        found = fills(project, requirements, practice, leave)
        if at not in leave:
            limit = Filled(parse(f"0.0{40 + next(turns)} in"), "coping.thickness")
            found["P-1"] = {**found["P-1"], at[1:]: limit}
        return found

    monkeypatch.setattr(assessment, "fills", restless)
    one = assess(wall.project, PRACTICE)
    coping = one.walls[0].parapet.part("coping")
    assert coping is not None and "thickness" not in coping.values
    assert next(turns) <= assessment.ROUNDS + 2


def test_a_load_that_a_test_must_show_stands_for_nothing(wall: Assessment) -> None:
    cleat = wall.walls[0].parapet.part("cleat")
    assert cleat is not None and not {"pull_out", "shear"} & set(cleat.values)
    printed = str(asked(wall, "cleat.fastener_spacing").weighing_at("P-1"))
    assert "no result, missing" in printed and "cleat.pull_out" in printed
