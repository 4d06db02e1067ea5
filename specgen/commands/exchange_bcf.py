"""specgen exchange bcf: the findings as topics for a list of issues."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path

import click

from specgen.commands.common import CLEAN, exits
from specgen.commands.exchange_file import of_one_file, write_file
from specgen.commands.terminal import print_text
from specgen.commands.unusable import WordError


@click.command()
@of_one_file
@click.option(
    "--date",
    "day",
    type=click.DateTime(["%Y-%m-%d"]),
    metavar="DATE",
    help="The day that the topics bear; without it, the issue date of the project.",
)
@exits
def command(
    project: Path,
    output: Path,
    force: bool,
    day: datetime | None,
    office: Path | None,
    allow_code: bool,
    clauses: Path | None,
) -> int:
    """Write the findings of PROJECT, and the comments beside it, as topics of BCF 3.0, each with a picture of its wall.

    A topic names the elements of the model that `specgen exchange ifc` writes. What is to be done is open, what is
    accepted is waived. The ids of topics stay the same from one export to the next.

    Exit status: 0 written, 2 unusable input, nothing was written.
    """
    from specgen.explain.commented import commented
    from specgen.intake.comments import comments_beside
    from specgen.render.bcf import bcf_file
    from specgen.specification import specify
    from specgen.units.counted import many
    from specgen.work.inputs import read_inputs

    inputs = read_inputs(project, office, allow_code, clauses=clauses)
    bears = day.date() if day else _issued(inputs.project.issued)
    spec = specify(inputs.assessed())
    found = commented(spec, comments_beside(Path(inputs.project.path), inputs.practice))
    made = bcf_file(spec, found, bears)
    write_file(output, made.data, force=force)
    states = [one.status for one in made.topics]
    counts = ", ".join(f"{states.count(word)} {word}" for word in dict.fromkeys(states))
    print_text(f"{output}: {many(len(made.topics), 'topic')}" + (f": {counts}" if counts else ""))
    return CLEAN


def _issued(words: str) -> date:
    """The issue date.

    Raises:
        WordError: the project has none.
    """
    if not words:
        raise WordError(["a topic bears a date: state `issue_date` of the project, or give --date"])
    return date.fromisoformat(words)
