"""Limits read from tables: at each boundary, beyond the last row, and where a value is missing."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from specgen.requirements.lookups import (
    barrier_vapor_permeance,
    cleat_one_step_heavier,
    drainage_depth,
    families_at_the_tape,
    flashing_service_temperature,
    lap,
    lath_embedment,
    leg_by_height,
    rainscreen_type,
    thickness_by_face,
)
from specgen.wall.place import Place

MakePlace = Callable[..., Place]


@pytest.mark.parametrize(
    ("values", "thickness"),
    [
        ("metal: aluminum, outer_face_height: 6 in", "0.040 in"),
        ("metal: aluminum, outer_face_height: 8 in", "0.040 in"),
        ("metal: aluminum, outer_face_height: 203.2 mm", "0.040 in"),
        ("metal: aluminum, outer_face_height: 8.01 in", "0.050 in"),
        ("metal: aluminum, outer_face_height: 12 in", "0.050 in"),
        ("metal: aluminum, outer_face_height: 16 in", "0.063 in"),
        ("metal: aluminum, outer_face_height: 16.1 in", None),  # beyond the table
        ("metal: stainless steel, outer_face_height: 16 in", None),  # its table ends at 12 in
        ("metal: galvanized steel, outer_leg: 10 in", "0.0336 in"),  # the leg stands in for the face
        ("metal: galvanized steel, outer_face_height: 4 in, outer_leg: 10 in", "0.0276 in"),
        ("metal: galvanized steel", None),
        ("outer_face_height: 6 in", None),
    ],
)
def test_thickness_by_face(values: str, thickness: str | None, place: MakePlace) -> None:
    found = thickness_by_face(place({"coping": f"kind: formed metal, {values}"}))
    assert (found and found[0].text) == thickness  # type: ignore[union-attr]
    assert found is None or found[1] == "table coping_thickness"


@pytest.mark.parametrize(
    ("coping", "cleat", "thickness"),
    [
        ("metal: aluminum, thickness: 0.050 in", "metal: aluminum", "0.063 in"),
        ("metal: aluminum, thickness: 1.27 mm", "metal: aluminum", "0.063 in"),  # the same in millimeters
        ("metal: aluminum, thickness: 0.049 in", "metal: aluminum", "0.050 in"),  # not yet the standard 0.050
        ("metal: aluminum, thickness: 0.050 in", "", "0.063 in"),  # the metal of the coping
        ("metal: aluminum, thickness: 0.050 in", "metal: galvanized steel", "0.0396 in"),
        ("metal: galvanized steel, thickness: 24 ga", "metal: galvanized steel", "0.0336 in"),
        ("metal: galvanized steel, thickness: 24 ga", "metal: copper", "0.0270 in"),
        ("metal: aluminum, thickness: 0.010 in", "metal: aluminum", "0.032 in"),  # below every standard
        ("metal: aluminum, thickness: 0.090 in", "metal: aluminum", None),  # beyond the table
        ("metal: aluminum", "metal: aluminum", None),
        ("thickness: 1 mm", "metal: aluminum", None),
    ],
)
def test_cleat_one_step_heavier(coping: str, cleat: str, thickness: str | None, place: MakePlace) -> None:
    parts = {"coping": f"kind: formed metal, {coping}", "cleat": f"kind: continuous, {cleat}".rstrip(", ")}
    found = cleat_one_step_heavier(place(parts))
    assert (found and found[0].text) == thickness  # type: ignore[union-attr]
    assert found is None or found[1] == "table standard_thickness"


@pytest.mark.parametrize(
    "lookup",
    [
        thickness_by_face,
        cleat_one_step_heavier,
        families_at_the_tape,
        flashing_service_temperature,
        lath_embedment,
        rainscreen_type,
    ],
)
def test_no_part_no_limit(lookup: Callable[[Place], object], place: MakePlace) -> None:
    assert lookup(place({"plaster": "kind: portland cement plaster"})) is None


@pytest.mark.parametrize(
    ("height", "leg", "key"),
    [
        ("3 m", "50 mm", "coping.leg_8m"),
        ("8 m", "50 mm", "coping.leg_8m"),
        ("8.001 m", "80 mm", "coping.leg_20m"),
        ("26 ft", "50 mm", "coping.leg_8m"),
        ("27 ft", "80 mm", "coping.leg_20m"),
        ("20 m", "80 mm", "coping.leg_20m"),
        ("20.001 m", "100 mm", "coping.leg_over"),
        ("300 m", "100 mm", "coping.leg_over"),
    ],
)
def test_leg_by_height(height: str, leg: str, key: str, place: MakePlace) -> None:
    found = leg_by_height(place({"coping": "kind: formed metal"}, building=f"height: {height}"))
    assert found is not None
    assert (found[0].text, found[1]) == (leg, key)  # type: ignore[union-attr]


def test_no_height_no_leg(place: MakePlace) -> None:
    assert leg_by_height(place({"coping": "kind: formed metal"})) is None


@pytest.mark.parametrize(
    ("more", "depth", "key"),
    [
        ({}, "3/16 in", "drainage.depth"),
        ({"parapet": "ventilated_drying: yes"}, "3/8 in", "drainage.ventilation_depth"),
        ({"parapet": "ventilated_drying: no"}, "3/16 in", "drainage.depth"),
    ],
)
def test_drainage_depth(more: dict[str, str], depth: str, key: str, place: MakePlace) -> None:
    found = drainage_depth(place({"drainage layer": "kind: mesh", **more}))
    assert found is not None
    assert (found[0].text, found[1]) == (depth, key)  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("kind", "zone", "key"),
    [
        ("dimpled sheet", "2A", "barrier.vapor_open"),
        ("dimpled sheet", "6A", "barrier.vapor_open"),
        ("mesh", "6A", "vapor.class_2"),
        ("mesh", "4C", "vapor.class_2"),
        ("mesh", "4A", None),
        ("mesh", None, None),
    ],
)
def test_barrier_vapor_permeance(kind: str, zone: str | None, key: str | None, place: MakePlace) -> None:
    found = barrier_vapor_permeance(place({"drainage layer": f"kind: {kind}"}, zone=zone))
    assert (found and found[1]) == key


@pytest.mark.parametrize(
    ("framing", "key"),
    [
        ("wood studs", "lath.embedment_wood"),
        ("cold-formed steel studs", "lath.embedment_steel"),
        ("concrete", None),
    ],
)
def test_lath_embedment(framing: str, key: str | None, place: MakePlace) -> None:
    found = lath_embedment(place({"framing": f"kind: {framing}"}))
    assert (found and found[1]) == key


PARTS = {
    "barrier": "kind: fluid-applied, family: STPE fluid",
    "roof turn-up": "kind: TPO",
    "framing": "kind: wood studs",
    "top flashing": "kind: self-adhered butyl",
    "bridging tape": "kind: butyl tape",
}
TAPED = "      - {between: [top flashing, roof turn-up], tape: bridging tape, lap: 4 in}\n"


@pytest.mark.parametrize(
    ("transitions", "families"),
    [
        (TAPED, ("TPO", "butyl")),
        (
            TAPED + "      - {between: [top flashing, barrier], tape: bridging tape}\n",
            ("STPE fluid", "TPO", "butyl"),
        ),
        (
            "      - {between: [top flashing, framing], tape: bridging tape}\n",
            ("butyl",),
        ),  # studs have no family
        ("      - {between: [top flashing, roof turn-up]}\n", None),
    ],
)
def test_families_at_the_tape(transitions: str, families: tuple[str, ...] | None, place: MakePlace) -> None:
    found = families_at_the_tape(place({**PARTS, "transitions": transitions}))
    assert (found and found[0]) == families


def test_a_lap_is_found_in_either_order_and_where_it_is_written(place: MakePlace) -> None:
    turned = "      - {between: [roof turn-up, top flashing], lap: 5 in}\n"
    found = lap(place({**PARTS, "transitions": turned}), "top flashing", "roof turn-up")
    assert found is not None
    assert found[0].text == "5 in" and ":15:54" in found[1]
    assert lap(place({**PARTS, "transitions": turned}), "top flashing", "barrier") is None
    unstated = "      - {between: [roof turn-up, top flashing], tape: bridging tape}\n"
    assert lap(place({**PARTS, "transitions": unstated}), "top flashing", "roof turn-up") is None
    assert lap(place({"barrier": "kind: fluid-applied"}), "top flashing", "barrier") is None


def test_outside_insulation_takes_the_barrier_off_the_cold_side(place: MakePlace) -> None:
    board = {"insulation": "kind: mineral wool, thickness: 2 in"}
    layers = {"drainage layer": "kind: mesh", **board, "barrier": "kind: self-adhered"}
    behind = {"drainage layer": "kind: mesh", "barrier": "kind: self-adhered", **board}
    assert barrier_vapor_permeance(place(layers, zone="6A")) is None
    assert barrier_vapor_permeance(place(behind, zone="6A")) is not None


@pytest.mark.parametrize(
    ("kind", "color", "key"),
    [
        ("self-adhered SBS", "light", "flashing.service_temperature"),
        ("self-adhered butyl", "dark", "flashing.service_temperature"),
        ("PVC", "light", "movement.hot_metal_light"),
        ("TPO", "medium", "movement.hot_metal_medium"),
        ("EPDM", "dark", "movement.hot_metal"),
        ("fluid-applied", None, "movement.hot_metal"),
    ],
)
def test_the_heat_a_flashing_stands(kind: str, color: str | None, key: str, place: MakePlace) -> None:
    coping = "kind: formed metal" + (f", color: {color}" if color else "")
    found = flashing_service_temperature(place({"top flashing": f"kind: {kind}", "coping": coping}))
    assert found is not None and found[1] == key
