"""Which tape is offered, and which primer is asked for under what."""

from __future__ import annotations

from specgen.paths.graph import wall_of
from specgen.paths.shapes import Break
from specgen.paths.tapes import TapeChoice, tapes_for
from specgen.paths.trace import breaks
from tests.paths.walls import PRACTICE, Wall, joint, part, plain, project, taped


def found(wall: Wall, *causes: str) -> tuple[Break, ...]:
    one = project(wall, str(part(wall, "roof turn-up")["kind"]))
    return breaks(one, one.parapets[0], PRACTICE, *causes)  # type: ignore[arg-type]


def offered(wall: Wall, letters: list[Wall] | None = None) -> tuple[TapeChoice, ...]:
    one = project(wall, letters=letters)
    graph = wall_of(one, one.parapets[0], PRACTICE)
    return tapes_for(graph, graph.nodes["top flashing"], graph.nodes["barrier"])


def butyl_on_acrylic() -> Wall:
    wall = plain()
    part(wall, "top flashing")["kind"] = "self-adhered butyl"
    part(wall, "barrier")["family"] = "acrylic adhesive"
    return wall


def test_a_tape_of_one_side_that_only_moves_the_question_is_not_offered() -> None:
    kinds = [tape.kind for tape in offered(butyl_on_acrylic())]
    assert "butyl tape" not in kinds and "acrylic tape" not in kinds


def test_a_letter_makes_the_tape_of_one_side_the_answer() -> None:
    letter = {
        "one": "butyl",
        "other": "acrylic adhesive",
        "makes": "butyl",
        "date": "2026-11-02",
        "allows": True,
    }
    assert [tape.text for tape in offered(butyl_on_acrylic(), [letter])] == [
        "bridge the lap with butyl tape",
        "bridge the lap with acrylic tape",
    ]


def test_bitumen_excludes_a_rubber_tape() -> None:
    assert "uncured EPDM tape" not in [tape.kind for tape in offered(plain())]


def test_where_one_letter_is_enough_no_tape_that_needs_more_is_offered() -> None:
    wall = butyl_on_acrylic()
    part(wall, "roof turn-up")["kind"] = "TPO"
    (at_barrier,) = (one for one in found(wall, "chemistry") if one.second == "barrier")
    assert at_barrier.least_changes == (
        "record a letter of either manufacturer that allows butyl with acrylic adhesive",
    )


def test_two_tapes_of_the_parapet_are_offered_in_one_order() -> None:
    wall = taped()
    del joint(wall, "roof turn-up")["tape"]
    second = {**part(wall, "bridging tape"), "id": "another tape"}
    breaks_there = []
    for place in (2, 3):
        wall["top"].insert(place, second)
        breaks_there.append([one.least_changes for one in found(wall, "chemistry")])
        wall["top"].remove(second)
    assert breaks_there[0] == breaks_there[1]
    assert breaks_there[0][0][-2:] == tuple(
        f"name the tape of this parapet at the lap: `tape: {name}`"
        for name in ("another tape", "bridging tape")
    )


def test_the_primer_is_asked_for_under_the_upper_sheet() -> None:
    wall = plain()
    part(wall, "roof turn-up")["kind"] = "EPDM"
    part(wall, "top flashing")["kind"] = "self-adhered butyl"
    (one,) = found(wall, "primer")
    assert "top flashing (butyl) on roof turn-up (EPDM)" in one.condition
    assert one.least_changes == ("prime with membrane primer: `primer_kind: membrane primer`",)
    joint(wall, "roof turn-up")["upper"] = "roof turn-up"
    assert found(wall, "primer") == ()


def test_solvent_of_a_primer_is_judged_against_both_sides() -> None:
    wall = plain()
    joint(wall, "roof turn-up")["primer_kind"] = "solvent-borne rubber primer"
    breaks_there = found(wall, "primer")
    assert {one.standing for one in breaks_there} == {"confirm"} and len(breaks_there) == 2
    assert all("`primer_kind: water-borne acrylic primer`" in one.least_changes[0] for one in breaks_there)
    joint(wall, "roof turn-up")["primer_kind"] = "water-borne acrylic primer"
    assert found(wall, "primer") == ()
