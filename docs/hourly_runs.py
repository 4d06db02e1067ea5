"""The runs behind docs/hourly-moisture.md, kept by name and key in docs/hourly-moisture.json while they are made."""

from __future__ import annotations

import itertools
import json
import sys
import time
from collections.abc import Callable, Mapping
from concurrent.futures import ProcessPoolExecutor, as_completed
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Final

from hourly_walls import (
    BROKEN,
    CLASSES,
    CLIMATES,
    EXAMPLES,
    LAYERS,
    WALLS,
    Change,
    Climate,
    Wall,
    barrier,
    practice,
    project,
    with_barrier,
)

from specgen.design.hourly_cuts import Cut, cuts
from specgen.design.hourly_faces import wall_faces
from specgen.design.hourly_study import Read, read, study, sum_of
from specgen.design.hourly_years import Limits, across, course, drying, judged, march_years
from specgen.design.worksheet import Worksheet
from specgen.model.hourly import MID_HEIGHT, TOP, CutHours, HourlyResult, LeakRun
from specgen.model.plain import plain
from specgen.model.project import Project
from specgen.practice.entries import Practice
from specgen.units.quantity import parse

DATA: Final = Path(__file__).with_name("hourly-moisture.json")
YEARS: Final = 5
"""Most years of a wall of the pages."""
SPAN: Final = 3
"""Years of a run of the tables."""
SHARES: Final = (0.0, 0.0025, 0.005, 0.01, 0.02, 0.03, 0.05)
"""Leaks past the barrier that the tables try."""
BRIEF: Final = (*(wall.name for wall in BROKEN), "plaster-covered top")
BRIEF_SHARES: Final = (0.0025, 0.01, 0.05)
"""Walls that are run `SPAN` years at these leaks alone, and without ranges of materials."""
LEAKS: Final = (0.0, 0.005, 0.01, 0.02, 0.05)
DIRECTIONS: Final = tuple(22.5 * number for number in range(16))
FINISHED = (r"finish: cement finish", "finish: acrylic finish")
MATERIALS: tuple[tuple[str, tuple[Change, ...]], ...] = (
    ("cement finish, glass-mat gypsum", ()),
    (
        "cement finish, plywood",
        ((r"(?<!roof-side )sheathing, kind: glass-mat gypsum", "sheathing, kind: plywood"),),
    ),
    (
        "acrylic finish, OSB",
        (FINISHED, (r"(?<!roof-side )sheathing, kind: glass-mat gypsum", "sheathing, kind: OSB")),
    ),
)
"""Cladding and sheathing of the parapet that is turned through all directions."""
EXCHANGE: Final = "hourly.closed_exchange"
EXCHANGES: Final = (0.3, 1.0, 3.0, 10.0)
"""Air changes of a gap closed at the top [1/h] that are tried."""
EXCHANGED: Final = ("existing repair", "mixed-humid midrise")
OPEN: tuple[Change, ...] = LAYERS[0][1]
MONTHS: Final = 36
Data = dict[str, Any]


@dataclass(frozen=True)
class Case:
    """One row of the study: its table and name, and what it is of."""

    table: str
    name: str
    example: str
    climate: Climate
    changes: tuple[Change, ...] = ()
    keeps_barrier: bool = False
    top_leak: float = 0.0
    azimuth: float | None = None
    exchange: float | None = None

    @property
    def id(self) -> str:
        """Its name in the file."""
        return f"{self.table} / {self.name}"

    def project(self) -> Project:
        """The project of the case."""
        changes = self.changes
        if self.keeps_barrier:
            changes = with_barrier(self.example, self.climate, changes)
        return project(self.example, self.climate, changes)


def _of_wall(wall: Wall) -> Case:
    return Case(
        "walls",
        wall.name,
        wall.example,
        wall.climate,
        wall.changes,
        wall.name == "no drainage gap",
        wall.top_leak,
    )


def cases() -> tuple[Case, ...]:
    """Every case in the order of the page."""
    found = [_of_wall(wall) for wall in WALLS]
    for wall in EXAMPLES:
        for name, changes in LAYERS:
            found.append(Case("layers", f"{wall.name} / {name}", wall.example, wall.climate, changes, True))
    for climate in CLIMATES:
        for name, changes in LAYERS:
            for kind, perm in CLASSES:
                title = f"{climate.name} / {name} / {kind}"
                found.append(
                    Case("classes", title, "mixed-humid-midrise", climate, (*changes, *barrier(perm)))
                )
    for name, changes in MATERIALS:
        for azimuth in DIRECTIONS:
            title = f"{name} / {azimuth:g}"
            changed = (*OPEN, *changes)
            found.append(
                Case("directions", title, "mixed-humid-midrise", CLIMATES[0], changed, True, azimuth=azimuth)
            )
    for wall in (one for one in EXAMPLES if one.name in EXCHANGED):
        for changes in EXCHANGES:
            title = f"{wall.name} / {changes:g}"
            closed = LAYERS[1][1]
            found.append(Case("exchange", title, wall.example, wall.climate, closed, True, exchange=changes))
    return tuple(found)


def numbers(case: Case) -> Practice:
    """The numbers of the trade, with another air change of a closed gap where the case has one."""
    base = practice()
    if case.exchange is None:
        return base
    entry = replace(base.entry(EXCHANGE), value=parse(f"{case.exchange:g}"))
    return replace(base, entries={**base.entries, EXCHANGE: entry})


def _mid_height(case: Case, years: int) -> tuple[Cut, Limits, str]:
    """The cut at mid-height of a case, and the key of what its runs read."""
    of = case.project()
    parapet = of.parapets[0]
    if case.azimuth is None:
        found: Read = read(of, parapet, numbers(case), years)
        sections = found.cuts
    else:
        assert of.weather is not None
        sheet = Worksheet("hourly moisture", "", of, parapet, practice(), "", [])
        faces = wall_faces(sheet, of.weather, azimuth=case.azimuth)
        sections = cuts(sheet, [faces] * years)
    limits = Limits.of(practice())
    cut = next(one for one in sections if one.name == MID_HEIGHT)
    return cut, limits, sum_of([cut], limits, years)


def key(case: Case) -> str:
    """The key of all that a case reads now."""
    if case.table != "walls":
        return _mid_height(case, SPAN)[2]
    of = case.project()
    return read(of, of.parapets[0], practice(), YEARS).key


def made(case: Case) -> Data:
    """A case run: its key, seconds and numbers."""
    start = time.perf_counter()
    if case.table == "walls":
        found = _wall(case)
    elif case.table == "directions":
        found = _direction(case)
    else:
        found = _forgiven(case)
    return {**found, "seconds": round(time.perf_counter() - start, 1)}


def _brief(run: LeakRun) -> Data:
    """A run in the numbers of a table."""
    behind = [one for one in run.places if one.mold]
    worst = max(behind, key=lambda one: (one.mold_peak, one.humidity_peak))
    by_sort = {
        sort: max(
            (one.moisture_peak for one in behind if one.sort == sort and one.moisture_peak is not None),
            default=None,
        )
        for sort in ("wood", "gypsum")
    }
    return {
        "share": run.share,
        "holds": run.holds,
        "growing": run.growing,
        "mold": round(run.mold_peak, 3),
        "at": worst.name,
        "month": worst.worst_month,
        "wood": by_sort["wood"] and round(by_sort["wood"], 4),
        "gypsum": by_sort["gypsum"] and round(by_sort["gypsum"], 4),
        "taken": round(run.taken, 3),
        "years": run.years,
    }


def _forgiven(case: Case) -> Data:
    """The largest share of `SHARES` at which the criterion still holds at mid-height, by bisection."""
    cut, limits, at = _mid_height(case, SPAN)
    runs: dict[int, Data] = {}

    def holds(number: int) -> bool:
        if number not in runs:
            share = SHARES[number]
            runs[number] = _brief(judged(cut, share, march_years(cut, share, limits), limits))
        return bool(runs[number]["holds"])

    low, high = 0, len(SHARES)
    if holds(0):
        while high - low > 1:
            middle = (low + high) // 2
            low, high = (middle, high) if holds(middle) else (low, middle)
        forgiven: float | None = SHARES[low]
    else:
        forgiven = None
    return {"key": at, "forgiven": forgiven, "runs": [runs[number] for number in sorted(runs)]}


def _direction(case: Case) -> Data:
    """Every leak of one direction and material."""
    cut, limits, at = _mid_height(case, SPAN)
    runs = [_brief(judged(cut, share, march_years(cut, share, limits), limits)) for share in LEAKS]
    rain = sum(cut.years[0].rain.tolist()) * 3600.0
    return {"key": at, "rain": round(rain, 1), "runs": runs}


def _wall(case: Case) -> Data:
    of = case.project()
    parapet = of.parapets[0]
    if case.name in BRIEF:
        result = _brief_study(of, case.name)
    else:
        result = replace(study(of, parapet, practice(), years=YEARS), parapet=case.name)
    if case.top_leak:
        found = read(of, parapet, practice(), YEARS)
        cut = next(one for one in found.cuts if one.name == TOP)
        hours = march_years(cut, case.top_leak, found.limits)
        run = replace(judged(cut, case.top_leak, hours, found.limits), share=0.0)
        layers, profile = across(hours)
        changed = replace(
            result.cut(TOP) or result.cuts[0],
            always=0.01 + case.top_leak,
            runs=(run,),
            forgiven=None,
            course=course(cut, hours),
            across=layers,
            profile=profile,
        )
        result = replace(result, cuts=tuple(changed if one.cut == TOP else one for one in result.cuts))
    kept = replace(result, cuts=tuple(_last_years(one) for one in result.cuts))
    return {"key": result.key, "result": _short(plain(kept))}


def _brief_study(of: Project, name: str) -> HourlyResult:
    """The cuts of a wall over `SPAN` years at a few leaks, without bisection and without ranges of materials."""
    found = read(of, of.parapets[0], practice(), YEARS)
    made = []
    for cut in found.cuts:
        first = march_years(cut, 0.0, found.limits, most=SPAN)
        runs = [judged(cut, 0.0, first, found.limits)]
        for share in BRIEF_SHARES:
            runs.append(judged(cut, share, march_years(cut, share, found.limits, most=SPAN), found.limits))
        held = [run.share for run in itertools.takewhile(lambda run: run.holds, runs)]
        half, left = drying(cut, found.limits)
        layers, profile = across(first)
        made.append(
            CutHours(
                cut.name, sum(share for _, share in cut.always), cut.leak_words, tuple(runs), held[-1] if held else None,
                len(held) == len(runs), half, {}, course(cut, first), layers, profile, left,
            )
        )  # fmt: skip
    face = found.faces[0]
    return HourlyResult(name, found.key, YEARS, face.year.weather.name, face.year.basis, tuple(made))


def _last_years(cut: CutHours) -> CutHours:
    """A cut with the last three years of its months, and the days of drying that are shown."""
    days = 1 + min(len(cut.drying), 200)
    course_of = {name: months[-MONTHS:] for name, months in cut.course.items()}
    return replace(cut, course=course_of, profile=cut.profile[-MONTHS:], drying=cut.drying[:days])


def _short(node: Any) -> Any:
    """Numbers to the digits that are shown."""
    if isinstance(node, float):
        return float(f"{node:.4g}")
    if isinstance(node, list):
        return [_short(one) for one in node]
    if isinstance(node, dict):
        return {name: _short(one) for name, one in node.items()}
    return node


def load() -> Data:
    """What is kept: the results by the names of their cases."""
    if not DATA.exists():
        return {"cases": {}}
    return dict(json.loads(DATA.read_text(encoding="utf-8")))


def keep(kept: Data) -> None:
    """Write what is kept, whole or not at all."""
    lines = ",\n".join(
        f"{json.dumps(name)}: {json.dumps(found, ensure_ascii=False)}"
        for name, found in sorted(kept["cases"].items())
    )
    new = DATA.with_suffix(".new")
    new.write_text('{"cases": {\n' + lines + "\n}}\n", encoding="utf-8")
    new.replace(DATA)


def of_a_page(case: Case) -> bool:
    """Whether a case is a wall with a section of its own: these read what all others read, and are soon asked."""
    return case.table == "walls"


def stale(kept: Mapping[str, Any], sample: Callable[[Case], bool] = lambda case: True) -> tuple[str, ...]:
    """The cases that are not kept, or whose wall, weather, materials or program have changed since."""
    found = []
    for case in cases():
        if sample(case) and kept["cases"].get(case.id, {}).get("key") != key(case):
            found.append(case.id)
    return tuple(found)


def run(cores: int, only: str = "") -> None:
    """Run every case that is not kept or is stale, and keep each as soon as it is there; a bar tells how far it is."""
    kept = load()
    wanted = [case for case in cases() if not only or case.table == only]
    done = 0
    begin = time.perf_counter()
    with ProcessPoolExecutor(cores) as pool:
        futures = {
            pool.submit(_unless_kept, case, kept["cases"].get(case.id, {}).get("key")): case
            for case in wanted
        }
        for future in as_completed(futures):
            case, found = futures[future], future.result()
            done += 1
            if found is not None:
                kept["cases"][case.id] = found
                keep(kept)
            _bar(done, len(wanted), time.perf_counter() - begin, case.id)
    known = {case.id for case in cases()}
    kept["cases"] = {name: found for name, found in kept["cases"].items() if name in known}
    keep(kept)


def _unless_kept(case: Case, at: str | None) -> Data | None:
    return None if at is not None and key(case) == at else made(case)


def _bar(done: int, count: int, seconds: float, name: str) -> None:
    full = 30 * done // count
    bar = "#" * full + "." * (30 - full)
    sys.stderr.write(f"\r[{bar}] {done}/{count} {seconds:.0f} s {name:<70.70}")
    sys.stderr.write("\n" if done == count else "")
    sys.stderr.flush()


def result_of(kept: Mapping[str, Any], name: str) -> HourlyResult:
    """The result of a wall of the pages, as a record."""
    from specgen.intake.hourly import _record

    return _record(HourlyResult, kept["cases"][f"walls / {name}"]["result"], "result")  # type: ignore[no-any-return]
