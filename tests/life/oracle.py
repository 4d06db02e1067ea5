"""What people typed into a register and its copies, and what must still be there: plain data, nothing of the program.

The oracle sees what people see: the files, and what a run printed. A word is an entry that somebody typed; it *stands*
until somebody who saw it wrote over it or cleared it. A standing word that a run has read is in the register from then
on, or was told as a conflict; one that was written over is in some state that is kept.
"""

from __future__ import annotations

import json
import re
import zipfile
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

STATES = "submittal-register-states"
BOOK = "submittal-register.xlsx"
STANDS, OVER, AWAY = "stands", "written over", "taken back with its state"
_DAY_ZERO = date(1899, 12, 30)  # of a workbook


def text_of_book(path: Path) -> str:
    """Everything that is written in a workbook, as its parts say it."""
    with zipfile.ZipFile(path) as book:
        return "\n".join(
            book.read(name).decode("utf-8")
            for name in book.namelist()
            if re.search(r"sharedStrings|worksheets/", name)
        )


def not_taken_over(out: str) -> list[str]:
    """The lines of a run that say what was not taken over."""
    return [line for line in out.splitlines() if line.startswith(("conflict: ", "not read: "))]


@dataclass
class Word:
    """One entry: its words, what became of it, and in which registers a run has read it."""

    text: str
    own: bool = False  # in a column, a sheet or a formula of the person's own
    fate: str = STANDS
    taken: set[Path] = field(default_factory=set)

    def lies_in(self, text: str) -> bool:
        """Whether it is in a text, or, for a day, its number is in a cell."""
        if self.text in text:
            return True
        if not self.text[:1].isdigit():
            return False
        return f"<v>{(date.fromisoformat(self.text) - _DAY_ZERO).days}</v>" in text


class Oracle:
    """Who typed what over what, and what lies in which book that no run has read yet."""

    def __init__(self) -> None:
        self.words: dict[str, Word] = {}
        self.printed: dict[Path, str] = defaultdict(str)  # by folder
        self.waiting: dict[tuple[Path, Path], set[str]] = defaultdict(set)  # by folder of a register and book
        self.folders: list[Path] = []

    def holds(self, folder: Path, like: Path | None = None) -> None:
        """A folder has a register from now on; ``like``: it is a copy of that one with all its states."""
        self.folders.append(folder)
        for word in self.words.values():
            if like in word.taken:
                word.taken.add(folder)
        for (one, book), words in list(self.waiting.items()):
            if one == like:
                self.waiting[folder, folder / BOOK if book == one / BOOK else book] = set(words)
                if book == one / BOOK:
                    self.waiting[one, folder / BOOK] = set(words)
                    self.waiting[folder, book] = set(words)

    def typed(self, book: Path, text: str, over: object = None, own: bool = False) -> None:
        """Somebody typed a word into a cell of a book, over what was there."""
        self.cleared(book, over)
        self.words[text] = Word(text, own)
        for folder in self.folders:
            self.waiting[folder, book].add(text)

    def cleared(self, book: Path, over: object) -> None:
        """What somebody saw in a cell of a book and took away; what no run had read before is gone with it."""
        seen = over.date().isoformat() if hasattr(over, "date") else str(over or "")
        for word in self.words.values():
            if word.text in seen:
                word.fate = OVER if word.fate == STANDS else word.fate
                for folder in self.folders:
                    self.waiting[folder, book].discard(word.text)

    def dropped(self, text: str) -> None:
        """What was of the person's own and went with its row: the states before hold it."""
        for word in self.words.values():
            if word.own and word.text in text:
                word.fate = AWAY

    def copied(self, book: Path, target: Path) -> None:
        """A book was copied, also over another one: what nobody had read of that one is gone by a person's hand."""
        for folder in self.folders:
            self.waiting[folder, target] = set(self.waiting[folder, book])
        text = text_of_book(book)
        for folder in self.folders:
            if target == folder / BOOK:  # the register is an older one now, until the next run
                self._seen_elsewhere(folder, text)
                for word in self.words.values():
                    if word.own and folder in word.taken and not word.lies_in(text):
                        word.fate = AWAY

    def ran(self, folder: Path, copies: Iterable[Path], out: str, back_to: int | None = None) -> None:
        """A run on a register ended well: it has read the book of the folder and the copies."""
        self.printed[folder] += "\n".join(not_taken_over(out)) + "\n"
        main = folder / BOOK
        if back_to is not None:
            kept = (folder / STATES / f"{back_to:04}.json").read_text("utf-8")
            pattern = text_of_book(folder / STATES / f"{back_to:04}.xlsx")
            for text in self.waiting[folder, main]:
                self.words[text].taken.add(folder)
                self.words[text].fate = AWAY
            self.waiting[folder, main].clear()
            for word in self.words.values():
                lies = word.lies_in(pattern if word.own else kept)
                if folder in word.taken and (not lies or word.fate == OVER):
                    word.fate = AWAY
        for book in (main, *copies):
            for text in self.waiting[folder, book]:
                self.words[text].taken.add(folder)
                if self.words[text].own and book != main:
                    self.words[text].fate = AWAY  # the copy is kept with the state
            self.waiting[folder, book].clear()
        self._seen_elsewhere(folder, text_of_book(main))

    def _seen_elsewhere(self, folder: Path, text: str) -> None:
        """For the other registers, the book of a folder holds what they have not read."""
        for other in self.folders:
            if other != folder:
                self.waiting[other, folder / BOOK] = {
                    word.text
                    for word in self.words.values()
                    if other not in word.taken and word.lies_in(text)
                }

    def missing(self, folder: Path) -> Iterator[str]:
        """What a run has read, nobody took away, and neither the register nor what was told holds."""
        text = text_of_book(folder / BOOK) + self.printed[folder]
        for word in self.words.values():
            if folder in word.taken and word.fate == STANDS and not word.lies_in(text):
                yield f"{word.text} is lost: neither in the register nor told"

    def beyond_recall(self, folder: Path) -> Iterator[str]:
        """What a run has read and no state of the folder holds."""
        states = sorted((folder / STATES).iterdir())
        texts = [text_of_book(one) if one.suffix == ".xlsx" else one.read_text("utf-8") for one in states]
        everything = "\n".join((*texts, self.printed[folder], text_of_book(folder / BOOK)))
        for word in self.words.values():
            if folder in word.taken and not word.lies_in(everything):
                yield f"{word.text} cannot be brought back: no state holds it"

    def statuses(self, out: str, status: int) -> Iterator[str]:
        """A run that told conflicts or cells that it could not read ends with 1, any other with 0."""
        wanted = 1 if not_taken_over(out) else 0
        if status != wanted:
            yield f"status {status} after {not_taken_over(out)[:3]}"


def states_of(folder: Path) -> list[int]:
    """The numbers of the states that a folder keeps."""
    place = folder / STATES
    return sorted(int(one.stem) for one in place.glob("*.json")) if place.is_dir() else []


def whole_states(before: dict[str, bytes], after: dict[str, bytes]) -> Iterator[str]:
    """A state that was kept is never changed."""
    for name, data in before.items():
        if name.startswith(STATES) and name.endswith(".json"):
            for one in (name, name.replace(".json", ".xlsx")):
                if after.get(one) != before[one]:
                    yield f"{one} was changed"
            json.loads(data)
