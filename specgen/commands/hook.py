"""specgen-check: the walls of several files at once, for hooks that hand over the files of a change."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

import click

from specgen.commands import main
from specgen.commands.common import CLEAN, FAILED, FAULT, OPEN, UNUSABLE
from specgen.commands.terminal import print_text
from specgen.files.names import PROJECT_FILE

WORST_LAST = (CLEAN, OPEN, FAILED, UNUSABLE, FAULT)


@click.command()
@click.argument("files", nargs=-1, type=click.Path(path_type=Path))
@click.option(
    "--severity",
    "severities",
    multiple=True,
    help="Look at findings of this severity alone: defect, risk, query; repeatable.",
)
@click.option(
    "--allow-unknown", is_flag=True, help="End with 0 where nothing failed but something is unknown."
)
def command(files: tuple[Path, ...], severities: tuple[str, ...], allow_unknown: bool) -> None:
    """Check the project beside each of FILES, each once; a file without a project beside it is named and left.

    Exit status: the worst of the projects, as `specgen check` has it.
    """
    found = list(dict.fromkeys(file.parent for file in files))
    statuses = [CLEAN]
    for folder in found:
        if not (folder / PROJECT_FILE).is_file():
            print_text(f"{folder}: no {PROJECT_FILE} stands here; nothing was checked", err=True)
            continue
        words = [one for severity in severities for one in ("--severity", severity)]
        statuses.append(_status(["check", str(folder / PROJECT_FILE), *words]))
    worst = worst_of(statuses)
    click.get_current_context().exit(CLEAN if allow_unknown and worst == OPEN else worst)


def _status(words: list[str]) -> int:
    """The status of one command line, whose output goes where it goes alone."""
    try:
        main(words, prog_name="specgen", standalone_mode=True)
    except SystemExit as ended:
        return ended.code if isinstance(ended.code, int) else FAULT
    return CLEAN


def worst_of(statuses: Iterable[int]) -> int:
    """The one that a person must look at first; one that is not known here is a fault.

    >>> worst_of([0, 3, 1]), worst_of([1, 2]), worst_of([0, 9]), worst_of([])
    (1, 2, 70, 0)
    """
    known = [one if one in WORST_LAST else FAULT for one in statuses]
    return max(known, key=WORST_LAST.index, default=CLEAN)


if __name__ == "__main__":
    command()
