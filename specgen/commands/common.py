"""What the commands share: loading a project, printing errors, the exit status."""

from __future__ import annotations

import gc
import json
from collections.abc import Callable, Mapping
from functools import wraps
from pathlib import Path
from typing import Any, ParamSpec

import click

from specgen.files.faults import Fault
from specgen.files.marks import InputError
from specgen.files.writing import OutputError, Written

P = ParamSpec("P")

CLEAN, FAILED, UNUSABLE = 0, 1, 2
# A command builds much, drops little and ends: a search for cycles at every 700 objects is a tenth of its time.
FEW_COLLECTIONS = 100_000


def output_folder(_context: click.Context, _parameter: click.Parameter, given: str) -> Path:
    """The folder to write into, unless it has no name or something else stands in its place or on the way."""
    if not given.strip():
        raise click.BadParameter("the folder has no name; the folder you are in is `.`")
    folder = Path(given)
    for place in (folder, *folder.parents):
        if place.is_symlink() and not place.exists():
            raise click.BadParameter(f"{place} is a link that leads nowhere; name a folder")
        if place.exists() and not place.is_dir():
            raise click.BadParameter(f"{place} is a file; name a folder")
    return folder


PROJECT = click.argument("project", type=click.Path(path_type=Path))
FORMAT = click.option(
    "--format", "form", type=click.Choice(["text", "json"]), default="text", help="How to print."
)
OUTPUT = click.option(
    "-o",
    "--output",
    type=str,
    callback=output_folder,
    metavar="DIRECTORY",
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
        gc.set_threshold(FEW_COLLECTIONS)
        try:
            status = command(*args, **kwargs)
        except InputError as error:
            click.echo(str(error), err=True)
            count = len(error.problems)
            click.echo(f"{count} problem{'s' if count > 1 else ''}; nothing was written.", err=True)
            status = UNUSABLE
        except Fault as error:
            click.echo(f"fault: {error}", err=True)
            click.echo(
                "This is a fault of specgen or of an office's own files; nothing was written.", err=True
            )
            status = UNUSABLE
        except OutputError as error:
            click.echo(f"error: {error}", err=True)
            status = UNUSABLE
        except BrokenPipeError:
            raise  # the reader, as `head`, has seen enough: click ends without a word
        except OSError as error:
            what = error.strerror or str(error)
            click.echo(f"{error.filename or 'file'}: error: {what}; nothing more was written.", err=True)
            status = UNUSABLE
        click.get_current_context().exit(status)

    return run


def echo_json(content: Mapping[str, Any]) -> None:
    """Print plain data as JSON, keys in the order given."""
    click.echo(json.dumps(content, indent=2, ensure_ascii=False))


def counted(counts: Mapping[str, int]) -> str:
    """The counts that a reader acts on: ``2 defects, 1 query``; ``none`` where there are none."""
    words = [
        f"{count} {word if count == 1 else plural(word)}"
        for word, count in counts.items()
        if count and word not in ("pass", "not applicable")
    ]
    return ", ".join(words) or "none"


def plural(word: str) -> str:
    """``defect`` to ``defects``, ``query`` to ``queries``; ``unknown`` and ``waived`` stay."""
    if word in ("unknown", "waived"):
        return word
    return word[:-1] + "ies" if word.endswith("y") else word + "s"


def told(written: Written) -> dict[str, Any]:
    """What was written, as plain data."""
    return {
        "folder": str(written.folder),
        "written": list(written.written),
        "unchanged": list(written.unchanged),
        "kept_hand_edited": [{"file": old, "new_text_in": new} for old, new in written.beside],
    }


def beside_lines(written: Written) -> list[str]:
    """One line for each file that somebody edited: it was kept, and the new text lies beside it."""
    return [f"{old} was edited by hand and kept; the new text is in {new}" for old, new in written.beside]
