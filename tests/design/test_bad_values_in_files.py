"""Not a number, infinite, negative, zero, five hundred layers, written in a project file.

What is no size at all is refused with line and column when the file is read. What is a size, but none that a formula
takes, leaves the calculation unknown, and the reason names value, range and source.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from specgen.commands import main
from specgen.design import inward_drive, monthly_balance, plaster_reservoir, vapor_drive
from specgen.files.marks import InputError
from tests.design.moisture import EVENT, PLACE, WEST
from tests.design.projects import FILE, FULL, calculation, changed_project

PERMEANCE, THICKNESS = "vapor_permeance: 12 perm", "portland cement plaster, thickness: 7/8 in"


@pytest.mark.parametrize("written", [".nan", "nan perm", ".inf", "inf perm", "-.inf perm", "1e400 perm"])
def test_what_is_no_finite_number_is_refused_at_its_place(tmp_path: Path, written: str) -> None:
    with pytest.raises(InputError, match=r"project\.yaml:23:\d+: error: .*is not a finite number") as caught:
        changed_project(tmp_path, (PERMEANCE, f"vapor_permeance: {written}"))
    assert f"`{written}`" in str(caught.value) and "fix: write a finite number" in str(caught.value)


@pytest.mark.parametrize(
    ("old", "new"),
    [(PERMEANCE, "vapor_permeance: -12 perm"), (THICKNESS, "portland cement plaster, thickness: -7/8 in")],
)
def test_what_is_below_zero_is_refused_at_its_place(tmp_path: Path, old: str, new: str) -> None:
    with pytest.raises(InputError, match=r"project\.yaml:\d+:\d+: error: .*is below zero"):
        changed_project(tmp_path, (old, new))


def test_the_command_says_so_and_leaves_with_two(tmp_path: Path) -> None:
    path = tmp_path / "project.yaml"
    path.write_text(FILE.read_text(encoding="utf-8").replace("12 perm", ".nan perm"), encoding="utf-8")
    result = CliRunner().invoke(main, ["calc", str(path)])
    assert result.exit_code == 2 and result.stdout == ""
    assert "project.yaml:23:" in result.stderr and "Traceback" not in result.stderr
    assert list(tmp_path.iterdir()) == [path]


def many_layers(count: int) -> tuple[str, str]:
    line = "      - {{id: board {}, role: sheathing, kind: plywood, thickness: 1/2 in}}\n"
    framing = "      - {role: framing"
    return framing, "".join(line.format(i) for i in range(count)) + framing


# module, changes to the file, what the reason says
UNKNOWN = [
    (
        vapor_drive,
        [(PERMEANCE, "vapor_permeance: 0 perm")],
        "permeance [kg/(m²·s·Pa)] is 0, outside 1e-20 to inf (above 0",
    ),
    (
        vapor_drive,
        [(THICKNESS, "portland cement plaster, thickness: 0 in")],
        "thickness [m] is 0, outside 1e-07 to 10 (",
    ),
    (
        vapor_drive,
        [(THICKNESS, "portland cement plaster, thickness: 40 ft")],
        "thickness [m] is 12.192, outside 1e-07 to 10 (",
    ),
    (vapor_drive, [many_layers(500)], "number of layers [-] is 506, outside 1 to 100 (layers of one wall)"),
    (
        inward_drive,
        [PLACE, WEST, (PERMEANCE, "vapor_permeance: 0 perm")],
        "permeance [kg/(m²·s·Pa)] is 0, outside 1e-20 to inf (",
    ),
    (
        inward_drive,
        [PLACE, WEST, (THICKNESS, "portland cement plaster, thickness: 0 in")],
        "thickness [m] is 0, outside 1e-07 to 10 (",
    ),
    (
        plaster_reservoir,
        [EVENT, (THICKNESS, "portland cement plaster, thickness: 0 in")],
        "thickness [m] is 0, outside 0.0001 to 2 (a layer of a wall)",
    ),
]


@pytest.mark.parametrize(("module", "changes", "expected"), UNKNOWN)
def test_a_size_no_formula_takes_is_named_with_its_range_and_source(
    tmp_path: Path, module, changes, expected: str
) -> None:
    calc = calculation(module, tmp_path, *changes)
    assert not calc.done and calc.results == {}
    (reason,) = calc.missing
    assert reason.startswith("out of range: ") and expected in reason


def test_five_hundred_layers_in_the_monthly_balance(tmp_path: Path) -> None:
    indoor = ("    height: 4 ft\n", "    height: 4 ft\n    inner_air: indoor air\n")
    calc = calculation(monthly_balance, tmp_path, indoor, many_layers(500), file=FULL)
    assert any("number of layers [-] is 507, outside 1 to 100" in reason for reason in calc.missing), (
        calc.missing
    )
