"""The options that several commands have."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import click

from specgen.commands.reading import ReadPath, beside_a_file, of_this_folder
from specgen.files.names import unusable_on_windows


def output_folder(_context: click.Context, _parameter: click.Parameter, given: str) -> Path:
    """The folder to write into, unless it has no name or something else stands in its place or on the way."""
    if not given.strip():
        raise click.BadParameter("the folder has no name; the folder you are in is `.`")
    folder = Path(given)
    if os.name == "nt" and (why := unusable_on_windows(folder)):
        raise click.BadParameter(f"{folder}: {why}; name another folder")
    for place in (folder, *folder.parents):
        if place.is_symlink() and not place.exists():
            raise click.BadParameter(f"{place} is a link that leads nowhere; name a folder")
        if place.exists() and not place.is_dir():
            raise click.BadParameter(f"{place} is a file; name a folder")
    return folder


if TYPE_CHECKING:
    from click.shell_completion import CompletionItem

Complete = Callable[[click.Context, click.Parameter, str], "list[CompletionItem]"]


def completed(words: str) -> Complete:
    """What completes a word in a shell, loaded when one is completed.

    Args:
        words: name of the list in :mod:`specgen.commands.completion`.
    """

    def complete(context: click.Context, parameter: click.Parameter, incomplete: str) -> list[CompletionItem]:
        from specgen.commands import completion

        found: list[CompletionItem] = getattr(completion, words)(context, parameter, incomplete)
        return found

    return complete


# Of this folder where none is named, or standard input for `-`.
PROJECT = click.argument("project", type=ReadPath(), required=False, callback=of_this_folder)
# Of a command that writes beside it.
PROJECT_FILE = click.argument(
    "project", type=click.Path(path_type=Path), required=False, callback=beside_a_file
)
# Where further words follow, so that each has its place.
PROJECT_FIRST = click.argument("project", type=ReadPath())
PARAPETS = click.option(
    "--parapet",
    "parapets",
    multiple=True,
    shell_complete=completed("parapets"),
    help="Only this parapet; repeatable.",
)
FORMAT = click.option(
    "--format", "form", type=click.Choice(["text", "json"]), default="text", help="How to print."
)
OUTPUT = click.option(
    "-o",
    "--output",
    type=str,
    callback=output_folder,
    metavar="DIRECTORY",
    shell_complete=completed("folders"),
    required=True,
    help="Folder to write into; made if absent.",
)
FORCE = click.option(
    "--force", is_flag=True, help="Overwrite files edited by hand since they were last written."
)
OTHER_PROJECT = click.option(
    "--other-project",
    is_flag=True,
    help="Give the folder to PROJECT if it holds another project's papers; those move to `withdrawn`, edited ones too.",
)
OFFICE = click.option(
    "--office",
    "office",
    type=click.Path(path_type=Path, dir_okay=False),
    help="The office's own standards; without it, office.yaml beside the project file if there is one.",
)
ALLOW_CODE = click.option(
    "--allow-office-code", "allow_code", is_flag=True, help="Run the rule modules that the office file names."
)
WEATHER = click.option(
    "--weather",
    "weather",
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="FILE",
    help="A year of hourly weather (EPW, TMY3, TM2) in place of the one that the project names.",
)
CLAUSES = click.option(
    "--clauses",
    "clauses",
    type=click.Path(path_type=Path, file_okay=False, exists=True),
    metavar="DIRECTORY",
    help="The office's own clauses; without it, the folder `clauses` beside the office file if there is one.",
)
TEMPLATE = click.option(
    "--template",
    type=click.Path(path_type=Path, dir_okay=False),
    help="The office's own Word file: its styles, page, header and footer are used.",
)
