"""Sizes of nothing and of a kilometre: every calculation answers, and never with a crash or a number that is none."""

from __future__ import annotations

import math
from collections.abc import Iterator
from pathlib import Path

import pytest

from specgen.design.run import subjects
from specgen.model.project import Project
from specgen.practice.load import load_practice
from specgen.units.quantity import Quantity, from_si, to_unit
from specgen.wall.edit import with_value
from tests.conftest import LONG
from tests.design.projects import FULL, changed_project

HERE = ("cleat fasteners", "coping geometry", "galvanic", "lath fasteners", "plaster panels", "scuppers")
STUDY = ("roof junction",)
OF_THE_STUDY = (
    "site.temp_winter",
    "building.",
    "P-1.height",
    "P-1.framing",
    "P-1.roof-side insulation",
    "P-1.drain",
)


def quantities(project: Project) -> Iterator[tuple[str, Quantity]]:
    """Every quantity of the file with its path."""
    (parapet,) = project.parapets
    records = [("site", project.site), ("building", project.building), ("P-1", parapet)]
    records += [(f"P-1.{part.id}", part) for part in parapet.components()]
    for where, record in records:
        for name, value in record.values.items():
            if isinstance(value, Quantity):
                yield f"{where}.{name}", value


@pytest.mark.parametrize("size", [0.0, 1e-9, 1e3, 1e9] if LONG else [0.0])
def test_no_size_crashes_a_calculation(tmp_path: Path, size: float) -> None:
    project, practice = changed_project(tmp_path, file=FULL), load_practice()
    found = list(quantities(project))
    assert len(found) > 35
    for path, value in found:
        tried = with_value(project, practice, path, from_si(size, value.dimension, value.unit))
        names = HERE + (STUDY if path.startswith(OF_THE_STUDY) and size in (0.0, 1e9) else ())
        for name in names:
            calc = subjects()[name].calculate(tried, tried.parapets[0], practice)
            assert calc.done or all(calc.missing), (path, name)
            for line in calc.results.values():
                if isinstance(line.value, Quantity):
                    assert math.isfinite(line.value.value), (path, name, line.title)


# The gap is set in steps of 1/16 in or of 1 mm, and the pieces between gaps with it.
STEPPED = {"joint_gap", "gap_hot", "gap_cold", "piece_length", "joint_spacing", "fixings_per_piece"}
STEPPED |= {"longest_piece"}


def test_the_language_of_units_changes_no_result(tmp_path: Path) -> None:
    practice = load_practice()
    by_system = [
        changed_project(tmp_path, *change, file=FULL)
        for change in ((), (("2026-03-02}", "2026-03-02, units: SI}"),))
    ]
    for name in (*HERE, *STUDY, "coping movement", "coping wind", "vapor drive"):
        inch, metric = (
            subjects()[name].calculate(project, project.parapets[0], practice) for project in by_system
        )
        assert inch.done, name
        for key, line in inch.results.items():
            other = metric.results[key].value
            if not isinstance(line.value, Quantity) or key in STEPPED:
                continue
            assert isinstance(other, Quantity)
            assert to_unit(other, line.value.unit) == pytest.approx(line.value.number, rel=1e-9, abs=1e-9), (
                key
            )
