"""specgen new: a project file with comments, ready to edit."""

from __future__ import annotations

import shlex
from pathlib import Path

import click

from specgen.commands.common import CLEAN, exits
from specgen.commands.options import output_folder
from specgen.commands.unusable import WordError
from specgen.files.atomic import write_together
from specgen.files.carried import carried


@click.command()
@click.argument("folder", type=str, callback=output_folder)
@exits
def command(folder: Path) -> int:
    """Start a project in FOLDER: a commented project.yaml that passes `check` as it stands.

    Exit status: 0 written, 2 the folder holds a project already or cannot be written.
    """
    from specgen.intake.project import FILE_NAME

    target = folder / FILE_NAME
    if target.exists():
        raise WordError([f"{target} exists; it was left as it is. Choose another folder."])
    start = (carried("templates") / "new" / FILE_NAME).read_bytes()
    write_together({target: start})
    click.echo(f"{target} written. Edit it, then run: specgen check {shlex.quote(str(folder))}")
    return CLEAN
