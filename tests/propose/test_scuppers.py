"""Scuppers that are proposed: how many, how large, where they stand, what is left out, and what excludes them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

import pytest

from specgen.model.project import Parapet, Record
from specgen.propose.build import Builder
from specgen.propose.choices import Option
from specgen.propose.drained import OUTLET, OVERFLOWS, SCUPPERS, SLEEVE, draining, positions
from specgen.propose.give_up import least_given_up
from specgen.propose.omissions import omissions
from specgen.propose.openings import DEEPER, LARGER, NO_ROOM
from specgen.propose.proposals import Proposer
from specgen.propose.quantities import amounts
from specgen.propose.search import Count, search_blocks, walls_in
from specgen.units.quantity import parse
from specgen.work.inputs import read_inputs
from specgen.work.proposals import Ready, propose
from tests.chain.runs import run
from tests.propose.sets import FEW, FOLDER, changed, proposer
from tests.propose.test_search import hold_same_front

DRAINS = {"    height: 18 in\n": "    height: 18 in\n    drained_area: 4200 ft2\n"}
SMALL = {
    **FEW,
    "top flashing": ("self-adhered butyl",),
    "top flashing / barrier": (
        "top flashing over barrier, edge sealed",
        "top flashing over barrier, butyl tape",
    ),
    "top flashing / roof turn-up": ("top flashing over roof turn-up, butyl tape, membrane primer",),
    SLEEVE: ("stainless steel", "aluminum"),
    SCUPPERS: ("1 of 8 in by 4 in", "1 of 12 in by 4 in", "2 of 8 in by 4 in"),
    OVERFLOWS: tuple(
        f"one beside each, {size}, its inlet 2 in above the low point of the roof"
        for size in ("8 in by 4 in", "18 in by 4 in")
    ),
    OUTLET: ("conductor head with an overflow opening", "open air"),
}


def with_facts(
    folder: Path, *more: Mapping[str, str], only: dict[str, tuple[str, ...]] | None = None
) -> Proposer:
    changes = {key: value for one in (DRAINS, *more) for key, value in one.items()}
    return proposer("", only, path=changed("steel-tpo-4a", changes, folder))


def built(here: Proposer, **chosen: str) -> Parapet:
    """The parapet of the first options, but for those whose labels begin as stated."""
    names = {"scuppers": SCUPPERS, "overflows": OVERFLOWS, "outlet": OUTLET, "sleeve": SLEEVE}
    options: list[Option] = []
    for choice in here.offers.choices:
        begins = next((label for key, label in chosen.items() if names[key] == choice.name), "")
        options.append(next(one for one in choice.options if one.label.startswith(begins)))
    return Builder(here.offers).project(options).parapets[0]


@pytest.fixture(scope="module")
def ready() -> Ready:
    return propose(read_inputs(FOLDER / "concrete-sbs-4c.yaml", None, False), workers=1)


def test_a_search_that_tries_everything_finds_the_same_front(tmp_path: Path) -> None:
    labels = hold_same_front(with_facts(tmp_path, only=SMALL))
    assert {one[SLEEVE] for one in labels} == {"stainless steel"}
    assert {one[SCUPPERS] for one in labels} == {"1 of 8 in by 4 in"}
    assert all(one[OVERFLOWS].startswith("one beside each, 18 in by 4 in") for one in labels)


def test_what_is_pruned_and_what_is_left_make_the_whole(tmp_path: Path) -> None:
    here = with_facts(tmp_path, only=SMALL)
    count = Count(walls_in(here.offers.choices))
    left = search_blocks(here.offers.choices, here.constraints, 12, count, 10_000)
    assert len(left.blocks) == 3, "openings and outlet stand apart from the rest"
    assert len(left) > 0 and sum(count.fallen.values()) + len(left) == count.walls
    assert LARGER in count.fallen and "not offered: another sleeve of the scuppers" in count.fallen
    walls = [one.wall for one in left.walls()]
    assert len(set(walls)) == len(walls) == len(left)
    assert all(left.holds(one) for one in walls)
    assert not left.holds((*walls[0][:-1], walls[0][0]))


@pytest.mark.parametrize(
    ("changes", "passes"),
    [
        ({}, "8 in by 4 in"),
        ({"design_rainfall: 3.5 in/h": "design_rainfall: 7 in/h"}, "8 in by 6 in"),
        ({"    length: 120 ft": "    length: 3 ft"}, NO_ROOM),
        ({"height: 18 in": "height: 5 in"}, "rule MV02, values together"),
    ],
)
def test_openings_are_as_large_as_the_rain_asks_for(
    changes: dict[str, str], passes: str, tmp_path: Path
) -> None:
    here = with_facts(tmp_path, changes) if "height: 18 in" not in changes else with_low(tmp_path)
    count = Count(walls_in(here.offers.choices))
    places = {choice.name: place for place, choice in enumerate(here.offers.choices)}
    left = search_blocks(here.offers.choices, here.constraints, 2, count, 100_000)
    block = next(one for one in left.blocks if not one or one[0].wall[0].numbers)
    if not block:
        assert passes in count.fallen
        return
    start = min(places[SCUPPERS], places[OVERFLOWS])
    assert start == places[SCUPPERS]
    first = block[0].wall[0]
    assert first.numbers == (("P-1", 1),) and passes in first.label


def test_the_overflow_keeps_the_water_low_where_nobody_says_what_the_roof_carries(tmp_path: Path) -> None:
    widths = {}
    for stated in ("", "  ponding_depth: 8 in\n"):
        more = {"  roof_slope: 1/4 in/ft\n": f"  roof_slope: 1/4 in/ft\n{stated}"}
        here = with_facts(tmp_path, more)
        count = Count(walls_in(here.offers.choices))
        left = search_blocks(here.offers.choices, here.constraints, 2, count, 100_000)
        block = next(one for one in left.blocks if one[0].wall[0].numbers)
        one = next(one for one in block if one.wall[0].numbers == (("P-1", 1),))
        widths[stated] = one.wall[1].label.split(",")[1].strip()
        assert (DEEPER in count.fallen) == (not stated)
        assert LARGER in count.fallen
    assert list(widths.values()) == ["24 in by 4 in", "8 in by 6 in"]


def with_low(folder: Path) -> Proposer:
    low = {"    height: 18 in\n": "    height: 5 in\n    drained_area: 4200 ft2\n"}
    return proposer("", path=changed("steel-tpo-4a", low, folder))


@pytest.mark.parametrize(
    "line",
    [
        "    drained_area: 0 ft2\n",
        "    drained_area: unknown\n",
        "    drained_area: 4200 ft2\n    scuppers: [{name: S-9, use: primary, area_served: 4200 ft2}]\n",
        "    drained_area: 60 ft2\n",  # less than one scupper is expected to serve
    ],
)
def test_nothing_is_chosen_where_nothing_drains_or_scuppers_are_stated(line: str, tmp_path: Path) -> None:
    path = changed("steel-tpo-4a", {"    height: 18 in\n": f"    height: 18 in\n{line}"}, tmp_path)
    here = proposer("", FEW, path=path)
    assert not draining(here.offers)
    assert SCUPPERS not in [choice.name for choice in here.offers.choices]
    (parapet,) = Builder(here.offers).project([one.options[0] for one in here.offers.choices]).parapets
    assert [one.word("name") for one in parapet.scuppers] == (["S-9"] if "S-9" in line else [])


def test_areas_add_up_and_each_overflow_stands_beside_its_scupper(tmp_path: Path) -> None:
    wall = built(with_facts(tmp_path, {"4200 ft2": "4201 ft2"}), scuppers="5 of 12 in")
    uses: dict[str, list[Record]] = {"primary": [], "overflow": []}
    for one in wall.scuppers:
        uses[str(one.word("use"))].append(one)
    for places in uses.values():
        assert len(places) == 5
        assert sum(area.number for one in places if (area := one.quantity("area_served"))) == 4201
    for one, other in zip(uses["primary"], uses["overflow"], strict=True):
        at, beside = one.si("position"), other.si("position")
        wide, its = one.si("width"), other.si("width")
        assert at and beside and wide and its
        assert beside - at - (wide + its) / 2 >= 0.6096 - 1e-9
    assert all(one.has("sleeve_family") and one.flag("stripped_outside") for one in wall.scuppers)
    assert {one.word("outlet") for one in uses["overflow"]} == {"open air"}


def test_scuppers_keep_clear_of_a_joint(tmp_path: Path) -> None:
    here = with_facts(tmp_path)
    (parapet,) = here.project.parapets
    joint = Record("joint", {"name": "J-1", "position": parse("60 ft")}, {}, parapet.mark)
    widths = (parse("8 in"), parse("24 in"))
    ((one, other),) = positions(here.offers, replace(parapet, joints=(joint,)), 1, widths)
    assert one.number > 60 + 2 or other.number < 60 - 2
    ((alone, _),) = positions(here.offers, parapet, 1, widths)
    assert 55 < alone.number < 60
    unknown = {key: value for key, value in parapet.values.items() if key != "length"}
    assert positions(here.offers, replace(parapet, values=unknown), 1, widths) == []


def test_single_omissions_count_flanges_and_overflows(ready: Ready) -> None:
    wall = ready.assessments[0].walls[0]
    found = {one.what: one for one in omissions(wall) if "scupper" in one.what}
    assert found["flange not stripped in on the roof side, scupper S-1"].breaks == ("water", "air", "vapor")
    assert found["overflow left out, scupper O-1"].breaks == ("water",)
    two = [*wall.parapet.scuppers, *(_named(one, "2") for one in wall.parapet.scuppers)]
    doubled = replace(wall, parapet=replace(wall.parapet, scuppers=tuple(two)))
    again = {one.what: one for one in omissions(doubled) if "left out, scupper" in one.what}
    assert [one.breaks for one in again.values()] == [(), ()], "the other overflow carries the roof of both"


def _named(one: Record, end: str) -> Record:
    return replace(one, values={**one.values, "name": f"{one.word('name')}-{end}"})


def test_quantities_count_scuppers(ready: Ready) -> None:
    counted = {one.part: one.value for one in amounts(ready.assessments[0]) if one.what == "count"}
    assert counted["scupper: primary, stainless steel"] == counted["scupper: overflow, stainless steel"] == 1
    assert counted["conductor head"] == 1


def test_each_choice_stands_above_the_scuppers_with_its_reason(ready: Ready) -> None:
    for text in ready.texts.values():
        above = text[text.index("    scuppers:") : text.index("- name: S-1")]
        assert all(
            words in above for words in ("# Scuppers: 1 of ", "# Outlet of the scuppers: ", "# Sleeve of")
        )
        over = text[text.index("stripped_outside") : text.index("- name: O-1")]
        assert "# Overflow scuppers: one beside each" in over and "Next best: " in over
        assert "Nothing else that is offered" not in over


def test_scuppers_of_each_parapet_stand_at_it_and_those_of_a_type_too(tmp_path: Path) -> None:
    text = (FOLDER / "concrete-sbs-4c.yaml").read_text("utf-8")
    head, parapet = text.split("parapets:\n  - name: P-1\n")
    kind = parapet.replace("    drained_area: 4200 ft2\n", "").replace("    length: 120 ft\n", "")
    parapets = "".join(
        f"  - name: {name}\n    type: edge\n    length: {length}\n    drained_area: {area}\n"
        for name, length, area in (
            ("A", "120 ft", "9000 ft2"),
            ("B", "60 ft", "1500 ft2"),
            ("C", "60 ft", "0 ft2"),
        )
    )
    path = tmp_path / "project.yaml"
    path.write_text(f"{head}types:\n  edge:\n{kind}parapets:\n{parapets}", "utf-8")
    inputs = read_inputs(path, None, False)
    ready = propose(inputs, workers=1)
    assert ready.texts
    folder = tmp_path / "wall"
    folder.mkdir()
    (folder / "project.yaml").write_text(ready.texts["wall-1"], "utf-8")
    numbers = [len(one.parapet.scuppers) for one in ready.assessments[0].walls]
    assert numbers[0] > numbers[1] == 2 and numbers[2] == 0
    assert run("check", folder).status == (3 if ready.proposed.walls[0].open else 0)


def test_a_roof_that_no_opening_drains_is_the_fact_to_give_up(tmp_path: Path) -> None:
    only = {**SMALL, OVERFLOWS: SMALL[OVERFLOWS][:1], SCUPPERS: SMALL[SCUPPERS][:1]}
    here = with_facts(tmp_path, only=only)
    found = here.propose()
    assert not found.front and found.fallen["rule SC07, scuppers that run free"]
    given_up = least_given_up(here, found)
    assert ("parapet.drained_area: 4200 ft2",) in [one.facts for one in given_up]
