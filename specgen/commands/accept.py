"""specgen accept: a submittal or a substitution that a person accepted, entered beside the project."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

import click

from specgen.commands.common import CLEAN, echo_json, exits
from specgen.commands.options import FORMAT
from specgen.commands.terminal import print_text


@dataclass(frozen=True)
class Accepted:
    """What is printed as data of a decision that was entered."""

    record: str
    paper: str
    result: str


@click.command()
@click.argument("project", type=click.Path(path_type=Path))
@click.argument("paper", type=click.Path(path_type=Path, dir_okay=False))
@click.option("--by", required=True, help="Who accepted it, by role and initials.")
@click.option(
    "--date",
    "day",
    type=click.DateTime(["%Y-%m-%d"]),
    required=True,
    metavar="DATE",
    help="When it was accepted.",
)
@click.option(
    "--result",
    required=True,
    help="The result as an office writes it: no exceptions taken, approved as noted.",
)
@click.option("--note", default="", help="A condition, or whatever else belongs to the decision.")
@FORMAT
@exits
def command(project: Path, paper: Path, by: str, day: datetime, result: str, note: str, form: str) -> int:
    """Enter in accepted.yaml beside PROJECT that PAPER, a submittal or a substitution request, was accepted.

    `audit` weighs the wall with what was accepted, and the addendum of the next issue lists it. A person decides: this
    command only writes the decision down, whatever a review recommended.

    Exit status: 0 entered, 2 unusable input, nothing was written.
    """
    from specgen.model.submission import Recommendation
    from specgen.register.results import fault_of, result_of
    from specgen.work.accepting import Decision, accept
    from specgen.work.inputs import read_inputs

    inputs = read_inputs(project, None, False)
    meant = result_of(result)
    if not meant:
        raise click.BadParameter(fault_of(result), param_hint="--result")
    if meant not in (Recommendation.NO_EXCEPTIONS.value, Recommendation.CORRECTIONS.value):
        raise click.BadParameter(f"a paper that is `{meant}` was not accepted", param_hint="--result")
    if day.date() > date.today():
        print_text(f"note: {day.date().isoformat()} is still to come; compare it with the paper.", err=True)
    decision = Decision(paper, day.date(), by, meant, note)
    path = accept(inputs.project, inputs.practice, decision)
    if form == "json":
        echo_json(Accepted(str(path), str(paper), meant))
    else:
        print_text(f"{path}: {paper}, {meant}, {day.date().isoformat()}, {by}")
    return CLEAN
