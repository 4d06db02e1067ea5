"""Where a command line names what is read: the project of the folder one is in, standard input for ``-``."""

from __future__ import annotations

import os
import shlex
import sys
from pathlib import Path
from typing import Any

import click

from specgen.files.names import PROJECT_FILE
from specgen.files.standard_input import STDIN, hold, let_go

MOST = 64_000_000  # bytes of standard input; what reads a file has a limit of its own
_TAKEN = f"{__name__}.taken"


class ReadPath(click.Path):
    """A file or a folder to read; ``-`` is standard input, which one word of a command line may take."""

    def __init__(self) -> None:
        super().__init__(path_type=Path)

    def convert(
        self, value: str | os.PathLike[str], param: click.Parameter | None, ctx: click.Context | None
    ) -> Any:
        """As click does; standard input is read here, and let go when the command ends."""
        if os.fspath(value) != "-" or ctx is None or ctx.resilient_parsing:
            return super().convert(value, param, ctx)
        if ctx.meta.get(_TAKEN):
            self.fail("standard input holds one file, and another word took it; name a file", param, ctx)
        ctx.meta[_TAKEN] = True
        token = hold(sys.stdin.buffer.read(MOST + 1))
        ctx.find_root().call_on_close(lambda: let_go(token))
        return STDIN


def of_this_folder(context: click.Context, parameter: click.Parameter, given: Path | None) -> Path | None:
    """The project that was named, or else that of the folder one is in."""
    if given is not None or context.resilient_parsing:
        return given
    return here(context, parameter)


def here(context: click.Context, parameter: click.Parameter) -> Path:
    """The folder one is in, which holds a project.

    Raises:
        click.UsageError: it holds none, and none was named.
    """
    if not Path(PROJECT_FILE).exists():
        name = (parameter.name or "").upper().removesuffix("S")
        raise click.UsageError(
            f"Missing argument '{name}': the folder you are in holds no {PROJECT_FILE}", context
        )
    return Path()


def as_word(path: Path) -> str:
    """A path as a word of a command line to paste."""
    return shlex.quote("-" if path == STDIN else str(path))


def beside_a_file(context: click.Context, parameter: click.Parameter, given: Path | None) -> Path | None:
    """As :func:`of_this_folder`, for a command that writes beside the project file, which standard input is not."""
    if given == Path("-"):
        what = "`-`: this command writes beside the project file; save the project as a file and name that"
        raise click.UsageError(what, context)
    return of_this_folder(context, parameter, given)
