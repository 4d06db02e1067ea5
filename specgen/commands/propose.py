"""specgen propose: whole walls from facts, each as a project file, compared, with why the others fell."""

from __future__ import annotations

import os
import shlex
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

import click

from specgen.commands.common import FAILED, echo_json, exits, folder_lines, status
from specgen.commands.options import ALLOW_CODE, FORCE, FORMAT, OFFICE, OTHER_PROJECT, OUTPUT, WEATHER
from specgen.commands.reading import ReadPath, of_this_folder
from specgen.commands.terminal import print_text
from specgen.design.progress import part, tell
from specgen.files.writing import Written
from specgen.units.counted import many
from specgen.work.inputs import read_inputs

if TYPE_CHECKING:
    from specgen.practice.entries import Practice
    from specgen.propose.quantities import Prices
    from specgen.propose.result import Proposed, ProposedWall
    from specgen.work.hourly import Studied
    from specgen.work.proposals import Ready

_MOST_REASONS = 12
_SEARCHED = 0.8  # share of the time that the search takes [-]
_FEW = 0.1  # the same where the hours are run as well


@dataclass(frozen=True)
class ProposalRun:
    """What is printed as data of a run."""

    proposed: Proposed
    files: Written | None
    hours: Mapping[str, tuple[Studied, ...]]  # of the walls that were run, by the name of the wall
    SPREAD_PLAIN: ClassVar = ("proposed",)


@click.command()
@click.argument("facts", type=ReadPath(), required=False, callback=of_this_folder)
@OUTPUT
@click.option(
    "--prices",
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="FILE",
    help="Prices of parts to compare by: `currency:`, and below `prices:` lines as `barrier: 6.20 per ft2`.",
)
@OFFICE
@ALLOW_CODE
@WEATHER
@FORCE
@OTHER_PROJECT
@click.option(
    "--hourly", is_flag=True, help="Run the hours of the walls that are proposed, and keep them with each."
)
@FORMAT
@exits
def command(
    facts: Path,
    output: Path,
    prices: Path | None,
    office: Path | None,
    allow_code: bool,
    weather: Path | None,
    force: bool,
    other_project: bool,
    hourly: bool,
    form: str,
) -> int:
    """Propose whole walls from FACTS, a project file of which much may be open, as `specgen new` writes it.

    What FACTS states stays. What it leaves open is searched: kinds and families of the parts, metals, tapes, primers,
    the order of laps, and the scuppers of a parapet that states the roof area it drains. What chemistry, laps, and the
    order of work leave is assessed as any project. Written are the walls without defect and risk that no other beats in
    everything that is compared, each as a project file with its reasons. Where no wall fits, the fewest facts to give
    up are printed. With --hourly the hours of the proposed walls are run after the search, which takes minutes a wall.

    Exit status: 0 walls are proposed and nothing is unknown, 1 no wall fits, 2 the file cannot be used, 3 walls are
    proposed, and facts that they hang on are unknown.
    """
    from specgen.work.hourly import line_of
    from specgen.work.proposals import PAGE, propose, write_proposals

    if hourly:
        from specgen.commands.hourly import tell_slow

        tell_slow()
    inputs = read_inputs(facts, office, allow_code, weather)
    searched, written_at = (_FEW, 2.0 * _FEW) if hourly else (_SEARCHED, 1.0)
    with part(0.0, searched):
        ready = propose(inputs, _prices(prices, inputs.practice))
    found = ready.proposed
    written = None
    if found.walls:
        with part(searched, written_at):
            written = write_proposals(ready, inputs, output, force=force, other_project=other_project)
    with part(written_at, 1.0):
        hours = _run_hours(ready, output) if hourly else {}
    if form == "json":
        echo_json(ProposalRun(found, written, hours))
    else:
        for line in (*_lines(found), *(folder_lines(written) if written else ())):
            print_text(line)
        if found.walls:
            print_text(f"{many(len(found.walls), 'wall')} in {output}, compared in {output / PAGE}")
            for name, studied in hours.items():
                for one in studied:
                    print_text(f"{name}, {line_of(one)}")
            first = shlex.quote(str(output / found.walls[0].name))
            print_text(f"Sections of one: specgen write {first} -o DIR")
    return status(found.walls) if found.walls else FAILED


def _run_hours(ready: Ready, output: Path) -> dict[str, tuple[Studied, ...]]:
    """The hours of each proposed wall, kept beside its project file as each parapet is done, after the search."""
    from specgen.work.hourly import studies_of
    from specgen.work.hourly_file import keep

    found: dict[str, tuple[Studied, ...]] = {}
    walls = list(zip(ready.texts, ready.assessments, strict=True))
    for number, (name, assessment) in enumerate(walls):
        names = [one.name for one in assessment.project.parapets]
        with part(number / len(walls), (number + 1) / len(walls)):
            for one in studies_of(assessment, names, cores=os.cpu_count() or 1, tell=tell):
                found[name] = (*found.get(name, ()), one)
                if one.result is not None:
                    keep(output / name, [one.result])
    return found


def _prices(path: Path | None, practice: Practice) -> Prices | None:
    if path is None:
        return None
    from specgen.intake.prices import load_prices
    from specgen.propose.quantities import Prices

    return Prices(*load_prices(path, practice))


def _lines(found: Proposed) -> Iterator[str]:
    yield (
        f"{found.project}: {found.walls_possible:,} walls; {found.walls_left:,} left by chemistry, laps, order of work; "
        f"{found.walls_assessed:,} assessed; {found.seconds:.1f} s"
    )
    for one in found.open_first:
        yield f"open first: {one}"
    yield from _table(found)
    yield from _open(found.walls)
    yield "Why the others fell:"
    for reason, count in list(found.fallen.items())[:_MOST_REASONS]:
        yield f"  {count:>18,}  {reason}"
    if (more := len(found.fallen) - _MOST_REASONS) > 0:
        yield f"  and {many(more, 'reason')} more"
    if not found.walls:
        yield from _given_up(found)


def _table(found: Proposed) -> Iterator[str]:
    """What differs between the walls: a line a choice and a measure, a column a wall."""
    if not found.walls:
        return
    rows = [("", *(wall.name for wall in found.walls))]
    choices = [reason.choice for reason in found.walls[0].reasons]
    for place, choice in enumerate(choices):
        options = [wall.reasons[place].option for wall in found.walls]
        if len(set(options)) > 1 or len(found.walls) == 1:
            rows.append((choice, *options))
    for place, measure in enumerate(found.walls[0].measures):
        texts = [wall.measures[place].text for wall in found.walls]
        if measure.title in found.differ or len(found.walls) == 1:
            rows.append((measure.title, *texts))
    widths = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    for row in rows:
        yield "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()


def _open(walls: tuple[ProposedWall, ...]) -> Iterator[str]:
    facts: Mapping[str, None] = dict.fromkeys(one for wall in walls for one in wall.open_facts)
    for one in facts:
        yield f"unknown: {one}"
    for one in dict.fromkeys(one for wall in walls for one in wall.questions):
        yield f"question: {one}"


def _given_up(found: Proposed) -> Iterator[str]:
    nearest = f" The nearest still breaks {', '.join(found.nearest)}." if found.nearest else ""
    yield f"No wall fits.{nearest}"
    if not found.give_up:
        yield "No one or two facts alone stand in the way."
    for one in found.give_up:
        yield f"Give up {' and '.join(f'`{fact}`' for fact in one.facts)}; then a wall fits: {one.then}"
