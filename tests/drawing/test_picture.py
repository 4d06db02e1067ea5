"""The picture of a wall: every part with its key, lettering clear of lines, and words where something is missing."""

from __future__ import annotations

import random
from collections.abc import Iterator
from copy import deepcopy
from functools import partial
from itertools import combinations, pairwise
from pathlib import Path

import pytest

from specgen.assessment import assess
from specgen.drawing.lettering import text_box
from specgen.drawing.picture import WIDE, Picture, picture, picture_of
from specgen.drawing.shapes import Box, Bubble, Point, Stroke, Text
from specgen.files.marks import InputError
from specgen.intake.project import load_project
from specgen.intake.worked import worked_examples
from specgen.units.quantity import parse
from specgen.wall.change import with_parapets, with_values
from tests import plain_yaml
from tests.conftest import sampled
from tests.drawing.jobs import DEMOS, MADE, PRACTICE, demo, made
from tests.drawing.walls import job
from tests.intake.test_half_filled import paths, without, worked
from tests.random_changes import Changes


def pictures(folder: Path) -> Iterator[Picture]:
    assessment = demo(folder).assessment
    for wall in assessment.walls:
        found = picture_of(assessment, wall.parapet.name)
        assert found is not None
        yield found


def lettering(drawn: Picture) -> Iterator[Box]:
    """The boxes of keys and words."""
    for item in (*drawn.rest, *(part.key for part in drawn.parts)):
        if isinstance(item, Text):
            yield text_box(item)
        elif isinstance(item, Bubble):
            (x, y), r = item.at, item.radius
            yield x - r, y - r, x + r, y + r


def lines(drawn: Picture) -> Iterator[tuple[Point, Point]]:
    """Everything that is drawn as a line: the wall, and its dimensions."""
    every = [*drawn.rest, *(item for part in drawn.parts for item in part.shapes)]
    for item in every:
        if isinstance(item, Stroke):
            yield from pairwise(item.points)


def meets(box: Box, line: tuple[Point, Point]) -> bool:
    """Whether a line runs through a box, by its points 0.2 mm apart."""
    (x0, y0), (x1, y1) = line
    left, low, right, high = box
    if max(x0, x1) <= left or min(x0, x1) >= right or max(y0, y1) <= low or min(y0, y1) >= high:
        return False
    count = int(max(abs(x1 - x0), abs(y1 - y0)) / 0.2) + 1
    steps = ((x0 + (x1 - x0) * n / count, y0 + (y1 - y0) * n / count) for n in range(count + 1))
    return any(left < x < right and low < y < high for x, y in steps)


def clear(drawn: Picture) -> None:
    boxes = list(lettering(drawn))
    for a, b in combinations(boxes, 2):
        assert not (a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]), (a, b)
    wall = list(lines(drawn))
    for box in boxes:
        left, low, right, high = box
        assert left >= 0.0 and low >= 0.0 and right <= drawn.size[0] and high <= drawn.size[1], box
        assert not any(meets(box, line) for line in wall), box


@pytest.mark.parametrize("folder", DEMOS, ids=lambda one: one.name)
def test_no_lettering_covers_a_line_or_other_lettering(folder: Path) -> None:
    for drawn in pictures(folder):
        clear(drawn)


@pytest.mark.parametrize("number", sampled("walls made by chance, drawn", range(MADE), "picture"))
def test_a_wall_made_by_chance_is_drawn_with_its_lettering_clear(number: int) -> None:
    assessment = made(number).assessment
    for wall in assessment.walls:
        drawn = picture_of(assessment, wall.parapet.name)
        assert drawn is not None
        clear(drawn)


@pytest.mark.parametrize("folder", DEMOS, ids=lambda one: one.name)
def test_every_part_has_shapes_and_one_key_in_the_order_of_the_wall(folder: Path) -> None:
    assessment = demo(folder).assessment
    for wall, drawn in zip(assessment.walls, pictures(folder), strict=True):
        assert [part.id for part in drawn.parts] == [part.id for part in wall.parapet.components()]
        for part in drawn.parts:
            assert part.shapes and part.key.key == part.number
        owned = [item for part in drawn.parts for item in part.shapes]
        assert all(item in drawn.items for item in owned)


@pytest.mark.parametrize("folder", DEMOS, ids=lambda one: one.name)
def test_leaders_of_a_worked_example_do_not_cross(folder: Path) -> None:
    for drawn in pictures(folder):
        leaders = [(part.key.at, part.key.anchor) for part in drawn.parts]
        for (a, b), (c, d) in combinations(leaders, 2):
            assert not crossing(a, b, c, d), (drawn.title, a, c)


def crossing(a: Point, b: Point, c: Point, d: Point) -> bool:
    def turn(p: Point, q: Point, r: Point) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return turn(a, b, c) * turn(a, b, d) < 0.0 and turn(c, d, a) * turn(c, d, b) < 0.0


def test_a_part_is_called_by_its_kind_where_that_says_its_role() -> None:
    words = {part.id: part.words for part in picture(job()).parts}
    assert words["drainage layer"].startswith("drainage layer, ")
    assert words["plaster"] == "portland cement plaster"


def test_outside_is_at_left_and_roof_at_right_in_words() -> None:
    drawn = picture(job())
    words = {item.words: item.at[0] for item in drawn.rest if isinstance(item, Text)}
    assert words["outside"] < WIDE / 3.0 < 2.0 * WIDE / 3.0 < words["roof"]
    assert "42 in" in words


def test_it_says_what_is_assumed_and_what_is_not_described() -> None:
    drawn = picture(job({"height": None}, {"framing": {"thickness": None}}, building={"roof_deck": None}))
    words = " ".join(drawn.remarks)
    assert "The height is not stated: drawn " in words
    assert "Thickness not stated, drawn as is usual: framing." in words  # a membrane is a line of fixed width
    assert "deck not described: drawn dashed." in words
    assert any(item.words.endswith(" assumed") for item in drawn.rest if isinstance(item, Text))


def test_open_points_of_the_control_layers_are_shapes_and_words() -> None:
    faulty = next(one for one in DEMOS if one.name == "faulty-parapet")
    (drawn, *_) = pictures(faulty)
    broken = [one for one in drawn.open_points if one.standing == "broken" and one.items]
    assert broken and {way.layer for way in drawn.ways} == {"water", "air", "vapor", "heat"}
    for point in broken:
        words = [item.words for item in point.items if isinstance(item, Text)]
        assert words == [f"{point.key} broken"]
        assert sum(isinstance(item, Stroke) for item in point.items) == 2
        assert point.words.startswith(", ".join(point.layers))


def test_a_part_that_the_cut_does_not_meet_keeps_its_key() -> None:
    drawn = picture(job(parts={"coping": None}))
    (cleat,) = (part for part in drawn.parts if not part.shapes)
    assert cleat.id == "cleat" and cleat.key.at == cleat.key.anchor
    assert f"Not met by this cut: {cleat.number} {cleat.words}." in drawn.remarks
    clear(drawn)


def test_a_wall_of_which_nothing_is_described_says_so(tmp_path: Path) -> None:
    file = tmp_path / "project.yaml"
    file.write_text("project: {name: mill}\n", "utf-8")
    assessment = assess(load_project(file, PRACTICE), PRACTICE)
    drawn = picture_of(assessment, assessment.walls[0].parapet.name)
    assert drawn is not None and not drawn.parts
    assert drawn.remarks == ("No part of this wall is described yet.",)
    clear(drawn)


def test_one_part_alone_is_drawn(tmp_path: Path) -> None:
    for kind in ("cold-formed steel studs", "concrete masonry"):
        file = tmp_path / "project.yaml"
        part = f"{{role: framing, kind: {kind}}}"
        file.write_text(f"project: {{name: mill}}\nparapets: [{{name: P, build_up: [{part}]}}]\n", "utf-8")
        assessment = assess(load_project(file, PRACTICE), PRACTICE)
        drawn = picture_of(assessment, "P")
        assert drawn is not None and [part.number for part in drawn.parts] == ["1"]
        clear(drawn)


@pytest.mark.parametrize("name", sorted(worked_examples()))
def test_whatever_is_taken_away_something_is_drawn(name: str, tmp_path: Path) -> None:
    content, before = worked(name)
    every, chance = list(paths(content)), random.Random(f"picture {name}")
    drawn = 0
    for turn in range(6):
        gone = chance.sample(every, chance.randrange(1, max(len(every) // (turn + 2), 2)))
        file = tmp_path / "project.yaml"
        file.write_text(plain_yaml.dump(without(deepcopy(content), gone, turn == 5)), "utf-8")
        try:
            assessment = before.again(load_project(file, PRACTICE))
        except InputError:
            continue
        for wall in assessment.walls:
            found = picture_of(assessment, wall.parapet.name)
            assert found is not None and found.items
            drawn += 1
    assert drawn or name  # some samples are no project


def test_no_parapet_of_that_name_has_no_picture() -> None:
    assert picture_of(demo(DEMOS[0]).assessment, "no such parapet") is None


def test_a_wall_that_did_not_change_is_not_drawn_again() -> None:
    folder = next(one for one in DEMOS if one.name == "mixed-humid-midrise")
    assessment = demo(folder).assessment
    names = [wall.parapet.name for wall in assessment.walls]
    first = {name: picture_of(assessment, name) for name in names}
    assert picture_of(assessment, names[0]) is first[names[0]]
    higher = partial(with_values, values={"height": parse("50 in")})
    taller = with_parapets(assessment.project, higher, (names[0],))
    again = assessment.again(taller)
    for name in names[1:]:
        assert picture_of(again, name) is first[name]
    changed = picture_of(again, names[0])
    assert changed is not None and changed != first[names[0]]
    assert changed == picture_of(assess(taller, PRACTICE), names[0])


@pytest.mark.parametrize(
    "folder", sampled("walls made by chance, drawn", DEMOS, "again"), ids=lambda one: one.name
)
def test_a_picture_that_is_taken_over_is_the_one_that_would_be_drawn(folder: Path) -> None:
    current = demo(folder).assessment
    draw = Changes(PRACTICE, seed=len(folder.name))
    for _ in range(4):
        done, project = draw.changed(current.project)
        try:
            fresh = assess(project, PRACTICE)
        except (ArithmeticError, ValueError, KeyError):
            continue  # a change that no file could make
        for wall in current.walls:
            picture_of(current, wall.parapet.name)
        current = current.again(project)
        for wall in current.walls:
            name = wall.parapet.name
            assert picture_of(current, name) == picture_of(fresh, name), done
