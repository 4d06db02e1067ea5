"""What the commands share: loading a project, printing errors, the exit status."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from functools import wraps
from pathlib import Path
from typing import Any, ParamSpec

import click

from specgen.files.marks import InputError

P = ParamSpec("P")

CLEAN, FAILED, UNUSABLE = 0, 1, 2

PROJECT = click.argument("project", type=click.Path(path_type=Path))
FORMAT = click.option(
    "--format", "form", type=click.Choice(["text", "json"]), default="text", help="How to print."
)
OUTPUT = click.option(
    "-o",
    "--output",
    type=click.Path(path_type=Path, file_okay=False),
    required=True,
    help="Folder to write into; made if absent.",
)
FORCE = click.option(
    "--force", is_flag=True, help="Overwrite files edited by hand since they were last written."
)


def exits(command: Callable[P, int]) -> Callable[P, None]:
    """Run a command and leave with its status; unusable input prints its problems and leaves with 2."""

    @wraps(command)
    def run(*args: P.args, **kwargs: P.kwargs) -> None:
        try:
            status = command(*args, **kwargs)
        except InputError as error:
            click.echo(str(error), err=True)
            count = len(error.problems)
            click.echo(f"{count} problem{'s' if count > 1 else ''}; nothing was written.", err=True)
            status = UNUSABLE
        except OSError as error:
            what = error.strerror or str(error)
            click.echo(f"{error.filename or 'file'}: error: {what}; nothing more was written.", err=True)
            status = UNUSABLE
        click.get_current_context().exit(status)

    return run


def echo_json(content: Mapping[str, Any]) -> None:
    """Print plain data as JSON, keys in the order given."""
    click.echo(json.dumps(content, indent=2, ensure_ascii=False))
