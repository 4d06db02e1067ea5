"""specgen upgrade: older files in the current format, and what this program changes in an issue of another."""

from __future__ import annotations

import difflib
import shlex
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import click

from specgen.commands.common import CLEAN, echo_json, exits
from specgen.commands.options import ALLOW_CODE, CLAUSES, FORMAT, OFFICE, WEATHER
from specgen.commands.reading import ReadPath, here
from specgen.commands.terminal import print_as_is, print_text
from specgen.files.atomic import write_together
from specgen.files.faults import OutputError
from specgen.files.foreign import foreign_bytes
from specgen.files.standard_input import STDIN
from specgen.files.yaml_reader import Limits
from specgen.units.counted import many
from specgen.work.inputs import read_inputs

if TYPE_CHECKING:
    from specgen.intake.rewriting import Rewriting


@dataclass(frozen=True)
class RewrittenFile:
    """One file of a known kind, and the lines that differ in the current format."""

    file: Path
    kind: str
    number: int  # of the format that it bears
    current: int
    diff: tuple[str, ...]


@dataclass(frozen=True)
class Upgraded:
    """What is printed as data of the files below some paths."""

    written: bool
    files: tuple[RewrittenFile, ...]
    aside: tuple[Path, ...]  # links, pipes, and files of no kind of specgen's


@click.command()
@click.argument(
    "paths",
    metavar="[PATH]...",
    nargs=-1,
    type=ReadPath(),
    callback=lambda context, parameter, given: given or (here(context, parameter),),
)
@click.option("--write", "write", is_flag=True, help="Rewrite the files; without it they are only shown.")
@click.option(
    "--issued",
    type=click.Path(path_type=Path, file_okay=False, exists=True),
    metavar="DIRECTORY",
    help="A folder that `write` made of the one project named: tell what this program changes in it; nothing is written.",
)
@OFFICE
@ALLOW_CODE
@WEATHER
@CLAUSES
@FORMAT
@exits
def command(
    paths: tuple[Path, ...],
    write: bool,
    issued: Path | None,
    office: Path | None,
    allow_code: bool,
    weather: Path | None,
    clauses: Path | None,
    form: str,
) -> int:
    """Show how files of an older format are rewritten, and with --write rewrite them in place.

    PATH is a file, or a folder with all its project, office, schedule, submittal, request and accepted files; without
    it, the project's folder you are in; for `-` a file is read and printed as it is in the current format. Comments,
    order, quotes and line ends stay. With one problem in one file nothing is written. A register is brought up to date
    by `register`.

    With --issued, tell which findings, paragraphs and checklist rows of an issue differ by this program.

    Exit status: 0 done, shown, or nothing to do, 2 a file cannot be used; with --issued 1 a defect or a risk comes,
    3 nothing fails anew, but something unknown comes.
    """
    if issued is not None:
        from specgen.commands.upgrade_issue import tell_issue

        if len(paths) != 1 or write:
            raise click.UsageError("--issued goes with one project and without --write")
        return tell_issue(read_inputs(paths[0], office, allow_code, weather, clauses), issued, form)
    from specgen.intake.rewriting import rewritings, why_aside

    if STDIN in paths and (len(paths) > 1 or write):
        raise click.UsageError(
            "`-` stands alone and without --write: the file is printed in the current format"
        )
    found = rewritings(paths)
    older = [one for one in found.files if one.after != one.before]
    if write:
        _write(older)
    if form == "json":
        files = tuple(map(_as_data, found.files))
        echo_json(Upgraded(write and bool(older), files, found.aside))
        return CLEAN
    if STDIN in paths:
        print_as_is(found.files[0].after, nl=False)
        return CLEAN
    for path in found.aside:
        print_text(f"left aside: {path} ({why_aside(path)})", err=True)
    for one in older:
        if write:
            print_text(_done(one))
        else:
            print_as_is("\n".join(_diff(one)))
    if not write or not older:
        print_text(_summary(len(older), len(found.files), paths))
    return CLEAN


def _write(older: Iterable[Rewriting]) -> None:
    """Rewrite files in place, all or none.

    Raises:
        OutputError: a file cannot be written, or is not what it was when it was read.
    """
    files = tuple(older)
    for one in files:
        if foreign_bytes(one.path, Limits().bytes) != one.before:
            raise OutputError(f"{one.path} was saved by somebody meanwhile; run this again")
    write_together({one.path.resolve(): one.after for one in files})


def _done(one: Rewriting) -> str:
    return f"{one.path}: {one.kind} file rewritten from format {one.number} to format {one.current}"


def _as_data(one: Rewriting) -> RewrittenFile:
    return RewrittenFile(one.path, one.kind, one.number, one.current, tuple(_diff(one)))


def _diff(one: Rewriting) -> Iterator[str]:
    """What changes in a file, as a unified diff without the line ends."""
    before, after = (data.decode("utf-8-sig").splitlines() for data in (one.before, one.after))
    return difflib.unified_diff(before, after, str(one.path), str(one.path), lineterm="")


def _summary(older: int, files: int, paths: tuple[Path, ...]) -> str:
    of = many(files, "file")
    if not older:
        return f"{of} in the current format: nothing to do."
    words = f"{older} of {of} {'is' if older == 1 else 'are'} of an older format"
    return f"{words}; nothing was written. To rewrite: specgen upgrade {shlex.join(map(str, paths))} --write"
