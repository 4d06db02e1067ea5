"""Footnotes of a page: the mark, and what it says of the value that carries it."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace

from specgen.intake.datasheet.grammar import SUPERSCRIPTS
from specgen.model.datasheet import Cell, Page, filled

START = re.compile(
    r"^\s*(?:\{\^([0-9a-e*†‡]{1,3})\}|\(([0-9]|[a-e]|[*†‡])\)|\[([0-9]|[a-e])\]|([0-9])[.)]\s|([*†‡]{1,3})|([¹²³⁴⁵⁶⁷⁸⁹])"
    r"|(?:note|footnote)\s+([0-9a-e])\s*[:.])\s*(?=\S)(.*)$",
    re.IGNORECASE,
)
MOST_LINES = 4
SAME_NOTE = 1.9  # of the height of a line: what follows farther below is no longer the note


def footnotes(page: Page) -> Mapping[str, tuple[Cell, ...]]:
    """The notes of a page by mark; several under one mark where the page uses it several times."""
    lines = [*page.lines, *(row for row in _single_rows(page))]
    found: dict[str, list[Cell]] = {}
    for at, line in enumerate(lines):
        match = START.match(line.text)
        if match is None:
            continue
        mark = next(group for group in match.groups()[:7] if group).translate(SUPERSCRIPTS).lower()
        found.setdefault(mark, []).append(_whole(line, match[8], lines[at + 1 : at + MOST_LINES]))
    return {mark: tuple(notes) for mark, notes in found.items()}


def _single_rows(page: Page) -> list[Cell]:
    rows = []
    for grid in page.grids:
        for row in grid.rows:
            cells = filled(row)
            if len(cells) == 1:
                rows.append(cells[0])
            elif len(cells) == 2 and START.match(f"{cells[0].text} x") and len(cells[0].text) <= 6:
                rows.append(replace(cells[1], text=f"{cells[0].text} {cells[1].text}"))
    return rows


def _whole(first: Cell, text: str, following: Sequence[Cell]) -> Cell:
    """A note with the lines it goes on in."""
    last = first
    for line in following:
        if START.match(line.text) or not first.box or not line.box or not last.box:
            break
        high = max(last.box[3] - last.box[1], 1.0)
        if not 0 < line.box[1] - last.box[1] <= SAME_NOTE * high or line.box[2] < first.box[0]:
            break
        text, last = f"{text} {line.text}", line
    return replace(first, text=text)
