"""A lap has one owner: the trade that the project names, else the trade of the upper sheet."""

from __future__ import annotations

from pathlib import Path

import pytest

from specgen.intake.project import load_project
from specgen.paths.owners import owned_joints
from specgen.paths.sequence import sequence
from specgen.practice.load import load_practice
from tests.chain.runs import CONFORMING, copied

PRACTICE = load_practice()
LAP = "  - between: [top flashing, roof turn-up]\n"


@pytest.mark.parametrize(("made_by", "owner", "prepares"), [
    ("", "air barrier installer", "roofer"),
    ("made_by: roofer", "roofer", "air barrier installer"),
    ("made_by: air barrier installer", "air barrier installer", "roofer"),
])  # fmt: skip
def test_the_trade_that_is_named_makes_the_lap(
    tmp_path: Path, made_by: str, owner: str, prepares: str
) -> None:
    text = (CONFORMING / "project.yaml").read_text()
    assert LAP in text
    indent = " " * (text.index(LAP) - text.rindex("\n", 0, text.index(LAP)) - 1)
    folder = copied(CONFORMING, tmp_path / "p", (LAP, f"{LAP}{indent}    {made_by}\n"))
    project = load_project(folder, PRACTICE)
    parapet = project.parapets[0]
    joints = owned_joints(parapet, sequence(parapet, PRACTICE), PRACTICE)
    (joint,) = (one for one in joints if one.name == "top flashing / roof turn-up")
    assert (joint.owner, joint.prepares) == (owner, prepares)


def test_every_trade_that_a_lap_may_name_is_one_of_a_role() -> None:
    choices = PRACTICE.vocabulary.records["transition"].fields["made_by"].choices
    assert set(choices) == {role.trade for role in PRACTICE.vocabulary.roles.values()}
