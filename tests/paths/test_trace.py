"""Paths of the control layers: whole walls, one fault at a time, and the demo projects."""

from __future__ import annotations

import random
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.intake.project import load_project
from specgen.model.plain import plain as as_data
from specgen.model.project import Project
from specgen.paths.shapes import LayerPath, path_lines
from specgen.paths.trace import all_paths, breaks, control_paths, lifted
from tests.paths.walls import DEMO, PRACTICE, Wall, joint, load_text, part, plain, project, taped, without


def paths(found: Project) -> dict[str, LayerPath]:
    run = control_paths(found, found.parapets[0], PRACTICE)
    return {path.layer: path for path in run if path.place == "plain run"}


def test_plain_wall_carries_water_and_air() -> None:
    found = paths(project(plain()))
    assert found["water"].unbroken and found["air"].unbroken
    assert found["water"].chain == (
        "roof membrane (SBS-modified bitumen) > roof turn-up > [4 in lap] > top flashing > [4 in lap] > barrier"
        " > [3 in lap] > weep screed > wall below"
    )
    assert found["air"].chain.endswith("barrier > wall below")


def test_undeclared_passage_is_asked_for() -> None:
    found = paths(project(plain()))
    for layer in ("vapor", "heat"):
        (one,) = found[layer].breaks
        assert found[layer].steps == () and one.cause == "route" and one.standing == "not stated"
        assert f"`{layer}_path: over the top`" in one.least_changes[0]


def test_taped_wall_is_whole() -> None:
    found = paths(project(taped(), "TPO"))
    assert found["water"].unbroken and found["air"].unbroken, path_lines(found["water"])
    assert (
        "[4 in lap, tape butyl tape, 2 in on each side, membrane primer] > top flashing"
        in found["water"].chain
    )


def test_one_tape_removed_breaks_two_layers_and_says_where_and_how() -> None:
    wall = taped()
    del joint(wall, "roof turn-up")["tape"]
    found = project(wall, "TPO")
    broken = {layer for layer, path in paths(found).items() if path.steps and path.breaks}
    assert broken == {"water", "air"}
    (one,) = breaks(found, found.parapets[0], PRACTICE, "chemistry")  # told once, though it breaks two layers
    assert (one.first, one.second) == ("roof turn-up", "top flashing")
    assert one.mark == found.parapets[0].transitions[2].mark
    assert "name the tape of this parapet at the lap: `tape: bridging tape`" in one.least_changes


def test_demo_without_its_tape_breaks_where_the_tape_was() -> None:
    text = (DEMO / "project.yaml").read_text(encoding="utf-8")
    found = load_text(text.replace("        tape: bridging tape\n", ""))
    for layer in ("water", "air"):
        named = {(one.first, one.second, one.cause) for one in paths(found)[layer].breaks}
        assert ("roof turn-up", "top flashing", "chemistry") in named


def test_demo_has_no_certain_break() -> None:
    found = load_project(DEMO, PRACTICE)
    assert not [one for path in all_paths(found, PRACTICE) for one in path.standing("broken")]


def test_faulty_demo_breaks_at_bitumen_on_tpo_and_at_the_loose_barrier() -> None:
    found = load_project(DEMO.parent / "faulty-parapet", PRACTICE)
    certain = {
        (one.second, one.cause) for path in all_paths(found, PRACTICE) for one in path.standing("broken")
    }
    assert certain == {("top flashing", "chemistry"), ("wrb", "layer")}


def change(wall: Wall, where: str, values: dict[str, Any]) -> Wall:
    target = joint(wall, where.removeprefix("joint ")) if where.startswith("joint ") else part(wall, where)
    for key, value in values.items():
        if value is None:
            target.pop(key)
        else:
            target[key] = value
    return wall


FAULTS = [
    (
        "joint roof turn-up",
        {"lap": "2 in"},
        "lap",
        "broken",
        {"water", "air"},
        "lengthen the lap from 2 in to 4 in",
    ),
    (
        "joint roof turn-up",
        {"lap": None},
        "lap",
        "not stated",
        {"water", "air"},
        "state the lap: at least 4 in",
    ),
    (
        "joint roof turn-up",
        {"upper": "roof turn-up"},
        "order",
        "broken",
        {"water"},
        "lay top flashing over roof turn-up: roof turn-up first (roofer), then top flashing (air barrier installer)",
    ),
    ("joint weep screed", {"upper": None}, "order", "not stated", {"water"}, "`upper: barrier`"),
    ("joint weep screed", {"lap": "1 in"}, "lap", "broken", {"water"}, "from 1 in to 2 in"),
    ("joint roof turn-up", {"sealed": False}, "sealed", "broken", {"air"}, "`sealed: yes`"),
    ("barrier", {"kind": "building paper"}, "layer", "broken", {"air"}, "kind fluid-applied or self-adhered"),
    (
        "barrier",
        {"family": None},
        "chemistry",
        "not stated",
        {"water", "air"},
        "state it at barrier: `family:`",
    ),
    ("barrier", {"family": "EPDM"}, "chemistry", "broken", {"water", "air"}, "letters of both manufacturers"),
    (
        "barrier",
        {"family": "butyl"},
        "chemistry",
        "confirm",
        {"water", "air"},
        "a letter of either manufacturer",
    ),
]


@pytest.mark.parametrize(("where", "values", "cause", "standing", "layers", "closes"), FAULTS)
def test_each_condition_alone(
    where: str, values: dict[str, Any], cause: str, standing: str, layers: set[str], closes: str
) -> None:
    found = paths(project(change(plain(), where, values)))
    hit = {layer: path for layer, path in found.items() if any(one.cause == cause for one in path.breaks)}
    assert set(hit) - {"vapor", "heat"} == layers
    for path in hit.values():
        found_breaks = [one for one in path.breaks if one.cause == cause]
        assert {one.standing for one in found_breaks} == {standing}
        assert any(closes in text for one in found_breaks for text in one.least_changes), found_breaks


TAPE_FAULTS = [
    ("bridging tape", {"each_side": "1 in"}, "tape", "broken", "widen the tape to 2 in on each side"),
    ("bridging tape", {"each_side": None}, "tape", "not stated", "`each_side:`, at least 2 in"),
    ("bridging tape", {"compatible_with": ["TPO"]}, "tape", "confirm", "butyl with acrylic adhesive"),
    ("joint roof turn-up", {"tape": "barrier"}, "tape", "broken", "`tape: bridging tape`"),
    ("joint roof turn-up", {"primer_kind": None}, "primer", "not stated", "`primer_kind: membrane primer`"),
    ("joint roof turn-up", {"primer_kind": "none"}, "primer", "broken", "`primer_kind: membrane primer`"),
    ("joint roof turn-up", {"primer_kind": "silicone primer"}, "primer", "broken", "membrane primer"),
]


@pytest.mark.parametrize(("where", "values", "cause", "standing", "closes"), TAPE_FAULTS)
def test_chain_of_tape_primer_substrate(
    where: str, values: dict[str, Any], cause: str, standing: str, closes: str
) -> None:
    found = paths(project(change(taped(), where, values), "TPO"))
    for layer in ("water", "air"):
        (one,) = found[layer].breaks
        assert (one.cause, one.standing) == (cause, standing)
        assert any(closes in text for text in one.least_changes), one.least_changes


def test_tape_the_table_forbids_is_broken_whatever_its_maker_says() -> None:
    wall = change(taped(), "roof turn-up", {"kind": "SBS-modified bitumen"})
    part(wall, "bridging tape").update(
        kind="uncured EPDM tape", compatible_with=["SBS bitumen", "acrylic adhesive"]
    )
    (one,) = paths(project(wall))["water"].breaks
    assert (one.cause, one.standing) == ("tape", "broken") and "oil uptake" in one.condition


def test_lap_equal_to_the_limit_passes() -> None:
    wall = change(plain(), "joint roof turn-up", {"lap": "101.6 mm"})
    assert paths(project(wall))["water"].unbroken


def test_missing_top_flashing_breaks_once_for_each_layer() -> None:
    found = paths(project(without(plain(), "top flashing")))
    for layer in ("water", "air"):
        (one,) = found[layer].breaks
        assert (one.cause, one.first, one.second) == ("missing", "roof turn-up", "barrier")
        assert "top flashing (self-adhered butyl)" in one.least_changes[0]


def test_roof_membrane_may_run_over_the_top_itself() -> None:
    wall = without(plain(), "top flashing")
    wall["transitions"].append(
        {"between": ["roof turn-up", "barrier"], "lap": "4 in", "upper": "roof turn-up"}
    )
    assert paths(project(wall))["water"].unbroken


def test_unstated_joint_names_the_lap_it_needs() -> None:
    wall = plain()
    wall["transitions"] = wall["transitions"][1:]
    (one,) = paths(project(wall))["water"].breaks
    assert (one.cause, one.standing) == ("joint", "not stated")
    assert "a lap of at least 2 in, `upper: barrier`" in one.least_changes[0]


def test_missing_outlet_is_asked_for_and_air_does_not_mind() -> None:
    found = paths(project(without(plain(), "weep screed")))
    (one,) = found["water"].breaks
    assert (one.cause, one.standing) == ("missing", "not stated") and found["air"].unbroken


def test_roof_of_another_family_than_its_turn_up() -> None:
    (one,) = paths(project(plain(), "TPO"))["air"].breaks
    assert (one.first, one.second, one.cause, one.standing) == (
        "roof membrane", "roof turn-up", "chemistry", "broken",
    )  # fmt: skip


def test_roof_membrane_not_declared() -> None:
    (one,) = paths(project(plain(), None))["water"].breaks
    assert (one.cause, one.standing) == ("chemistry", "not stated") and "roof membrane" in one.condition


def test_all_breaks_are_told_not_the_first_alone() -> None:
    wall = change(plain(), "joint roof turn-up", {"lap": "1 in", "upper": "roof turn-up"})
    change(wall, "joint weep screed", {"lap": "1 in"})
    assert sorted(one.cause for one in paths(project(wall))["water"].breaks) == ["lap", "lap", "order"]


def test_vapor_open_barrier_is_no_vapor_layer() -> None:
    wall = plain() | {"vapor_path": "over the top"}
    (one,) = paths(project(wall))["vapor"].breaks
    assert (one.cause, one.standing) == ("layer", "not stated") and "vapor_permeance" in one.least_changes[0]
    part(wall, "barrier")["vapor_permeance"] = "0.5 perm"
    assert paths(project(wall))["vapor"].unbroken
    part(wall, "barrier")["vapor_permeance"] = "14 perm"
    (one,) = paths(project(wall))["vapor"].breaks
    assert one.cause == "layer" and "over 10 perm" in one.condition


def test_air_across_at_roof_level() -> None:
    wall = plain() | {"air_path": "across at roof level"}
    (one,) = paths(project(wall))["air"].breaks
    assert one.cause == "missing" and "base seal" in one.condition
    seal = {"role": "base seal", "kind": "self-adhered sheet", "family": "SBS bitumen"}
    wall["build_up"].append(seal)
    for other in ("roof turn-up", "barrier"):
        wall["transitions"].append({"between": [other, "base seal"], "lap": "3 in", "upper": other})
    assert paths(project(wall))["air"].unbroken


def test_heat_over_the_top_needs_insulation_on_three_sides() -> None:
    wall = plain() | {"heat_path": "over the top"}
    assert [one.cause for one in paths(project(wall))["heat"].breaks] == ["missing"] * 3
    wall["build_up"].insert(5, {"role": "insulation", "kind": "mineral wool", "id": "outer insulation"})
    wall["build_up"].insert(9, {"role": "insulation", "kind": "mineral wool", "id": "inner insulation"})
    wall["top"].insert(1, {"role": "top insulation", "kind": "mineral wool"})
    one_sided = [one for one in wall["build_up"] if one.get("id") != "inner insulation"]
    wall["transitions"].append({"between": ["outer insulation", "top insulation"]})
    assert "missing" in {one.cause for one in paths(project(wall | {"build_up": one_sided}))["heat"].breaks}
    wall["transitions"].append({"between": ["inner insulation", "top insulation"]})
    assert paths(project(wall))["heat"].unbroken


def test_heat_across_needs_a_filled_cavity() -> None:
    wall = plain() | {"heat_path": "across at roof level"}
    (one,) = paths(project(wall))["heat"].breaks
    assert one.cause == "layer" and "fill the cavity" in one.least_changes[0]
    part(wall, "framing")["cavity"] = "mineral wool"
    assert paths(project(wall))["heat"].unbroken


def letter(makes: str, **more: Any) -> Wall:
    return {
        "one": "SBS bitumen",
        "other": "TPO",
        "makes": makes,
        "date": "2026-11-02",
        "allows": True,
        **more,
    }


def test_letters_of_both_makers_lift_a_no() -> None:
    wall = change(plain(), "roof turn-up", {"kind": "TPO"})
    assert paths(project(wall, "TPO", [letter("TPO")]))["water"].standing("broken")
    both = [letter("TPO"), letter("SBS bitumen")]
    found = project(wall, "TPO", both)
    path = paths(found)["water"]
    assert path.unbroken and as_data(path)["lifted"] == list(path.lifted)
    (lifting,) = lifted(found, found.parapets[0], PRACTICE)  # lifted, and told: it never vanishes
    assert "lifted by letters of both manufacturers" in lifting and lifting.count("2026-11-02") == 2
    assert "oil migration" in lifting and f"  by letter: {lifting}" in path_lines(path)


def test_nothing_is_lifted_without_letters_and_a_tape_s_own_is_named() -> None:
    found = project(plain())
    assert lifted(found, found.parapets[0], PRACTICE) == ()
    found = project(taped(), "TPO")
    words = lifted(found, found.parapets[0], PRACTICE)
    assert len(words) == 2 and all("stated with the component" in one for one in words)


def test_a_letter_on_components_holds_for_them_alone() -> None:
    wall = change(plain(), "barrier", {"family": "butyl"})
    named = {"one": "barrier", "other": "top flashing"}
    assert paths(project(wall, letters=[letter("barrier", **named)]))["air"].unbroken
    named["other"] = "roof turn-up"
    assert paths(project(wall, letters=[letter("barrier", **named)]))["air"].standing("confirm")


def test_text_and_json_tell_the_same_breaks() -> None:
    path = paths(project(change(plain(), "joint roof turn-up", {"lap": "2 in"})))["water"]
    assert "[2 in lap; fault: lap] > top flashing" in path.chain
    lines = "\n".join(path_lines(path))
    assert "water at P-1, plain run: 1 broken" in lines and "to close it: lengthen the lap" in lines
    (one,) = as_data(path)["breaks"]
    assert (
        one["cause"] == "lap"
        and one["source"]["status"] == "P"
        and one["mark"]["line"] == path.breaks[0].mark.line
    )


def broken_conditions(found: Project) -> set[tuple[str, ...]]:
    """Breaks without their marks, which move with the order of the file."""
    return {
        (
            path.layer,
            path.place,
            one.first,
            one.second,
            one.condition,
            one.cause,
            one.standing,
            *one.least_changes,
        )
        for path in control_paths(found, found.parapets[0], PRACTICE)
        for one in path.breaks
    }


@given(st.integers(0, 10_000), st.sampled_from(FAULTS), st.sampled_from(FAULTS))
def test_order_of_components_in_the_file_changes_no_break(seed: int, one: Any, other: Any) -> None:
    wall = plain() | {"vapor_path": "over the top", "corners": [{"name": "C-1", "turn": "inside"}]}
    for where, values, *_ in (one, other):
        values = {key: value for key, value in values.items() if value is not None}
        change(wall, where, values)
    before = broken_conditions(project(wall))
    shuffler = random.Random(seed)
    for key in ("build_up", "top", "transitions"):
        shuffler.shuffle(wall[key])
    assert broken_conditions(project(wall)) == before
