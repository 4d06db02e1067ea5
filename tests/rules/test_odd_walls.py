"""Walls that no file gives, as a program may build them: what is missing is told, and no rule crashes."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from specgen.model.finding import Outcome
from specgen.model.project import Parapet, Project
from tests.rules import cases


def _with(project: Project, parapet: Parapet) -> Project:
    return replace(project, parapets=(parapet,))


def test_a_transition_may_name_a_component_that_is_gone(tmp_path: Path) -> None:
    project = cases.load({}, tmp_path)
    (parapet,) = project.parapets
    top = tuple(part for part in parapet.top if part.role != "top flashing")
    found = [
        one for one in cases.findings_of(_with(project, replace(parapet, top=top))) if one.code == "SQ01"
    ]
    gone = "a transition names `flashing`, which is no component of the parapet"
    assert {one.message for one in found if one.outcome is Outcome.FAIL} == {gone}
    assert all(one.mark for one in found if one.outcome is Outcome.FAIL)


def test_a_parapet_may_have_no_height(tmp_path: Path) -> None:
    project = cases.load({"parapet": {"fire_rated": True}}, tmp_path)
    (parapet,) = project.parapets
    values = {name: value for name, value in parapet.values.items() if name != "height"}
    found = cases.findings_of(_with(project, replace(parapet, values=values)))
    unknown = {one.code for one in found if one.outcome is Outcome.UNKNOWN and "add `height`" in one.missing}
    assert unknown >= {"SF01", "SF03", "SF04"}
