"""specgen letters: request for information, compatibility letters, deficiency list, transmittal."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import click

from specgen.commands.common import CLEAN, echo_json, exits, folder_lines
from specgen.commands.options import (
    ALLOW_CODE,
    CLAUSES,
    FORCE,
    FORMAT,
    OFFICE,
    OTHER_PROJECT,
    OUTPUT,
    PROJECT,
    TEMPLATE,
    WEATHER,
)
from specgen.commands.reading import ReadPath
from specgen.commands.template import template_of
from specgen.commands.terminal import print_text
from specgen.design.progress import part, tell
from specgen.files.writing import Written
from specgen.work.inputs import read_inputs


@dataclass(frozen=True)
class Letters:
    """What is printed as data of drafted letters."""

    project: str
    letters: tuple[str, ...]
    files: Written


@click.command()
@PROJECT
@click.argument("submittals", nargs=-1, type=ReadPath())
@OUTPUT
@click.option(
    "--date",
    "day",
    type=click.DateTime(["%Y-%m-%d"]),
    metavar="DATE",
    help="The day on which the letters go out; without it, they have a line for it.",
)
@OFFICE
@ALLOW_CODE
@WEATHER
@CLAUSES
@TEMPLATE
@FORCE
@OTHER_PROJECT
@FORMAT
@exits
def command(
    project: Path,
    submittals: tuple[Path, ...],
    output: Path,
    day: datetime | None,
    office: Path | None,
    allow_code: bool,
    weather: Path | None,
    clauses: Path | None,
    template: Path | None,
    force: bool,
    other_project: bool,
    form: str,
) -> int:
    """Draft the letters of a review of PROJECT, and of the SUBMITTALS given.

    A request for information on every open question, a letter to both manufacturers for each pair of materials that is
    not simply allowed, the deficiency list by trade, and with submittals their transmittal. None is signed.

    Exit status: 0 written, 2 unusable input.
    """
    from specgen.render.replies import LETTERS
    from specgen.specification import specify
    from specgen.work.papers import refuse_unready
    from specgen.work.replying import Sending, judged, write_letters

    look = template_of(template)
    inputs = read_inputs(project, office, allow_code, weather, clauses)
    refuse_unready(inputs.project, inputs.practice)
    tell(0.2)
    spec = specify(inputs.assessed())
    with part(0.5, 0.7):
        reviewed = judged(submittals, inputs, spec)
    done = write_letters(
        output, reviewed, inputs, spec, day.date() if day else None, Sending(look, force, other_project)
    )
    tell(1.0)
    names, written = done.names, done.written
    if form == "json":
        echo_json(Letters(inputs.project.title, names, written))
    else:
        for name in names:
            print_text(str(output / name))
        for line in folder_lines(written):
            print_text(line)
        for name in written.left:
            if name.startswith(LETTERS):
                print_text(f"no longer drafted, left as it is: {output / name}")
        print_text("These are drafts. A person reads and signs.")
    return CLEAN
