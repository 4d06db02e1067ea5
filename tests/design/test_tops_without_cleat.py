"""A top without a cleat asks for no cleat data; a plastered roof side ends the vapor section at its base flashing."""

from __future__ import annotations

from pathlib import Path

import pytest

from specgen.design import cleat_fasteners, vapor_drive
from tests.design.projects import FULL, calculation, full

COPING = next(line for line in FULL.read_text(encoding="utf-8").splitlines() if "role: coping" in line)


@pytest.mark.parametrize("kind", ["plaster-covered", "stone", "precast concrete"])
def test_no_cleat_holds_what_is_not_metal(kind: str, tmp_path: Path) -> None:
    found = full(cleat_fasteners, tmp_path, (COPING, f"      - {{role: coping, kind: {kind}}}"))
    assert found.missing == (f"not covered: no cleat holds a top that is {kind}",)


def test_plaster_above_a_low_turn_up_changes_nothing_in_the_section_of_the_turn_up(tmp_path: Path) -> None:
    turn_up = next(line for line in FULL.read_text("utf-8").splitlines() if "role: roof turn-up" in line)
    roof_side = "\n".join(
        [
            turn_up,
            "      - {id: roof-side gap, role: drainage layer, kind: mesh, depth: 3/8 in}",
            "      - {id: roof-side plaster, role: plaster, kind: portland cement plaster, thickness: 7/8 in}",
        ]
    )
    plain = calculation(vapor_drive, tmp_path, file=FULL)
    both = calculation(vapor_drive, tmp_path, (turn_up, roof_side), file=FULL)
    assert plain.done and both.done
    assert both.results == plain.results
