"""Parapets, types and places of a project file, put in, copied, renamed and taken out."""

from __future__ import annotations

import pytest

from specgen.files.marks import InputError
from specgen.model.project import Record
from specgen.work.editing import (
    Address,
    add_layer,
    add_parapet,
    add_place,
    as_the_type,
    make_type,
    remove_parapet,
    remove_place,
    rename_parapet,
    set_type,
    set_way,
)
from specgen.work.editing_decisions import with_decision
from tests.chain.runs import REPO
from tests.work.test_editing import FAULTY, PRACTICE, SCHOOL, by_hand, edit, read

STANDING = (REPO / "projects/existing-repair/project.yaml").read_text("utf-8")


def test_places_are_added_and_taken_out() -> None:
    corner = {"name": "C-3", "turn": "outside", "position": "110 ft"}
    one = edit(add_place, SCHOOL, "P-1", "corner", corner)
    assert "runs around}\n      - {name: C-3, turn: outside, position: 110 ft}\n    # Between" in one.text
    assert one.what == "corner C-3 of P-1: added"
    assert edit(remove_place, one.text, "P-1", "corner", "C-3").text == SCHOOL
    first = edit(add_place, SCHOOL, "P-2", "scupper", {"name": "S-1", "use": "primary"})
    assert "    scuppers:\n      - {name: S-1, use: primary}\n" in first.text
    seen = edit(
        add_place, STANDING, "C-1", "observation", {"name": "O-9", "what": "stain", "where": "roof side"}
    )
    assert read(seen.text).parapets[0].existing.observations[-1].word("name") == "O-9"  # type: ignore[union-attr]
    gone = edit(remove_place, STANDING, "C-1", "repair", "#5")
    assert gone.text == by_hand(STANDING, ("        - {what: open base, where: the whole length}\n", ""))
    assert gone.left_out == "`what` open base, `where` the whole length"
    for wrong, values in (
        ("`turn` of the corner is missing", {"name": "C-3"}),
        ("no `angle`", {**corner, "angle": "1"}),
    ):
        with pytest.raises(InputError, match=wrong):
            add_place(SCHOOL, read(SCHOOL), PRACTICE, "P-1", "corner", values)


def plain(record: Record) -> object:
    """What a parapet says, without its name and its marks."""
    return record.values


def test_parapets_are_copied_renamed_and_taken_out() -> None:
    copied = edit(add_parapet, SCHOOL, "P-1b", like="P-1")
    project = read(copied.text)
    assert [one.name for one in project.parapets] == ["P-1", "P-1b", "P-2", "P-3"]
    assert plain(project.parapets[0]) == plain(project.parapets[1])
    assert [one.values for one in project.parapets[1].joints] == [
        one.values for one in project.parapets[0].joints
    ]
    typed = edit(add_parapet, SCHOOL, "P-4", type_name="entrance parapet")
    assert typed.text.endswith(
        "    below_edge: [entrance, walk]\n  - name: P-4\n    type: entrance parapet\n"
    )
    assert edit(remove_parapet, typed.text, "P-4").text == SCHOOL
    renamed = edit(rename_parapet, SCHOOL, "P-2", "west, at the hall")
    assert renamed.text == by_hand(SCHOOL, ("- name: P-2\n", '- name: "west, at the hall"\n'))
    for make, args in ((add_parapet, ("P-1",)), (rename_parapet, ("P-1", "P-2")), (add_parapet, (" ",))):
        with pytest.raises(InputError):
            make(SCHOOL, read(SCHOOL), PRACTICE, *args)
    with pytest.raises(InputError, match="only parapet"):
        remove_parapet(FAULTY, read(FAULTY), PRACTICE, "P-1")


def test_a_type_is_made_of_a_parapet_and_says_the_same() -> None:
    one = edit(make_type, FAULTY, "P-1", "clinic parapet")
    before, after = read(FAULTY).parapets[0], read(one.text).parapets[0]
    assert before.values == after.values
    assert [part.values for part in before.components()] == [part.values for part in after.components()]
    assert one.text.startswith(FAULTY.partition("parapets:")[0])
    assert "  - name: P-1\n    orientation: south\n    type: clinic parapet\n" in one.text
    two = edit(add_parapet, one.text, "P-2", type_name="clinic parapet")
    assert read(two.text).parapets[1].quantity("height") == before.quantity("height")
    own = edit(set_way, two.text, Address("parapet", "P-2", key="height"), "stated", "30 in", scope="own")
    back = edit(as_the_type, own.text, Address("parapet", "P-2", key="height"))
    assert back.text == two.text
    assert back.what.endswith("30 in -> 36 in, as clinic parapet has it")
    with pytest.raises(InputError, match="of a type already"):
        make_type(one.text, read(one.text), PRACTICE, "P-1", "another")


def test_a_parapet_changes_its_type_or_leaves_it() -> None:
    alone = edit(set_type, SCHOOL, "P-2", "")
    before, after = read(SCHOOL).parapets[1], read(alone.text).parapets[1]
    assert before.values == after.values
    assert [part.values for part in before.components()] == [part.values for part in after.components()]
    assert [part.because for part in before.components()] == [part.because for part in after.components()]
    assert [joint.values for joint in before.transitions] == [joint.values for joint in after.transitions]
    assert alone.what == "parapet P-2, type: insulated parapet -> none"
    other = edit(set_type, SCHOOL, "P-2", "entrance parapet")
    west = "\n    orientation: west"
    assert other.text == by_hand(SCHOOL, (f"insulated parapet{west}", f"entrance parapet{west}"))
    with pytest.raises(InputError, match="no type `high`"):
        set_type(SCHOOL, read(SCHOOL), PRACTICE, "P-2", "high")


@pytest.mark.parametrize(
    "name", ['x"} # {', "a: b", "- a", "&x", "*x", "yes", "7", "{{ x }}", "<b>", "ü\u2028x", "a\nb"]
)
def test_hostile_names_stay_names(name: str) -> None:
    one = edit(add_parapet, SCHOOL, name, like="P-2")
    wanted = " ".join(name.split())
    assert [each.name for each in read(one.text).parapets] == ["P-1", "P-2", wanted, "P-3"]
    assert edit(remove_parapet, one.text, wanted).text == SCHOOL
    typed = edit(make_type, FAULTY, "P-1", name)
    assert read(typed.text).parapets[0].values == read(FAULTY).parapets[0].values
    layer = edit(add_layer, FAULTY, "P-1", "sheathing", "plywood", name=f"{name} board")
    assert read(layer.text).parapets[0].by_id(f"{wanted} board") is not None


@pytest.mark.parametrize("name", ["\x00", "a\u202eb", "\ud800", "a" * 6_000_000])
def test_names_that_no_file_can_hold_are_refused(name: str) -> None:
    for make in (add_parapet, lambda *args: rename_parapet(*args[:3], "P-1", args[3])):
        with pytest.raises(InputError):
            make(SCHOOL, read(SCHOOL), PRACTICE, name)


def test_comments_go_along_with_what_is_shared() -> None:
    text = by_hand(
        FAULTY, ("    height: 36 in\n", "    # by the roof access plan\n    height: 36 in  # as drawn\n")
    )
    one = edit(make_type, text, "P-1", "clinic parapet")
    assert one.text.count("# by the roof access plan") == one.text.count("# as drawn") == 1
    assert one.text.index("# by the roof access plan") > one.text.index("types:")


def test_a_waiver_follows_its_parapet() -> None:
    values = {
        "rule": "CP01",
        "parapet": "P-1",
        "by": "owner",
        "date": "2026-11-02",
        "reason": "as built, seen",
    }
    text = with_decision(FAULTY, PRACTICE, "waiver", values)
    later = edit(set_way, text, Address("waiver", place="#1", key="until"), "stated", "2027-01-04")
    assert str(read(later.text).waivers[0].values["until"]) == "2027-01-04"
    assert edit(rename_parapet, text, "P-1", "north").text.count("parapet: north") == 1
    two = edit(add_parapet, text, "P-2", like="P-1").text
    with pytest.raises(InputError, match="the waiver of CP01 names P-1"):
        remove_parapet(two, read(two), PRACTICE, "P-1")
