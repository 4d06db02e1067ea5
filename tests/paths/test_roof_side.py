"""A tall parapet plastered on both faces: the flashing laps the barrier of the roof side, that one the base flashing."""

from __future__ import annotations

from specgen.assessment import assess
from specgen.paths.sequence import sequence
from specgen.paths.trace import control_paths
from tests.paths.walls import PRACTICE, Wall, part, plain, project

LAPS = [
    {"between": ["top flashing", "roof-side barrier"], "lap": "4 in", "upper": "top flashing"},
    {"between": ["roof-side barrier", "roof turn-up"], "lap": "4 in", "upper": "roof-side barrier"},
]


def screen() -> Wall:
    wall = plain()
    wall["inner_face"] = "stucco"
    wall["build_up"] += [
        {"role": "barrier", "id": "roof-side barrier", "kind": "self-adhered", "family": "SBS bitumen"},
        {"role": "drainage layer", "id": "roof-side gap", "kind": "mesh"},
        {"role": "plaster", "id": "roof-side plaster", "kind": "portland cement plaster"},
    ]
    wall["transitions"] = [*wall["transitions"][:2], *LAPS]
    return wall


def water(wall: Wall) -> tuple[list[str], list[str]]:
    """The parts the water passes, and the conditions of its breaks."""
    made = project(wall)
    path = control_paths(made, made.parapets[0], PRACTICE)[0]
    return [step.id for step in path.steps], [one.condition for one in path.breaks]


def findings(wall: Wall, code: str) -> list[tuple[str, str]]:
    found = assess(project(wall), PRACTICE).findings
    return [(one.outcome.value, one.message) for one in found if one.code == code]


def test_water_passes_the_barrier_of_the_roof_side() -> None:
    steps, breaks = water(screen())
    assert steps[1:6] == ["roof turn-up", "roof-side barrier", "top flashing", "barrier", "weep screed"]
    assert breaks == []


def test_a_reversed_or_short_lap_of_the_roof_side_breaks_it() -> None:
    for change, words in (
        ({"upper": "roof turn-up"}, "against the water"),
        ({"lap": "2 in"}, "shorter than 4 in"),
    ):
        wall = screen()
        wall["transitions"][-1] = {**LAPS[1], **change}
        assert [words in one for one in water(wall)[1]] == [True]


def test_the_laps_are_held_where_they_are() -> None:
    assert [outcome for outcome, _ in findings(screen(), "LP01")] == ["pass", "pass", "pass"]
    short = screen()
    short["transitions"][-2] = {**LAPS[0], "lap": "1 in"}
    (failed,) = (text for outcome, text in findings(short, "LP01") if outcome == "fail")
    assert failed.startswith("lap of the top flashing over the roof-side barrier is 1 in")
    gone = screen()
    gone["transitions"] = [one for one in gone["transitions"] if one is not LAPS[0]]
    (open_,) = (text for outcome, text in findings(gone, "LP01") if outcome == "unknown")
    assert open_ == "the lap of the top flashing over the roof-side barrier is not described"


def test_a_flashing_that_does_not_reach_the_turn_up_does_not_touch_it() -> None:
    assert [outcome for outcome, _ in findings(screen(), "TF02")] == ["not applicable"]


def test_a_flashing_that_laps_the_turn_up_goes_the_usual_way() -> None:
    wall = screen()
    wall["transitions"] = plain()["transitions"]
    assert "roof-side barrier" not in water(wall)[0]


def test_a_tape_goes_where_its_lap_is() -> None:
    """Listed behind the flashing, it stands below the barrier that the flashing laps."""
    wall = screen()
    tape = {"role": "bridging tape", "kind": "butyl tape", "each_side": "2 in"}
    wall["top"].insert(2, tape)
    wall["transitions"][-1] = {**LAPS[1], "tape": "bridging tape"}
    found = sequence(project(wall).parapets[0], PRACTICE)
    order = [step.component for step in found.steps]
    assert found.cycle is None
    assert order.index("roof turn-up") < order.index("bridging tape") < order.index("roof-side barrier")
    assert order.index("roof-side barrier") < order.index("top flashing")


def test_the_plasterer_makes_a_plaster_covered_top() -> None:
    wall = plain()
    wall["top"] = [one for one in wall["top"] if one["role"] != "cleat"]
    part(wall, "coping").pop("metal")
    part(wall, "coping")["kind"] = "plaster-covered"
    steps = {step.component: step.trade for step in sequence(project(wall).parapets[0], PRACTICE).steps}
    assert steps["coping"] == "plasterer"
    metal = {step.component: step.trade for step in sequence(project(plain()).parapets[0], PRACTICE).steps}
    assert metal["coping"] == "sheet-metal worker"
