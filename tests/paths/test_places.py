"""Control layers at corners, ends, steps, joints, scuppers and penetrations."""

from __future__ import annotations

from typing import Any

import pytest

from specgen.paths.shapes import LayerPath
from specgen.paths.trace import control_paths
from tests.paths.walls import PRACTICE, Wall, plain, project

GOOD: dict[str, Wall] = {
    "corners": {
        "name": "C-1",
        "turn": "outside",
        "coping": "welded",
        "flashing": "preformed piece",
        "drainage": "runs around",
    },
    "ends": {
        "name": "E-1",
        "saddle_flashing": "welded",
        "end_dam": True,
        "counterflashing": "behind the wall barrier",
        "wall_family": "SBS bitumen",
        "wall_lap": "4 in",
    },
    "steps": {
        "name": "ST-1",
        "height": "18 in",
        "coping": "welded",
        "flashing": "preformed piece",
        "end_dam": True,
    },
    "joints": {
        "name": "J-1",
        "what": "expansion",
        "width": "2 in",
        "movement": "1 in",
        "every_layer": True,
        "coping": "sliding cover",
        "flashing": "looped",
        "barrier": "looped",
    },
    "scuppers": {
        "name": "S-1",
        "use": "overflow",
        "sleeve_family": "stainless steel",
        "flange_inside": True,
        "flange_outside": True,
        "stripped_inside": True,
        "stripped_outside": True,
    },
    "penetrations": {
        "name": "R-1",
        "what": "railing post",
        "through": "top flashing",
        "sealed_by": "boot",
        "seal_family": "SBS bitumen",
    },
}
PLACES = {
    "corners": "corner C-1 (outside)",
    "ends": "end E-1",
    "steps": "step ST-1",
    "joints": "joint J-1 (expansion)",
    "scuppers": "scupper S-1 (overflow)",
    "penetrations": "penetration R-1 (railing post)",
}


def at(key: str, more: Wall | None = None, wall: Wall | None = None, **values: Any) -> dict[str, LayerPath]:
    """The paths at one place, by layer; a value None is left out of the file."""
    record = {name: value for name, value in (GOOD[key] | values).items() if value is not None}
    found = project((wall or plain()) | (more or {}) | {key: [record]})
    run = control_paths(found, found.parapets[0], PRACTICE)
    return {path.layer: path for path in run if path.place == PLACES[key]}


@pytest.mark.parametrize("key", list(GOOD))
def test_a_place_made_well_is_unbroken(key: str) -> None:
    found = at(key)
    assert set(found) == {"water", "air"} and all(path.unbroken for path in found.values())


FAULTS = [
    ("corners", "coping", "butted", "broken", {"water"}, "`coping: welded`"),
    ("corners", "coping", "lapped and sealed", "confirm", {"water"}, "`coping: welded`"),
    ("corners", "flashing", "cut and butted", "broken", {"water", "air"}, "`flashing: preformed piece`"),
    ("corners", "drainage", "stops", "broken", {"water"}, "`drainage: runs around`"),
    ("steps", "end_dam", False, "broken", {"water"}, "`end_dam: yes`"),
    ("steps", "coping", "lapped and sealed", "confirm", {"water"}, "`coping: welded`"),
    ("steps", "flashing", "cut and butted", "broken", {"water", "air"}, "`flashing: preformed piece`"),
    ("joints", "coping", "runs through", "broken", {"water"}, "`coping: sliding cover`"),
    ("joints", "flashing", "flat", "broken", {"water", "air"}, "`flashing: looped`"),
    ("joints", "barrier", "cut", "broken", {"water", "air"}, "`barrier: looped`"),
    ("joints", "every_layer", False, "broken", {"water"}, "`every_layer: yes`"),
    ("joints", "every_layer", None, "not stated", {"water"}, "state `every_layer:` yes"),
    ("corners", "flashing", None, "not stated", {"water", "air"}, "state `flashing:` preformed piece"),
    ("ends", "saddle_flashing", "sealant only", "broken", {"water"}, "`saddle_flashing: welded`"),
    ("ends", "end_dam", False, "broken", {"water"}, "change `end_dam: no` to `end_dam: yes`"),
    ("ends", "counterflashing", "none", "broken", {"water"}, "`counterflashing: behind the wall barrier`"),
    ("ends", "wall_lap", "3 in", "broken", {"water", "air"}, "lengthen the lap from 3 in to 4 in"),
    ("ends", "wall_lap", None, "not stated", {"water", "air"}, "at least 4 in"),
    ("ends", "wall_family", "EPDM", "broken", {"water", "air"}, "letters of both manufacturers"),
    ("ends", "wall_family", None, "not stated", {"water", "air"}, "state `wall_family:`"),
    ("scuppers", "flange_outside", False, "broken", {"water", "air"}, "`flange_outside: yes`"),
    ("scuppers", "stripped_inside", None, "not stated", {"water", "air"}, "state `stripped_inside:` yes"),
    ("scuppers", "sleeve_family", "PVC", "broken", {"water", "air"}, "change `sleeve_family:`"),
    ("penetrations", "sealed_by", "none", "broken", {"water", "air"}, "`sealed_by: boot`"),
    ("penetrations", "sealed_by", "sealant", "confirm", {"water", "air"}, "`sealed_by: boot`"),
    ("penetrations", "seal_family", "EPDM", "broken", {"water", "air"}, "change `seal_family:`"),
]


@pytest.mark.parametrize(("key", "field", "value", "standing", "layers", "closes"), FAULTS)
def test_one_fault_at_a_place(
    key: str, field: str, value: object, standing: str, layers: set[str], closes: str
) -> None:
    found = at(key, **{field: value})
    assert {layer for layer, path in found.items() if path.breaks} == layers
    for layer in layers:
        assert {one.standing for one in found[layer].breaks} == {standing}
        assert any(closes in text for one in found[layer].breaks for text in one.least_changes)


def test_a_break_points_at_its_line() -> None:
    (one,) = at("corners", coping="butted")["water"].breaks
    assert (one.first, one.second) == ("coping", "coping around the corner")
    assert one.mark.line > 1 and "butted" in one.condition


def test_scupper_joins_roof_membrane_sleeve_and_barrier() -> None:
    assert at("scuppers")["water"].chain == (
        "roof membrane (SBS-modified bitumen) > roof turn-up > [flange inside: yes, stripped inside: yes] > sleeve"
        " > [flange outside: yes, stripped outside: yes] > barrier > wall below"
    )


def test_the_chain_says_how_a_place_is_made_and_only_what_decides_that_layer() -> None:
    corner, end = at("corners"), at("ends")
    assert "[coping: welded, flashing: " in corner["water"].chain
    assert "coping" not in corner["air"].chain
    assert end["air"].chain.endswith(" in lap] > rising wall")


def test_air_that_passes_at_roof_level_does_not_turn_the_corner_above() -> None:
    across = {"air_path": "across at roof level"}
    assert set(at("corners", across)) == {"water"} and set(at("ends", across)) == {"water"}
    assert set(at("scuppers", across)) == {"water", "air"}


def test_penetration_through_the_coping_asks_for_the_membrane_below() -> None:
    (one,) = at("penetrations", through="coping")["water"].breaks
    assert one.standing == "not stated" and "top flashing" in one.least_changes[0]
    both = [
        GOOD["penetrations"] | {"through": "coping"},
        GOOD["penetrations"] | {"name": "R-2"},
    ]
    found = project(plain() | {"penetrations": both})
    run = control_paths(found, found.parapets[0], PRACTICE)
    assert all(path.unbroken for path in run if path.place.startswith("penetration"))


def test_every_making_of_the_vocabulary_is_judged() -> None:
    """A choice without a row would stop the tracing; a row without a choice could never be met."""
    table = PRACTICE.table("place_details")
    for place, part in {(str(row["place"]), str(row["part"])) for row in table.rows}:
        field = PRACTICE.vocabulary.records[place].fields[part]
        choices = set(field.choices) or {"yes", "no"}
        assert {row["making"] for row in table.where(place=place, part=part)} == choices, (place, part)
        for row in table.where(place=place, part=part):
            assert row["carries"] in ("yes", "no", "confirm")
            assert (row["carries"] == "yes") == (row["why"] is None) == (row["better"] is None)
            if row["better"]:
                (better,) = table.where(place=place, part=part, making=row["better"])
                assert better["carries"] == "yes"


def test_an_open_hole_has_no_seal_whose_material_could_be_asked_for() -> None:
    for path in at("penetrations", sealed_by="none", seal_family=None).values():
        assert [one.standing for one in path.breaks] == ["broken"]


def test_a_place_that_passes_by_letters_says_so() -> None:
    record = GOOD["ends"] | {"wall_family": "butyl"}
    about = {"one": "butyl", "other": "SBS bitumen", "makes": "butyl", "date": "2026-11-02", "allows": True}
    found = project(plain() | {"ends": [record]}, letters=[about])
    ends = [path for path in control_paths(found, found.parapets[0], PRACTICE) if path.place == "end E-1"]
    assert ends and all(path.unbroken and "confirmed by letter" in path.lifted[0] for path in ends)
