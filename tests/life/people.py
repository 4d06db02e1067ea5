"""What people do to a workbook: type, clear, sort, delete, add rows and columns, with a library of their own."""

from __future__ import annotations

import random
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from openpyxl import load_workbook

from tests.life.oracle import Oracle

WORDS = ("Submittal no.", "Reviewed by", "Remarks")
DAYS = ("Date agreed", "Received")
COMPUTED = ("Item", "Trade", "Before placing of")
RESULTS = ("no exceptions", "make corrections noted", "revise and resubmit", "rejected")


class Desk:
    """One person at one workbook, from opening it to saving it."""

    def __init__(self, path: Path, chance: random.Random, oracle: Oracle, count: Callable[[], int]) -> None:
        self.path, self.chance, self.oracle, self.count = path, chance, oracle, count
        self.book: Any = load_workbook(path)
        self.tab = self.book["Register"]
        self.head, self.at = _titles(self.tab)

    @property
    def rows(self) -> list[int]:
        """The numbers of the rows that hold something."""
        return [row for row in range(self.head + 1, self.tab.max_row + 1) if self._used(row)]

    def save(self) -> None:
        """Save and close it."""
        self.book.save(self.path)

    def _used(self, row: int) -> bool:
        return any(cell.value is not None for cell in self.tab[row])

    def _cell(self, title: str) -> Any:
        return self.tab.cell(self.chance.choice(self.rows), self.at[title])

    def _word(self) -> str:
        return f"word{self.count():04}"

    def type(self) -> None:
        """Words or a day into white cells."""
        for _ in range(self.chance.randint(1, 3)):
            if self.chance.random() < 0.2:
                cell = self._cell(self.chance.choice(DAYS))
                day = date(2030, 1, 1) + timedelta(self.count())
                self.oracle.typed(self.path, day.isoformat(), cell.value)
                cell.value = day
            else:
                cell = self._cell(self.chance.choice(WORDS))
                word = self._word()
                self.oracle.typed(self.path, word, cell.value)
                cell.value = word

    def add(self) -> None:
        """A remark behind the one that is there."""
        cell, word = self._cell("Remarks"), self._word()
        self.oracle.typed(self.path, word)
        cell.value = f"{cell.value}; {word}" if cell.value else word

    def clear(self) -> None:
        """A white cell emptied."""
        cell = self._cell(self.chance.choice((*WORDS, *DAYS)))
        self.oracle.cleared(self.path, cell.value)
        cell.value = None

    def over_computed(self) -> None:
        """Words of their own over ours."""
        cell, word = self._cell(self.chance.choice(COMPUTED)), self._word()
        self.oracle.typed(self.path, word, cell.value)
        cell.value = word

    def returned(self) -> None:
        """A submittal came back."""
        row, result = self.chance.choice(self.rows), self.chance.choice(RESULTS)
        self.tab.cell(row, self.at["Result"]).value = result
        cell = self.tab.cell(row, self.at["Returned"])
        day = date(2030, 1, 1) + timedelta(self.count())
        self.oracle.typed(self.path, day.isoformat(), cell.value)
        cell.value = day

    def relabel(self) -> None:
        """Another name for a round."""
        self._cell("Round").value = self.chance.choice(("R0", "R1", "R7", "A"))

    def closed(self) -> None:
        """A word into a closed round."""
        tab = self.book["History"]
        head, at = _titles(tab)
        rows = [row for row in range(head + 1, tab.max_row + 1) if tab.cell(row, at["Row id"]).value]
        if rows:
            cell = tab.cell(
                self.chance.choice(rows), at[self.chance.choice(("Submittal no.", "Reviewed by"))]
            )
            word = self._word()
            self.oracle.typed(self.path, word, cell.value)
            cell.value = word

    def row(self) -> None:
        """A row of their own, without an id."""
        row, word = self.tab.max_row + 1, self._word()
        item = self.chance.choice((f"item {word}", "Mock-up photographs", "x" * 70))
        self.tab.cell(row, self.at["Item"]).value = item
        self.tab.cell(row, self.at["Remarks"]).value = word
        self.oracle.typed(self.path, word)

    def delete(self) -> None:
        """A row deleted: a register forgets nothing that a run has read."""
        if not any(self.oracle.waiting[folder, self.path] for folder in self.oracle.folders):
            row = self.chance.choice(self.rows)
            if len(self.rows) == 1:
                return
            for cell in self.tab[row]:
                self.oracle.dropped(str(cell.value))
            self.tab.delete_rows(row)

    def sort(self) -> None:
        """Two rows change places."""
        one, other = self.chance.choice(self.rows), self.chance.choice(self.rows)
        for place in range(1, self.tab.max_column + 1):
            here, there = self.tab.cell(one, place), self.tab.cell(other, place)
            here.value, there.value = there.value, here.value

    def own(self) -> None:
        """A column, a sheet or a formula of their own."""
        word = self._word()
        kind = self.chance.choice(("column", "sheet", "formula"))
        if kind == "column":
            place = self.tab.max_column + 1
            self.tab.cell(self.head, place).value = f"Our note {place}"
            self.tab.cell(self.chance.choice(self.rows), place).value = word
        elif kind == "sheet":
            self.book.create_sheet(f"Mine {word}")["B2"] = word
        else:
            cell = self._cell("Reviewed by")
            self.oracle.cleared(self.path, cell.value)
            cell.value = f'="{word}"'
        self.oracle.typed(self.path, word, own=True)


def _titles(tab: Any) -> tuple[int, dict[str, int]]:
    """The row of the titles, and the place of each."""
    for row in range(1, 12):
        at = {str(cell.value): cell.column for cell in tab[row] if cell.value is not None}
        if "Row id" in at:
            return row, at
    raise AssertionError("no row of titles")
