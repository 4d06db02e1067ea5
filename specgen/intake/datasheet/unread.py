"""What of a paper nobody understood: rows and lines that no value was read from, and pages that gave nothing."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from specgen.intake.datasheet.grammar import contents
from specgen.intake.datasheet.labels import Labels
from specgen.intake.datasheet.row import CellPlace, evidence, flat
from specgen.model.datasheet import Candidate, Cell, DataSheet, Evidence, Page, filled
from specgen.practice.datasheet_names import plain_name
from specgen.units.quantity import dimensions

SAME = 30  # letters by which a piece of running text is found again in its line
MOST = 60  # places of one file
_FIGURE = re.compile(r"[0-9]")


def unread(sheet: DataSheet, labels: Labels, found: Sequence[Candidate]) -> tuple[Evidence, ...]:
    """The rows and lines of a file that hold a quantity or name an attribute, and gave no candidate.

    Args:
        sheet: the file.
        labels: of the role.
        found: every candidate of it, also those left to a person.
    """
    places: list[Evidence] = []
    for page in sheet.pages:
        seen = [one.evidence.words.split(" | ") for one in found if one.evidence.number == page.number]
        place = CellPlace(sheet.file, page, {})
        for cells in _rows(page):
            left = _left(cells, seen)
            if left and _speaks(left, labels):
                places.append(_shown(evidence(place, cells, cells[-1]), page))
    return tuple(places[:MOST])


def _left(cells: Sequence[Cell], seen: Sequence[Sequence[str]]) -> list[Cell]:
    """What of a row belongs to no candidate: each takes the cells that its evidence names, and its words of a line."""
    texts = [flat(cell.text) for cell in cells]
    for parts in seen:
        if len(parts) == 1:
            texts = [_without(text, parts[0]) for text in texts]
        elif all(part in texts for part in parts):
            texts = ["" if text in parts else text for text in texts]
    return [replace(cell, text=text) for cell, text in zip(cells, texts, strict=True) if text.strip()]


def _without(text: str, words: str) -> str:
    """A text without words that it holds, begins to hold, or is a piece of."""
    if text in words:
        return ""
    start = text.find(words[:SAME].strip())
    if words in text or start < 0:
        return text.replace(words, " ")
    return text[:start]


def _rows(page: Page) -> Iterable[Sequence[Cell]]:
    for grid in page.grids:
        yield from filter(None, map(filled, grid.rows))
    yield from ([line] for line in page.lines)


def _speaks(cells: Sequence[Cell], labels: Labels) -> bool:
    if any(labels.of(cell.text) for cell in cells):
        return True
    plain = f" {plain_name(' '.join(cell.text for cell in cells))} "
    if any(f" {name} " in plain for one, _ in labels.attributes if one.words for name in one.names):
        return True  # of a value in words no figure tells
    every = frozenset(dimensions())
    texts = [cell.text for cell in cells if _FIGURE.search(cell.text)]
    return any(contents(text, every).amounts for text in texts)


def _shown(one: Evidence, page: Page) -> Evidence:
    return one if page.width else Evidence(one.file, one.page, one.number, None, one.words)


def gave_nothing(sheet: DataSheet, found: Sequence[Candidate]) -> Iterator[str]:
    """The pages that were read and of which nothing was asked for."""
    giving = {one.evidence.number for one in found}
    for page in sheet.pages:
        if not page.unreadable and page.number not in giving:
            yield f"{sheet.file}, {page.label}: gives nothing that is asked for"
