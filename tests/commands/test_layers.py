"""``specgen layers``: whole paths as chains, broken ones with place, condition and what closes them."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.chain.runs import CONFORMING, FAULTY, changed, copied, run

TAPE = "        tape: bridging tape\n"
PLACES = """    orientation: east
    corners:
      - {name: C-1, turn: outside, coping: welded, flashing: preformed piece, drainage: runs around}
      - {name: C-2, turn: inside, coping: welded, flashing: cut and butted, drainage: runs around}
    ends:
      - {name: E-1, saddle_flashing: welded, end_dam: yes, counterflashing: let into the wall,
         wall_family: butyl, wall_lap: 4 in}
    scuppers:
      - {name: S-1, use: primary, sleeve_family: TPO, flange_inside: yes, flange_outside: yes,
         stripped_inside: yes, stripped_outside: yes}
    penetrations:
      - {name: R-1, what: railing post, through: top flashing, sealed_by: boot, seal_family: butyl}
"""


def paths(job: Path, *words: str) -> dict[tuple[str, str, str], dict]:
    """The paths by layer, parapet and place."""
    found = json.loads(run("layers", job, "--format", "json", *words).out)["paths"]
    return {(one["layer"], one["parapet"], one["place"]): one for one in found}


def placed(folder: Path, *changes: tuple[str, str]) -> Path:
    """The demo with one place of each kind at P-3."""
    return changed(
        copied(CONFORMING, folder / "job", ("    orientation: east\n", PLACES)) / "project.yaml", *changes
    )


def test_a_whole_path_is_a_chain_with_its_joints() -> None:
    done = run("layers", CONFORMING, "--layer", "vapor")
    assert done.status == 0
    assert done.out.startswith("vapor at P-1, P-2, P-3, plain run: unbroken\n")
    joint = "[4 in lap, tape uncured EPDM tape, 3 in on each side, membrane primer]"
    assert f"    roof membrane (TPO) > roof turn-up > {joint} > top flashing > [" in done.out
    assert done.out.endswith("3 paths: 3 unbroken, 0 broken, 0 waiting for an answer.\n")


def test_a_primer_and_a_sealed_edge_stand_in_the_chain() -> None:
    assert (
        "top flashing > [4 in lap, edge sealed; fault: chemistry] > barrier" in run("layers", CONFORMING).out
    )


def test_without_its_tape_a_lap_breaks_every_layer_that_passes_it(tmp_path: Path) -> None:
    whole, job = paths(CONFORMING), copied(CONFORMING, tmp_path / "job", (TAPE, ""))
    cut = paths(job)
    newly = {
        layer
        for layer in ("water", "air", "vapor", "heat")
        if len(cut[layer, "P-1", "plain run"]["breaks"]) > len(whole[layer, "P-1", "plain run"]["breaks"])
    }
    assert newly == {"water", "air", "vapor"}
    text = (job / "project.yaml").read_text("utf-8").splitlines()
    for layer in newly:
        known = [one["condition"] for one in whole[layer, "P-1", "plain run"]["breaks"]]
        (gap,) = [one for one in cut[layer, "P-1", "plain run"]["breaks"] if one["condition"] not in known]
        assert {gap["first"], gap["second"]} == {"roof turn-up", "top flashing"}
        assert "TPO" in gap["condition"] and "butyl" in gap["condition"]
        assert "name the tape of this parapet at the lap: `tape: bridging tape`" in gap["least_changes"]
        assert "between: [top flashing, roof turn-up]" in text[gap["mark"]["line"] - 1]
    printed = run("layers", job, "--parapet", "P-1").out
    assert printed.count("to close it: name the tape of this parapet at the lap: `tape: bridging tape`") == 3


def test_the_change_that_is_offered_closes_the_path(tmp_path: Path) -> None:
    lap = "        lap: {}\n        upper: top flashing\n" + TAPE
    job = copied(CONFORMING, tmp_path / "job", (lap.format("4 in"), lap.format("1 in")))
    done = run("layers", job, "--layer", "water")
    assert done.status == 1 and "to close it: lengthen the lap from 1 in to " in done.out
    least = done.out.partition("lengthen the lap from 1 in to ")[2].partition("\n")[0]
    changed(job / "project.yaml", (lap.format("1 in"), lap.format(least)))
    assert run("layers", job, "--layer", "water").status == 0


def test_every_place_has_its_paths(tmp_path: Path) -> None:
    job = placed(tmp_path)
    found = paths(job, "--parapet", "P-3")
    places = dict.fromkeys(place for _, _, place in found)
    assert list(places) == [
        "plain run",
        "corner C-1 (outside)",
        "corner C-2 (inside)",
        "end E-1",
        "scupper S-1 (primary)",
        "penetration R-1 (railing post)",
    ]
    for place in places:
        assert {layer for layer, _, where in found if where == place} >= {"water", "air", "vapor"}
    gap = found["air", "P-3", "corner C-2 (inside)"]["breaks"][0]
    assert gap["least_changes"] == ["change `flashing: cut and butted` to `flashing: preformed piece`"]
    assert found["air", "P-3", "corner C-1 (outside)"]["unbroken"]
    assert run("layers", job).status == 1 and run("layers", job, "--place", "corner C-1").status == 0


def test_a_layer_that_is_not_traced_at_a_place_is_named(tmp_path: Path) -> None:
    done = run("layers", placed(tmp_path), "--place", "end")
    assert "heat at P-3, end E-1: not traced here; declared: across at roof level\n" in done.out
    data = json.loads(run("layers", placed(tmp_path / "2"), "--place", "end", "--format", "json").out)
    route = "across at roof level"
    assert data["not_traced"] == [{"parapet": "P-3", "place": "end E-1", "layer": "heat", "route": route}]


@pytest.mark.parametrize(
    ("place", "count"), [("plain run", 12), ("corner", 6), ("corner C-1", 3), ("scupper", 3)]
)
def test_filter_by_place(place: str, count: int, tmp_path: Path) -> None:
    assert len(paths(placed(tmp_path), "--place", place)) == count


def test_the_faulty_demo_is_broken_with_the_line_of_each_gap() -> None:
    done = run("layers", FAULTY)
    assert done.status == 1
    lines = (FAULTY / "project.yaml").read_text("utf-8").splitlines()
    line = next(i for i, words in enumerate(lines, 1) if "kind: mechanically fastened" in words)
    gap = "broken: top flashing to wrb: wrb (mechanically fastened) is no air control layer\n"
    close = "    to close it: make wrb of kind fluid-applied or self-adhered\n"
    assert f"project.yaml:{line}:15: {gap}{close}" in done.out


@pytest.mark.parametrize(
    ("option", "word", "expected"),
    [
        ("--layer", "watr", "no layer `watr`; did you mean `water`?"),
        ("--layer", "sound", "no layer `sound`; known: water, air, vapor, heat"),
        ("--parapet", "P1", "no parapet `P1`; did you mean `P-1`?"),
        ("--place", "cornr", "no place `cornr`; did you mean `corner`?"),
        ("--place", "corner C-9", "no place `corner C-9`; "),
    ],
)
def test_a_misspelt_filter(option: str, word: str, expected: str) -> None:
    done = run("layers", CONFORMING, option, word)
    assert (done.status, done.out) == (2, "") and done.err.startswith(expected)
