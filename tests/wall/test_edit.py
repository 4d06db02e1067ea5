"""Paths to places of a project, and the project with another value there."""

from __future__ import annotations

from pathlib import Path

import pytest

from specgen.design import coping_wind
from specgen.model.project import Project
from specgen.practice.load import load_practice
from specgen.units.quantity import parse
from specgen.wall.edit import PathError, find, value_at, with_practice, with_value
from tests.design.projects import FULL, changed_project, number


@pytest.fixture
def project(tmp_path: Path) -> Project:
    return changed_project(tmp_path, file=FULL)


def test_a_tried_value_is_calculated_with_and_the_old_project_stays(project: Project) -> None:
    practice = load_practice()
    faster = with_value(project, practice, "site.wind_speed", parse("230 mph"))
    old, new = (
        number(coping_wind.calculate(one, one.parapets[0], practice), "velocity_pressure", "psf")
        for one in (project, faster)
    )
    assert new == pytest.approx(4 * old)  # V² of twice the speed
    line = next(
        line
        for line in coping_wind.calculate(faster, faster.parapets[0], practice).inputs
        if line.symbol == "V"
    )
    assert line.source == "tried value"


def test_roles_ids_and_parapets_are_found(project: Project) -> None:
    practice = load_practice()
    for path in ("P-1.drainage layer.depth", "drainage layer.depth"):
        changed = with_value(project, practice, path, parse("3/8 in"))
        assert value_at(changed, practice, path, "P-1") == parse("3/8 in")
    changed = with_value(project, practice, "parapet.height", parse("3 ft"))
    assert changed.parapets[0].quantity("height") == parse("3 ft")
    changed = with_value(project, practice, "P-1.roof-side insulation.thickness", parse("4 in"))
    part = changed.parapets[0].by_id("roof-side insulation")
    assert part is not None
    assert part.quantity("thickness") == parse("4 in")
    # An id names one component, though others share its role.
    sheathing = changed.parapets[0].by_id("sheathing")
    assert sheathing == project.parapets[0].by_id("sheathing")


def test_another_kind_loses_tested_values_and_keeps_sizes(project: Project) -> None:
    practice = load_practice()
    tested = with_value(project, practice, "drainage layer.vapor_permeance", parse("0.05 perm"))
    mesh = with_value(tested, practice, "drainage layer.kind", "mesh")
    part = mesh.parapets[0].part("drainage layer")
    assert part is not None
    assert part.kind == "mesh"
    assert not part.has("vapor_permeance")
    assert part.has("depth")
    same = with_value(tested, practice, "drainage layer.kind", "dimpled sheet")
    assert same.parapets[0].part("drainage layer").has("vapor_permeance")  # type: ignore[union-attr]


def test_a_practice_value_is_replaced(project: Project) -> None:
    practice = load_practice()
    changed = with_practice(practice, "wind.test_factor", parse("3"))
    old, new = (
        number(coping_wind.calculate(project, project.parapets[0], one), "resistance_top", "psf")
        for one in (practice, changed)
    )
    assert new == pytest.approx(1.5 * old)
    assert practice.quantity("wind.test_factor").value == 2.0


@pytest.mark.parametrize(
    ("path", "expected"),
    [
        ("site.windspeed", "did you mean `wind_speed`"),
        ("P-1.drainge layer.kind", "did you mean `drainage layer`"),
        ("P-1.drainage layer.dept", "did you mean `depth`"),
        ("parapet.hieght", "did you mean `height`"),
        ("practice.wind.test_facter", "did you mean `wind.test_factor`"),
        ("practice.turnup.same_membrane", "no number"),
        ("site.", "known: "),
        ("", "no ``"),
        ("top flashing.kind", "no component `top flashing`"),
    ],
)
def test_a_path_that_names_nothing(project: Project, path: str, expected: str) -> None:
    with pytest.raises(PathError) as caught:
        find(project, load_practice(), path)
    assert expected in str(caught.value)
