"""The page docs/hourly-moisture.md, from what is kept of its runs; no number of it is typed here."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any, Final

from hourly_runs import (
    DIRECTIONS,
    EXCHANGED,
    EXCHANGES,
    LEAKS,
    MATERIALS,
    SHARES,
    SPAN,
    YEARS,
    cases,
    result_of,
)
from hourly_walls import CLASSES, CLIMATES, EXAMPLES, LAYERS, WALLS, Wall, practice
from hourly_words import BELIEF, FIELD, FINDINGS, HEAD, OVERTURNED, SHORT

from specgen.drawing.chart_result import race_chart, result_charts
from specgen.drawing.shapes import Drawing
from specgen.model.hourly import MID_HEIGHT, TOP, CutHours, HourlyResult, LeakRun, PlaceHours
from specgen.render.svg import svg_bytes
from specgen.units.months import MONTH_NAMES

PLOTS: Final = Path(__file__).with_name("hourly")
MOST_BYTES: Final = 120_000
"""Of one plot; a larger one is left out."""
Kept = Mapping[str, Any]
NOT_RUN: Final = "not run"
COMPASS: Final = (
    "N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE", "S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW",
)  # fmt: skip


def text(kept: Kept, stale: Sequence[str]) -> str:
    """The whole page.

    Args:
        kept: the results of the cases.
        stale: names of the cases whose key is no longer that of what they read.
    """
    lines = [
        HEAD.format(years=YEARS, span=SPAN),
        state(stale),
        *lacking(kept),
        "",
        "## What came out",
        "",
        FINDINGS,
    ]
    lines += walls(kept)
    lines += ["![Drying of the midrise with its gap and without](hourly/race.svg)", ""]
    lines += ["## Leakage forgiven", "", *layers(kept), *classes(kept), *exchange(kept), OVERTURNED]
    lines += directions(kept)
    lines += ["## What the field says", "", FIELD, *speed(kept), SHORT]
    return "\n".join(lines)


def lacking(kept: Kept) -> list[str]:
    """How many cases nobody has run."""
    known = [case.id for case in cases()]
    count = sum(1 for one in known if one not in kept["cases"])
    return [f"**{count} of {len(known)} cases are not run**; `--run` runs them."] if count else []


def state(stale: Sequence[str]) -> str:
    """Whether the numbers are those of the program as it is."""
    if not stale:
        return "All results are of the program, materials and weather as they are."
    some = ", ".join(stale[:3]) + (f" and {len(stale) - 3} more" if len(stale) > 3 else "")
    return (
        f"**Stale**: program, materials or walls have changed since {len(stale)} results were made ({some}); "
        "`--run` makes them anew."
    )


def row(*cells: object) -> str:
    """One row of a table."""
    return "| " + " | ".join(str(cell) for cell in cells) + " |"


def table(heads: Sequence[str], rows: Sequence[Sequence[object]]) -> list[str]:
    """A table with its heads, and an empty line before and after."""
    return ["", row(*heads), row(*["---"] * len(heads)), *(row(*one) for one in rows), ""]


def percent(value: float | None) -> str:
    """A share as it is printed."""
    return "" if value is None else f"{100.0 * value:.3g} %"


def standing(cut: CutHours) -> LeakRun:
    """The run without a leak past the barrier."""
    run = cut.at(0.0)
    if run is None:
        raise ValueError(f"{cut.cut}: no run without a leak")
    return run


def governing(result: HourlyResult, wall: Wall) -> CutHours:
    """The cut that fails, or forgives least, or has the most mold; the top, where that is what was broken."""
    top = result.cut(TOP)
    if wall.top_leak and top is not None:
        return top

    def rank(cut: CutHours) -> tuple[bool, float, float]:
        forgiven = -1.0 if cut.forgiven is None else cut.forgiven
        return not standing(cut).holds, -forgiven, standing(cut).mold_peak

    return max(result.cuts, key=rank)


def worst_place(run: LeakRun) -> PlaceHours:
    """Of the places behind the barrier the one with the most mold."""
    return max((one for one in run.places if one.mold), key=lambda one: (one.mold_peak, one.humidity_peak))


def wettest(run: LeakRun, sort: str) -> float | None:
    """Highest moisture of a sort behind the barrier [-]."""
    found = [
        one.moisture_peak
        for one in run.places
        if one.mold and one.sort == sort and one.moisture_peak is not None
    ]
    return max(found, default=None)


def forgives(cut: CutHours) -> str:
    """What a cut forgives."""
    if cut.forgiven is None:
        return "nothing"
    return percent(cut.forgiven) + (" or more" if cut.forgiven_all else "")


def half(cut: CutHours) -> str:
    """Days of drying."""
    return "over a year" if cut.half_days is None else f"{cut.half_days:.0f} d"


def unsure(cut: CutHours) -> str:
    """How far the mold index moves."""
    known = {what: cut.uncertainty.get(f"{what} mold") for what in ("grid", "material", "rain", "air")}
    return ", ".join(f"{what} {value:.2f}" for what, value in known.items() if value is not None)


def walls(kept: Kept) -> Iterator[str]:
    """The table of all walls and a section of each."""
    yield "## The walls"
    rows = []
    for wall in WALLS:
        cut = governing(result_of(kept, wall.name), wall)
        run = standing(cut)
        verdict = "holds" if run.holds else "**fails**"
        water = (percent(wettest(run, "wood")), percent(wettest(run, "gypsum")))
        link = f"[{wall.name}](#{anchor(wall.name)})"
        mold = f"{run.mold_peak:.1f}"
        rows.append((link, wall.climate.name, verdict, cut.cut, mold, *water, forgives(cut), half(cut)))
    heads = (
        "wall",
        "climate",
        "criterion",
        "cut that governs",
        "mold index",
        "wood",
        "gypsum",
        "forgives",
        "half dries in",
    )
    yield from table(heads, rows)
    for wall in WALLS:
        yield from section(wall, result_of(kept, wall.name), kept["cases"][f"walls / {wall.name}"]["seconds"])


def anchor(name: str) -> str:
    """The anchor of a heading."""
    return name.lower().replace(" ", "-")


def section(wall: Wall, result: HourlyResult, seconds: float) -> Iterator[str]:
    """One wall."""
    yield from (f"### {wall.name}", "", wall.what)
    yield f"Example `projects/{wall.example}`, {wall.climate.name} year; {result.rain}."
    rows = []
    for cut in result.cuts:
        run, place = standing(cut), worst_place(standing(cut))
        rows.append(
            (
                cut.cut, ("holds" if run.holds else "**fails**") + (", growing" if run.growing else ""),
                f"{run.mold_peak:.2f}", place.name, percent(wettest(run, "wood")), percent(wettest(run, "gypsum")),
                forgives(cut), MONTH_NAMES[place.worst_month - 1], half(cut), unsure(cut),
            )
        )  # fmt: skip
    heads = (
        "cut", "criterion", "mold index", "where", "wood at most", "gypsum at most", "forgives", "worst month",
        "half dries in", "mold index moves with",
    )  # fmt: skip
    yield from table(heads, rows)
    yield "The last years of the cut that governs, and what each leak does:"
    yield ""
    for name, drawing in plots(wall, result):
        yield f"![{drawing.title}](hourly/{name}.svg)"
        yield ""
    yield from (f"**Would one believe it?** {BELIEF[wall.name]}", "", f"Run in {seconds:.0f} s.", "")


def plots(wall: Wall, result: HourlyResult) -> Iterator[tuple[str, Drawing]]:
    """The charts of the cut that governs, and of all leaks."""
    cut = governing(result, wall)
    chosen = replace(result, parapet=wall.name, cuts=(last_years(cut),))
    for number, drawing in enumerate(result_charts(chosen, practice())[:2]):
        yield f"{anchor(wall.name)}-{('years', 'depth')[number]}", drawing
    every = [
        one for one in result_charts(result, practice()) if one.title.endswith("how much leakage it forgives")
    ]
    if every and not wall.top_leak:
        yield f"{anchor(wall.name)}-leak", every[0]


def last_years(cut: CutHours) -> CutHours:
    """The cut with the mold of the years alone whose months are kept."""
    months = max((len(one) for one in cut.course.values()), default=0)
    places = tuple(replace(one, mold=one.mold[-(months // 12) :]) for one in standing(cut).places)
    runs = tuple(replace(run, places=places) if run.share == 0.0 else run for run in cut.runs)
    return replace(cut, runs=runs)


def write_plots(kept: Kept) -> None:
    """Every plot as SVG.

    Raises:
        ValueError: one is larger than a page should carry.
    """
    PLOTS.mkdir(exist_ok=True)
    found: list[tuple[str, Drawing]] = []
    results = {wall.name: result_of(kept, wall.name) for wall in WALLS}
    for wall in WALLS:
        found += plots(wall, results[wall.name])
    race = race_chart(MID_HEIGHT, results["mixed-humid midrise"], results["no drainage gap"])
    if race is not None:
        found.append(("race", race))
    for name, drawing in found:
        content = svg_bytes(drawing)
        if len(content) > MOST_BYTES:
            raise ValueError(f"{name}: {len(content)} bytes")
        (PLOTS / f"{name}.svg").write_bytes(content)


def cell(found: Kept | None) -> str:
    """What a case forgives and its mold index without a leak; a star where it still grew."""
    if found is None:
        return NOT_RUN
    first = found["runs"][0]
    star = "*" if first["growing"] else ""
    if found["forgiven"] is None:
        return f"nothing ({first['mold']:.1f}{star})"
    most = "≥ " if found["forgiven"] == SHARES[-1] else ""
    return f"{most}{100.0 * found['forgiven']:.3g} % ({first['mold']:.1f}{star})"


def layers(kept: Kept) -> list[str]:
    """Each example with each drainage layer."""
    rows = [
        (wall.name, *(cell(kept["cases"].get(f"layers / {wall.name} / {name}")) for name, _ in LAYERS))
        for wall in EXAMPLES
    ]
    shares = ", ".join(f"{100.0 * share:g}" for share in SHARES)
    words = (
        f"Parapet at mid-height, each example in its climate, {SPAN} years. The largest of {shares} % of the "
        "driven rain past the barrier into the layer behind it at which the criterion holds, beside the 1 % on the "
        "barrier's face that every run has; in brackets the mold index without such a leak, with a star where it "
        "still grew. The gap of mesh and grooved mat is closed at the top; the barrier has the permeance of the "
        "example, 10 perm where that is left to its sections."
    )
    return [
        "### By example and drainage layer",
        "",
        words,
        *table(("example", *(name for name, _ in LAYERS)), rows),
    ]


def classes(kept: Kept) -> Iterator[str]:
    """Each drainage layer with each class of barrier in three climates."""
    yield "### By class of the barrier"
    yield ""
    perms = ", ".join(f"{name} {perm:g} perm" for name, perm in CLASSES)
    yield f"The mixed-humid midrise (gypsum on steel studs, light roof membrane) in three climates. {perms}."
    for climate in CLIMATES:
        rows = [
            (
                name,
                *(
                    cell(kept["cases"].get(f"classes / {climate.name} / {name} / {kind}"))
                    for kind, _ in CLASSES
                ),
            )
            for name, _ in LAYERS
        ]
        yield from (
            "",
            f"**{climate.name}**",
            *table(("drainage layer", *(kind for kind, _ in CLASSES)), rows),
        )


def exchange(kept: Kept) -> Iterator[str]:
    """A gap closed at the top that changes its air more or less often."""
    yield "### By the air changes of a closed gap"
    yield ""
    yield (
        "Dimpled sheet open at the bottom alone. How often such a gap changes its air is a choice of this tool "
        "(`hourly.closed_exchange`); nothing in these tables decides more."
    )
    rows = [
        (name, *(cell(kept["cases"].get(f"exchange / {name} / {often:g}")) for often in EXCHANGES))
        for name in EXCHANGED
    ]
    yield from table(("example", *(f"{often:g} an hour" for often in EXCHANGES)), rows)


def directions(kept: Kept) -> Iterator[str]:
    """The parapet turned through all directions."""
    yield "## Sixteen directions, five leaks, three materials"
    yield ""
    shares = ", ".join(f"{100.0 * share:g}" for share in LEAKS)
    ids = [f"directions / {name} / {way:g}" for name, _ in MATERIALS for way in DIRECTIONS]
    done = [kept["cases"][one]["seconds"] for one in ids if one in kept["cases"]]
    yield (
        f"The mixed-humid midrise with its gap open at top and bottom, at mid-height, {SPAN} years a run. Mold index "
        f"with {shares} % of the driven rain past the barrier, beside the 1 % on its face; bold where the criterion "
        f"fails. {len(done) * len(LEAKS)} of {len(ids) * len(LEAKS)} runs are made; they took two processes "
        f"{sum(done) / 2.0:.0f} s. "
        "`docs/make_hourly_study.py --run --only directions --cores 2` goes on where it was stopped."
    )
    heads = ("face", "rain on it", *(f"{title}" for title, _ in MATERIALS))
    rows = []
    for at, way in enumerate(DIRECTIONS):
        found = [kept["cases"].get(f"directions / {name} / {way:g}") for name, _ in MATERIALS]
        rain = next((f"{one['rain']:.0f} kg/m²" for one in found if one), "")
        rows.append((COMPASS[at], rain, *(_leaks(one) if one else NOT_RUN for one in found)))
    yield from table(heads, rows)


def _leaks(found: Kept) -> str:
    return ", ".join(
        f"{run['mold']:.1f}" if run["holds"] else f"**{run['mold']:.1f}**" for run in found["runs"]
    )


def speed(kept: Kept) -> Iterator[str]:
    """Seconds of each part."""
    yield "## Time"
    spent = {
        part: [found["seconds"] for name, found in kept["cases"].items() if name.startswith(f"{part} /")]
        for part in ("walls", "layers", "classes", "exchange", "directions")
    }
    rows = [
        (part, len(of), f"{sum(of):.0f} s", f"{sum(of) / len(of):.1f} s") for part, of in spent.items() if of
    ]
    yield from table(("part", "cases", "all", "each"), rows)
    yield (
        "Two processes on a machine of two cores that did other work as well. A wall of the pages is all that "
        f"`specgen hourly` does: three cuts of up to {YEARS} years, bisection, drying, and each range of the materials "
        "run beside the nominal ones. A case of the tables is one cut of three years at up to four leaks."
    )
    yield ""
