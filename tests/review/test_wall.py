"""Products put into the wall: each caught by the rule it breaks, alone or only together with another."""

from __future__ import annotations

from pathlib import Path

import pytest

from specgen.assessment import Assessment
from specgen.explain.bench import Bench
from specgen.files.marks import Mark
from specgen.model.finding import Outcome
from specgen.model.project import Project, Value
from specgen.model.submission import Claim, Product
from specgen.review.wall import Change, least_sets, wall_effects
from specgen.units.quantity import parse
from specgen.wall.products import not_placed, with_products
from specgen.work.inputs import read_inputs
from tests.chain.runs import CONFORMING

HERE = Mark("sheet.yaml", 3, 5)


def product(role: str, kind: str, parapets: tuple[str, ...] = (), **values: Value) -> Product:
    claims = {name: Claim(value, "", "", HERE) for name, value in values.items()}
    if kind:
        claims["kind"] = Claim(kind, "", "", HERE)
    return Product(role, f"{role} A", kind, claims, HERE, parapets)


@pytest.fixture(scope="module")
def assessed() -> Assessment:
    return read_inputs(CONFORMING, None, False).assessed()


@pytest.fixture(scope="module")
def bench(assessed: Assessment) -> Bench:
    return Bench(assessed)


def change(assessed: Assessment, one: Product) -> Change:
    def made(project: Project) -> Project:
        return with_products(project, [one], assessed.practice)

    return Change(one.name, made, one.parapets)


def test_the_design_of_the_place_stays_and_tested_values_of_the_former_product_go(
    assessed: Assessment,
) -> None:
    before = assessed.project.parapets[0].part("barrier")
    sheet = product("barrier", "fluid-applied", vapor_permeance=parse("8 perm"))
    after = with_products(assessed.project, [sheet], assessed.practice).parapets[0].part("barrier")
    assert before is not None and after is not None
    assert after.values["vapor_permeance"] == parse("8 perm") and after.at("vapor_permeance") == HERE
    assert "pull_adhesion" in before.values and "pull_adhesion" not in after.values
    assert after.values["planned_exposure"] == before.values["planned_exposure"]


def test_a_product_goes_only_where_it_is_meant_to_go(assessed: Assessment) -> None:
    one = product("barrier", "", ("P-2",), vapor_permeance=parse("8 perm"))
    after = with_products(assessed.project, [one], assessed.practice)
    assert [parapet.part("barrier").values["vapor_permeance"].text for parapet in after.parapets] == [  # type: ignore[union-attr]
        "14 perm", "8 perm", "14 perm"
    ]  # fmt: skip


def test_a_role_that_no_parapet_has_is_told(assessed: Assessment) -> None:
    assert [one.product.role for one in not_placed(assessed.project, [product("insulation", "")])] == [
        "insulation"
    ]
    assert not not_placed(assessed.project, [product("barrier", "")])


def test_a_tight_barrier_behind_a_dimpled_sheet_breaks_the_wall(assessed: Assessment, bench: Bench) -> None:
    tight = product("barrier", "fluid-applied", vapor_permeance=parse("0.05 perm"))
    effects = wall_effects(bench, [change(assessed, tight)])
    assert [one.parapet for one in effects] == ["P-1", "P-2", "P-3"]
    codes = {finding.code for one in effects for finding in one.broken}
    assert codes & {"VD01", "VD02", "VD03", "WB03"}
    assert all(finding.outcome is Outcome.FAIL for one in effects for finding in one.broken)


def test_what_nobody_states_is_unknown_and_not_broken(assessed: Assessment, bench: Bench) -> None:
    silent = product("barrier", "fluid-applied")
    effects = wall_effects(bench, [change(assessed, silent)])
    assert effects[0].unknown and not effects[0].broken


def test_a_set_of_two_is_told_only_for_what_neither_breaks_alone(assessed: Assessment, bench: Bench) -> None:
    coping = product("coping", "", metal="copper")
    cleat = product("cleat", "", metal="galvanized steel")
    found = least_sets(bench, [change(assessed, coping), change(assessed, cleat)])
    alone = {(one.parapet, one.finding.code, one.finding.layer) for one in found if len(one.changes) == 1}
    together = {(one.parapet, one.finding.code, one.finding.layer) for one in found if len(one.changes) == 2}
    assert alone and not alone & together


def test_names_tell_changes_apart(assessed: Assessment, bench: Bench) -> None:
    one = change(assessed, product("coping", "", metal="copper"))
    with pytest.raises(ValueError, match="one name"):
        least_sets(bench, [one, one])


def test_the_file_is_not_touched(assessed: Assessment, bench: Bench) -> None:
    before = Path(assessed.project.path).read_bytes()
    wall_effects(bench, [change(assessed, product("coping", "", metal="copper"))])
    assert Path(assessed.project.path).read_bytes() == before
