"""Tables whose cells have sources of their own, and tables that take cells from another."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from specgen.practice.entries import PracticeError, PracticeTable, cell
from specgen.practice.load import load_practice
from specgen.practice.table_file import read_table

OWN = {"document": "a", "status": "P"}
CITED = {"din": {"document": "b", "status": "S"}, "memory": {"document": "c", "status": "M"}}


def table(content: dict[str, Any], others: dict[str, PracticeTable] | None = None) -> PracticeTable:
    return read_table(Path("t.yaml"), {"title": "t", "source": OWN, **content}, others or {})


def properties() -> PracticeTable:
    return table(
        {
            "cited": CITED,
            "columns": {
                "material": {"is": "word"},
                "density": {"is": "density"},
                "conductivity": {"is": "thermal conductivity", "source": "memory"},
            },
            "rows": [
                {"material": "m", "density": "1 kg/m3", "conductivity": "2 W/(m·K)"},
                {"material": "n", "density": "3 kg/m3 | din", "conductivity": "4 W/(m·K) | din"},
            ],
        }
    )


def test_source_of_a_cell_then_of_its_column_then_of_the_table() -> None:
    found = properties()
    first, second = found.rows
    assert found.source_of(first, "density").document == "a"
    assert found.source_of(first, "conductivity").document == "c"
    assert [found.source_of(second, name).document for name in ("density", "conductivity")] == ["b", "b"]
    assert cell(second, "conductivity").value == 4.0
    assert found.source_of({}, "density").document == "a"


def derived(rows: list[dict[str, str]], by: str = "density", table_name: str = "p") -> PracticeTable:
    content = {
        "from": {"table": table_name, "by": "material"},
        "columns": {
            "kind": {"is": "word"},
            "material": {"is": "word"},
            "weight": {"is": "density", "from": by},
        },
        "rows": rows,
    }
    return table(content, {"p": properties()})


def test_a_word_may_name_its_own_source_too() -> None:
    """A sheet's standard was printed in a section as "ASTM D4637 | other"."""
    found = table(
        {
            "cited": CITED,
            "columns": {"standard": {"is": "word"}},
            "rows": [{"standard": "ASTM D4637 | memory"}, {"standard": "ASTM D6878"}],
        }
    )
    assert [row["standard"] for row in found.rows] == ["ASTM D4637", "ASTM D6878"]
    assert [found.source_of(row, "standard").document for row in found.rows] == ["c", "a"]


def test_cells_taken_with_their_source() -> None:
    found = derived([{"kind": "k", "material": "n"}, {"kind": "l", "material": "n", "weight": "9 kg/m3"}])
    assert [cell(row, "weight").value for row in found.rows] == [3.0, 9.0]
    assert [found.source_of(row, "weight").document for row in found.rows] == ["b", "a"]


@pytest.mark.parametrize(
    ("row", "by", "name", "message"),
    [
        ({"kind": "k", "material": "x"}, "density", "p", "0 rows of p have material 'x'"),
        ({"kind": "k", "material": "n"}, "weight", "p", "p has no column 'weight'"),
        ({"kind": "k", "material": "n"}, "density", "q", "no table 'q'"),
        ({"kind": "k", "material": "n", "weight": "9 kg/m3 | x"}, "density", "p", "no source 'x'"),
    ],
)
def test_a_broken_reference_is_refused(row: dict[str, str], by: str, name: str, message: str) -> None:
    with pytest.raises(PracticeError, match=message):
        derived([row], by, name)


def test_every_kind_of_the_vocabulary_with_a_row_has_one_material() -> None:
    practice = load_practice()
    for row in practice.table("materials").rows:
        assert row["kind"] in practice.vocabulary.roles[str(row["role"])].kinds
        assert len(practice.table("material_properties").where(material=row["material"])) == 1
