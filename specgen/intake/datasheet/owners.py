"""Whose value it is: the headings above a value name the product it belongs to, or limit what it holds for."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from specgen.intake.datasheet.grammar import MARK, contents
from specgen.intake.datasheet.labels import Labels
from specgen.intake.datasheet.row import flat
from specgen.intake.datasheet.value import DOUBT_COSTS, ROOM_TEMPERATURE
from specgen.model.datasheet import Box, Candidate, Cell, DataSheet, Grid, Page, filled
from specgen.practice.datasheet_names import plain_name
from specgen.practice.named_methods import without_methods
from specgen.practice.product_names import designations, without_designations
from specgen.units.quantity import dimensions

HEADING_WORDS = 9  # a longer line is no heading
TAB_SIZE = 1e3  # of the name of a sheet of a workbook: larger than any heading on it [pt]
LARGER = 1.02  # a heading that is larger by that stands above the other
_LETTER = re.compile(r"(?<=\w )[A-Z](?![\w.'])")  # a letter that tells products apart
_SENTENCE_END = re.compile(r"[.;!?,]\s*$")
_BULLET = re.compile(r"^\s*[•·▪◦‣*–-]\s")
_PAIR = re.compile(r"^(?!(?:table|part|section|chapter|figure)\b).{2,60}?:\s*\S", re.I)
_ROOM = 3.0  # pt by which a heading may reach into the row below it


@dataclass(frozen=True)
class _Heading:
    """A heading with what it names."""

    cell: Cell
    own: bool
    other: bool
    designations: frozenset[str]

    @property
    def words(self) -> str:
        return flat(self.cell.text)[:60]


class Owners:
    """The products that the headings of one file name.

    Args:
        sheet: the file.
        labels: of the role that is read.
        product: the product's name as a person gives it, "" where nobody does.
    """

    def __init__(self, sheet: DataSheet, labels: Labels, product: str = "") -> None:
        self.sheet, self.labels, self.names = sheet, labels, labels.names
        self.named = designations(product)
        self._known: dict[Cell, _Heading] = {}
        self._named_words = frozenset(plain_name(product).split()) - self.names.headings
        self._phrases = self.names.roles.get(labels.role, ())
        self._own_words = frozenset(word for phrase in self._phrases for word in phrase.split())

    @cached_property
    def _cells(self) -> dict[int, tuple[Cell, ...]]:
        """Everything that can be a heading, by page, from top to bottom."""
        return {page.number: tuple(self._headings(page)) for page in self.sheet.pages}

    @cached_property
    def own(self) -> frozenset[str]:
        """The designations of the product that is read; empty where the file does not tell them from others."""
        if self.named or self._titled:
            return self.named or designations(self._title)
        every = [cell for cells in self._cells.values() for cell in cells]
        ours = [designations(cell.text) for cell in every if self._speaks_of_role(cell.text)]
        ours = [one for one in ours if one]
        if ours:
            return ours[0]
        alone = {one for cell in every for one in designations(cell.text)}
        return frozenset(alone) if len(alone) == 1 else frozenset()

    @cached_property
    def several(self) -> tuple[str, ...]:
        """The designations of the file's headings, where it is not plain which is the product's."""
        every = {one for cells in self._cells.values() for cell in cells for one in designations(cell.text)}
        return () if self.own or self._titled else tuple(sorted(every))

    def _headings(self, page: Page) -> Iterator[Cell]:
        cells = [*page.lines, *(cell for grid in page.grids for cell in self._of_grid(grid))]
        cells = [cell for cell in cells if cell.text and can_head(cell.text)]
        tab = Cell(page.label.removeprefix("sheet "), (0.0, -1.0, 1e6, -1.0), size=TAB_SIZE)
        if not page.width and page.label.startswith("sheet "):
            yield tab
        yield from sorted(cells, key=lambda cell: (cell.box or (0.0,) * 4)[1])

    def _of_grid(self, grid: Grid) -> Iterator[Cell]:
        """The cells of a table that can be headings: those that stand alone in their row, and those of a row of names."""
        for row in grid.rows:
            cells = filled(row)
            named = len(cells) < len(row) and all(designations(cell.text) for cell in cells)
            if len(cells) == 1 or named or row is grid.rows[0]:
                yield from cells
            elif cells and self._joined_heading(cells[0].text):
                yield cells[0]

    def _joined_heading(self, text: str) -> bool:
        """Whether a label also names another product: a heading that stood too close to its row."""
        label = self.labels.of(text)
        plain = f" {plain_name(text)} "
        named = bool(self._neighbors(plain)) or self._of_another_role(plain)
        return label is not None and not label.exact and named

    @cached_property
    def name(self) -> str:
        """The heading that names the product which is read; "" where none does."""
        cells = [cell for one in self._cells.values() for cell in one if cell.size < TAB_SIZE]
        found = (cell for cell in cells if self._heading(cell).own)
        return next((flat(cell.text)[:60] for cell in found), "")

    def _speaks_of_role(self, text: str) -> bool:
        plain = f" {plain_name(text)} "
        return any(f" {phrase} " in plain for phrase in self._phrases) and not self._neighbors(plain)

    def _neighbors(self, plain: str) -> list[str]:
        """The words of a heading that name another product."""
        for phrase in self._phrases:
            plain = plain.replace(f" {phrase} ", "  ")
        label = self.labels.of(plain)
        taken = set(plain_name(" ".join(label.names.names)).split()) if label else set()
        return [
            part
            for part in self.names.parts
            if f" {part} " in plain and not set(part.split()) <= self._own_words | self._named_words | taken
        ]

    def _heading(self, cell: Cell) -> _Heading:
        if cell not in self._known:
            self._known[cell] = self._named_by(cell)
        return self._known[cell]

    def _named_by(self, cell: Cell) -> _Heading:
        plain = f" {plain_name(cell.text)} "
        found = designations(cell.text)
        named = bool(self._named_words) and self._named_words <= set(plain.split())
        other = bool(found) and not found & self.own and (bool(self.own) or self._titled)
        own = named or bool(found & self.own) or self._speaks_of_role(cell.text)
        other = other or bool(self._neighbors(plain)) or self._of_another_role(plain)
        return _Heading(cell, own and not other, other and not named, found)

    def _of_another_role(self, plain: str) -> bool:
        for phrase in self._phrases:
            plain = plain.replace(f" {phrase} ", "  ")
        return any(
            f" {phrase} " in plain
            for role, phrases in self.names.roles.items()
            if role != self.labels.role
            for phrase in phrases
        )

    def weighed(self, found: Sequence[Candidate]) -> Iterator[Candidate]:
        """The candidates of the file, each with a doubt where a heading gives it to another product."""
        states = self._carried()
        pages = {page.number: page for page in self.sheet.pages}
        stating = {one.evidence.number for one in found}
        for one in found:
            page = pages[one.evidence.number]
            why = self._against(one, page, states[page.number]) or self._tab(page, len(stating) > 1)
            if not why and one.variant and self._heading(Cell(one.variant)).other:
                why = f"it holds for `{one.variant}`, which names another product"
            if not why and self.several:
                why = f"the paper speaks of several products ({', '.join(self.several[:4])}); name one with --product"
            yield doubted(one, why) if why else one

    def _carried(self) -> dict[int, _Heading | None]:
        """For each page, the heading of another product that the page before ends under."""
        state: _Heading | None = None
        found = {}
        for page in self.sheet.pages:
            found[page.number] = state
            for cell in self._cells[page.number]:
                state = _next(state, self._heading(cell))
        return found

    def _against(self, one: Candidate, page: Page, state: _Heading | None) -> str:
        box = one.evidence.box
        if box is None:
            return ""
        for cell in self._cells[page.number]:
            if cell.box and _above(cell.box, box):
                state = _next(state, self._heading(cell))
        return "" if state is None else f"it stands under `{state.words}`, which names another product"

    def _tab(self, page: Page, several: bool) -> str:
        """A sheet of a workbook, where several state values and its name is not that of the product."""
        if page.width or not several:
            return ""
        heading = self._heading(Cell(page.label.removeprefix("sheet ")))
        if heading.own or not self.unknown(heading.cell.text):
            return f"{page.label} names another product" if heading.other else ""
        return f"several sheets of the workbook state values; it stands on {page.label}"

    def unknown(self, text: str) -> list[str]:
        """The words of a heading that are not known to name no product and to limit nothing."""
        bare = without_designations(without_methods(MARK.sub(" ", text)), self.own)
        known = self.names.headings | self._own_words | self._named_words | self._title_words
        label = self.labels.of(text)
        if label is not None and label.exact:
            return []
        ours = self._title_words | self._named_words
        letters = [one for one in _LETTER.findall(bare) if one.casefold() not in ours]
        return letters + [
            word
            for word in plain_name(bare).split()
            if word not in known and not re.fullmatch(r"[0-9]|sheet\d*", word)
        ]

    @cached_property
    def _title(self) -> str:
        """The largest heading of the first page."""
        cells = [cell for cell in self._cells[self.sheet.pages[0].number] if cell.size < TAB_SIZE]
        largest = max((cell.size for cell in cells), default=0.0)
        return next((cell.text for cell in cells if cell.size == largest), "")

    @property
    def _titled(self) -> bool:
        """Whether the title says what the product is, so that other letters and numbers are other products."""
        return not self.named and self._speaks_of_role(self._title)

    @cached_property
    def _title_words(self) -> frozenset[str]:
        """The words of the title, where it is of the product that is read."""
        return (
            frozenset()
            if designations(self._title) - self.own
            else frozenset(plain_name(self._title).split())
        )

    def limits(self, heading: str) -> str:
        """Why the heading next above a table limits what stands in it; "" where it does not."""
        if not heading or len(plain_name(heading).split()) > HEADING_WORDS or _SENTENCE_END.search(heading):
            return ""
        amounts = contents(heading, frozenset(dimensions()))
        stated = [*amounts.amounts, *amounts.conditions]
        low, high = ROOM_TEMPERATURE
        unusual = [
            one for one in stated if one.dimension != "temperature" or not low <= one.low <= one.high <= high
        ]
        qualified = self.names.qualifiers & set(plain_name(heading).split())
        if unusual or qualified or self.unknown(heading):
            return f"it stands under the heading `{flat(heading)[:60]}`"
        return ""


def doubted(one: Candidate, words: str) -> Candidate:
    """A candidate with one more doubt."""
    confidence = max(round(one.confidence - DOUBT_COSTS, 2), 0.0)
    return replace(one, doubts=(*one.doubts, words), confidence=confidence)


def _next(state: _Heading | None, heading: _Heading) -> _Heading | None:
    """The heading that governs what follows: one of another product stays until one of ours, or a larger one."""
    if heading.other:
        return heading
    if heading.own:
        return None
    larger = state is not None and heading.cell.size > state.cell.size * LARGER
    return None if larger else state


def _above(heading: Box, column: Box) -> bool:
    return heading[3] <= column[1] + _ROOM and heading[0] < column[2] and column[0] < heading[2]


def can_head(text: str) -> bool:
    """Whether a text can be a heading: short, no sentence, no label with its value, no item of a list."""
    short = len(text.split()) <= HEADING_WORDS and not _SENTENCE_END.search(text)
    return short and not _PAIR.match(text) and not _BULLET.match(text)
