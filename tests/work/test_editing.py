"""Changes of a project file by names: what a person would have written by hand, and nothing else."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from specgen.files.marks import InputError, refuse
from specgen.files.yaml_reader import read_yaml_text
from specgen.intake.project import ProjectReader
from specgen.model.project import Project
from specgen.practice.load import load_practice
from specgen.work.editing import (
    Address,
    Edited,
    add_layer,
    add_transition,
    change_kind,
    move_layer,
    remove_layer,
    remove_transition,
    set_because,
    set_meant,
    set_way,
    state_none,
    stated_at,
)
from tests.chain.runs import REPO

PRACTICE = load_practice()
SCHOOL = (REPO / "projects/cold-continental-school/project.yaml").read_text("utf-8")
FAULTY = (REPO / "projects/faulty-parapet/project.yaml").read_text("utf-8")


def read(text: str) -> Project:
    """A project read from its text.

    Raises:
        InputError: the text is no project file.
    """
    reader = ProjectReader(PRACTICE, read_yaml_text(text, "project.yaml", want=dict), "project.yaml")
    project = reader.read()
    refuse(reader.problems)
    return project


def edit(make: Callable[..., Edited], text: str, *args: Any, **more: Any) -> Edited:
    """Make a change, and hold that what comes out is a project file."""
    one = make(text, read(text), PRACTICE, *args, **more)
    read(one.text)
    return one


def by_hand(text: str, *changes: tuple[str, str]) -> str:
    """The same text with words replaced, each of which stands in it once."""
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text


COPING = Address("component", "P-1", "coping", "slope")


def test_a_value_of_the_type_of_a_parapet() -> None:
    one = edit(set_way, SCHOOL, Address("component", "P-1", "barrier", "vapor_permeance"), "stated", "7 perm")
    assert one.text == by_hand(SCHOOL, ("6 perm", "7 perm"))
    assert one.what == "barrier of insulated parapet, vapor permeance: 6 perm -> 7 perm"


def test_the_four_ways_and_back() -> None:
    address = Address("parapet", "P-1", key="snow_fetch")
    gone = edit(set_way, SCHOOL, address, "specified", scope="type")
    assert gone.text == by_hand(
        SCHOOL, ("    weight: 24 psf\n    snow_fetch: 90 ft\n", "    weight: 24 psf\n")
    )
    unknown = edit(set_way, gone.text, address, "unknown", scope="type")
    assert "snow_fetch: unknown" in unknown.text
    apart = edit(
        set_way, unknown.text, address, "inapplicable", "the roof is swept clear by wind", scope="type"
    )
    assert "snow_fetch: unknown" not in apart.text
    where = stated_at(apart.text, read(apart.text), PRACTICE, address)
    assert (where.way, where.words, where.scope) == (
        "inapplicable",
        "the roof is swept clear by wind",
        "type",
    )
    assert where.parapets == ("P-1", "P-2")
    assert apart.what.endswith(": unknown -> does not apply, the roof is swept clear by wind")
    back = edit(set_way, apart.text, address, "stated", "90 ft", scope="type")
    assert "not_applicable" not in back.text
    assert read(back.text).parapets[0].quantity("snow_fetch") == read(SCHOOL).parapets[0].quantity(
        "snow_fetch"
    )


def test_a_value_of_one_parapet_of_a_type_lies_over_it() -> None:
    own = edit(set_way, SCHOOL, COPING, "stated", "3/4 in/ft", scope="own")
    assert own.text == by_hand(
        SCHOOL, ("    orientation: south\n    length: 110 ft\n", "    orientation: south\n    length: 110 ft\n"
                 "    changes: {coping: {slope: 3/4 in/ft}}\n"))  # fmt: skip
    here = stated_at(own.text, read(own.text), PRACTICE, COPING)
    assert (here.scope, here.words, here.parapets) == ("own", "3/4 in/ft", ("P-1",))
    assert own.what == "coping of P-1, slope of the top: 1/2 in/ft -> 3/4 in/ft"
    typed = edit(set_way, own.text, COPING, "stated", "1 in/ft", scope="type")
    assert "changes" not in typed.text, "what lay over the type would hide its new value"
    with pytest.raises(InputError, match="says something of `slope`"):
        set_way(own.text, read(own.text), PRACTICE, COPING, "specified", scope="own")


@pytest.mark.parametrize(
    ("address", "way", "words", "wrong"),
    [
        (COPING, "stated", "steep", "slope"),
        (COPING, "stated", "", "slope"),
        (Address("site", key="exposure"), "stated", "E", "is not a known"),
        (Address("project", key="name"), "unknown", "", "applies to every project"),
        (Address("quality", key="review_time"), "unknown", "", "cannot be left so"),
        (Address("building", key="height"), "inapplicable", "tbd", "a reason is wanted"),
        (Address("building", key="height"), "inapplicable", "3 ft", "a reason is wanted"),
        (Address("building", key="hight"), "stated", "3 ft", "no `hight`"),
        (Address("component", "P-1", "copping", "slope"), "stated", "3 ft", "no component"),
        (Address("parapet", "P-9", key="height"), "stated", "3 ft", "no parapet"),
        (Address("corner", "P-1", "C-9", "turn"), "stated", "inside", "no corner"),
        (Address("project", key="number"), "stated", 'a: "b"} # c', ""),
    ],
)
def test_what_cannot_stand_there_is_told_with_a_fix(
    address: Address, way: str, words: str, wrong: str
) -> None:
    if not wrong:
        one = edit(set_way, SCHOOL, address, way, words)
        assert read(one.text).info.word("number") == words
        return
    with pytest.raises(InputError, match=wrong) as caught:
        set_way(SCHOOL, read(SCHOOL), PRACTICE, address, way, words)
    assert all(problem.fix for problem in caught.value.problems)


def test_places_laps_and_standing_walls_are_named() -> None:
    corner = edit(set_way, SCHOOL, Address("corner", "P-1", "C-2", "position"), "stated", "23 m")
    assert corner.text == by_hand(SCHOOL, ("position: 74 ft", "position: 23 m"))
    lap = Address("transition", "P-1", "barrier / top flashing", "lap")
    assert '{between: [top flashing, barrier], upper: top flashing, lap: 3 in}' in edit(
        set_way, SCHOOL, lap, "stated", "3 in").text  # fmt: skip
    standing = (REPO / "projects/existing-repair/project.yaml").read_text("utf-8")
    repair = edit(set_way, standing, Address("repair", "C-1", "#2", "note"), "stated", "by bays")
    assert "one stud bay beyond the last soft board, note: by bays}" in repair.text


def test_reasons_of_values() -> None:
    address = Address("component", "P-1", "barrier", "vapor_permeance")
    meant = edit(set_meant, SCHOOL, address, "tested as built")
    assert read(meant.text).parapets[0].by_id("barrier").meant == {"vapor_permeance": "tested as built"}  # type: ignore[union-attr]
    assert edit(set_way, meant.text, address, "stated", "8 perm").text.count("tested as built") == 1
    assert "meant" not in edit(set_way, meant.text, address, "specified").text
    assert "tested as built" not in edit(set_meant, meant.text, address, "").text
    why = edit(set_because, SCHOOL, address, "the wall dries outward through it")
    assert read(why.text).parapets[0].by_id("barrier").because  # type: ignore[union-attr]


def test_another_kind_leaves_out_what_belongs_to_the_former() -> None:
    one = edit(change_kind, SCHOOL, "P-1", "barrier", "self-adhered", "butyl")
    assert "- {role: barrier, kind: self-adhered, family: butyl}" in one.text
    assert one.left_out == ("`family` acrylic fluid, `vapor_permeance` 6 perm, of the fluid-applied")
    assert one.what == "barrier of insulated parapet, kind: fluid-applied -> self-adhered, butyl"
    own = edit(change_kind, SCHOOL, "P-2", "barrier", "self-adhered", "butyl", scope="own")
    parapets = {parapet.name: parapet for parapet in read(own.text).parapets}
    assert [parapets[name].by_id("barrier").kind for name in ("P-1", "P-2")] == [
        "fluid-applied",
        "self-adhered",
    ]  # type: ignore[union-attr]
    assert not parapets["P-2"].by_id("barrier").states("vapor_permeance")  # type: ignore[union-attr]
    cleat = edit(change_kind, SCHOOL, "P-2", "wall insulation", "expanded polystyrene", scope="own")
    assert "changes: {wall insulation: {kind: expanded polystyrene}}" in cleat.text
    assert (
        "changes"
        not in edit(
            change_kind, cleat.text, "P-2", "wall insulation", "extruded polystyrene", scope="type"
        ).text
    )


def test_layers_are_put_in_taken_out_and_moved() -> None:
    one = edit(add_layer, FAULTY, "P-1", "drainage layer", "dimpled sheet", {"floor_line": "runs past"})
    assert one.text == by_hand(
        FAULTY,
        ("      - {role: drainage layer, kind: none}\n",
         "      - {role: drainage layer, kind: dimpled sheet, floor_line: runs past}\n"))  # fmt: skip
    assert one.what == "drainage layer of P-1: added in front of weep screed, dimpled sheet"
    tape = edit(add_layer, FAULTY, "P-1", "bridging tape", "butyl tape")
    assert tape.what.endswith("added in front of cleat, butyl tape")
    joint = edit(add_transition, tape.text, "P-1", "wrb", "sheathing", {"lap": "2 in"})
    assert "      - {between: [wrb, sheathing], lap: 2 in}\n" in joint.text
    assert edit(remove_transition, joint.text, "P-1", "sheathing / wrb").text == tape.text
    gone = edit(remove_layer, FAULTY, "P-1", "wrb")
    assert gone.left_out == "the lap wrb / weep screed, the lap top flashing / wrb"
    assert "wrb" not in gone.text
    moved = edit(move_layer, SCHOOL, "P-1", "drainage layer", -1)
    assert moved.what == "drainage layer of insulated parapet: moved in front of lath"
    assert edit(move_layer, moved.text, "P-1", "drainage layer", 1).text == SCHOOL
    with pytest.raises(InputError, match="the lap top flashing / roof turn-up names `bridging tape`"):
        remove_layer(SCHOOL, read(SCHOOL), PRACTICE, "P-1", "bridging tape")
    own = edit(remove_layer, SCHOOL, "P-2", "drainage layer", scope="own")
    assert [one.undescribed("drainage layer") for one in read(own.text).parapets] == [False, True, False]


def test_where_a_layer_goes_and_what_stands_against_it() -> None:
    front = edit(add_layer, SCHOOL, "P-1", "sheathing", "plywood", before="barrier")
    assert front.what == "sheathing 2 of insulated parapet: added in front of barrier, plywood"
    assert edit(add_layer, SCHOOL, "P-1", "sheathing", "plywood", before="").what.endswith(
        "at the end, plywood"
    )
    own = edit(add_layer, SCHOOL, "P-2", "bridging tape", "butyl tape", scope="own")
    assert [len(one.all_of("bridging tape")) for one in read(own.text).parapets] == [1, 2, 1]
    project = read(SCHOOL)
    refusals: tuple[tuple[str, Callable[[], Edited]], ...] = (
        ("is no layer", lambda: add_layer(SCHOOL, project, PRACTICE, "P-1", "chimney", "x")),
        ("known kind of coping", lambda: add_layer(SCHOOL, project, PRACTICE, "P-1", "coping", "x")),
        ("known kind of coping", lambda: change_kind(SCHOOL, project, PRACTICE, "P-1", "coping", "x")),
        (
            "is used already",
            lambda: add_layer(SCHOOL, project, PRACTICE, "P-1", "cleat", "continuous", name="lath"),
        ),
        (
            "no `hem` in cleat",
            lambda: add_layer(SCHOOL, project, PRACTICE, "P-1", "cleat", "continuous", {"hem": "1"}),
        ),
        (
            "in this list",
            lambda: add_layer(SCHOOL, project, PRACTICE, "P-1", "cleat", "continuous", before="lath"),
        ),
        ("no such place", lambda: move_layer(SCHOOL, project, PRACTICE, "P-1", "plaster", -1)),
        (
            "described already",
            lambda: add_transition(SCHOOL, project, PRACTICE, "P-1", "weep screed", "barrier"),
        ),
        (
            "no `glue` in a lap",
            lambda: add_transition(SCHOOL, project, PRACTICE, "P-1", "lath", "barrier", {"glue": "x"}),
        ),
        ("not of a type", lambda: remove_layer(FAULTY, read(FAULTY), PRACTICE, "P-1", "lath", scope="type")),
        (
            "not of a type",
            lambda: change_kind(FAULTY, read(FAULTY), PRACTICE, "P-1", "wrb", "self-adhered", scope="type"),
        ),
    )
    for wrong, make in refusals:
        with pytest.raises(InputError, match=wrong) as caught:
            make()
        assert all(problem.fix for problem in caught.value.problems), wrong


def test_a_lap_of_the_type_can_differ_at_one_parapet() -> None:
    lap = Address("transition", "P-2", "top flashing / barrier", "lap")
    one = edit(set_way, SCHOOL, lap, "stated", "4 in", scope="own")
    laps = [[joint.values.get("lap") for joint in parapet.transitions] for parapet in read(one.text).parapets]
    assert [sum(each is not None for each in every) for every in laps] == [0, 1, 0]
    assert one.what == "transition top flashing / barrier of P-2, lap: left to the sections -> 4 in"
    assert one.text.count("# Butyl holds to rubber only over a primer") == 2, (
        "the comment of the list goes along"
    )


def test_a_role_is_stated_to_be_none() -> None:
    gone = edit(remove_layer, SCHOOL, "P-1", "drainage layer").text
    none = edit(state_none, gone, "P-1", "drainage layer", "the screed drains by itself")
    assert (
        "      - {role: drainage layer, kind: none, because: {kind: the screed drains by itself}}\n"
        in none.text
    )
    assert [part.role for part in read(none.text).parapets[0].absent] == ["drainage layer"]
    back = edit(add_layer, none.text, "P-1", "drainage layer", "mesh")
    assert "kind: none" not in back.text
    with pytest.raises(InputError, match="the coping is described"):
        state_none(SCHOOL, read(SCHOOL), PRACTICE, "P-1", "coping")


def test_a_file_that_describes_no_parapet_yet(tmp_path: Path) -> None:
    text = "project:\n  name: Mill\nsite:\n"
    height = edit(set_way, text, Address("parapet", "P-1", key="height"), "stated", "30 in")
    assert height.text == "project:\n  name: Mill\nsite:\nparapets:\n  - name: P-1\n    height: 30 in\n"
    place = edit(set_way, text, Address("site", key="climate_zone"), "stated", "7")
    assert place.text == 'project:\n  name: Mill\nsite:\n  climate_zone: "7"\n'
    layer = edit(add_layer, height.text, "P-1", "framing", "unknown")
    assert layer.text.endswith("    build_up:\n      - {role: framing, kind: unknown}\n")
