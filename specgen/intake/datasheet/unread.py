"""What of a paper nobody understood: rows and lines that no value was read from, and pages that gave nothing."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from specgen.intake.datasheet.grammar import contents
from specgen.intake.datasheet.labels import Labels
from specgen.intake.datasheet.row import CellPlace, evidence, flat
from specgen.model.datasheet import Candidate, Cell, DataSheet, Evidence, Page
from specgen.units.quantity import dimensions

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
        seen = {word for one in found if one.evidence.number == page.number for word in _words(one.evidence)}
        place = CellPlace(sheet.file, page, {})
        for cells in _rows(page):
            text = flat(" ".join(cell.text for cell in cells))
            if not any(part in text for part in seen) and _speaks(cells, labels):
                places.append(_shown(evidence(place, cells, cells[-1]), page))
    return tuple(places[:MOST])


def _words(one: Evidence) -> Iterator[str]:
    """The label of a candidate; of running text, the words around it."""
    label = one.words.partition(" | ")[0]
    yield label
    if " | " not in one.words:
        yield label[:40].rpartition(" ")[0] or label


def _rows(page: Page) -> Iterable[Sequence[Cell]]:
    for grid in page.grids:
        for row in grid.rows:
            filled = list(dict.fromkeys(cell for cell in row if cell.text))
            if filled:
                yield filled
    yield from ([line] for line in page.lines)


def _speaks(cells: Sequence[Cell], labels: Labels) -> bool:
    if any(labels.of(cell.text) for cell in cells):
        return True
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
