"""specgen exchange ifc: the parapets as a building model."""

from __future__ import annotations

from pathlib import Path

import click

from specgen.commands.common import CLEAN, exits, need
from specgen.commands.exchange_file import named, of_one_file, write_file
from specgen.commands.terminal import print_text


@click.command()
@of_one_file
@exits
def command(
    project: Path, output: Path, force: bool, office: Path | None, allow_code: bool, clauses: Path | None
) -> int:
    """Write each parapet of PROJECT as a wall of a building model (IFC4X3), to scale, with its parts and values.

    Each component is an element with its material, its values, and how each value stands: stated, specified, asked for,
    unknown. Each parapet stands by itself; what the model does not hold is listed. The ids of elements stay the same from
    one export to the next. Needs the extra `bim`.

    Exit status: 0 written, 2 unusable input, or the extra is not installed; nothing was written.
    """
    need("bim")
    from specgen.render.ifc import ifc_file, not_in_the_model
    from specgen.specification import specify
    from specgen.units.counted import many
    from specgen.work.inputs import read_inputs

    spec = specify(read_inputs(project, office, allow_code, clauses=clauses).assessed())
    with named(project):
        made = ifc_file(spec, output.name)
    write_file(output, made, force=force)
    for words in not_in_the_model(spec):
        print_text(f"left out: {words}")
    described = [one for one in spec.assessment.project.parapets if any(one.components())]
    parts = sum(len(tuple(one.components())) for one in described)
    print_text(f"{output}: {many(len(described), 'parapet')}, {many(parts, 'component')}")
    return CLEAN
