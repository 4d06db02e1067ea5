"""Several layers of one role: each has requirements of its own, and the order listed decides nothing."""

from __future__ import annotations

from collections.abc import Callable
from itertools import permutations
from pathlib import Path

import pytest
from click.testing import CliRunner

from specgen.assessment import Assessment, assess
from specgen.commands import main
from specgen.intake.project import load_project
from specgen.paths.shapes import PLAIN_RUN
from specgen.practice.load import load_practice

PAPER = "      - {role: barrier, id: paper, kind: building paper, layers: 1, vapor_permeance: 5 perm}"
WRAP = "      - {role: barrier, id: wrap, kind: mechanically fastened, vapor_permeance: 20 perm}"
FLUID = "the starter's own"
Walls = Callable[..., Assessment]


@pytest.fixture(scope="module")
def walls(tmp_path_factory: pytest.TempPathFactory) -> Walls:
    """The starter wall with these barriers in place of its own, outermost first; its laps are those of the last."""
    folder = tmp_path_factory.mktemp("starter")
    assert CliRunner().invoke(main, ["new", str(folder / "job"), "--from", "commented"]).exit_code == 0
    lines = (folder / "job" / "project.yaml").read_text(encoding="utf-8").split("\n")
    start = lines.index("      - role: barrier")
    stop = next(n for n, line in enumerate(lines) if n > start and line.startswith("      - role:"))

    def make(*barriers: str, lapped: str = "barrier") -> Assessment:
        layers = [line for one in barriers for line in (lines[start:stop] if one == FLUID else [one])]
        text = "\n".join([*lines[:start], *layers, *lines[stop:]])
        for old in ("between: [barrier,", "flashing, barrier]", "upper: barrier"):
            text = text.replace(old, old.replace("barrier", lapped))
        file = folder / "project.yaml"
        file.write_text(text, encoding="utf-8")
        return assess(load_project(Path(file), load_practice()), load_practice())

    return make


def findings(assessment: Assessment) -> set[tuple[str, str, str, str]]:
    """What is found, without the place in the file."""
    return {(one.code, one.layer, one.outcome.value, one.message) for one in assessment.findings}


def asked(assessment: Assessment, layer: str) -> set[tuple[str, str]]:
    """The requirements on one layer of barrier at the first parapet, with their limits."""
    return {
        (one.name, str(one.limit.value))
        for one in assessment.requirements.of_role("barrier")
        if one.holds_at("P-1", layer)
    }


def test_each_layer_has_the_requirements_of_its_kind(walls: Walls) -> None:
    both = walls(PAPER, FLUID)
    alone = walls(FLUID)
    assert asked(both, "barrier") == asked(alone, "barrier")
    names = {name for name, _ in asked(both, "paper")}
    assert "barrier.vapor_permeance" in names
    # The membrane carries the air; the paper outside it is no air barrier and is bonded to nothing.
    assert not names & {"barrier.air_permeance", "barrier.pull_adhesion", "barrier.film_thickness"}


def test_a_single_paper_must_carry_the_air(walls: Walls) -> None:
    assert "barrier.air_permeance" in {name for name, _ in asked(walls(PAPER, lapped="paper"), "paper")}


def test_a_paragraph_and_a_row_name_the_layer(walls: Walls) -> None:
    found = walls(PAPER, FLUID).requirements
    paper = found.at("barrier.vapor_permeance", "P-1", "paper")
    fluid = found.at("barrier.vapor_permeance", "P-1", "barrier")
    assert paper is not None and fluid is not None and paper.id != fluid.id
    assert "P-1 (layer paper)" in paper.where and "P-1 (layer barrier)" not in paper.where


def test_a_product_answers_for_the_layers_of_its_kind(walls: Walls) -> None:
    adhesion = walls(PAPER, FLUID).requirements.at("barrier.pull_adhesion", "P-1")
    assert adhesion is not None
    assert not adhesion.holds_for("building paper")
    assert adhesion.holds_for("fluid-applied")
    assert adhesion.holds_for("self-adhered")  # it goes to no layer yet: the wall asks for another kind


@pytest.mark.parametrize(
    ("layers", "lapped"), [((PAPER, FLUID), "barrier"), ((PAPER, WRAP, FLUID), "barrier")]
)
def test_the_order_listed_changes_no_requirement(walls: Walls, layers: tuple[str, ...], lapped: str) -> None:
    one, other = walls(*layers, lapped=lapped), walls(*reversed(layers), lapped=lapped)
    for layer in ("paper", "wrap", "barrier"):
        assert asked(one, layer) == asked(other, layer)


@pytest.mark.parametrize(
    ("layers", "lapped"),
    [((PAPER, WRAP), "wrap"), ((PAPER, FLUID), "barrier"), ((PAPER, WRAP, FLUID), "barrier")],
    ids=["paper and wrap", "paper and film", "all three"],
)
def test_the_order_listed_changes_no_finding(walls: Walls, layers: tuple[str, ...], lapped: str) -> None:
    first, *others = [
        # How often the work changes hands follows from the order of the layers, and what bears on a wrap.
        {one for one in findings(walls(*order, lapped=lapped)) if one[0] not in ("SQ01", "WB18")}
        for order in permutations(layers)
    ]
    for other in others:
        assert other ^ first == set()


def test_each_layer_is_judged_and_named(walls: Walls) -> None:
    found = findings(walls(PAPER, WRAP, lapped="wrap"))
    for code in ("WB01", "WB03", "VD02"):
        assert {layer for one, layer, _, _ in found if one == code} == {"paper", "wrap"}


def test_a_lap_of_one_layer_is_not_missed_at_another(walls: Walls) -> None:
    for layers in ((PAPER, WRAP), (WRAP, PAPER)):
        laps = [one for one in walls(*layers, lapped="wrap").findings if one.code in ("LP01", "OU01")]
        assert laps and not [one.message for one in laps if "no lap" in one.message]


@pytest.mark.parametrize("layers", [(PAPER, FLUID), (FLUID, PAPER), (PAPER, WRAP, FLUID)])
def test_a_path_passes_through_the_layer_that_carries_it(walls: Walls, layers: tuple[str, ...]) -> None:
    """Air runs through the membrane, and not through paper or wrap, wherever they are listed."""
    for path in walls(*layers).walls[0].paths:
        if path.place == PLAIN_RUN and path.layer == "air":
            ids = {step.id for step in path.steps}
            assert "barrier" in ids and not ids & {"paper", "wrap"}


def test_a_lap_of_the_paper_does_not_carry_the_air_of_the_membrane(walls: Walls) -> None:
    (air,) = (
        one
        for one in walls(PAPER, FLUID, lapped="paper").walls[0].paths
        if (one.layer, one.place) == ("air", PLAIN_RUN)
    )
    assert ("barrier", "joint") in {(one.second, one.cause) for one in air.breaks}


def test_air_is_missed_where_no_layer_carries_it(walls: Walls) -> None:
    (air,) = (
        one
        for one in walls(PAPER, WRAP, lapped="wrap").walls[0].paths
        if (one.layer, one.place) == ("air", PLAIN_RUN)
    )
    assert [one.second for one in air.breaks if one.cause == "layer"] == ["wrap"]
