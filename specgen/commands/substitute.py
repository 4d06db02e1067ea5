"""specgen substitute: a request to build something else, held against the project and everything that hangs on it."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import click

from specgen.commands.common import echo_json, exits, folder_lines, status
from specgen.commands.options import (
    ALLOW_CODE,
    CLAUSES,
    FORCE,
    FORMAT,
    OFFICE,
    OTHER_PROJECT,
    OUTPUT,
    PROJECT_FIRST,
    TEMPLATE,
    WEATHER,
)
from specgen.commands.reading import ReadPath
from specgen.commands.template import template_of
from specgen.commands.terminal import print_text
from specgen.design.progress import part, tell
from specgen.files.writing import Written
from specgen.work.inputs import read_inputs

if TYPE_CHECKING:
    from specgen.assessment import Assessment
    from specgen.review.substitution import Substitution
    from specgen.work.hourly import Studied

_READ, _ASSESSED, _JUDGED = 0.2, 0.4, 0.9  # shares of the time [-]


@dataclass(frozen=True)
class SubstitutionRun:
    """What is printed as data of substitution requests."""

    project: str
    requests: tuple[Substitution, ...]
    files: Written


@click.command()
@PROJECT_FIRST
@click.argument("requests", nargs=-1, required=True, type=ReadPath())
@OUTPUT
@OFFICE
@ALLOW_CODE
@WEATHER
@CLAUSES
@TEMPLATE
@FORCE
@OTHER_PROJECT
@click.option(
    "--hourly", is_flag=True, help="Run the hours of each wall whose kept hourly result a request ends."
)
@FORMAT
@exits
def command(
    project: Path,
    requests: tuple[Path, ...],
    output: Path,
    office: Path | None,
    allow_code: bool,
    weather: Path | None,
    clauses: Path | None,
    template: Path | None,
    force: bool,
    other_project: bool,
    hourly: bool,
    form: str,
) -> int:
    """Put each substitution REQUEST into PROJECT and tell what it changes: a form (Word) and its data (JSON).

    Several requests are weighed one by one and together: the least sets that break the wall only together are told.
    Where the project keeps an hourly result of a wall that a request changes, it is told that it no longer holds.

    Exit status: 0 nothing worse than corrections and nothing unknown, 1 a request to resubmit or that breaks the wall,
    2 unusable input, 3 nothing to resubmit, but a value is to be confirmed or what a request does to the wall is unknown.
    """
    from specgen.review.hours import hours_texts
    from specgen.specification import specify
    from specgen.work.papers import refuse_unready
    from specgen.work.replying import Sending, write_forms
    from specgen.work.requests import load_requests, substitutions

    look = template_of(template)
    if hourly:
        from specgen.commands.hourly import tell_slow

        tell_slow()
    inputs = read_inputs(project, office, allow_code, weather, clauses)
    refuse_unready(inputs.project, inputs.practice)
    read = load_requests(requests, inputs)
    tell(_READ)
    spec = specify(inputs.assessed())
    with part(_ASSESSED, _JUDGED):
        found = substitutions(spec, read, _run_hours if hourly else None)
    done = write_forms(output, found, inputs, spec, Sending(look, force, other_project))
    tell(1.0)
    names, written = done.names, done.written
    if form == "json":
        echo_json(SubstitutionRun(inputs.project.title, found, written))
    else:
        for one, name in zip(found, names, strict=True):
            print_text(f"{one.request.number}: {output / name}")
            print_text(f"    {one.recommendation.value} ({one.why})")
            for each_wall in one.hours:
                print_text(f"    {each_wall.words}")
            for row in hours_texts(one.hours) if hourly else ():
                print_text(f"        {row.place}: {row.before} -> {row.after}")
        for each in dict.fromkeys(least for one in found for least in one.together):
            together = " and ".join(each.changes)
            print_text(
                f"only together: {together}: {each.finding.code} at {each.parapet}: {each.finding.message}"
            )
        for line in folder_lines(written):
            print_text(line)
        print_text("These are recommendations. A person decides and signs.")
    return status(found, failed=any(one.together for one in found))


def _run_hours(proposed: Assessment, names: tuple[str, ...]) -> list[Studied]:
    """The hours of some walls as proposed, one a core."""
    from specgen.work.hourly import studies_of

    return list(studies_of(proposed, names, cores=os.cpu_count() or 1, tell=tell))
