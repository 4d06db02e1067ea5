"""specgen hourly: years of hours through the walls of a project, kept beside it."""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import click

from specgen.assessment import settled
from specgen.commands.common import echo_json, exits, need, status, strange
from specgen.commands.options import ALLOW_CODE, FORMAT, OFFICE, PROJECT_FILE, WEATHER, completed
from specgen.commands.terminal import print_text
from specgen.commands.unusable import WordError
from specgen.design.progress import tell
from specgen.files.extras import missing
from specgen.intake.hourly import FILE_NAME
from specgen.units.months import MONTH_NAMES
from specgen.work.hourly import KEPT, Studied, gone, studies
from specgen.work.hourly import YEARS as STUDY_YEARS
from specgen.work.inputs import read_inputs

if TYPE_CHECKING:
    from specgen.model.hourly import CutHours, HourlyResult, LeakRun, PlaceHours
    from specgen.model.project import Parapet, Project

YEARS = click.IntRange(3, 50)  # fewer do not tell whether a wall gets wetter from year to year
SLOW = "; without it the hours run in plain Python and take some hundred times as long"


@dataclass(frozen=True)
class HourlyRun:
    """What is printed as data of a study."""

    project: str
    parapets: tuple[Studied, ...]
    gone: tuple[str, ...]  # parapets that have a kept result and are no longer there
    file: str


@click.command()
@PROJECT_FILE
@click.option(
    "--parapet",
    "names",
    multiple=True,
    shell_complete=completed("parapets"),
    help="One parapet by name. Repeatable; without it, all.",
)
@click.option("--years", type=YEARS, help="Years to run at most; 10 where nothing is kept.")
@click.option("--cores", type=click.IntRange(1, 256), help="Walls at a time; without it, one a core.")
@click.option("--again", is_flag=True, help="Run what is kept and holds once more.")
@click.option(
    "--drop", is_flag=True, help="Take out kept results of parapets that the project no longer has."
)
@click.option(
    "--scheduler",
    metavar="ADDRESS",
    help="Run on the Dask cluster at that address, as tcp://host:8786, whose workers see the same folder.",
)
@OFFICE
@ALLOW_CODE
@WEATHER
@FORMAT
@exits
def command(
    project: Path,
    names: tuple[str, ...],
    years: int | None,
    cores: int | None,
    again: bool,
    drop: bool,
    scheduler: str | None,
    office: Path | None,
    allow_code: bool,
    weather: Path | None,
    form: str,
) -> int:
    """Run the hours of years through the walls of PROJECT and keep the results beside it, in hourly-moisture.json.

    A kept result that holds for the wall as it is described is not run again. Each wall is kept as soon as it is done:
    a run that was stopped goes on where it was.

    Exit status: 0 the criterion holds in every cut of every wall, 1 it fails in one, 2 the input cannot be used,
    3 it fails nowhere, but of a wall it cannot be told.
    """
    from specgen.work.hourly_file import keep, kept

    if scheduler and (weather or cores):
        raise click.UsageError(
            "--scheduler takes the weather of the project file and all cores of the cluster"
        )
    if scheduler:
        need("portfolio")
    else:
        tell_slow()
    inputs = read_inputs(project, office, allow_code, weather)
    practice = inputs.effective()
    described = settled(inputs.project, practice)
    chosen = _chosen(described, names)
    folder = Path(described.path).parent
    elsewhere = None
    if scheduler:
        from specgen.commands.hourly_job import on_cluster

        elsewhere = partial(on_cluster, folder, office, allow_code, years or STUDY_YEARS, scheduler)
    running = studies(
        described,
        practice,
        chosen,
        years=years,
        anew=again,
        cores=cores or os.cpu_count() or 1,
        tell=tell,
        elsewhere=elsewhere,
    )
    # A worker of a cluster keeps its own.
    found = {one.parapet: one for one in (running if scheduler else kept(folder, running))}
    lost = gone(described, described.hourly)
    if drop and lost:
        keep(folder, dropped=lost)
    ordered = tuple(found[one.name] for one in chosen)
    if form == "json":
        echo_json(HourlyRun(described.title, ordered, lost, FILE_NAME))
    else:
        for one in ordered:
            print_text("\n".join(_lines(one)))
    for name in lost:
        what = "it was taken out" if drop else "it stays; --drop takes it out"
        print_text(
            f"{FILE_NAME} holds a result of parapet {name}, which the project no longer has: {what}", err=True
        )
    return status(ordered)


def _chosen(project: Project, names: tuple[str, ...]) -> list[Parapet]:
    if wrong := strange("parapet", names, (one.name for one in project.parapets)):
        raise WordError(wrong)
    return [one for one in project.parapets if not names or one.name in names]


def tell_slow() -> None:
    """Tell before any work that hours take long without the extra that compiles them."""
    if why := missing("hourly"):
        print_text(why + SLOW, err=True)


def _lines(one: Studied) -> Iterator[str]:
    if one.result is None:
        yield f"{one.parapet}: unknown: {one.why}"
        return
    result: HourlyResult = one.result
    how = "kept" if one.state == KEPT else "run now"
    yield f"{one.parapet} ({how}; weather {result.weather}, rain: {result.rain})"
    for cut in result.cuts:
        yield from _cut_lines(cut)
    yield from (f"    left out: {note}" for note in result.notes)


def _cut_lines(cut: CutHours) -> Iterator[str]:
    run = cut.at(0.0)
    if run is None:
        yield f"    {cut.cut}: unknown: no run at the leak of the criterion"
        return
    yield f"    {cut.cut}: the criterion {'holds' if run.holds else 'FAILS'} ({run.years} years{_grows(run)})"
    mold = max((place for place in run.places if place.mold), key=lambda place: place.mold_peak, default=None)
    if mold is not None:
        yield f"        mold index {mold.mold_peak:.2f}: {mold.name}, worst in {_month(mold)}"
    for sort, place in _wettest(run).items():
        share = 100.0 * (place.moisture_peak or 0.0)
        yield f"        {sort} at most {share:.1f} % water by mass: {place.name}, worst in {_month(place)}"
    if cut.forgiven is None:
        yield "        forgives nothing: the criterion fails before any rain passes the barrier"
    else:
        more = " or more" if cut.forgiven_all else ""
        yield f"        forgives {100.0 * cut.forgiven:.3g} %{more} {cut.leak}"
    days = "does not dry within a year" if cut.half_days is None else f"dries in {cut.half_days:.3g} days"
    yield f"        half of a wetting {days}"


def _grows(run: LeakRun) -> str:
    return ", still growing" if run.growing else ""


def _month(place: PlaceHours) -> str:
    return MONTH_NAMES[place.worst_month - 1]


def _wettest(run: LeakRun) -> dict[str, PlaceHours]:
    """Of wood and of gypsum, the place that was wettest."""
    found: dict[str, PlaceHours] = {}
    for one in run.places:
        best = found.get(one.sort)
        if one.moisture_peak is not None and (
            best is None or one.moisture_peak > (best.moisture_peak or 0.0)
        ):
            found[one.sort] = one
    return found
