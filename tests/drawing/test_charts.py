"""Charts of the hours: what they state is in the numbers, lines differ without color, and nothing leaves the sheet."""

from __future__ import annotations

import math
import re
from itertools import pairwise

import numpy as np
import pytest

from specgen.drawing import chart
from specgen.drawing.chart import MOST_LINES, Calendar, ChartError, apart, ticks
from specgen.drawing.chart_depth import DepthLayer, across_wall
from specgen.drawing.chart_drying import Racer, drying_race
from specgen.drawing.chart_hours import ChartPanel, LimitLine, over_years
from specgen.drawing.lettering import text_box
from specgen.drawing.shapes import Drawing, Shade, Stroke, Text
from specgen.render.svg import svg_bytes
from specgen.units.months import MONTH_NAMES

YEARS = Calendar.alike(3)
PLACES = (
    "plywood, outer face",
    "plywood, inner face",
    "blocking under the coping",
    "stud",
    "gypsum board, back",
)
WET = (LimitLine(20.0, "wet wood"), LimitLine(28.0, "decay"))
WALL = (
    DepthLayer("cement plaster", 0.022, 4),
    DepthLayer("barrier", 0.0008, 1),
    DepthLayer("plywood", 0.0127, 3),
    DepthLayer("mineral wool", 0.14, 5),
)


def moisture(places: int, steps: int = YEARS.count, seed: int = 5) -> np.ndarray:
    rng = np.random.default_rng(seed)
    at = np.arange(steps)[:, None]
    phase = rng.uniform(0.0, 1.0, places)
    base = rng.uniform(8.0, 24.0, places)
    return base + 4.0 * np.cos(2 * np.pi * (at / 8760 - phase)) + rng.normal(0.0, 0.4, (steps, places))


def layers_chart(places: int = 5) -> Drawing:
    values = moisture(places)
    mold = np.cumsum(np.abs(values), axis=0) / np.abs(values).sum(axis=0) * 4.0
    panels = (
        ChartPanel("moisture content", "% by mass", values, WET),
        ChartPanel("mold index", "", mold, (LimitLine(3.0, "mold that is seen"),), low=0.0, high=6.2),
    )
    return over_years("hours-p-1", "Three years in parapet P-1", PLACES[:places], panels, YEARS)


def depth_chart(system: str = "SI") -> Drawing:
    rows = sum(layer.rows for layer in WALL)
    values = np.clip(5.0 * moisture(rows), 0.0, 100.0)
    return across_wall(
        "depth-p-1", "Across parapet P-1", "relative humidity", "%", WALL, values, YEARS,
        (0.0, 60.0, 80.0, 90.0, 100.0), LimitLine(80.0, "mold possible"), system,
    )  # fmt: skip


def racer(name: str, days: float, rest: float = 0.1, count: int = 60) -> Racer:
    left = rest + (1.0 - rest) * 0.5 ** (np.arange(24 * count) / 24.0 / days)
    return Racer(name, left, days * math.log2((1.0 - rest) / (0.5 - rest)) if rest < 0.5 else math.inf)


def race() -> Drawing:
    return drying_race("race", "The drying race", racer("entangled mesh", 8.0), racer("two papers", 24.0))


CHARTS = {"layers": layers_chart, "depth": depth_chart, "race": race, "one place": lambda: layers_chart(1)}


@pytest.mark.parametrize("which", CHARTS)
def test_nothing_leaves_the_sheet(which: str) -> None:
    one = CHARTS[which]()
    wide, high = one.size
    for item in one.items:
        match item:
            case Text():
                boxes = [text_box(item)]
            case Stroke():
                boxes = [(x, y, x, y) for x, y in item.points]
            case Shade():
                boxes = [(x, y, x, y) for outline in item.outlines for x, y in outline]
        for x0, y0, x1, y1 in boxes:
            assert x0 >= 0.0 and y0 >= 0.0 and x1 <= wide and y1 <= high, item


@pytest.mark.parametrize("which", CHARTS)
def test_the_same_bytes_and_told_to_who_cannot_see_it(which: str) -> None:
    one = CHARTS[which]()
    data = svg_bytes(one)
    assert data == svg_bytes(CHARTS[which]())
    assert one.title in one.description
    assert "the limit of" in one.description or "half dry" in one.description
    assert f"{one.description}</desc>" in data.decode().replace("&gt;", ">")


@pytest.mark.parametrize("which", CHARTS)
def test_scales_have_titles_and_numbers(which: str) -> None:
    words = [item.words for item in CHARTS[which]().items if isinstance(item, Text)]
    upright = [item for item in CHARTS[which]().items if isinstance(item, Text) and item.upward]
    assert upright or which == "depth"
    assert sum(bool(re.match(r"[\d.]+( mm)?$", one)) for one in words) >= 4


def test_lines_are_told_apart_by_dash_and_key_and_not_by_color() -> None:
    one = layers_chart()
    legend = [item for item in one.items if isinstance(item, Stroke) and item.layer == chart.DRAWN][
        :MOST_LINES
    ]
    assert len({item.dash for item in legend}) == MOST_LINES
    keys = [item.words for item in one.items if isinstance(item, Text) and item.layer == chart.DRAWN]
    assert [f"{n + 1}  {name}" for n, name in enumerate(PLACES)] == keys[:MOST_LINES]
    at_ends = [item.words for item in one.items if isinstance(item, Text) and item.at[0] > 183.0]
    assert sorted(at_ends) == sorted("12345" * 2)  # in both panels
    colored = {layer.name for layer in one.layers if layer.tone == "accent"}
    assert {item.layer for item in one.items if isinstance(item, Text) and item.layer in colored} == {
        chart.LIMIT_NAME
    }
    named = [item.words for item in one.items if isinstance(item, Text) and item.layer == chart.LIMIT_NAME]
    assert named == ["wet wood: 20 % by mass", "decay: 28 % by mass", "mold that is seen: 3"]


def test_what_the_words_state_is_in_the_numbers() -> None:
    values = moisture(3) + 6.0
    one = over_years(
        "x", "Title", PLACES[:3], [ChartPanel("moisture content", "% by mass", values, WET)], YEARS
    )
    for number, place in enumerate(PLACES[:3]):
        of_place = values[:, number].tolist()
        peak, at = max(of_place), of_place.index(max(of_place))
        over = sum(value > 20.0 for value in of_place)
        assert (
            f"{place}: highest {peak:.3g} % by mass in {YEARS.when(at)}, {YEARS.counted(over)} above 20 % by mass"
            in one.description
        )
    words = " ".join(item.words for item in one.items if isinstance(item, Text))
    passed = 28 if values.max() > 28.0 else 20
    assert f"peaks at {values.max():.3g} % by mass" in words
    assert f"above the limit of {passed} % by mass" in words


def test_the_mark_of_the_highest_hour_stands_where_it_is() -> None:
    values = np.full((YEARS.count, 1), 10.0)
    values[10_000] = 25.0
    one = over_years("x", "t", ("plywood",), [ChartPanel("moisture", "%", values, (), 0.0, 30.0)], YEARS)
    frame = next(item for item in one.items if isinstance(item, Stroke) and item.closed)
    (x0, y0), _, (x1, y1), _ = frame.points
    strokes = [item.points for item in one.items if isinstance(item, Stroke) and item.layer == chart.DRAWN]
    a, b = strokes[-2]
    assert (a[0] + b[0]) / 2 == pytest.approx(x0 + (x1 - x0) * 10_000.5 / YEARS.count)
    assert (a[1] + b[1]) / 2 == pytest.approx(y0 + (y1 - y0) * 25.0 / 30.0)


def test_within_the_limit_and_without_one() -> None:
    values = np.full((36, 1), 12.0)
    years = Calendar.alike(3, "month")
    one = over_years("x", "t", ("plywood",), [ChartPanel("moisture", "%", values, WET)], years)
    assert "within the limit of 20 % (wet wood)" in " ".join(
        i.words for i in one.items if isinstance(i, Text)
    )
    assert "0 months above 20 %" in one.description
    bare = over_years("x", "t", ("plywood",), [ChartPanel("moisture", "%", values)], years)
    assert "limit" not in bare.description
    flat = over_years("x", "t", ("plywood",), [ChartPanel("mold index", "", 0.0 * values)], years)
    assert "highest 0 in January of year 1" in flat.description


def test_layers_are_named_and_thin_ones_are_seen() -> None:
    one = depth_chart()
    words = [item.words for item in one.items if isinstance(item, Text)]
    for layer in WALL:
        assert layer.name in words
    assert "0 mm" in words and "22 mm" in words and "outside" in words and "inside" in words
    shades = [item for item in one.items if isinstance(item, Shade)]
    heights = [abs(outline[2][1] - outline[0][1]) for shade in shades for outline in shade.outlines]
    assert min(heights) > 0.5
    assert any(
        word.endswith("in")
        for word in (i.words for i in depth_chart("inch-pound").items if isinstance(i, Text))
    )


def test_shades_cover_the_wall_once_and_darken_with_water() -> None:
    one = depth_chart()
    frame = next(
        item for item in one.items if isinstance(item, Stroke) and item.closed and item.pen == "medium"
    )
    (x0, y0), _, (x1, y1), _ = frame.points
    shades = [item for item in one.items if isinstance(item, Shade)]
    inside = [
        abs((o[2][0] - o[0][0]) * (o[2][1] - o[0][1]))
        for shade in shades
        for o in shade.outlines
        if o[0][1] >= y0 - 1e-6
    ]
    assert math.fsum(inside) == pytest.approx((x1 - x0) * (y1 - y0), rel=1e-9)
    shares = [shade.share for shade in shades if shade.outlines[0][0][1] >= y0 - 1e-6]
    assert shares == sorted(shares) and len(set(shares)) == len(shares)


def test_the_outline_is_where_the_limit_is_passed() -> None:
    wall = (DepthLayer("a", 0.05, 1), DepthLayer("b", 0.05, 1))
    years = Calendar.alike(2, "month")
    values = np.full((24, 2), 50.0)
    values[6:12, 1] = 90.0
    one = across_wall(
        "x", "t", "humidity", "%", wall, values, years, (0.0, 60.0, 100.0), LimitLine(80.0, "mold")
    )
    limits = [item.points for item in one.items if isinstance(item, Stroke) and item.layer == chart.LIMIT]
    frame = next(
        item for item in one.items if isinstance(item, Stroke) and item.closed and item.pen == "medium"
    )
    (x0, y0), _, (x1, y1), _ = frame.points
    xs = sorted({round(x, 6) for points in limits[:-1] for x, _ in points})
    assert xs == [pytest.approx(x0 + (x1 - x0) * 6 / 24), pytest.approx(x0 + (x1 - x0) * 12 / 24)]
    ys = sorted({round(y, 6) for points in limits[:-1] for _, y in points})
    assert ys == [pytest.approx(y0), pytest.approx((y0 + y1) / 2)]
    assert "b: highest 90 % in July of year 1, 25 % of the months at 80 % or more" in one.description
    assert "a: highest 50 % in January of year 1, never at 80 % or more" in one.description


@pytest.mark.parametrize(("count", "thickness"), [(40, 0.001), (3, 0.0), (1, 0.2)])
def test_walls_of_many_layers_of_films_and_of_one(count: int, thickness: float) -> None:
    wall = tuple(DepthLayer(f"layer {n}", thickness, 1) for n in range(count))
    years = Calendar.alike(1, "month")
    values = np.full((12, count), 70.0)
    one = across_wall(
        "x", "t", "humidity", "%", wall, values, years, (0.0, 60.0, 100.0), LimitLine(80.0, "mold")
    )
    box = next(
        item for item in one.items if isinstance(item, Stroke) and item.closed and item.pen == "medium"
    )
    shades = [o for item in one.items if isinstance(item, Shade) for o in item.outlines if o[0][1] > 20.0]
    assert min(o[0][1] for o in shades) == pytest.approx(box.points[0][1])
    assert max(o[2][1] for o in shades) == pytest.approx(box.points[2][1])


def test_a_race_says_who_wins() -> None:
    assert (
        "Entangled mesh is half dry after 9.4 days; two papers is half dry after 28 days"
        in race().description
    )
    assert "entangled mesh dries 3 times as fast" in race().description
    never = drying_race("x", "t", racer("mesh", 8.0), racer("nothing", 8.0, rest=0.7))
    assert "nothing is not half dry within 60 days: mesh dries faster" in never.description
    alike = drying_race("x", "t", racer("mesh", 8.0), racer("mat", 8.1))
    assert "they dry alike" in alike.description
    neither = drying_race("x", "t", racer("mesh", 8.0, rest=0.7), racer("mat", 8.1, rest=0.7))
    assert "neither dries by half" in neither.description


BAD_VALUES = moisture(2)
BAD_VALUES[5, 1] = math.nan


def test_what_has_no_shape_is_refused() -> None:
    good = moisture(2)
    for places, values in (
        (PLACES[:2], BAD_VALUES),
        (PLACES[:1], good),
        (PLACES[:2], good[:-1]),
        ((), good[:, :0]),
        ((*PLACES, "sixth"), moisture(6)),
    ):
        with pytest.raises(ChartError):
            over_years("x", "t", places, [ChartPanel("moisture", "%", values)], YEARS)
    with pytest.raises(ChartError):
        over_years("x", "t", PLACES[:2], [], YEARS)
    for levels in ((0.0,), (0.0, 0.0, 1.0)):
        with pytest.raises(ChartError, match="levels"):
            across_wall("x", "t", "q", "%", WALL, moisture(13), YEARS, levels, LimitLine(80.0, "mold"))
    with pytest.raises(ChartError, match="row"):
        across_wall("x", "t", "q", "%", WALL, moisture(12), YEARS, (0.0, 1.0), LimitLine(80.0, "mold"))
    short = Racer("short", np.ones(1), 1.0)
    with pytest.raises(ChartError):
        drying_race("x", "t", short, short)
    with pytest.raises(ChartError):
        drying_race("x", "t", racer("a", 1.0), Racer("b", np.full(24 * 60, math.inf), 1.0))
    for starts, count, names in (
        ((), 10, ()),
        ((1,), 10, ("a",)),
        ((0, 0), 10, ("a", "b")),
        ((0,), 10, ("a", "b")),
    ):
        with pytest.raises(ChartError):
            Calendar(starts, count, names)


def test_months_of_the_hours() -> None:
    days = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]
    hour = 0
    for month, long in zip(MONTH_NAMES, days, strict=True):
        assert YEARS.when(hour) == f"{month} of year 1"
        hour += 24 * long
        assert YEARS.when(hour - 1) == f"{month} of year 1"
    assert [Calendar.alike(1, "month").when(n).split()[0] for n in range(12)] == list(MONTH_NAMES)
    leap = Calendar((0, 8784), 8784 + 8760, ("2020", "2021"))
    assert leap.when(8783) == "December of 2020" and leap.when(8784) == "January of 2021"


@pytest.mark.parametrize("seed", range(20))
def test_scales_and_keys_of_any_size(seed: int) -> None:
    rng = np.random.default_rng(seed)
    low = float(rng.normal(0.0, 100.0))
    high = low + float(10.0 ** rng.uniform(-3.0, 5.0))
    found = [value for value, _ in ticks(low, high)]
    assert 2 <= len(found) <= 7 and low - 1e-6 <= found[0] and found[-1] <= high + 1e-6 * abs(high)
    places = rng.uniform(0.0, 40.0, 5).tolist()
    moved = sorted(apart(places, 3.0, 0.0, 40.0))
    assert all(b - a >= 3.0 - 1e-9 for a, b in pairwise(moved))
    assert moved[0] >= -1e-9 and moved[-1] <= 40.0 + 1e-9
