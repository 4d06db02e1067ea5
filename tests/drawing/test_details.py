"""Details: which a parapet gets, what each shows to scale, and that each step quotes its paragraph."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from itertools import pairwise
from math import hypot
from pathlib import Path

import pytest

from specgen.drawing.detail_hole import penetration
from specgen.drawing.detail_plan import building_joint, corner
from specgen.drawing.detail_run import end, joint_top, step
from specgen.drawing.details import BUILT, details
from specgen.drawing.lettering import text_box
from specgen.drawing.shapes import Area, Bubble, Dimension, Drawing, Stroke, Text, dimension_parts
from specgen.drawing.sheets import by_parapets
from specgen.drawing.sizes import Job, job_of
from specgen.drawing.sketch import Sketch
from specgen.practice.load import load_practice
from specgen.sections.form_text import FormText
from specgen.specification import Specification
from tests.drawing.jobs import DEMOS, demo
from tests.drawing.walls import job

PRACTICE = load_practice()
CORNER = {
    "name": "C-1",
    "turn": "outside",
    "coping": "welded",
    "flashing": "preformed piece",
    "drainage": "runs around",
}
END = {
    "name": "E-1",
    "end_dam": True,
    "saddle_flashing": "welded",
    "counterflashing": "behind the wall barrier",
    "wall_lap": "5 in",
}
STEP = {"name": "S-1", "height": "18 in", "coping": "welded", "flashing": "preformed piece", "end_dam": True}
JOINT = {"name": "J-1", "what": "expansion", "width": "2 in", "movement": "1 in", "every_layer": True,
         "coping": "sliding cover", "flashing": "looped", "barrier": "looped"}  # fmt: skip
HOLE = {"name": "N-1", "what": "pipe", "through": "barrier", "diameter": "2 in", "sealed_by": "boot"}
INCH = 0.0254


def drawn(one: Job) -> tuple[Drawing, ...]:
    return tuple(details(one, lambda section, key: ()))


def words(drawing: Drawing) -> str:
    return " ".join(item.words for item in drawing.items if isinstance(item, Text))


def of(name: str) -> tuple[Specification, Job]:
    spec = demo(next(path for path in DEMOS if path.name == name))
    return spec, job_of(spec.assessment.walls[0], spec.unmet(spec.assessment.walls[0].parapet.name))


def test_a_parapet_gets_the_details_of_what_it_lists_and_no_others() -> None:
    assert drawn(job()) == ()
    inside = {**CORNER, "name": "C-2", "turn": "inside"}
    places = {
        "corners": [CORNER, inside],
        "ends": [END],
        "steps": [STEP],
        "joints": [JOINT],
        "penetrations": [HOLE],
    }
    names = [one.name for one in drawn(job(places))]
    assert names == [condition.replace(" ", "-") for condition in BUILT]


def test_every_condition_of_a_project_has_its_detail() -> None:
    choices = PRACTICE.vocabulary.records["building"].fields["conditions"].choices
    assert set(choices) - {"straight lengths only"} == set(BUILT) == set(FormText("details").texts)


def test_places_made_alike_share_a_sheet_and_others_have_their_own() -> None:
    other = {**CORNER, "name": "C-2", "position": "12 ft"}
    (one,) = drawn(job({"corners": [CORNER, other]}))
    assert "C-2, 12 ft from the left end" in words(one)
    two = drawn(job({"corners": [CORNER, {**other, "coping": "soldered"}]}))
    assert [one.name for one in two] == ["outside-corner-1", "outside-corner-2"]


def test_layers_turn_the_corner_with_their_own_thickness() -> None:
    one = job({"corners": [CORNER]})
    for turn in ("outside", "inside"):
        record = job({"corners": [{**CORNER, "turn": turn}]}).parapet.corners[0]
        cut = corner(one, 8.0, record)[0]
        plaster = next(item for item in cut.items if isinstance(item, Area) and item.hatch == "plaster")
        (_, a), (_, b) = plaster.outline[0], plaster.outline[-1]
        (c, _), (d, _) = plaster.outline[0], plaster.outline[-1]
        assert max(abs(a - b), abs(c - d)) == pytest.approx(0.875 * INCH)
        assert {"barrier", "drainage layer", "outer lap of the flashing", "patch of the flashing"} <= set(
            cut.targets
        )


def test_a_joint_is_drawn_as_wide_as_it_is_and_no_layer_crosses_it_but_in_a_loop() -> None:
    one = job({"joints": [JOINT]})
    (cut,) = building_joint(one, 8.0, one.parapet.joints[0])
    for item in cut.items:
        if isinstance(item, Area):
            assert all(x <= -INCH + 1e-9 for x, _ in item.outline) or all(
                x >= INCH - 1e-9 for x, _ in item.outline
            )
    assert cut.level[0].second[0] - cut.level[0].first[0] == pytest.approx(2 * INCH)
    x, y = cut.targets["loop of the barrier"]
    assert x == pytest.approx(0.0)
    assert y < -0.02
    (top,) = joint_top(one, 8.0, one.parapet.joints[0])
    assert top.targets["loop of the top flashing"][1] < -0.02
    flat = job({"joints": [{**JOINT, "flashing": "flat"}]})
    (top,) = joint_top(flat, 8.0, flat.parapet.joints[0])
    assert top.targets["loop of the top flashing"][1] > 0.0


def test_the_cover_of_a_joint_laps_both_copings_at_the_widest_opening() -> None:
    one = job({"joints": [JOINT]})
    (top,) = joint_top(one, 8.0, one.parapet.joints[0])
    x, _ = top.targets["cover"]
    assert x > (1.0 + 1.0) * INCH  # half of the width and the movement


def across(sketch: Sketch, *names: str) -> list[float]:
    """How far to the right each of some parts stands."""
    return [sketch.targets[name][0] for name in names]


def test_the_flashing_runs_up_behind_barrier_and_end_dam() -> None:
    one = job({"ends": [END]})
    along, above = end(one, 8.0, one.parapet.ends[0])
    lap = next(size for size in along.upright if size.words.startswith("lap"))
    assert lap.second[1] - lap.first[1] == pytest.approx(5 * INCH)
    assert lap.words == "lap 5 in"
    dam = next(size for size in along.upright if size.words.startswith("end dam"))
    assert dam.second[1] - dam.first[1] == pytest.approx(PRACTICE.quantity("field.end_dam").value)
    order = across(
        along, "flank plaster", "flank barrier", "counterflashing", "end dam", "flashing turned up"
    )
    assert order == sorted(order)  # from the face of the rising wall into it
    assert "saddle" in above.targets
    plain = job({"ends": [{**END, "end_dam": False, "counterflashing": "none", "saddle_flashing": "none"}]})
    along, above = end(plain, 8.0, plain.parapet.ends[0])
    assert not {"end dam", "counterflashing"} & set(along.targets)
    assert "saddle" not in above.targets


def test_at_a_step_the_upper_flashing_lies_outside_of_the_barrier_and_the_lower_behind_it() -> None:
    one = job({"steps": [STEP]})
    along, _ = step(one, 8.0, one.parapet.steps[0])
    order = across(
        along, "closed end", "flashing turned down", "flank barrier", "end dam", "flashing turned up"
    )
    assert order == sorted(order)
    rise = next(size for size in along.upright if size.words.startswith("step"))
    assert rise.second[1] - rise.first[1] == pytest.approx(18 * INCH)


@pytest.mark.parametrize("height", ["1 in", "2 in", "3 in", "6 in", "8 in", "10 in", "18 in", "9 ft"])
def test_an_end_dam_at_a_step_is_drawn_as_long_as_its_dimension_says(height: str) -> None:
    """A dam of 4 in is drawn 4 in high, or the dimension says how much of it the step leaves."""
    one = job({"steps": [{**STEP, "height": height}]})
    along, _ = step(one, 8.0, one.parapet.steps[0])
    dam = next(size for size in along.upright if size.words.startswith("end dam"))
    drawn_m = dam.second[1] - dam.first[1]
    if "fits" in dam.words:
        assert drawn_m < 4 * INCH and one.shown(drawn_m) in dam.words
    else:
        assert drawn_m == pytest.approx(4 * INCH)


def test_a_high_step_leaves_plain_wall_out() -> None:
    (high,) = drawn(job({"steps": [{**STEP, "height": "9 ft"}]}))
    (low,) = drawn(job({"steps": [STEP]}))
    bands = [[i for i in one.items if isinstance(i, Area) and i.layer == "break"] for one in (high, low)]
    assert [len(one) for one in bands] == [1, 0]


@pytest.mark.parametrize("through", ["barrier", "roof turn-up", "top flashing"])
def test_a_flange_lies_below_what_comes_from_above_and_over_what_goes_on_below(through: str) -> None:
    one = job({"penetrations": [{**HOLE, "through": through}]})
    cut, _ = penetration(one, 8.0, one.parapet.penetrations[0])
    flange = cut.targets["flange"]
    if through != "top flashing":
        out = -1.0 if through == "barrier" else 1.0
        lap = [
            x
            for item in cut.items
            if isinstance(item, Stroke) and len(item.points) == 4
            for x, _ in item.points
        ]
        assert (
            min(out * (flange[0] - x) for x in lap) < 0.0
        )  # the upper layer stands farther out than the flange
        assert out * (cut.targets["layer below"][0] - flange[0]) < 0.0
    size = (*cut.level, *cut.upright)[0]
    run = max(abs(a - b) for a, b in zip(size.first, size.second, strict=True))
    assert run == pytest.approx(PRACTICE.quantity("penetration.flange").value)


def test_a_penetration_of_the_roof_side_says_nothing_of_the_drainage_layer() -> None:
    spec, _ = of("hot-humid-lowrise")
    wall = spec.assessment.walls[1]
    (one, _) = details(job_of(wall, {}), partial(spec.printed, wall.parapet.name))
    assert "Fix the pipe, post, or bracket" in words(one)
    assert "Cut the drainage layer" not in words(one)


def test_an_assumed_diameter_says_so() -> None:
    assert "diameter is assumed" not in words(drawn(job({"penetrations": [HOLE]}))[0])
    without = {key: value for key, value in HOLE.items() if key != "diameter"}
    assert "diameter is assumed" in words(drawn(job({"penetrations": [without]}))[0])


def test_each_step_quotes_its_paragraph_in_the_order_of_work() -> None:
    spec, one = of("cold-continental-school")
    printed = partial(spec.printed, one.parapet.name)
    for drawing in details(one, printed):
        rows = FormText("details").texts[drawing.name.replace("-", " ")]["steps"]
        quoted = [each for row in rows for each in printed(row["in"], row["says"])]
        assert len(quoted) >= 7
        shown = words(drawing)
        for each in quoted:
            assert f"{each.ref.section}, {each.ref.number}" in shown, each
            assert each.words.split()[0] in shown
        keys = {item.key for item in drawing.items if isinstance(item, Bubble) and item.layer == "key"}
        notes = {item.key for item in drawing.items if isinstance(item, Bubble) and item.layer == "note"}
        assert keys <= notes == {str(n) for n in range(1, len(quoted) + 1)}
        assert len(notes - keys) <= 1, drawing.name


def test_every_step_of_the_details_is_a_paragraph_of_some_section() -> None:
    known = {
        (s.number, c.key) for s in demo(DEMOS[0]).clauses.sections for a in s.articles() for c in a.clauses
    }
    for condition, text in FormText("details").texts.items():
        for row in text["steps"]:
            assert (row["in"], row["says"]) in known, (condition, row)
            assert row["on"] in PRACTICE.vocabulary.roles


def test_a_paragraph_that_holds_elsewhere_is_not_quoted() -> None:
    spec, _ = of("cold-continental-school")
    rising = [spec.printed(name, "07 65 00", "rising_wall") for name in ("P-1", "P-2", "P-3")]
    assert [len(one) for one in rising] == [0, 1, 0]
    assert rising[1][0].words.startswith("Turn the flashing up")


@pytest.mark.parametrize(("thickness", "longer"), [("13 in", False), ("20 in", True), ("24 in", True)])
def test_the_leg_of_a_wide_corner_piece_ends_clear_of_its_seam(thickness: str, longer: bool) -> None:
    _, above = corner(
        job({"thickness": thickness, "corners": [CORNER]}), 8.0, job({"corners": [CORNER]}).parapet.corners[0]
    )
    (size,) = above.level
    seam = next(
        one for one in above.items if isinstance(one, Stroke) and one.pen == "heavy" and len(one.points) == 2
    )
    inner = max(x for x, _ in seam.points)
    assert size.second[0] - inner >= 6 * INCH - 1e-9
    assert (size.words == "24 in") is not longer


def test_the_size_of_a_low_end_dam_is_written_above_it() -> None:
    (drawing,) = drawn(job({"ends": [END]}))
    (dam,) = [one for one in drawing.items if isinstance(one, Dimension) and one.words.startswith("end dam")]
    assert dam.past and dam.up
    assert text_box(dimension_parts(dam)[1])[1] > max(dam.first[1], dam.second[1])


def unled(drawing: Drawing, near: float = 1.5) -> list[str]:
    """The notes of a sheet whose number stands nowhere in the drawing with a leader to something drawn."""
    bubbles = [item for item in drawing.items if isinstance(item, Bubble)]
    drawn_points = [
        segment
        for item in drawing.items
        if isinstance(item, Stroke | Area) and item.layer not in ("frame", "key", "note")
        for line in ([*item.points] if isinstance(item, Stroke) else [*item.outline, item.outline[0]],)
        for segment in pairwise(line)
    ]
    led = {
        one.key
        for one in bubbles
        if one.layer == "key"
        and hypot(one.at[0] - one.anchor[0], one.at[1] - one.anchor[1]) > one.radius
        and (min(away(one.anchor, a, b) for a, b in drawn_points) < near or inside(one.anchor, drawing))
    }
    return [one.key for one in bubbles if one.layer == "note" and one.key not in led]


def inside(at: tuple[float, float], drawing: Drawing) -> bool:
    """Whether a point lies in what a material fills."""
    x, y = at
    return any(
        sum(
            (a[1] > y) != (b[1] > y) and x < (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1]) + a[0]
            for a, b in edges
        )
        % 2
        for area in drawing.items
        if isinstance(area, Area)
        for edges in [list(pairwise([*area.outline, area.outline[0]]))]
    )


def away(at: tuple[float, float], a: tuple[float, float], b: tuple[float, float]) -> float:
    """How far a point lies from a piece of a line [mm]."""
    (x, y), dx, dy = at, b[0] - a[0], b[1] - a[1]
    long = dx * dx + dy * dy
    share = min(1.0, max(0.0, ((x - a[0]) * dx + (y - a[1]) * dy) / long)) if long else 0.0
    return hypot(x - a[0] - share * dx, y - a[1] - share * dy)


@pytest.mark.parametrize("folder", DEMOS, ids=lambda path: path.name)
def test_each_note_of_a_sheet_has_its_leader(folder: Path) -> None:
    spec = demo(folder)
    found = {}
    for sheet in (one for sheets in by_parapets(spec).values() for one in sheets):
        if any(isinstance(item, Bubble) and item.layer == "key" for item in sheet.items):
            detail = any(name.replace(" ", "-") in sheet.name for name in BUILT)
            if missing := unled(sheet, 1.5 if detail else 12.0):  # in a section it may end amid a thick layer
                found[sheet.title] = missing
    assert found == {}


def test_a_note_without_a_leader_is_found() -> None:
    spec, one = of("plaster-covered-top")
    (sheet,) = details(one, partial(spec.printed, one.parapet.name))
    (slope,) = [item.key for item in sheet.items if isinstance(item, Bubble) and item.layer == "key"][-1:]
    items = tuple(
        item
        for item in sheet.items
        if not (isinstance(item, Bubble) and item.layer == "key" and item.key == slope)
    )
    assert unled(sheet) == [] and unled(replace(sheet, items=items)) == [slope]
