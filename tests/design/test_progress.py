"""Long studies tell how far they are: from 0 upward to 1, and to nobody where nobody listens."""

from __future__ import annotations

import pytest

from specgen.design import roof_junction
from specgen.design.junction_layers import Slab
from specgen.design.progress import listening, tell
from specgen.design.uncertainty import HEADLINES, spread
from specgen.intake.project import load_project
from specgen.practice.load import load_practice
from tests.design.projects import FILE


def test_nobody_listens_outside() -> None:
    heard: list[float] = []
    with pytest.raises(ZeroDivisionError), listening(heard.append):
        tell(0.25)
        raise ZeroDivisionError
    tell(0.5)
    assert heard == [0.25]


def test_grids_of_a_junction_are_told_by_their_cells(monkeypatch: pytest.MonkeyPatch) -> None:
    """Three grids and the finest once more: 1, 5, 21 and 37 parts of 37."""

    class Solved:
        l2d, lowest_interior_surface_c, f_rsi = 1.0, 10.0, 0.8
        lowest_on, lowest_at = "wall", (0.2, -0.1)

    monkeypatch.setattr(roof_junction, "_solve", lambda case, step, low: None)
    monkeypatch.setattr(roof_junction, "coupling", lambda field, inside, outside: Solved())
    slab = Slab("any", 0.1, 0.5)
    case = roof_junction.Case(
        (slab,), slab, (slab,), (), slab, slab, 0.5, 1.0, 0.0, 0.0, 20.0, -5.0, 0.13, 0.10, 0.25, 0.04
    )
    heard: list[float] = []
    with listening(heard.append):
        roof_junction.outcome(case, 0.5, 0.5)
    assert heard == pytest.approx([0.5 + 0.5 * done / 37 for done in (1, 5, 21, 37)])


def test_samples_are_told_in_order(monkeypatch: pytest.MonkeyPatch) -> None:
    practice = load_practice()
    project = load_project(FILE, practice)
    heard: list[float] = []
    with listening(heard.append):
        spread(HEADLINES[2], project, project.parapets[0], practice, samples=8, before=2 / 3)
    assert heard == sorted(heard)
    assert len(heard) == 8
    assert heard[0] == pytest.approx(2 / 3)
    assert heard[-1] < 1.0
