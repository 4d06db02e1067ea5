"""The charts of a kept result: which places, which panels, against the limits of the trade."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from specgen.drawing.chart import DRAWN, ChartError
from specgen.drawing.chart_leak import leak_chart
from specgen.drawing.chart_result import ChartLimits, race_chart, result_charts
from specgen.drawing.lettering import text_box
from specgen.drawing.shapes import Drawing, Stroke, Text
from specgen.model.hourly import (
    BELOW,
    GYPSUM,
    MID_HEIGHT,
    OTHER,
    TOP,
    WOOD,
    AcrossLayer,
    CutHours,
    HourlyResult,
    LeakRun,
    PlaceHours,
)
from specgen.practice.load import load_practice
from specgen.render.svg import svg_bytes

PRACTICE = load_practice()
MONTHS = 48


def place(name: str, sort: str, level: float, mold: tuple[float, ...] = ()) -> PlaceHours:
    return PlaceHours(
        name=name, layer=name, sort=sort, moisture_peak=level, moisture_end=level, hours_20=0, hours_28=0,
        humidity_peak=0.8, mold=mold, mold_class="sensitive", corrosion_hours=0, freeze_hours=0, freeze_cycles=0,
        worst_month=3, peaks=(level,) * 4,
    )  # fmt: skip


def course(level: float) -> tuple[float, ...]:
    return tuple(level + 0.02 * math.cos(2 * math.pi * (n - 2) / 12) + 0.001 * n for n in range(MONTHS))


PLACES = (
    place("back of the plaster", OTHER, 0.9),
    place("plywood", WOOD, 0.22, (0.5, 1.2, 2.2, 3.1)),
    place("roof plywood", WOOD, 0.14, (0.1, 0.2, 0.2, 0.2)),
    place("cavity, inner side", OTHER, 0.7, (0.0, 0.0, 0.0, 0.0)),
)


def result(places: tuple[PlaceHours, ...] = PLACES, months: int = MONTHS) -> HourlyResult:
    run = LeakRun(
        share=0.0, years=4, growing=True, places=places, taken=0.1, drained=0.2, mass_error=1e-9, heat_error=1e-9,
        holds=False,
    )  # fmt: skip
    lines = {one.name: course(float(one.moisture_peak or 0.0))[:months] for one in places}
    cut = CutHours(
        cut=MID_HEIGHT, always=0.01, leak="past the barrier", runs=(run,), forgiven=0.01, forgiven_all=False,
        half_days=20.0, course=lines,
    )  # fmt: skip
    bare = replace(cut, cut=TOP, course={})
    return HourlyResult(
        parapet="P-1", key="key", years=10, weather="a file", rain="measured", cuts=(cut, bare)
    )


def words_of(one: Drawing) -> list[str]:
    return [item.words for item in one.items if isinstance(item, Text)]


def test_the_limits_are_those_of_the_trade() -> None:
    assert ChartLimits.of(PRACTICE) == ChartLimits(20.0, 28.0, 3.0, 80.0)


def test_a_chart_for_each_cut_with_a_course() -> None:
    (one,) = result_charts(result(), PRACTICE)  # one run: no chart of leaks; no profile: none across
    assert one.title == "P-1, parapet at mid-height: 1 % of the rain reaches the barrier, none gets past it"
    assert "wet wood: 20 % by mass" in words_of(one) and "mold that is seen: 3" in words_of(one)
    assert (
        "Moisture content of wood peaks at 27.8 % by mass (plywood, March of year 4), above the limit of 20 %"
        in (one.description)
    )
    assert "Relative humidity peaks at 95.8 % (back of the plaster, March of year 4)." in one.description
    assert (
        "Greatest mold index of each year peaks at 3.1 (plywood, year 4), above the limit of 3"
        in one.description
    )
    assert "plywood: highest 3.1 in year 4, 1 year above 3" in one.description
    assert (
        "back of the plaster"
        not in one.description[one.description.index("Greatest mold index of each year, over") :]
    )
    assert svg_bytes(one) == svg_bytes(result_charts(result(), PRACTICE)[0])


def test_of_many_places_those_with_the_most_mold_and_the_wettest_in_their_order() -> None:
    many = (*PLACES, *(replace(place(f"dry {n}", OTHER, 0.4 + n / 100), name=f"dry {n}") for n in range(4)))
    (one,) = result_charts(result(many), PRACTICE)
    keyed = [words for words in words_of(one) if words[1:3] == "  "]
    assert keyed == [f"{n + 1}  {name}" for n, name in enumerate([*(p.name for p in PLACES), "dry 3"])]


@pytest.mark.parametrize("months", [0, 11])
def test_less_than_a_year_is_no_chart(months: int) -> None:
    assert result_charts(result(months=months), PRACTICE) == ()


def test_a_part_of_a_year_is_left_out() -> None:
    (one,) = result_charts(result(months=30), PRACTICE)
    assert "over 2 years" in one.description


def test_a_wall_without_wood_or_without_mold() -> None:
    (one,) = result_charts(result(PLACES[:1]), PRACTICE)
    assert "moisture content" not in one.description and "old index" not in one.description


def leaking(name: str, peaks: dict[float, float], forgiven: float | None, every: bool = False) -> CutHours:
    (cut, _) = result().cuts
    runs = tuple(
        replace(cut.runs[0], share=share, holds=peak < 3.0, places=(place("plywood", WOOD, 0.2, (peak,)),))
        for share, peak in peaks.items()
    )
    leak = "of the rain on the plaster, past the barrier"
    return replace(cut, cut=name, leak=leak, runs=runs, forgiven=forgiven, forgiven_all=every)


def test_what_each_cut_forgives() -> None:
    cuts = (
        leaking(MID_HEIGHT, {0.05: 5.5, 0.0: 0.4, 0.02: 2.9, 0.025: 3.2}, 0.02),
        leaking(TOP, {0.0: 4.0, 0.05: 5.9}, None),
        leaking(BELOW, {0.0: 0.1, 0.05: 2.0}, 0.05, True),
    )
    one = leak_chart(replace(result(), cuts=cuts), 3.0)
    assert (
        "Parapet at mid-height forgives 2 % of the rain on the plaster, past the barrier; top of the parapet forgives "
        "no leak; wall below the roof forgives 5 % of the rain on the plaster, past the barrier, the most that was tried."
    ) in one.description
    assert (
        "0 %: mold index 0.4, holds, 2 %: mold index 2.9, holds, 2.5 %: mold index 3.2, fails"
        in one.description
    )
    strokes = [item for item in one.items if isinstance(item, Stroke) and item.layer == DRAWN]
    assert sum(item.closed for item in strokes) == 4  # diamonds: what holds
    assert (
        sum(len(item.points) == 2 and not item.closed for item in strokes) == 3 + 2 + 2 * 4
    )  # keys, lines, crosses
    assert svg_bytes(one) == svg_bytes(leak_chart(replace(result(), cuts=cuts), 3.0))
    wide, high = one.size
    for item in one.items:
        if isinstance(item, Text):
            x0, y0, x1, y1 = text_box(item)
            assert x0 >= 0.0 and y0 >= 0.0 and x1 <= wide and y1 <= high, item


def test_one_share_is_a_mark_and_none_is_no_chart() -> None:
    one = leak_chart(replace(result(), cuts=(leaking(TOP, {0.0: 1.0}, 0.0),)), 3.0)
    assert "forgives 0 %" in one.description
    with pytest.raises(ChartError):
        leak_chart(replace(result(), cuts=()), 3.0)


ACROSS = (
    AcrossLayer("plaster", 0.022, (0.004, 0.014, 0.004)),
    AcrossLayer("barrier", 0.0),
    AcrossLayer("plywood", 0.0127, (0.006, 0.0067)),
)


def with_profile(
    rows: int = 5, months: int = MONTHS, across: tuple[AcrossLayer, ...] = ACROSS
) -> HourlyResult:
    (cut, bare) = result().cuts
    profile = tuple(tuple(0.7 + 0.002 * n + 0.01 * row for row in range(rows)) for n in range(months))
    return replace(result(), cuts=(replace(cut, across=across, profile=profile), bare))


def test_across_the_wall_as_it_was_kept() -> None:
    _, one = result_charts(with_profile(), PRACTICE, "inch-pound")
    assert one.title.startswith("P-1, parapet at mid-height: humidity, no leak past the barrier")
    assert (
        "Relative humidity peaks at 83.4 % (plywood, December of year 4), at or above the limit of 80 %"
        in (one.description)
    )
    assert "plaster: highest 81.4 % in December of year 4" in one.description
    assert "slanted: holds no water" in words_of(one) and "0.87 in" in words_of(one)


@pytest.mark.parametrize(
    "broken",
    [with_profile(rows=4), with_profile(months=7), with_profile(across=ACROSS[1:2]), with_profile(across=())],
)
def test_a_profile_that_does_not_fit_its_layers_is_no_chart(broken: HourlyResult) -> None:
    assert len(result_charts(broken, PRACTICE)) == 1


def drying_result(name: str, days: float, count: int = 90, half: float | None = None) -> HourlyResult:
    (cut, _) = result().cuts
    left = tuple(0.5 ** (day / days) for day in range(count))
    return replace(result(), parapet=name, cuts=(replace(cut, drying=left, half_days=half or days),))


def test_faces_of_one_layer_are_one_line_and_gypsum_is_held_against_no_wood() -> None:
    places = (
        place("board, outer", GYPSUM, 0.3),
        place("board, inner", GYPSUM, 0.3),
        place("stud", WOOD, 0.1),
    )
    (one,) = result_charts(result(places), PRACTICE)
    assert (
        "Moisture content of gypsum peaks at 35.8 % by mass (board, outer, March of year 4). "
        in one.description
    )
    assert (
        "Moisture content of wood peaks at 15.8 % by mass (stud, March of year 4), within the limit"
        in one.description
    )
    assert "board, inner" not in one.description


def test_the_race_of_two_kept_walls() -> None:
    one = race_chart(MID_HEIGHT, drying_result("P-1", 10.0), drying_result("P-2", 30.0, 120))
    assert one is not None
    assert (
        "P-1 is half dry after 10 days; P-2 is half dry after 30 days: P-1 dries 3 times as fast."
        in one.description
    )
    assert "After 89 days" in one.description
    assert race_chart(MID_HEIGHT, drying_result("P-1", 10.0), result()) is None
    assert race_chart(TOP, drying_result("P-1", 10.0), drying_result("P-2", 10.0)) is None
