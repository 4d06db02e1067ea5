"""Layers for the hourly balance: what stores, what is a sheet, what is air; and the ranges that are run."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from specgen.design import hygric_materials
from specgen.design.hygric_materials import (
    RANGES,
    SHEETS,
    STILL_AIR,
    HygricLayer,
    porous,
    read_hygric_layers,
    varied,
)
from specgen.design.hygric_sheet import CURVES, HYGRIC
from specgen.design.vapor_layers import TABLE, WITHOUT_PART
from specgen.design.worksheet import Worksheet
from specgen.intake.project import load_project
from specgen.model.project import Component, Project
from specgen.physics.heat_moisture.porous import film, potential_at, potentials, tabulate
from specgen.practice.entries import PracticeError, cell
from specgen.practice.load import load_practice
from specgen.units.quantity import Quantity, parse
from tests.design.projects import FILE, changed_project

PRACTICE = load_practice()
PERM = parse("1 perm", {"vapor permeance"}).value
MATERIALS = [str(row["material"]) for row in PRACTICE.table(HYGRIC).rows]
STORING = [
    row for row in PRACTICE.table(TABLE).rows if PRACTICE.table(HYGRIC).where(material=row["material"])
]


def sheet(project: Project) -> Worksheet:
    return Worksheet("s", "t", project, project.parapets[0], PRACTICE, "", [])


def layers(
    folder: Path, *changes: tuple[str, str], last: str | None = "roof turn-up"
) -> tuple[Worksheet, tuple[HygricLayer, ...]]:
    work = sheet(changed_project(folder, *changes, file=FILE))
    return work, read_hygric_layers(work, last)


def one(folder: Path, role: str, *changes: tuple[str, str]) -> HygricLayer:
    work, found = layers(folder, *changes)
    assert not work.missing
    return next(layer for layer in found if layer.role == role)


def made(work: Worksheet, role: str, kind: str, cavity: str = "", **lengths: str) -> Component:
    """A component that no project file holds."""
    values: dict[str, Quantity | str] = {key: parse(text, {"length"}) for key, text in lengths.items()}
    if cavity:
        values["cavity"] = cavity
    mark = work.parapet.mark
    return Component(role, dict(values), dict.fromkeys(values, mark), mark, role, kind)


def usual(material: str) -> float:
    """The thickness to which the whole board of a material belongs."""
    found = [row["thickness"] for row in PRACTICE.table(TABLE).where(material=material) if row["thickness"]]
    return found[0].value if found and isinstance(found[0], Quantity) else 0.025


def test_the_layers_of_a_wall_stand_outside_to_inside_each_as_what_it_is(tmp_path: Path) -> None:
    work, found = layers(tmp_path)
    assert not work.missing
    parts = [part.id for part in work.parapet.build_up if part.role not in WITHOUT_PART]
    assert [layer.name for layer in found] == parts
    for layer in found:
        stores = layer.role not in (*SHEETS, "drainage layer")
        assert (layer.material is not None) == (stores and not layer.air), layer
        assert layer.air == (layer.role == "drainage layer" or layer.name == "framing"), layer
        assert layer.humid_permeance >= layer.permeance >= 0.0 and layer.thermal_resistance > 0.0
        if layer.material is None and not layer.air:
            film(layer.name, layer.permeance, layer.thermal_resistance, layer.humid_permeance)


def test_each_number_of_a_material_stands_on_the_sheet_with_its_source(tmp_path: Path) -> None:
    work, found = layers(tmp_path)
    number = 1 + next(place for place, layer in enumerate(found) if layer.role == "plaster")
    lines = {line.symbol: line for line in (*work.inputs, *work.steps)}
    material = found[0].material
    assert material is not None
    for symbol, value in {
        "ρ": material.density,
        "c": material.heat_capacity,
        "λ": material.conductivity,
        "A": material.absorption,
        "wf": material.free_saturation,
        "w": material.water_80,
    }.items():
        line = lines[f"{symbol}{number}"]
        assert isinstance(line.value, Quantity) and line.value.value == pytest.approx(value)
        assert line.source or symbol == "w"
    assert any("table 7" in source for source in work.sources)


def test_a_stated_permeance_replaces_that_of_the_table(tmp_path: Path) -> None:
    open_sheet = "kind: dimpled sheet, depth: 7/16 in"
    usual_one = one(tmp_path, "drainage layer")
    stated = one(tmp_path, "drainage layer", (open_sheet, f"{open_sheet}, vapor_permeance: 7 perm"))
    assert usual_one.permeance == pytest.approx(0.05 * PERM)
    assert stated.permeance == stated.humid_permeance == pytest.approx(7 * PERM)
    assert stated.thermal_resistance == usual_one.thermal_resistance


def test_a_finish_is_a_coat_of_its_own_in_front_of_the_plaster(tmp_path: Path) -> None:
    line = "kind: portland cement plaster"
    work, found = layers(tmp_path, (line, f"{line}, finish_permeance: 12 perm"))
    assert not work.missing
    assert (found[0].role, found[1].role) == ("finish", "plaster")
    assert found[0].permeance == pytest.approx(12 * PERM) and found[0].material is None
    assert [line.symbol for line in work.inputs].count("Wf") == 1


def test_what_is_not_known_is_named_and_no_layer_stands_for_it(tmp_path: Path) -> None:
    project = changed_project(tmp_path, file=FILE)
    for missing, (role, kind) in {
        "barrier.vapor_permeance": ("barrier", "fluid-applied"),
        "insulation.thickness": ("insulation", "mineral wool"),
        "no heat and vapor properties": ("coping", "stone"),
    }.items():
        fresh = sheet(project)
        assert hygric_materials.layer_of(fresh, made(fresh, role, kind), 1) is None
        assert len(fresh.missing) == 1 and missing in fresh.missing[0]


@pytest.mark.parametrize(
    "blank", ["density", "absorption", "free_saturation", "conductivity", "permeability_dry"]
)
def test_a_blank_property_is_missing_never_nothing(tmp_path: Path, blank: str) -> None:
    table = PRACTICE.table(HYGRIC)
    rows = tuple({**row, blank: None} for row in table.rows)
    practice = replace(PRACTICE, tables={**PRACTICE.tables, HYGRIC: replace(table, rows=rows)})
    project = changed_project(tmp_path, file=FILE)
    work = Worksheet("s", "t", project, project.parapets[0], practice, "", [])
    found = read_hygric_layers(work)
    assert not any(layer.role == "plaster" for layer in found)
    assert sum("portland cement plaster" in line for line in work.missing) == 1
    with pytest.raises(PracticeError):
        porous(practice, "portland cement plaster")


@pytest.mark.parametrize(
    ("cavity", "name"),
    [("mineral wool", "mineral wool"), ("closed-cell foam", "spray polyurethane foam, closed cell")],
)
def test_a_filled_cavity_takes_its_filling_and_the_studs_that_bridge_it(
    tmp_path: Path, cavity: str, name: str
) -> None:
    work = sheet(changed_project(tmp_path, file=FILE))
    kind = "cold-formed steel studs"
    empty, full = (made(work, "framing", kind, word, thickness="6 in") for word in ("empty", cavity))
    air, filled = (hygric_materials.layer_of(work, part, number) for number, part in ((1, empty), (2, full)))
    assert air is not None and filled is not None and not work.missing
    assert air.air and air.material is None and air.thickness_m == pytest.approx(0.1524)
    assert filled.material is not None and filled.material.name == name and not filled.air
    assert filled.material.conductivity > 2.0 * porous(PRACTICE, name).conductivity


@pytest.mark.parametrize("row", STORING, ids=lambda row: f"{row['role']}, {row['kind']}")
def test_every_layer_that_stores_is_known_in_full(row: dict[str, object]) -> None:
    work = sheet(load_project(FILE, PRACTICE))
    part = made(work, str(row["role"]), str(row["kind"]), thickness="2 in")
    layer = hygric_materials.layer_of(work, part, 1)
    assert not work.missing and layer is not None
    assert layer.material is not None or layer.air


def test_every_kind_of_a_build_up_is_storing_a_sheet_or_air() -> None:
    for row in PRACTICE.table(TABLE).rows:
        known = bool(PRACTICE.table(HYGRIC).where(material=row["material"]))
        assert (
            known or row["role"] in (*SHEETS, "drainage layer") or row["material"] == "empty stud cavity"
        ), row


@pytest.mark.parametrize("name", MATERIALS)
def test_tables_of_a_material_hold_what_is_stated(name: str) -> None:
    material = porous(PRACTICE, name, usual(name))
    table = tabulate(material)
    y = potentials()

    def water(humidity: float) -> float:
        return float(np.interp(potential_at(humidity), y, table.water))

    assert water(0.8) == pytest.approx(material.water_80, rel=2e-3)
    assert float(np.interp(0.0, y, table.water)) == pytest.approx(material.free_saturation, rel=1e-3)
    assert (np.diff(table.water) <= 1e-12).all() and (np.diff(table.liquid) <= 1e-18).all()
    assert 1.0 <= material.resistance_wet <= material.resistance_dry
    (row,) = PRACTICE.table(HYGRIC).where(material=name)
    for point in PRACTICE.table(CURVES).where(material=row["curve"]):
        stated = cell(point, "content").value * material.density
        if stated < 0.9 * material.free_saturation:
            assert water(cell(point, "humidity").value) == pytest.approx(stated, rel=0.02, abs=0.1), point


def test_between_two_points_water_follows_the_logarithm_of_suction() -> None:
    """At 95 % RH a straight line over humidity would give the plywood three times what is measured at 93.8 and 97.4 %."""
    material = porous(PRACTICE, "plywood", usual("plywood"))
    table = tabulate(material)
    content = float(np.interp(potential_at(0.95), potentials(), table.water)) / material.density
    assert 0.179 < content < 0.20


@pytest.mark.parametrize(
    "row", PRACTICE.table(RANGES).rows, ids=lambda row: f"{row['material']}, {row['property']}"
)
def test_a_range_holds_the_nominal_value(row: dict[str, object]) -> None:
    name, prop = str(row["material"]), str(row["property"])
    material = porous(PRACTICE, name, usual(name))
    nominal = {
        "absorption": material.absorption,
        "content_80": material.water_80 / material.density,
        "free_saturation": material.free_saturation,
        "permeability_dry": STILL_AIR / material.resistance_dry,
        "permeability_wet": STILL_AIR / material.resistance_wet,
    }[prop]
    low, high = (row[end] for end in ("low", "high"))
    assert isinstance(low, Quantity) and isinstance(high, Quantity) and low.dimension == high.dimension
    assert low.value <= nominal * 1.001 and nominal <= high.value * 1.001 and low.value < high.value


@pytest.mark.parametrize("end", ["low", "high"])
@pytest.mark.parametrize("name", sorted({str(row["material"]) for row in PRACTICE.table(RANGES).rows}))
def test_each_variant_changes_its_own_property_alone_and_can_be_run(
    name: str, end: hygric_materials.End
) -> None:
    material = porous(PRACTICE, name, usual(name))
    found = varied(PRACTICE, material, end)
    rows = PRACTICE.table(RANGES).where(material=name)
    assert {one.prop for one in found} == {
        "vapor" if str(row["property"]).startswith("permeability") else str(row["property"]) for row in rows
    }
    for one in found:
        assert one.end == end and one.material.name == name
        changed = {key for key, value in vars(one.material).items() if value != getattr(material, key)} - {
            "sorption"
        }
        assert (
            changed
            <= {
                "absorption": {"absorption"},
                "content_80": {"water_80"},
                "free_saturation": {"free_saturation"},
                "vapor": {"resistance_dry", "resistance_wet"},
            }[one.prop]
        )
        table = tabulate(one.material)
        assert (np.diff(table.water) <= 1e-12).all()
        at_80 = float(np.interp(potential_at(0.8), potentials(), table.water))
        assert at_80 == pytest.approx(one.material.water_80, rel=0.01)


def test_a_material_without_a_range_has_nothing_to_vary() -> None:
    assert varied(PRACTICE, porous(PRACTICE, "gypsum board"), "low") == ()
