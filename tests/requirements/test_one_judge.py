"""One judge: no other room compares a value with a limit, or keeps a tolerance of its own (read from the syntax tree)."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

HOUSE = Path(__file__).parents[2] / "specgen"
SMALL = (
    1e-4  # nobody compares sizes of the trade this finely: a smaller number is a tolerance, or stands below
)
ROOMS = sorted(
    room.relative_to(HOUSE).as_posix()
    for room in HOUSE.iterdir()
    if room.name not in ("physics", "units", "__pycache__") and (room.is_dir() or room.suffix == ".py")
)

# Module and name of each small number that is no tolerance of a comparison with a limit, and why.
ALLOWED = {
    ("drawing/near.py", "SAME_M"): "geometry of the sheet",
    ("drawing/near.py", "SAME_MM"): "geometry of the sheet",
    ("drawing/near.py", "PARALLEL"): "geometry of the sheet",
    ("agreement/drawn.py", "_SAME_PLACE"): "geometry of a sheet that is read",
    ("design/vapor_drive.py", "PERMEANCES"): "where a search begins",
    ("design/drive_day.py", "RANGE"): "where a search begins",
    ("design/drive_study.py", "COUNTS_AS_WET"): "a physical threshold",
    ("design/hourly_cuts.py", "TIGHT"): "a property of sheet metal",
    ("design/hygric_materials.py", "STILL_AIR"): "a property of air",
    ("design/hygric_top.py", "METAL_RESISTANCE"): "a property of sheet metal",
    ("drawing/chart.py", "ROUNDING"): "geometry of a scale",
    ("drawing/solids.py", "TRUE"): "a scale",
    ("render/ifc.py", "SAME_POINT"): "geometry of a model",
}
# Function and reason of each comparison of two quantities outside the judge.
COMPARES = {
    ("requirements/judge.py", "_beyond"): "the judge",
    ("requirements/judge.py", "_condition"): "the judge",
}
HELD = ("value", "exact")  # of a Quantity
GIVE = (
    "si",
    "value_of",
    "input",
    "practice_input",
    "part_input",
    "table_input",
    "given",
)  # and what gives one


def _files(room: str) -> Iterator[tuple[str, ast.Module]]:
    place = HOUSE / room
    for file in sorted(place.rglob("*.py")) if place.is_dir() else [place]:
        yield file.relative_to(HOUSE).as_posix(), ast.parse(file.read_text(encoding="utf-8"))


def _tolerances(tree: ast.Module) -> Iterator[tuple[int, str, str]]:
    """Line, name and number of every small number; the name is that of the constant or function that holds it."""
    for top in tree.body:
        name = _name(top)
        for node in ast.walk(top):
            if isinstance(node, ast.Constant) and isinstance(node.value, float) and 0 < node.value < SMALL:
                yield node.lineno, name, repr(node.value)


def _name(top: ast.stmt) -> str:
    target = top.targets[0] if isinstance(top, ast.Assign) else getattr(top, "target", None)
    return target.id if isinstance(target, ast.Name) else getattr(top, "name", "")


def _comparisons(tree: ast.Module) -> Iterator[tuple[int, str, str]]:
    """Line, function and words of every ordering of one quantity against another."""
    for function in ast.walk(tree):
        if not isinstance(function, ast.FunctionDef):
            continue
        numbers = _numbers(function)
        for node in ast.walk(function):
            if isinstance(node, ast.Compare):
                sides = [node.left, *node.comparators]
                for op, left, right in zip(node.ops, sides, sides[1:], strict=False):
                    ordered = isinstance(op, ast.Lt | ast.LtE | ast.Gt | ast.GtE)
                    if ordered and all(_of_quantity(side, numbers) for side in (left, right)):
                        yield node.lineno, function.name, ast.unparse(node)


def _numbers(function: ast.FunctionDef) -> set[str]:
    """The local names that hold a number taken from a quantity."""
    found: set[str] = set()
    for node in ast.walk(function):
        if isinstance(node, ast.Assign) and len(node.targets) == 1:
            target, value = node.targets[0], node.value
            pairs = [(target, value)]
            if isinstance(target, ast.Tuple) and isinstance(value, ast.Tuple):
                pairs = list(zip(target.elts, value.elts, strict=False))
            found |= {a.id for a, b in pairs if isinstance(a, ast.Name) and _of_quantity(b, found)}
    return found


def _of_quantity(node: ast.expr, numbers: set[str]) -> bool:
    """Whether an expression is a number of a quantity, or made of one by arithmetic."""
    match node:
        case ast.Attribute(attr=name):
            return name in HELD
        case ast.Call(func=ast.Attribute(attr=name)):
            return name in GIVE
        case ast.Name(id=name):
            return name in numbers
        case ast.BinOp(left=left, right=right):
            return _of_quantity(left, numbers) or _of_quantity(right, numbers)
        case ast.BoolOp(values=values):
            return any(_of_quantity(one, numbers) for one in values)
    return False


@pytest.mark.parametrize("room", ROOMS)
def test_no_room_keeps_a_tolerance_of_its_own(room: str) -> None:
    found = [
        f"{file}:{line}: {number}"
        for file, tree in _files(room)
        for line, name, number in _tolerances(tree)
        if (file, name) not in ALLOWED
    ]
    assert not found, "ask specgen.units.compare or requirements.judge"


@pytest.mark.parametrize("room", ROOMS)
def test_no_room_orders_one_quantity_against_another(room: str) -> None:
    found = [
        f"{file}:{line}: {words}"
        for file, tree in _files(room)
        for line, name, words in _comparisons(tree)
        if (file, name) not in COMPARES
    ]
    assert not found, "ask specgen.units.compare or requirements.judge"


def test_each_exception_still_stands() -> None:
    small = {
        (file, name) for room in ROOMS for file, tree in _files(room) for _, name, _ in _tolerances(tree)
    }
    orders = {(f, name) for room in ROOMS for f, tree in _files(room) for _, name, _ in _comparisons(tree)}
    assert (set(ALLOWED) - small, set(COMPARES) - orders) == (set(), set())


def test_the_reader_sees_what_it_forbids() -> None:
    tree = ast.parse(
        "EQUAL = 1e-9\n"
        "def f(part, limit):\n"
        "    stated = part.si('height')\n"
        "    if isclose(stated, 1.0, abs_tol=1e-7) or stated <= limit.value * (1 + 1e-9):\n"
        "        return 0 < stated < limit.exact\n"
    )
    assert [line for line, _, _ in _tolerances(tree)] == [1, 4, 4]
    assert [words for _, _, words in _comparisons(tree)] == [
        "stated <= limit.value * (1 + 1e-09)",
        "0 < stated < limit.exact",
    ]
