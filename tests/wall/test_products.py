"""Products in the wall, where a role has several layers; the rest stands in tests/review/test_wall.py."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner

from specgen.assessment import assess
from specgen.commands import main
from specgen.files.marks import Mark
from specgen.intake.project import load_project
from specgen.model.finding import Outcome
from specgen.model.project import Project
from specgen.model.submission import Claim, Product
from specgen.practice.load import load_practice
from specgen.units.quantity import parse
from specgen.wall.change import with_parts
from specgen.wall.edit import with_value
from specgen.wall.products import with_products

PRACTICE = load_practice()
PAPER = "      - {role: barrier, id: paper, kind: building paper, layers: 1}\n"


@pytest.fixture(scope="module")
def wall(tmp_path_factory: pytest.TempPathFactory) -> Project:
    folder = tmp_path_factory.mktemp("starter") / "job"
    assert CliRunner().invoke(main, ["new", str(folder), "--from", "commented"]).exit_code == 0
    file: Path = folder / "project.yaml"
    text = file.read_text(encoding="utf-8")
    file.write_text(
        text.replace("      - role: barrier\n", f"{PAPER}      - role: barrier\n"), encoding="utf-8"
    )
    return load_project(file, PRACTICE)


@pytest.mark.parametrize(
    ("kind", "kinds"),
    [
        ("building paper", {"paper": "building paper", "barrier": "fluid-applied"}),
        ("fluid-applied", {"paper": "building paper", "barrier": "fluid-applied"}),
        (
            "self-adhered",
            {"paper": "self-adhered", "barrier": "self-adhered"},
        ),  # the place of neither is told
    ],
)
def test_a_product_takes_the_place_of_the_layers_of_its_kind(
    kind: str, kinds: dict[str, str], wall: Project
) -> None:
    product = Product("barrier", "B", kind, {}, Mark("submittal.yaml", 1, 1))
    placed = with_products(wall, [product], PRACTICE).parapets[0]
    assert {part.id: part.kind for part in placed.all_of("barrier")} == kinds
    tested = {part.id: part.has("pull_adhesion") for part in placed.all_of("barrier")}
    assert tested == {
        "paper": False,
        "barrier": kind == "building paper",
    }  # a test belongs to the product before


def test_a_bound_stays_a_bound_in_the_wall_until_a_value_is_tried(wall: Project) -> None:
    claim = Claim(parse("8 in"), "", "", Mark("submittal.yaml", 1, 1), "at most")
    product = Product("roof turn-up", "T", "", {"height": claim}, Mark("submittal.yaml", 1, 1))
    placed = with_products(wall, [product], PRACTICE)
    tried = with_value(placed, PRACTICE, "P-1.roof turn-up.height", parse("8 in"))
    found = [
        next(
            one for one in assess(each, PRACTICE).findings if one.code == "RT02" and one.attribute == "height"
        )
        for each in (placed, tried)
    ]
    assert [one.outcome for one in found] == [Outcome.UNKNOWN, Outcome.PASS]
    assert "is at most 8 in, which leaves open: at least 8 in" in found[0].message


def test_what_a_product_states_is_no_longer_unknown(wall: Project) -> None:
    """The project says that nobody knows it yet; the product then tells."""
    first = wall.parapets[0]
    open_ = with_parts(
        first,
        lambda part: (
            replace(
                part,
                values={name: value for name, value in part.values.items() if name != "air_permeance"},
                unknown={"air_permeance": part.mark},
            )
            if part.id == "barrier"
            else part
        ),
    )
    project = replace(wall, parapets=(open_,))
    assert unknown(project) == {"air_permeance"}
    value = Claim(parse("0.002 cfm/ft2 @ 75 Pa"), "ASTM E2178", "", Mark("submittal.yaml", 2, 1))
    product = Product("barrier", "B", "fluid-applied", {"air_permeance": value}, Mark("submittal.yaml", 1, 1))
    assert unknown(with_products(project, [product], PRACTICE)) == set()


def unknown(project: Project) -> set[str]:
    return {
        one.attribute for one in assess(project, PRACTICE).findings if one.code == "MV04" and one.attribute
    }
