"""Inward drive on the small project: results, tables, verdicts, what is missing."""

from __future__ import annotations

import time
from dataclasses import replace
from pathlib import Path

import pytest

from specgen.design import inward_drive
from specgen.design.drive_walls import BARRIERS, LAYERS
from specgen.design.sheet import WIDTH, sheet
from specgen.intake.project import load_project
from specgen.model.plain import plain
from specgen.practice.load import load_practice
from tests.design.moisture import EVENT, NO_LIMIT, OPEN_TOP, PLACE, WEST, YEAR, column, step, with_year
from tests.design.projects import calculation, number

DAY = (PLACE, WEST)


def test_results_of_the_day(tmp_path: Path) -> None:
    calc = calculation(inward_drive, tmp_path, *DAY)
    assert calc.missing == ()
    assert set(calc.results) == set(inward_drive.SETS)
    # 95 °F air and full west sun in July: 0.6 × 600 to 800 W/m² over 17 W/(m²·K) on top of warm afternoon air.
    assert 50 < number(calc, "face_peak", "degC") < 65
    assert number(calc, "condensate_day", "g/m2") <= number(calc, "vapor_behind", "g/m2") + 1e-9
    assert number(calc, "vapor_behind", "g/m2") <= number(calc, "vapor_in", "g/m2") + 1e-9
    assert 0 < number(calc, "wet_hours", "h") <= 24
    assert number(calc, "left_after", "g/m2") == 0.0
    assert calc.verdict("limit_met") == "yes"


def test_specified_wall_is_a_row_of_the_comparison(tmp_path: Path) -> None:
    """The same project with a barrier of 10 perm is the row dimpled sheet, class III."""
    change = ("vapor_permeance: 12 perm", "vapor_permeance: 10 perm")
    calc = calculation(inward_drive, tmp_path, *DAY, change)
    table = column(calc, "design day", "condensate", "g/m2")
    assert list(table) == [(layer, barrier) for layer in LAYERS for barrier in BARRIERS]
    assert number(calc, "condensate_day", "g/m2") == pytest.approx(
        table["dimpled sheet", "class III"], rel=1e-9
    )


@pytest.mark.parametrize(("limit", "kind", "verdict"), [
    ("0.5 g/m2", "dimpled sheet", "yes"),
    ("0.1 g/m2", "dimpled sheet", "no"),
    ("5 g/m2", "mesh", "no"),
])  # fmt: skip
def test_verdict_against_the_limit(tmp_path: Path, limit: str, kind: str, verdict: str) -> None:
    changes = (
        ("condensate_limit: 5 g/m2", f"condensate_limit: {limit}"),
        ("kind: dimpled sheet", f"kind: {kind}"),
    )
    calc = calculation(inward_drive, tmp_path, *DAY, *changes)
    assert calc.verdict("limit_met") == verdict


def test_no_limit_is_said(tmp_path: Path) -> None:
    assert calculation(inward_drive, tmp_path, *DAY, NO_LIMIT).verdict("limit_met") == "no limit stated"


def test_everything_missing_in_one_run(tmp_path: Path) -> None:
    calc = calculation(inward_drive, tmp_path)
    assert calc.tables == ()
    assert [reason.split(":")[0] for reason in calc.missing] == ["site.latitude", "parapet.orientation"]


def test_no_drainage_layer(tmp_path: Path) -> None:
    calc = calculation(
        inward_drive,
        tmp_path,
        *DAY,
        ("      - {role: drainage layer, kind: dimpled sheet, depth: 7/16 in}\n", ""),
    )
    none = column(calc, "design day", "condensate", "g/m2")["none", "class III"]
    assert 0.9 * none < number(calc, "condensate_day", "g/m2") < 1.5 * none  # 12 perm against 10


def test_open_gap_and_dew_point(tmp_path: Path) -> None:
    closed = calculation(inward_drive, tmp_path, *DAY)
    opened = calculation(inward_drive, tmp_path, *DAY, OPEN_TOP)
    assert number(opened, "condensate_day", "g/m2") < number(closed, "condensate_day", "g/m2")
    assert any("open_at_top" in line for line in closed.leaves_out)
    assert not any("open_at_top" in line for line in opened.leaves_out)
    given = calculation(inward_drive, tmp_path, *DAY, ("site:\n", "site:\n  dew_point_summer: 60 degF\n"))
    assert any("dew point" in line for line in closed.leaves_out)
    assert not any("dew point" in line for line in given.leaves_out)


def test_year_with_rain(tmp_path: Path) -> None:
    started = time.process_time()
    calc = calculation(inward_drive, with_year(tmp_path), *DAY, YEAR)
    assert (
        time.process_time() - started < 20
    )  # a year is array work; a loop over build-ups would take minutes
    assert [table.name for table in calc.tables] == ["design day", "year, soaked", "year, rain"]
    soaked, rained = (
        column(calc, name, "condensed in the year", "g/m2") for name in ("year, soaked", "year, rain")
    )
    assert all(0 < rained[key] < soaked[key] for key in soaked)
    assert 24 < step(calc, "nr", "h") < 8760
    most = column(calc, "year, soaked", "most in 24 hours", "g/m2")
    assert all(most[key] < soaked[key] for key in soaked)
    assert any("typical year" in line for line in calc.leaves_out)


def test_plaster_without_a_sourced_property_has_no_rain_table(tmp_path: Path) -> None:
    """The soaked bound needs no reservoir; the rain table is left out, and the sheet says which property is blank."""
    calculation(inward_drive, with_year(tmp_path), *DAY, YEAR)  # writes the project file
    practice = load_practice()
    table = practice.table("material_properties")
    rows = tuple({**row, "absorption": None} for row in table.rows)
    tables = {**practice.tables, "material_properties": replace(table, rows=rows)}
    project = load_project(tmp_path / "project.yaml", practice)
    calc = inward_drive.calculate(project, project.parapets[0], replace(practice, tables=tables))
    assert [one.name for one in calc.tables] == ["design day", "year, soaked"]
    assert any("no source for absorption" in line for line in calc.leaves_out)


def test_sheet_and_json_carry_the_tables(tmp_path: Path) -> None:
    calc = calculation(inward_drive, with_year(tmp_path), *DAY, YEAR)
    text = sheet(calc)
    assert "Design day, plaster soaked" in text
    assert text.count("grooved mat    class II ") == 3
    assert max(map(len, text.splitlines())) <= WIDTH
    tables = plain(calc)["tables"]
    assert isinstance(tables, list)
    assert [len(table["rows"]) for table in tables] == [16, 16, 16]
    assert tables[0]["rows"][0][4]["dimension"] == "mass per area"


def test_event_does_not_disturb(tmp_path: Path) -> None:
    assert calculation(inward_drive, tmp_path, *DAY, EVENT).missing == ()


@pytest.mark.parametrize(("old", "new", "found"), [
    ("36.1 deg", "96 deg", "latitude"),
    ("95 degF", "150 degF", "highest temperature"),
])  # fmt: skip
def test_out_of_range_is_a_reason_not_a_crash(tmp_path: Path, old: str, new: str, found: str) -> None:
    calc = calculation(inward_drive, tmp_path, *DAY, (old, new))
    assert not calc.done
    assert calc.tables == ()
    assert "out of range" in calc.missing[0]
    assert found in calc.missing[0]


def test_the_station_stands_in_for_a_latitude_that_is_not_given(tmp_path: Path) -> None:
    """The station of the year lies at 36.1° north: the same number written into the project changes nothing."""
    by_file = calculation(inward_drive, with_year(tmp_path), WEST, YEAR)
    assert any("that of the weather file's station is taken" in text for text in by_file.leaves_out)
    assert any("(year.csv, " in text for text in by_file.leaves_out)  # the file by its name, not its folder
    stated = calculation(
        inward_drive,
        with_year(tmp_path),
        WEST,
        ("site:\n", "site:\n  latitude: 36.1 deg\n  weather: year.csv\n"),
    )
    assert number(stated, "face_peak", "degC") == pytest.approx(number(by_file, "face_peak", "degC"))
