"""The one file that each format of ``specgen exchange`` writes: its option, and how it is overwritten."""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Iterator
from pathlib import Path

import click

from specgen.commands.common import refuse_standing
from specgen.commands.options import ALLOW_CODE, CLAUSES, OFFICE, PROJECT
from specgen.commands.unusable import WordError
from specgen.design.progress import tell

MOST_BYTES = 100_000_000  # of a file that is looked at before it is overwritten
_HEAD = 4  # bytes by which a file of a format begins
FILE = click.option(
    "-o",
    "--output",
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="FILE",
    required=True,
    help="File to write.",
)
OVERWRITE = click.option("--force", is_flag=True, help="Overwrite a file of this format that was changed.")
Command = Callable[..., None]


def of_one_file(command: Command) -> Command:
    """The words that each format with one file has: the project, the file, and how it is read."""
    for words in (CLAUSES, ALLOW_CODE, OFFICE, OVERWRITE, FILE, PROJECT):
        command = words(command)
    return command


def write_file(path: Path, data: bytes, *, force: bool) -> None:
    """Write the file; one that stands there with the same bytes is left, another one is refused.

    A file that begins otherwise is of another format, as a project file, and is never overwritten.

    Args:
        path: where to.
        data: what it holds.
        force: whether another file of the format is overwritten.

    Raises:
        WordError: another file stands there.
        InputError: what stands there cannot be read.
        OutputError: it cannot be written.
    """
    from specgen.files.atomic import write_together
    from specgen.files.foreign import present_bytes

    tell(0.9)
    before = present_bytes(path, MOST_BYTES)
    if not force and before != data:
        refuse_standing([path], "file")
    if before is not None and before[:_HEAD] != data[:_HEAD]:
        raise WordError([f"{path} is of another format; it was left as it is. Name another file."])
    write_together({path: data})
    tell(1.0)


@contextlib.contextmanager
def named(project: Path) -> Iterator[None]:
    """Tell of which project there is nothing to exchange.

    Raises:
        WordError: there is nothing.
    """
    from specgen.render.ifc_names import NothingThereError

    try:
        yield
    except NothingThereError as error:
        raise WordError([f"{project}: {error}"]) from error
