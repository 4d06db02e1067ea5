"""specgen sequence: the order of work at each parapet, with trades and hold points, or the cycle that prevents one."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path

import click

from specgen.commands.common import echo_json, exits, status, strange
from specgen.commands.options import ALLOW_CODE, OFFICE, PARAPETS, PROJECT
from specgen.commands.terminal import print_as_is, print_text
from specgen.commands.unusable import WordError
from specgen.paths.sequence import Sequence, sequence, sequence_lines, sequence_md
from specgen.work.inputs import read_inputs


@dataclass(frozen=True)
class Sequences:
    """What is printed as data of the orders of work of a project."""

    project: str
    sequences: tuple[Sequence, ...]


@click.command()
@PROJECT
@PARAPETS
@OFFICE
@ALLOW_CODE
@click.option(
    "--format",
    "form",
    type=click.Choice(["text", "json", "md"]),
    default="text",
    help="How to print; md is a Markdown table.",
)
@exits
def command(
    project: Path, parapets: tuple[str, ...], office: Path | None, allow_code: bool, form: str
) -> int:
    """Print the order of work at each parapet of PROJECT: components, trades, and what is inspected before which step.

    The order follows from the laps, the build-up and the top. Where components wait for each other there is none:
    the cycle is named, with its trades.

    Exit status: 0 every parapet has an order of work, 1 one has none, 2 the file cannot be used.
    """
    inputs = read_inputs(project, office, allow_code)
    if wrong := strange("parapet", parapets, [one.name for one in inputs.project.parapets]):
        raise WordError(wrong)
    practice = inputs.effective()
    found = [
        sequence(one, practice) for one in inputs.project.parapets if not parapets or one.name in parapets
    ]
    if form == "json":
        echo_json(Sequences(inputs.project.title, tuple(found)))
    else:
        lines, show = (sequence_md, print_as_is) if form == "md" else (sequence_lines, print_text)
        show("\n".join(line for one in merged(found) for line in lines(one)))
    return status((), failed=any(one.cycle for one in found))


def merged(found: Iterable[Sequence]) -> list[Sequence]:
    """One order for what several parapets share."""
    groups: dict[Sequence, list[str]] = {}
    for one in found:
        groups.setdefault(replace(one, parapet=""), []).append(one.parapet)
    return [replace(one, parapet=", ".join(names)) for one, names in groups.items()]
