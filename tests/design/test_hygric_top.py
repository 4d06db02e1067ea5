"""The top as layers: metal tight, flashing a sheet, blocking and boards storing; what is unknown is named."""

from __future__ import annotations

from pathlib import Path

import pytest

from specgen.design.hygric_materials import HygricLayer, layer_of
from specgen.design.hygric_sheet import HYGRIC
from specgen.design.hygric_top import JOINTS, TOP, read_top_layers
from specgen.design.worksheet import Worksheet
from specgen.intake.project import load_project
from specgen.model.project import Component
from specgen.physics.heat_moisture.porous import film
from specgen.practice.load import load_practice
from specgen.units.quantity import parse
from tests.design.projects import FILE, FULL, changed_project

PRACTICE = load_practice()
EXAMPLES = Path(__file__).parents[2] / "projects"


def tops(path: Path) -> list[tuple[Worksheet, tuple[HygricLayer, ...]]]:
    project = load_project(path, PRACTICE)
    works = [Worksheet("s", "t", project, parapet, PRACTICE, "", []) for parapet in project.parapets]
    return [(work, read_top_layers(work)) for work in works]


def test_the_coping_is_outermost_and_each_piece_is_what_it_is() -> None:
    ((work, found),) = tops(FULL)
    assert not work.missing
    listed = [part.id for part in work.parapet.top if part.role not in JOINTS]
    assert [layer.name for layer in found] == listed[::-1] and found[0].role == "coping"
    for layer in found:
        if layer.role in ("coping", "top flashing"):
            assert layer.material is None
            film(layer.name, layer.permeance, layer.thermal_resistance, layer.humid_permeance)
        else:
            assert layer.material is not None and layer.thickness_m > 0.01
    assert found[0].permeance == 0.0


@pytest.mark.parametrize("name", ["cold-continental-school", "marine-library", "plaster-covered-top"])
def test_the_tops_of_worked_examples_are_known(name: str) -> None:
    for work, found in tops(EXAMPLES / name / "project.yaml"):
        assert not work.missing and len(found) >= 2
        numbers = [line.symbol for line in work.inputs]
        assert len(set(numbers)) == len(numbers)  # no two pieces share a symbol


def test_a_stone_is_named_not_guessed_and_an_unknown_sheet_is_taken_as_tight(tmp_path: Path) -> None:
    line = "{role: coping, kind: formed metal, metal: aluminum, color: dark, piece_length: 10 ft}"
    other = "{role: coping, kind: stone}\n      - {role: top flashing, kind: self-adhered acrylic}"
    project = changed_project(tmp_path, (line, other), file=FILE)
    work = Worksheet("s", "t", project, project.parapets[0], PRACTICE, "", [])
    (sheet,) = read_top_layers(work)
    assert sheet.permeance == PRACTICE.quantity("hourly.flashing_permeance").value
    assert len(work.missing) == 1 and "no heat and vapor properties" in work.missing[0]


@pytest.mark.parametrize("row", PRACTICE.table(TOP).rows, ids=lambda row: f"{row['role']}, {row['kind']}")
def test_every_piece_of_the_table_is_known_in_full(row: dict[str, object]) -> None:
    project = load_project(FILE, PRACTICE)
    work = Worksheet("s", "t", project, project.parapets[0], PRACTICE, "", [])
    mark = work.parapet.mark
    part = Component(
        str(row["role"]),
        {"thickness": parse("2 in", {"length"})},
        {"thickness": mark},
        mark,
        "one",
        str(row["kind"]),
    )
    layer = layer_of(work, part, 1, TOP)
    assert not work.missing and layer is not None
    assert (layer.material is not None) == bool(PRACTICE.table(HYGRIC).where(material=row["material"]))


def test_plywood_has_the_permeance_of_its_board_at_any_thickness() -> None:
    project = load_project(FILE, PRACTICE)
    work = Worksheet("s", "t", project, project.parapets[0], PRACTICE, "", [])
    mark = work.parapet.mark
    found = []
    for text in ("1/2 in", "1 in"):
        thick = {"thickness": parse(text, {"length"})}
        part = Component("blocking", thick, {"thickness": mark}, mark, "b", "plywood")
        layer = layer_of(work, part, 1, TOP)
        assert layer is not None
        found.append(layer.permeance)
    assert found[0] == pytest.approx(2.0 * found[1])
    assert found[0] == pytest.approx(parse("1 perm", {"vapor permeance"}).value)
