"""The printed study is what the script computes: one climate with all its tables, and every table's shape."""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path
from types import ModuleType

import pytest

from tests.conftest import LONG

ROOT = Path(__file__).parents[2]
PRINTED = (ROOT / "docs" / "inward-drive-study.md").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def script() -> ModuleType:
    spec = importlib.util.spec_from_file_location(
        "study_script", ROOT / "docs" / "make_inward_drive_study.py"
    )
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["study_script"] = module  # its dataclass looks itself up
    spec.loader.exec_module(module)
    return module


@pytest.mark.parametrize(("climate", "orientation"), [("mixed-humid", "west"), ("hot-humid", "north")])
def test_a_sample_is_reproduced(script: ModuleType, climate: str, orientation: str) -> None:
    file = script.YEARS[climate]
    calc = script.study(file, script.design(file), orientation, False)
    section = PRINTED.split(f"## {climate}\n")[1].split("\n## ")[0]
    found = 0
    for table, column in (("design day", "condensate"), ("year, soaked", "condensed in the year")):
        for layer, values in script.rows(calc, table, column).items():
            line = script.line(orientation, layer, *(script.printed(value) for value in values))
            assert line in section, line
            found += 1
    assert found == 8


def test_head_and_conclusion_are_the_scripts(script: ModuleType) -> None:
    assert PRINTED.startswith(script.HEAD)
    assert PRINTED.endswith(script.TAIL)


def test_conclusions_hold_in_the_printed_numbers(script: ModuleType) -> None:
    """A hundredth behind a dimpled sheet; class II about a sixth, class I about a sixtieth of vapor-open."""
    tables = PRINTED.split("gap closed at the top [g/m²]**")[1:]
    assert len(tables) == len(script.YEARS)
    for table in tables:
        for facing in script.ORIENTATIONS:
            (sheet,) = _cells(table, facing, "dimpled sheet")[:1]
            mesh = _cells(table, facing, "mesh")
            assert 80 < mesh[0] / sheet < 150
            assert 5 < mesh[0] / mesh[2] < 8
            assert 45 < mesh[0] / mesh[3] < 70


def test_an_open_gap_keeps_out_what_the_conclusion_says(script: ModuleType) -> None:
    """With mesh three quarters or more of the year's vapor; north faces collect a quarter or less of the worst face."""
    for section in PRINTED.split("\n## ")[1 : 1 + len(script.YEARS)]:
        _, closed, opened = (
            part.split("\n**")[0] for part in section.split("soaked in every hour, gap ")[0:3]
        )
        north, *others = (_cells(closed, facing, "mesh")[0] for facing in script.ORIENTATIONS)
        assert script.ORIENTATIONS[0] == "north"
        assert north <= max(others) / 4.0
        for facing in script.ORIENTATIONS:
            assert _cells(opened, facing, "mesh")[0] <= 0.25 * _cells(closed, facing, "mesh")[0]


def test_a_changed_input_is_reproduced(script: ModuleType) -> None:
    """The dry-cup row: an upper bound of how long the plaster stays wet."""
    file = script.YEARS["mixed-humid"]
    practice = script.dry_cup(script.load_practice())
    calc = script.study(file, script.design(file), "west", False, practice)
    wet = script.rows(calc, "year, rain", "wet hours")["mesh"][1]
    line = next(line for line in PRINTED.splitlines() if line.startswith(f"| {script.DRY_CUP} |"))
    assert line.endswith(f"| {script.printed(wet)} |")


def _cells(table: str, facing: str, layer: str) -> list[float]:
    line = next(line for line in table.splitlines() if line.startswith(f"| {facing} | {layer} |"))
    return [float(cell) for cell in line.strip("| ").split(" | ")[2:]]


@pytest.mark.long
@pytest.mark.skipif(not LONG, reason="a study of minutes, run as a whole by SPECGEN_LONG=1")
def test_the_whole_study_is_reproduced(script: ModuleType) -> None:
    assert script.text() == PRINTED
