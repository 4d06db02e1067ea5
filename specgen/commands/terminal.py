"""What a command prints for a person: wrapped to the width of a terminal and colored there, and plain elsewhere.

Where the output is a file or a pipe, each line stays one line, so that scripts can search it. A color only repeats what a
word says. ``NO_COLOR`` ends colors, also where ``FORCE_COLOR`` or ``CLICOLOR_FORCE`` asks for them elsewhere than on a
terminal; ``CLICOLOR=0`` and ``TERM=dumb`` end them on a terminal.
"""

from __future__ import annotations

import os
import re
import shutil
import sys
from collections.abc import Mapping
from typing import TextIO

import click

from specgen.commands.plain_signs import as_written
from specgen.commands.progress import pause_bar

NARROWEST = 40  # columns
HANGING = 2  # columns by which the rest of a line stands behind its beginning
_OFF = ("", "0", "false", "no", "never")
_COLORS = {
    "defect": "red",
    "error": "red",
    "broken": "red",
    "risk": "yellow",
    "unknown": "magenta",
    "query": "cyan",
}
_WORDS = "|".join(_COLORS)
# A finding behind its place, which may begin with the letter of a drive.
_FINDING = re.compile(
    rf"^(?P<before>(?:\w+: )?\S.*?:\d+:\d+: )(?P<word>{_WORDS})\b(?P<code> [A-Z]{{2}}\d\d)?"
)
_COUNT = re.compile(rf"\b\d+ (?P<word>{_WORDS}|queries)s?\b")
_COUNTED = re.compile(rf": \d+ (?:{_WORDS}|queries)s?\b.*; .*passed")
_LABEL = re.compile(r"^ +(?:reason|source|remedy|missing|because|fix|decides|answers|who|note): ")
_TOKEN = re.compile(r"\S+\s*")


def print_text(text: object = "", *, err: bool = False) -> None:
    """Print for a person, on standard output or standard error; a bar that is shown ends before it.

    Args:
        text: lines; the rest of one that is too wide for a terminal stands a little behind its beginning.
        err: on standard error.
    """
    pause_bar(done=not err)
    stream = sys.stderr if err else sys.stdout
    lines = as_written(str(text), stream).split("\n")
    color = colored(stream, os.environ)
    if color:
        lines = [styled(line) for line in lines]
    if width := columns(stream):
        lines = [piece for line in lines for piece in wrapped(line, width)]
    click.echo("\n".join(lines), err=err, color=color)


def print_as_is(text: str | bytes, *, nl: bool = True) -> None:
    """Print a document, such as Markdown or a difference between files, as it is."""
    pause_bar(done=True)
    click.echo(as_written(text, sys.stdout) if isinstance(text, str) else text, nl=nl)


def columns(stream: TextIO) -> int:
    """The width of the terminal that a stream leads to; 0 where it leads to none."""
    return max(NARROWEST, shutil.get_terminal_size().columns) if stream.isatty() else 0


def colored(stream: TextIO, environment: Mapping[str, str]) -> bool:
    """Whether a stream gets colors.

    >>> colored(sys.stdout, {"FORCE_COLOR": "1"}), colored(sys.stdout, {"FORCE_COLOR": "1", "NO_COLOR": "1"})
    (True, False)
    """
    if environment.get("NO_COLOR"):
        return False
    if any(environment.get(name, "").lower() not in _OFF for name in ("FORCE_COLOR", "CLICOLOR_FORCE")):
        return True
    if environment.get("CLICOLOR") == "0" or environment.get("TERM") == "dumb":
        return False
    return stream.isatty()


def styled(line: str) -> str:
    """A line with its severity in color and bold, and a label such as ``reason:`` faint."""
    if found := _FINDING.match(line):
        return f"{found['before']}{_loud(found['word'], found['word'] + (found['code'] or ''))}{line[found.end() :]}"
    if found := _LABEL.match(line):
        return click.style(found[0], dim=True) + line[found.end() :]
    if _COUNTED.search(line):
        return _COUNT.sub(lambda count: _loud(count["word"].replace("queries", "query"), count[0]), line)
    return line


def _loud(word: str, text: str) -> str:
    return click.style(text, fg=_COLORS[word], bold=True)


def wrapped(line: str, width: int) -> list[str]:
    """A line in pieces no wider than a width, broken at spaces; a word is never torn, and aligned columns stay.

    >>> wrapped("  reason: Water runs down the wall.", 22)
    ['  reason: Water runs', '    down the wall.']
    """
    if _wide(line) <= width:
        return [line]
    indent = line[: len(line) - len(line.lstrip())]
    pieces, piece = [], indent
    for token in _TOKEN.findall(line):
        if piece.strip() and _wide((piece + token).rstrip()) > width:
            pieces.append(piece.rstrip())
            piece = indent + " " * HANGING
        piece += token
    return [*pieces, piece.rstrip()]


def _wide(text: str) -> int:
    return len(click.unstyle(text))
