"""Markdown of the pages that are made while the manual is built."""

from __future__ import annotations

import html
import re
from collections.abc import Iterable, Sequence
from itertools import groupby

CODE, CODED = re.compile(r"`([^`]*)`"), r"<code>\1</code>"
MARKS = ("\\", "|", "*", "_", "<", "[", "{")


def plain(text: str) -> str:
    """Text of the program in Markdown: what stands between backquotes stays, nothing else is markup."""
    parts = re.split(r"(`[^`]*`)", " ".join(text.split()))
    return "".join(one.replace("|", "\\|") if at % 2 else _escaped(one) for at, one in enumerate(parts))


def _escaped(text: str) -> str:
    for mark in MARKS:
        text = text.replace(mark, f"\\{mark}")
    return text


def table(heads: Sequence[str], rows: Iterable[Sequence[str]]) -> list[str]:
    """A table; the cells are Markdown already."""
    lines = ["| " + " | ".join(heads) + " |", "|" + "---|" * len(heads)]
    return [*lines, *("| " + " | ".join(row) + " |" for row in rows), ""]


def facts(*named: tuple[str, str]) -> str:
    """Names with what is so beside each, one name for several that follow each other; all of it is plain text."""
    lines = []
    for name, same in groupby(named, lambda one: one[0]):
        lines += [
            f"<dt>{html.escape(name)}</dt>",
            *(f"<dd>{CODE.sub(CODED, html.escape(one))}</dd>" for _, one in same),
        ]
    return f'<dl class="facts">{"".join(lines)}</dl>\n'


def anchor(name: str) -> str:
    """The anchor of a name, the same on every page that links to it."""
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")
