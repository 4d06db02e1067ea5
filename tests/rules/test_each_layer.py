"""Rules that looked at the first layer of a role look at each: two drainage layers, two plasters, two barriers."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from specgen.model.finding import Finding, Outcome
from specgen.practice.load import load_practice
from tests import plain_yaml
from tests.rules import cases

MESH = {"role": "drainage layer", "id": "mesh", "kind": "mesh", "depth": "7/16 in", "filter_fabric": True}
INNER = {"role": "plaster", "id": "inner plaster", "kind": "portland cement plaster"}
PAPER = {"role": "barrier", "id": "paper", "kind": "building paper"}


def found(folder: Path, code: str, *layers: tuple[str, Mapping[str, Any]], **change: object) -> list[Finding]:
    """Findings of a rule on the base with layers put in front of the one named; "" puts them at the end."""
    content = cases.changed(change)
    build_up = content["parapets"][0]["build_up"]
    for before, layer in layers:
        names = [one.get("id", one["role"]) for one in build_up]
        build_up.insert(names.index(before) if before else len(build_up), dict(layer))
    path = folder / "project.yaml"
    path.write_text(plain_yaml.dump(content))
    project = cases.load_project(path, load_practice())
    return [one for one in cases.findings_of(project) if one.code == code]


def failing(findings: list[Finding]) -> set[str]:
    return {one.layer for one in findings if one.outcome is Outcome.FAIL}


def test_dl01_a_second_drainage_layer_behind_the_barrier(tmp_path: Path) -> None:
    results = found(tmp_path, "DL01", ("sheathing", MESH))
    assert failing(results) == {"mesh"}
    assert {one.layer for one in results if one.outcome is Outcome.PASS} == {"gap"}


def test_dl01_a_slip_sheet_of_paper_in_front_of_the_drainage_layer(tmp_path: Path) -> None:
    assert failing(found(tmp_path, "DL01", ("gap", PAPER))) == set()


def test_dl06_each_layer_passes_the_corner(tmp_path: Path) -> None:
    corner = {"name": "C-1", "turn": "outside", "drainage": "stops"}
    results = found(tmp_path, "DL06", ("gap", MESH), parapet={"corners": [corner]})
    assert failing(results) == {"mesh", "gap"}


def test_pl02_a_plaster_on_the_roof_side_with_nothing_behind_it(tmp_path: Path) -> None:
    results = found(tmp_path, "PL02", ("", INNER), parapet={"inner_face": "stucco"})
    assert failing(results) == {"inner plaster"}
    drained = found(tmp_path, "PL02", ("", MESH), ("", INNER), parapet={"inner_face": "stucco"})
    assert failing(drained) == set()


def test_pl03_the_second_flashing_under_a_plaster_top(tmp_path: Path) -> None:
    second = {"role": "top flashing", "kind": "self-adhered SBS", "fasteners_through": True}
    coping = {"kind": "plaster-covered", "drainage_over_top": True}
    parts = {"coping": coping, "flashing": {"fasteners_through": False}, "second": second}
    results = found(tmp_path, "PL03", parts=parts)
    assert failing(results) == {"second"}


def test_vd01_a_sheet_on_the_roof_side_is_not_said_to_let_vapor_through(tmp_path: Path) -> None:
    sheet = {"role": "drainage layer", "id": "back", "kind": "dimpled sheet", "depth": "7/16 in"}
    (result,) = found(tmp_path, "VD01", ("", sheet), parts={"gap": cases.UNMENTIONED})
    assert result.outcome is Outcome.FAIL
    assert "dimpled sheet" not in result.message
    assert result.message.startswith("an outer face without drainage layer lets vapor through")


def test_vd01_names_each_open_layer_and_the_one_that_is_tight(tmp_path: Path) -> None:
    mat = {**MESH, "id": "mat", "kind": "grooved mat"}
    (result,) = found(tmp_path, "VD01", ("plaster", MESH), ("plaster", mat), parts={"gap": cases.UNMENTIONED})
    assert "the drainage layer (mesh and grooved mat) lets" in result.message.replace(
        "grooved mat and mesh", "mesh and grooved mat"
    )
    (result,) = found(tmp_path, "VD01", ("gap", MESH))
    assert (result.outcome, result.layer) == (Outcome.SPECIFIED, "gap")


def test_wb10_each_barrier_under_lighter_metal(tmp_path: Path) -> None:
    wrap = {**PAPER, "service_temperature": "130 degF"}
    parts = {"coping": {"color": "light"}, "wrb": {"service_temperature": "240 degF"}}
    results = found(tmp_path, "WB10", ("gap", wrap), parts=parts)
    assert failing(results) == {"paper"}
    assert {one.layer for one in results if one.outcome is Outcome.PASS} == {"wrb"}
