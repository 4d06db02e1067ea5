"""What the commands share: loading a project, printing errors, the exit status."""

from __future__ import annotations

import gc
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import wraps
from pathlib import Path
from typing import Any, ParamSpec, Protocol

import click

from specgen.commands.progress import bar_of, pause_bar
from specgen.commands.terminal import print_text
from specgen.commands.unusable import WordError, asked_form, document, heading, troubles
from specgen.files.extras import missing
from specgen.files.faults import OutputError, fault_line
from specgen.files.json_text import json_text
from specgen.files.marks import InputError, suggestion
from specgen.files.withdrawn import Withdrawn
from specgen.files.writing import Written
from specgen.model.finding import QUIET, count_words
from specgen.model.plain import plain
from specgen.units.counted import many

P = ParamSpec("P")

CLEAN, FAILED, UNUSABLE, OPEN, FAULT = 0, 1, 2, 3, 70
_MOST_NAMES = 12  # of papers in one line
# A command builds much, drops little and ends: a search for cycles at every 700 objects is a tenth of its time.
FEW_COLLECTIONS = 100_000


def exits(command: Callable[P, int]) -> Callable[P, None]:
    """Run a command, with a bar where it takes long, and leave with its status; its help says 70 too."""
    command.__doc__ = f"{(command.__doc__ or '').rstrip().removesuffix('.')}, 70 a fault of the program."

    @wraps(command)
    def run(*args: P.args, **kwargs: P.kwargs) -> None:
        gc.set_threshold(FEW_COLLECTIONS)
        context = click.get_current_context()
        with bar_of(context.info_name or ""):
            ending = command(*args, **kwargs)
        context.exit(ending)

    return run


def need(extra: str) -> None:
    """Stop before any work where a package of an extra is not installed.

    Raises:
        WordError: what is missing, and how to get it.
    """
    if why := missing(extra):
        raise WordError([why])


def strange(what: str, given: Iterable[str], known: Iterable[str]) -> list[str]:
    """A message for each word of a command line that names nothing known, with the nearest that is.

    Args:
        what: is named, as parapet.
        given: the words.
        known: what there is.
    """
    choices = list(known)
    every = f"known: {', '.join(choices)}"
    return [
        f"no {what} `{word}`; {suggestion(word, choices, every)}" for word in given if word not in choices
    ]


def refuse_standing(paths: Iterable[Path], other: str) -> None:
    """Leave what stands there as it is.

    Args:
        paths: to be written.
        other: what to name instead, a file or a folder.

    Raises:
        WordError: one of them exists.
    """
    for path in paths:
        if path.exists():
            raise WordError([f"{path} exists; it was left as it is. Name another {other}, or add --force."])


def report(error: BaseException, words: Sequence[str]) -> int:
    """Tell why a command line led nowhere; the one place where errors of every sort become a status.

    Unusable input prints its problems, 2; a fault of the program or of an office's rule one line with its place, 70,
    and never a traceback. Where the line asks for JSON or SARIF, the reasons are a document too.

    Args:
        error: what was raised anywhere between the words and the end of the command.
        words: the command line, the command first.

    Returns:
        The exit status.
    """
    if isinstance(error, click.ClickException):
        error.show()
        status, message = error.exit_code, error.format_message()
    else:
        status, message, line = _why(error)
        print_text(line, err=True)
    if made := document(asked_form(words), words[0], status, troubles(error, message)):
        print_json(made)
    return status


def _why(error: BaseException) -> tuple[int, str, str]:
    """The exit status of an error, its message, and the lines that a person reads."""
    words = str(error)
    if isinstance(error, InputError):
        count = len(error.problems)
        return UNUSABLE, words, f"{words}\n{many(count, 'problem')}; nothing was written."
    if isinstance(error, WordError):
        return UNUSABLE, words, words
    if isinstance(error, OutputError):
        return UNUSABLE, words, f"error: {words}"
    if isinstance(error, OSError):
        what = error.strerror or words
        return UNUSABLE, what, f"{error.filename or 'file'}: error: {what}; nothing more was written."
    words = fault_line(error)
    return FAULT, words, words


class Judged(Protocol):
    """A finding, a reviewed product, a path: what was judged, and what the exit status follows from."""

    @property
    def failed(self) -> bool:
        """Whether a defect or a risk stands, or a product is to be submitted again."""

    @property
    def open(self) -> bool:
        """Whether something that is needed to judge it is unknown."""


def status(judged: Iterable[Judged], failed: bool = False) -> int:
    """The exit status that follows from what was judged.

    Args:
        judged: findings, products, paths; each is asked for both.
        failed: something else failed, as a remark under ``--strict``.

    Returns:
        1 if something failed, else 3 if something is unknown, else 0.
    """
    every = tuple(judged)
    if failed or any(one.failed for one in every):
        return FAILED
    return OPEN if any(one.open for one in every) else CLEAN


def echo_json(found: object) -> None:
    """Print the record of what a command found as JSON, below the number of the format and the command's name."""
    print_json({**heading(), **plain(found)})


def print_json(content: Mapping[str, Any]) -> None:
    """Print plain data as JSON, keys in the order given; half a character, as in some file names, as its escape."""
    pause_bar(done=True)
    text = json_text(content)
    click.echo(text.encode("utf-8", "backslashreplace"))


def counted(counts: Mapping[str, int]) -> str:
    """The counts that a reader acts on: ``2 defects, 1 query``; ``none`` where there are none."""
    quiet = [one.value for one in QUIET]
    words = [count_words(count, word) for word, count in counts.items() if count and word not in quiet]
    return ", ".join(words) or "none"


def folder_lines(written: Written, because: Mapping[str, str] | None = None) -> Iterator[str]:
    """What a run did to papers that lay in the folder: edited ones kept, with the new text beside; withdrawn ones.

    Args:
        written: what the run did.
        because: of papers withdrawn, why, where that can be told.
    """
    for old, new in written.beside:
        yield f"{old} was edited by hand and kept; the new text is in {new}"
    for one in written.withdrawn:
        if one.edited:
            yield f"{one.name} was edited by hand and is kept in {one.place}"
    groups: dict[str, list[Withdrawn]] = {}
    for one in written.withdrawn:
        groups.setdefault((because or {}).get(one.name, ""), []).append(one)
    for reason, papers in groups.items():
        names = ", ".join(one.name for one in papers[:_MOST_NAMES])
        more = f" and {len(papers) - _MOST_NAMES} more" if len(papers) > _MOST_NAMES else ""
        place = papers[0].place.removesuffix(papers[0].name)
        why = f" ({reason})" if reason else ""
        yield f"withdrawn{why}, now in {place}: {names}{more}"
