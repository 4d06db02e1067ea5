"""A lap stated on a part whose kind nobody knows yet: an answer, never a fault."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from specgen.drawing.sheets import section_sheets
from specgen.propose.build import Builder
from specgen.specification import specify
from specgen.work.inputs import read_inputs
from tests.chain.runs import run
from tests.propose.sets import FEW, changed, proposer

LONG = os.environ.get("SPECGEN_LONG") == "1"
FRAMING = "{role: framing, kind: cold-formed steel studs, thickness: 6 in, designed_by: structural engineer of record}"
UP, TOP = "    build_up:\n", "    top:\n"
OPEN = {
    "a barrier": ({UP: UP + "      - {role: barrier, kind: unknown}\n"}, "[barrier, weep screed], lap: 2 in"),
    "a turn-up": (
        {UP: UP + "      - {role: roof turn-up, kind: unknown}\n"},
        "[roof turn-up, blocking], sealed: yes",
    ),
    "tape and top": (
        {
            TOP: TOP
            + "      - {role: top flashing, kind: unknown}\n      - {role: bridging tape, kind: unknown}\n"
            + "      - {role: coping, kind: unknown}\n"
        },
        "[top flashing, coping], upper: coping, tape: bridging tape",
    ),
    "the backup wall": (
        {FRAMING: "{role: framing, kind: unknown}"},
        "[framing, blocking], upper: blocking",
    ),
}


def described(changes: dict[str, str], lap: str, folder: Path) -> Path:
    path = changed("steel-tpo-4a", changes, folder)
    text = path.read_text("utf-8").rstrip("\n")
    path.write_text(f"{text}\n    transitions:\n      - {{between: {lap}}}\n", "utf-8")
    return path


@pytest.mark.parametrize("name", OPEN)
def test_it_is_checked_specified_and_drawn(name: str, tmp_path: Path) -> None:
    path = described(*OPEN[name], tmp_path)
    assert run("check", tmp_path).status == 3
    assert run("layers", tmp_path).status == 3
    issue = specify(read_inputs(path, None, False).assessed())
    assert section_sheets(issue)


def test_a_tape_of_open_kind_takes_the_first_kind_that_is_wanted(tmp_path: Path) -> None:
    here = proposer("", FEW, path=described(*OPEN["tape and top"], tmp_path))
    options = [
        next((one for one in choice.options if one.lap is not None and one.lap.tape), choice.options[0])
        for choice in here.offers.choices
    ]
    (wall,) = Builder(here.offers).project(options).parapets
    kinds = [option.lap.tape for option in options if option.lap is not None and option.lap.tape]
    assert kinds
    assert next((part.id, part.kind) for part in wall.all_of("bridging tape")) == ("bridging tape", kinds[0])
    assert not any(part.role == "bridging tape" for part in wall.undecided)


@pytest.mark.skipif(not LONG, reason="SPECGEN_LONG=1: the whole search")
def test_proposals_for_it_read_as_they_are_assessed(tmp_path: Path) -> None:
    path = described(*OPEN["tape and top"], tmp_path)
    done = run("propose", path, "-o", tmp_path / "out")
    assert done.status in (0, 3) and (tmp_path / "out" / "comparison.html").exists()
