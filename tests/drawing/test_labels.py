"""No label covers another, or the point another's leader ends at, on any sheet of any project."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import combinations, pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.drawing.clearing import cleared, crossings
from specgen.drawing.labels import Measure, Wish, chained, holds, in_lane
from specgen.drawing.lettering import box_of
from specgen.drawing.shapes import Box, Bubble, Dimension, Drawing, Item, Layer, Text
from specgen.drawing.sheets import sheets
from specgen.sections.form_text import FormText
from specgen.specification import Specification
from tests.conftest import LONG, sampled
from tests.drawing.jobs import DEMOS, MADE, demo, made

PROJECTS = [*DEMOS, *sampled("walls made by chance, drawn", range(MADE))]
DETAILS = [text["title"] for text in FormText("details").texts.values()]


def clashes(items: Iterable[Item]) -> list[tuple[str, str]]:
    """Pairs of labels that cover each other, and labels that cover the point another's leader ends at."""
    listed = list(items)
    boxes = [(item, box) for item in listed if (box := box_of(item)) is not None]
    found = [(named(one), named(other)) for (one, a), (other, b) in combinations(boxes, 2) if overlap(a, b)]
    ends = [item for item in listed if isinstance(item, Bubble) and item.anchor != item.at]
    for item, box in boxes:
        found += [(named(item), f"leader of {one.key}") for one in ends if holds(box, one.anchor)]
    return found


def overlap(a: Box, b: Box) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def named(item: Item) -> str:
    return str(getattr(item, "words", "") or getattr(item, "key", ""))


def overprinted(drawing: Drawing) -> list[tuple[str, str]]:
    """Words that a line is drawn over, with its layer; the letters of a path stand on their own line and clear it."""
    order = [layer.name for layer in drawing.layers]
    shown = sorted(drawing.shown(), key=lambda item: order.index(item.layer))
    place = {id(item): number for number, item in enumerate(shown)}
    return [
        (named(words), line.layer)
        for words, line in crossings(shown)
        if not words.layer.startswith("control-")
        and not (
            (isinstance(words, Dimension) or (isinstance(words, Text) and words.halo))
            and place[id(line)] < place[id(words)]
        )
    ]


def spec_of(project: Path | int) -> tuple[str, Specification]:
    """A demo project, or a made one by its number."""
    return (project.name, demo(project)) if isinstance(project, Path) else (f"made {project}", made(project))


def test_there_are_fifty_made_projects() -> None:
    numbers = [one for one in PROJECTS if isinstance(one, int)]
    assert MADE == 50
    assert len(numbers) == len(set(numbers)) == (MADE if LONG else 10)


@pytest.mark.parametrize(
    "project", PROJECTS, ids=lambda one: one.name if isinstance(one, Path) else f"made {one}"
)
def test_no_label_covers_another(project: Path | int) -> None:
    name, issue = spec_of(project)
    for drawing in sheets(issue):
        assert not clashes(drawing.shown()), f"{name}, {drawing.name}"
        assert not clashes(drawing.items), f"{name}, {drawing.name}, all layers on"
        assert not overprinted(drawing), f"{name}, {drawing.name}"
        if isinstance(project, Path):
            crossed = [
                words for words, _ in crossings(list(drawing.shown())) if "control-" not in words.layer
            ]
            assert not crossed, f"{name}, {drawing.name}"
        if (
            drawing.description.partition(" of parapet ")[0].rstrip(" 123") in DETAILS
        ):  # its last note has room
            words = [item.words for item in drawing.items if isinstance(item, Text)]
            assert any(each.startswith("Provide fall protection") for each in words), (
                f"{name}, {drawing.name}"
            )
        wide, high = drawing.size
        for item in drawing.items:
            box = box_of(item)
            if box is not None:
                assert box[0] >= 0.0, (name, drawing.name, item)
                assert box[1] >= 0.0, (name, drawing.name, item)
                assert box[2] <= wide, (name, drawing.name, item)
                assert box[3] <= high, (name, drawing.name, item)


def test_a_clash_is_found() -> None:
    one, other = Text("note", (0.0, 0.0), "plaster"), Text("note", (3.0, 0.5), "lath")
    assert clashes([one, other]) == [("plaster", "lath")]
    assert clashes([one, Text("note", (0.0, 5.0), "lath")]) == []


def test_a_covered_leader_end_is_found() -> None:
    key = Bubble("key", (30.0, 30.0), "4", (2.0, 0.5))
    assert clashes([Text("note", (0.0, 0.0), "plaster"), key]) == [("plaster", "leader of 4")]


SIZE = Dimension("dimension", (60.0, 60.0), (60.0, 100.0), 40.0, "y", "parapet 42 in")


def sheet(*items: Item) -> Drawing:
    layers = tuple(Layer(name, name) for name in ("outline", "key", "dimension", "note"))
    return Drawing("t", "t", "t", (279.4, 215.9), "none", 1.0, layers, items)


def test_the_words_of_a_size_move_along_their_line_until_nothing_crosses_them() -> None:
    leader = Bubble("key", (20.0, 80.0), "1", (100.0, 80.0))
    assert [line for _, line in crossings([leader, SIZE])] == [leader]
    moved = cleared(sheet(leader, SIZE))
    assert not crossings(moved.items)
    assert moved.items[0] == leader and moved.items[1] != SIZE
    assert cleared(sheet(SIZE)).items == (SIZE,)


wishes = st.lists(
    st.tuples(st.floats(0.0, 100.0), st.floats(0.0, 150.0), st.floats(0.0, 150.0)), min_size=1, max_size=24
)


@given(wishes)
def test_keys_of_a_lane_stand_apart_and_point_at_their_parts(
    given_wishes: list[tuple[float, float, float]],
) -> None:
    listed = [Wish(str(n), x, min(a, b), max(a, b)) for n, (x, a, b) in enumerate(given_wishes)]
    placed = in_lane(listed, 0.0, 150.0, 6.0)
    places = sorted(y for y, _ in placed.values())
    assert len(placed) == len(listed)
    assert all(b - a >= 5.99 for a, b in pairwise(places))
    for wish in listed:
        assert wish.low <= placed[wish.key][1] <= wish.high


def test_a_key_stands_level_with_its_part_where_there_is_room() -> None:
    placed = in_lane([Wish("1", 0.0, 90.0, 100.0), Wish("2", 0.0, 20.0, 60.0)], 0.0, 100.0, 10.0)
    assert all(key == end for key, end in placed.values())


def test_no_key_stands_in_a_break() -> None:
    placed = in_lane([Wish("1", 0.0, 0.0, 100.0)], 0.0, 100.0, 10.0, [(85.0, 101.0)])
    assert placed["1"] == (80.0, 80.0)


def test_sizes_that_share_their_ends_share_a_line_and_others_do_not() -> None:
    chain = [Measure((0.0, 0.0), (20.0, 0.0), "1 in"), Measure((20.0, 0.0), (40.0, 0.0), "2 in")]
    assert len({dim.line_at for dim in chained(chain, "x", 5.0, 4.0, "dimension")}) == 1
    both = [*chain, Measure((0.0, 0.0), (40.0, 0.0), "3 in")]
    assert [dim.line_at for dim in chained(both, "x", 5.0, 4.0, "dimension")] == [5.0, 5.0, 9.0]


def test_words_without_room_between_stand_past_the_end() -> None:
    (dim,) = chained([Measure((0.0, 0.0), (2.0, 0.0), "1/2 in")], "x", 5.0, 4.0, "dimension")
    assert dim.past
