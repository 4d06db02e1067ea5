"""specgen exchange ids: the requirements as an IDS file."""

from __future__ import annotations

from pathlib import Path

import click

from specgen.commands.common import CLEAN, exits
from specgen.commands.exchange_file import named, of_one_file, write_file
from specgen.commands.terminal import print_text


@click.command()
@of_one_file
@exits
def command(
    project: Path, output: Path, force: bool, office: Path | None, allow_code: bool, clauses: Path | None
) -> int:
    """Write the requirements of PROJECT as IDS 1.0, so that a checker can hold a building model against them.

    Each requirement is one specification with the reason and the source of the requirement. Elements are found by
    entity and by the classification "Parapet components", whose codes are the roles of the project file. What no model
    can be held against, as the work on site, is listed.

    Exit status: 0 written, 2 unusable input, nothing was written.
    """
    from specgen.render.ids import ids_file
    from specgen.specification import specify
    from specgen.units.counted import many
    from specgen.work.inputs import read_inputs

    spec = specify(read_inputs(project, office, allow_code, clauses=clauses).assessed())
    with named(project):
        made = ids_file(spec)
    write_file(output, made.data, force=force)
    for one in made.left_out:
        print_text(f"left out: {one.id}: {one.title}: {one.why}")
    print_text(f"{output}: {many(len(made.asked), 'requirement')}, {len(made.left_out)} left out")
    return CLEAN
