"""What a command prints that could not do its work: lines for a person, one document for a program."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import click

from specgen.files.marks import InputError
from specgen.model.plain import FORMAT_NUMBER, plain


class WordError(Exception):
    """Words on the command line that name nothing in the files; one line for each."""

    def __init__(self, lines: Iterable[str]) -> None:
        self.lines = tuple(lines)
        super().__init__("\n".join(self.lines))


@dataclass(frozen=True)
class Trouble:
    """One reason why a command did not do its work; line and column count from 1 and are None outside a file."""

    message: str
    fix: str = ""
    file: str = ""
    line: int | None = None
    column: int | None = None


def troubles(error: BaseException, words: str) -> tuple[Trouble, ...]:
    """The reasons that an error carries, in its order.

    Args:
        error: what a command raised.
        words: its message, where it carries no list of its own.
    """
    if isinstance(error, InputError):
        return tuple(
            Trouble(one.message, one.fix, one.mark.file, one.mark.line, one.mark.column)
            for one in error.problems
        )
    if isinstance(error, WordError):
        return tuple(Trouble(line) for line in error.lines)
    if isinstance(error, OSError) and error.filename:
        return (Trouble(words, file=str(error.filename)),)
    return (Trouble(words),)


def asked_form(words: Sequence[str]) -> str:
    """The form that a command line asks for, also where the command line itself cannot be used.

    >>> asked_form(["check", "job", "--format", "sarif"]), asked_form(["check", "--format=json"]), asked_form([])
    ('sarif', 'json', '')
    """
    form = ""
    for word, after in zip(words, [*words, ""][1:], strict=True):
        name, equals, value = word.partition("=")
        if name == "--format":
            form = value if equals else after
    return form


def document(form: str, command: str, status: int, found: Iterable[Trouble]) -> dict[str, Any] | None:
    """The reasons as a JSON or SARIF document; None where a person reads."""
    if form == "sarif":
        from specgen.render.sarif import sarif_failure

        places = ((one.file, one.line, one.column, f"{one.message}; {one.fix}".strip("; ")) for one in found)
        return sarif_failure(places, status, Path.cwd())
    if form == "json":
        return {**heading(command), "status": status, "errors": plain(tuple(found))}
    return None


def heading(command: str | None = None) -> dict[str, Any]:
    """What every JSON document begins with: the number of its format, and the command."""
    return {"format": FORMAT_NUMBER, "command": command or click.get_current_context().info_name}
