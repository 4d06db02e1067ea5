"""Demo projects broken one thing at a time: each break is found, and what goes unnoticed is explained.

The whole sweep takes minutes and runs under ``SPECGEN_LONG=1``; a seeded sample of it runs always.
"""

from __future__ import annotations

import os
import random
from collections import Counter
from functools import lru_cache

import pytest

from specgen.intake.schema import Checker
from tests.rules.mutations.demos import Demo, Seen, demos
from tests.rules.mutations.document import REMOVE, changed
from tests.rules.mutations.sweep import Change, changes
from tests.rules.mutations.table import (
    PAGE,
    Explained,
    Mutation,
    codes,
    explained,
    mutations,
    page,
    reached,
    unreachable,
)

LONG = os.environ.get("SPECGEN_LONG") == "1"
SEED = 20261125
BY_HAND, OF_THE_SWEEP = 25, 20  # of the sample: some five seconds
DEMOS = {demo.name: demo for demo in demos()}


def sample(rows, count):
    """Some of them, the same ones at each run; all of them in a long run."""
    rows = list(rows)
    return rows if LONG else random.Random(SEED).sample(rows, count)


def swept() -> list[tuple[Demo, Change]]:
    return [(demo, change) for demo in demos() for change in changes(demo.document)]


@lru_cache(maxsize=1)
def unnoticed() -> tuple[tuple[Demo, Change], ...]:
    """The changes of the sweep, or of its sample, that bring up nothing, and leave nothing to the sections."""
    return tuple(
        (demo, change)
        for demo, change in sample(swept(), OF_THE_SWEEP)
        if not noticed(change, demo.seen(changed(demo.document, change.path, change.value)))
    )


def noticed(change: Change, seen: Seen) -> bool:
    """Whether a change is told; a value that is taken out may be told to be left to the sections."""
    return seen.noticed or (change.what == "removed" and change.path.rpartition("/")[2] in seen.left)


# Breaks by hand


@pytest.mark.parametrize("one", sample(mutations(), BY_HAND), ids=lambda one: f"{one.demo}: {one.id}")
def test_a_break_is_found(one: Mutation) -> None:
    seen = one.found(DEMOS[one.demo])
    assert not seen.refused, "the loader refuses the break, and no rule is asked"
    assert one.missed(seen) == [], f"found only: {sorted(seen.new)}"


def test_the_breaks_are_many_and_told_apart() -> None:
    count = Counter(one.demo for one in mutations())
    assert count.total() >= 150
    assert count["mixed-humid-midrise"] >= 90
    assert len({(one.demo, one.id) for one in mutations()}) == count.total()
    assert len({(one.demo, one.path, str(one.value), one.before) for one in mutations()}) == count.total()


def test_every_conforming_demo_has_breaks() -> None:
    assert {one.demo for one in mutations()} == set(DEMOS)


def test_every_rule_is_reached_or_explained() -> None:
    assert reached() | set(unreachable()) == codes()
    assert not reached() & set(unreachable()), "a rule called unreachable is reached"
    assert all(unreachable().values())


# The sweep


def test_what_goes_unnoticed_is_explained() -> None:
    bare = [
        f"{demo.name}: {change.id}"
        for demo, change in unnoticed()
        if not any(row.fits(demo.name, change) for row in explained())
    ]
    assert bare == [], "add a rule, or a row to unnoticed.yaml with the reason why it is harmless"


def test_an_explanation_fits_some_change() -> None:
    every = swept()
    idle = [row for row in explained() if not any(row.fits(demo.name, change) for demo, change in every)]
    assert idle == []


@pytest.mark.long
@pytest.mark.skipif(not LONG, reason="the whole sweep is wanted: SPECGEN_LONG=1")
def test_an_explanation_is_still_needed() -> None:
    idle = [
        row for row in explained() if not any(row.fits(demo.name, change) for demo, change in unnoticed())
    ]
    assert idle == []


def test_a_gap_without_an_explanation_is_told() -> None:
    change = Change("types/wall/build_up/barrier/kind", "to nothing known", "x")
    assert not Explained("*", "**/kind", ("removed",), "why").fits("demo", change)
    assert not Explained("*", "types/*/kind", ("to *",), "why").fits("demo", change)
    assert Explained("*", "**/barrier/kind", ("to *",), "why").fits("demo", change)


# The machinery

KEPT = (("air_permeance", REMOVE), ("kind", "glued"), ("exposure_limit", "long"))
DOCUMENT = {
    "types": {
        "wall": {
            "build_up": [{"role": "barrier"}, {"role": "weep screed", "id": "screed"}],
            "top": [{"role": "bridging tape"}],
            "transitions": [
                {"between": ["barrier", "screed"], "upper": "barrier"},
                {"between": ["barrier", "cap"], "tape": "bridging tape"},
            ],
        }
    },
    "parapets": [{"name": "P-1", "type": "wall", "changes": {"screed": {"open": False}}}],
}


def test_a_change_leaves_the_document_as_it_was() -> None:
    broken = changed(DOCUMENT, "types/wall/transitions/barrier + screed/upper", "screed")
    assert broken["types"]["wall"]["transitions"][0]["upper"] == "screed"
    assert DOCUMENT["types"]["wall"]["transitions"][0]["upper"] == "barrier"


def test_a_part_taken_out_takes_what_names_it() -> None:
    broken = changed(DOCUMENT, "types/wall/build_up/screed", REMOVE)
    assert broken["types"]["wall"]["transitions"] == [
        {"between": ["barrier", "cap"], "tape": "bridging tape"}
    ]
    assert broken["parapets"][0]["changes"] == {}
    untaped = changed(DOCUMENT, "types/wall/top/bridging tape", REMOVE)
    assert untaped["types"]["wall"]["transitions"][1] == {"between": ["barrier", "cap"]}


def test_an_item_is_added_or_moved() -> None:
    added = changed(DOCUMENT, "parapets/P-1/corners/+", {"name": "C-1"})
    assert added["parapets"][0]["corners"] == [{"name": "C-1"}]
    moved = changed(DOCUMENT, "types/wall/build_up/screed", None, before="barrier")
    assert [part["role"] for part in moved["types"]["wall"]["build_up"]] == ["weep screed", "barrier"]


@pytest.mark.parametrize("path", ["types/wall/build_up/plaster/kind", "types/roof/height", "parapets/P-2"])
def test_a_path_that_leads_nowhere_is_refused(path: str) -> None:
    with pytest.raises(KeyError):
        changed(DOCUMENT, path, REMOVE)


def test_the_sweep_halves_doubles_and_turns() -> None:
    demo = DEMOS["mixed-humid-midrise"]
    ids = {change.id: change.value for change in changes(demo.document)}
    wall = "types/street parapet"
    assert ids[f"{wall}/build_up/drainage layer/depth: halved"] == "0.21875 in"
    assert ids[f"{wall}/build_up/plaster/coats: doubled"] == 6
    assert ids[f"{wall}/build_up/weep screed/open: to no"] is False
    assert ids[f"{wall}/transitions/barrier + weep screed/upper: to weep screed"] == "weep screed"
    assert ids[f"{wall}/top/bridging tape/compatible_with: without TPO"] == ["butyl"]
    assert f"{wall}/build_up/barrier/kind: to self-adhered" in ids
    assert f"{wall}/build_up/barrier/kind: to fluid-applied" not in ids


def test_kept_schemas_say_what_new_ones_say(monkeypatch: pytest.MonkeyPatch) -> None:
    demo = DEMOS["mixed-humid-midrise"]
    wall = "types/street parapet/build_up/barrier"
    broken = [changed(demo.document, f"{wall}/{key}", value) for key, value in KEPT]
    kept = [demo.seen(one) for one in broken]
    monkeypatch.setattr("tests.rules.mutations.demos._kept", Checker)
    fresh = [demo.seen(one) for one in broken]
    assert [one.new for one in kept] == [one.new for one in fresh]
    assert [bool(one.refused) for one in kept] == [bool(one.refused) for one in fresh] == [False, True, True]


def test_the_page_is_up_to_date() -> None:
    assert PAGE.read_text("utf-8") == page(), "python -m tests.rules.mutations.table writes it"
