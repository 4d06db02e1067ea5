"""Types, overrides, changes and defaults: which value counts, and where it is said to stand."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from specgen.model.project import Project

Load = Callable[[str | bytes], Project]

TYPED = """\
project: {name: Mill Yard, number: "7", issue_date: 2026-11-02}
site: {place: a town, elevation: -20 ft}
building: {height: 30 ft}
types:
  street:
    height: 36 in
    thickness: 12 in
    build_up:
      - role: barrier
        kind: fluid-applied
        exposure_limit: 90 days
    top:
      - role: coping
        kind: formed metal
        metal: galvanized steel
        thickness: 24 ga
    transitions:
      - between: [coping, barrier]
        lap: 4 in
parapets:
  - name: P-1
    type: street
  - name: P-2
    type: street
    height: 42 in
    changes:
      coping: {metal: copper, thickness: 20 oz/ft2}
  - name: 3
    type: street
    top:
      - role: coping
        kind: stone
    transitions: []
waivers:
  - {rule: A1, by: the architect, date: 2026-10-01, reason: shown by calculation}
"""


def place(parapet: object, name: str) -> int:
    return parapet.at(name).line  # type: ignore[attr-defined, no-any-return]


def test_a_parapet_takes_values_and_marks_of_its_type(load: Load) -> None:
    plain, own, _ = load(TYPED).parapets
    assert plain.quantity("height").text == "36 in" and place(plain, "height") == 6
    assert own.quantity("height").text == "42 in" and place(own, "height") == 25
    assert own.quantity("thickness").text == "12 in" and place(own, "thickness") == 7
    assert (plain.mark.line, own.mark.line) == (21, 23)


def test_components_that_nobody_changes_are_those_of_the_type(load: Load) -> None:
    plain, changed, _ = load(TYPED).parapets
    assert changed.part("barrier") == plain.part("barrier")
    assert changed.transitions == plain.transitions
    assert changed.part("coping") != plain.part("coping")


def test_a_change_carries_its_own_marks_and_keeps_the_rest(load: Load) -> None:
    coping = load(TYPED).parapets[1].part("coping")
    assert coping is not None
    assert coping.word("metal") == "copper"
    assert coping.si("thickness") == pytest.approx(20 * 0.00135 * 0.0254)
    assert place(coping, "thickness") == place(coping, "metal") == 27
    assert coping.kind == "formed metal" and place(coping, "kind") == 14
    assert coping.mark.line == 13


def test_a_gauge_becomes_the_thickness_of_its_metal(load: Load) -> None:
    coping = load(TYPED).parapets[0].part("coping")
    assert coping is not None
    assert coping.quantity("thickness").text == "0.0276 in" and place(coping, "thickness") == 16


def test_an_own_list_replaces_the_list_of_the_type(load: Load) -> None:
    third = load(TYPED).parapets[2]
    assert third.name == "3"
    assert [part.kind for part in third.components()] == ["fluid-applied", "stone"]
    assert third.transitions == ()


def test_defaults_are_filled_in_and_do_not_override(load: Load) -> None:
    project = load(TYPED)
    assert project.info.word("units") == "inch-pound" and project.info.word("state") == "draft"
    assert project.info.at("units") == project.info.mark
    assert project.parapets[0].word("outer_face") == "stucco"
    assert project.waivers[0].parapet == "all"
    own = load(
        TYPED.replace("issue_date", "units: SI, issue_date").replace("42 in", "42 in\n    outer_face: stone")
    )
    assert own.info.word("units") == "SI"
    assert own.parapets[1].word("outer_face") == "stone"


def test_only_a_height_above_the_sea_may_lie_below_zero(load: Load) -> None:
    assert load(TYPED).site.quantity("elevation").number == -20


def test_a_component_may_be_changed_to_another_kind(load: Load) -> None:
    text = TYPED.replace(
        "      coping: {metal: copper, thickness: 20 oz/ft2}", "      barrier: {kind: self-adhered}"
    )
    barrier = load(text).parapets[1].part("barrier")
    assert barrier is not None
    assert barrier.kind == "self-adhered" and place(barrier, "kind") == 27
    assert barrier.quantity("exposure_limit").text == "90 days" and place(barrier, "exposure_limit") == 11


def test_ids_default_to_the_role(load: Load, sound: str) -> None:
    parapet = load(sound).parapets[0]
    assert parapet.by_id("wrb") is parapet.part("barrier")
    assert parapet.by_id("coping") is parapet.part("coping")
    joint = parapet.transitions[1]
    assert joint.joins("roof turn-up", "top flashing") and joint.word("tape") == "bridging tape"


def test_records_refuse_to_be_read_as_another_type(load: Load, sound: str) -> None:
    parapet = load(sound).parapets[0]
    for read, name in ((parapet.word, "height"), (parapet.flag, "height"), (parapet.words, "height")):
        with pytest.raises(TypeError, match=name):
            read(name)
    with pytest.raises(TypeError, match="outer_face"):
        parapet.quantity("outer_face")
    assert parapet.quantity("thickness") is None and parapet.words("thickness") == ()
