"""A roof side that is plastered: the layers of the outer face once more, lapped over the base flashing."""

from __future__ import annotations

from pathlib import Path

import pytest

from specgen.model.project import Parapet
from specgen.propose.build import Builder
from specgen.propose.plastered import FACING, FACING_TAPE, ROOF_SIDE
from specgen.propose.proposals import Proposer
from specgen.wall.order import outer_side, roof_side, roof_side_barrier
from specgen.work.inputs import read_inputs
from specgen.work.proposals import Ready, propose
from tests.chain.runs import run
from tests.propose.sets import FEW, FOLDER, changed, proposer
from tests.propose.test_search import hold_same_front

NAME = "steel-tpo-plastered-4a"
LAP = f"{FACING} / roof turn-up"
SMALL = {
    **FEW,
    "top flashing": ("self-adhered butyl",),
    "top flashing / barrier": ("top flashing over barrier, edge sealed",),
    LAP: (
        "roof-side barrier over roof turn-up, butyl tape, membrane primer",
        "roof-side barrier over roof turn-up, acrylic tape",
        "roof-side barrier over roof turn-up, edge sealed",
    ),
}


def wall_of_first(here: Proposer) -> Parapet:
    return Builder(here.offers).project([one.options[0] for one in here.offers.choices]).parapets[0]


@pytest.fixture(scope="module")
def ready() -> Ready:
    return propose(read_inputs(FOLDER / f"{NAME}.yaml", None, False), workers=1)


def test_a_search_that_tries_everything_finds_the_same_front() -> None:
    hold_same_front(proposer(NAME, SMALL))


def test_each_layer_of_the_outer_face_stands_on_the_roof_side() -> None:
    wall = wall_of_first(proposer(NAME))
    for role, name in ROOF_SIDE.items():
        (outer,), (inner,) = outer_side(wall, role), roof_side(wall, role)
        assert inner.id == name and inner.kind == outer.kind
        if role != "weep screed":
            assert inner.values == outer.values
    inner = wall.by_id(ROOF_SIDE["weep screed"])
    assert inner is not None and inner.has("above_roof") and not inner.has("nothing_below")
    order = [part.id for part in roof_side(wall, "roof turn-up", *ROOF_SIDE)]
    assert order == ["roof turn-up", *ROOF_SIDE.values()]


def test_the_barrier_of_the_roof_side_laps_the_base_flashing_and_the_flashing_laps_it() -> None:
    wall = wall_of_first(proposer(NAME))
    turn_up, flashing = wall.part("roof turn-up"), wall.part("top flashing")
    inner = roof_side_barrier(wall)
    assert turn_up is not None and flashing is not None and inner is not None and inner.id == FACING
    assert not wall.between(flashing, turn_up)
    (low,), (high,) = wall.between(inner, turn_up), wall.between(flashing, inner)
    assert low.word("upper") == FACING and low.has("lap")
    assert high.word("upper") == "top flashing"
    screed = wall.by_id(ROOF_SIDE["weep screed"])
    assert screed is not None and [one.word("upper") for one in wall.between(inner, screed)] == [FACING]


def test_proposed_walls_are_without_fault_and_written_clean(ready: Ready, tmp_path: Path) -> None:
    assert ready.proposed.walls
    for wall, assessment in zip(ready.proposed.walls, ready.assessments, strict=True):
        codes = {one.code for one in assessment.findings if one.failed or one.open}
        assert not codes & {"PL17", "DL01", "RT07", "LP01", "CL05", "PA01", "PA02", "PA03"}
        folder = tmp_path / wall.name
        folder.mkdir()
        text = ready.texts[wall.name]
        (folder / "project.yaml").write_text(text, "utf-8")
        assert "# The roof side is plastered: as on the outer face." in text
        assert run("check", folder).status == (3 if wall.open else 0)
        done = run("write", folder, "-o", folder / "out", "--strict")
        assert done.status == (3 if wall.open else 0), done.err


def test_the_tape_at_the_base_flashing_is_a_part_of_its_own() -> None:
    here = proposer(NAME, {LAP: ("roof-side barrier over roof turn-up, acrylic tape",)})
    wall = wall_of_first(here)
    tape = wall.by_id(FACING_TAPE)
    assert tape is not None and tape.kind == "acrylic tape"


@pytest.mark.parametrize(
    "changes",
    [
        {"inner_face: stucco": "inner_face: roof membrane"},
        {"    inner_face: stucco\n": ""},
        {
            "    top:\n": "      - {role: plaster, id: mine, kind: portland cement plaster}\n    top:\n",
        },
    ],
)
def test_nothing_is_chosen_where_the_roof_side_is_open_or_described(
    changes: dict[str, str], tmp_path: Path
) -> None:
    here = proposer("", FEW, path=changed(NAME, changes, tmp_path))
    assert LAP not in [choice.name for choice in here.offers.choices]
    wall = wall_of_first(here)
    assert all(wall.by_id(name) is None for name in ROOF_SIDE.values())
