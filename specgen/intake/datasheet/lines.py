"""Positioned words to lines, and lines to stretches of words that stand together."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from specgen.model.datasheet import Box, Cell, Word

LEVEL = 0.25  # of the size: baselines nearer than that are one line
SMALL = 0.86  # of the size of its line: a smaller word above the baseline is a superscript
TOGETHER = 0.16  # of the size: words nearer than that were drawn in pieces
OVER = 0.5  # of the narrower: words that overlap more are drawn one over the other
AS_BOLD = 1.1  # bold letters count as larger by that
APART = 0.75  # of the size: words farther apart than that stand in two columns
_NUMBER_PARTED = re.compile(r"\b([A-Z]{1,2}[0-9]{2,4}M?)(?:- | -)(?=[0-9]{2}(?![0-9]))")
_EXPONENT = re.compile(r"(?:^|[^A-Za-z])(?:ft|in|m|yd|mm|cm|s·m|sec·m|s\.m)$")


@dataclass(frozen=True)
class Placed:
    """A word with its baseline, in the frame in which its text runs level."""

    word: Word
    base: float


@dataclass(frozen=True)
class TextLine:
    """Words on one baseline, from left to right."""

    words: tuple[Word, ...]
    base: float
    size: float

    @property
    def stretches(self) -> tuple[tuple[Word, ...], ...]:
        """The words parted where the space between them is that of columns."""
        found: list[list[Word]] = []
        for word in self.words:
            if found and word.box[0] - found[-1][-1].box[2] <= APART * self.size:
                found[-1].append(word)
            else:
                found.append([word])
        return tuple(tuple(one) for one in found)


def lines_of(placed: Iterable[Placed]) -> tuple[TextLine, ...]:
    """Words as lines, from top to bottom; a superscript belongs to the line it stands in."""
    groups: list[tuple[float, float, list[Word]]] = []
    near: dict[int, list[int]] = {}
    for one in sorted(placed, key=lambda one: (-one.word.size, one.base, one.word.box[0])):
        at, raised = _line_for(one, groups, near)
        if at is None:
            at = len(groups)
            groups.append((one.base, one.word.size, []))
            near.setdefault(int(one.base // 8), []).append(at)
        groups[at][2].append(replace(one.word, raised=raised))
    return tuple(
        TextLine(_drawn_once(sorted(words, key=lambda word: (word.box[0], word.box[2]))), base, size)
        for base, size, words in sorted(groups, key=lambda group: group[0])
    )


def _drawn_once(words: Sequence[Word]) -> tuple[Word, ...]:
    """Words without those drawn twice to look bold; different words at one place are no text to trust."""
    kept: list[Word] = []
    for word in words:
        last = kept[-1] if kept else None
        if last is None or last.box[2] - word.box[0] < OVER * min(
            last.box[2] - last.box[0], word.box[2] - word.box[0]
        ):
            kept.append(word)
        elif word.text != last.text:
            kept[-1] = replace(last, faint=True)
            kept.append(replace(word, faint=True))
    return tuple(kept)


def _line_for(
    one: Placed, groups: Sequence[tuple[float, float, list[Word]]], near: dict[int, list[int]]
) -> tuple[int | None, bool]:
    bucket = int(one.base // 8)
    nearby = [at for step in (0, -1, 1, 2) for at in near.get(bucket + step, ())]
    # Raised first: the line of another cell may pass at the height of a superscript.
    for at in nearby:
        if _raised(one, *groups[at]):
            return at, True
    for at in nearby:
        if abs(groups[at][0] - one.base) <= LEVEL * one.word.size:
            return at, False
    return None, False


def _raised(one: Placed, base: float, size: float, words: Sequence[Word]) -> bool:
    if one.word.size > SMALL * size or not 0.12 * size < base - one.base < 0.8 * size:
        return False
    left, right = one.word.box[0], one.word.box[2]
    return any(
        -0.2 * size < left - word.box[2] < 0.35 * size or -0.2 * size < word.box[0] - right < 0.35 * size
        for word in words
    )


def text_of(words: Sequence[Word], size: float) -> str:
    """The text of words on one line; a raised mark is set in {^ }, a raised exponent of a unit is plain.

    >>> box = (0.0, 0.0, 9.0, 9.0)
    >>> text_of((Word("ft", box, 9.0), Word("21", (9.0, 0.0, 12.0, 5.0), 5.0, raised=True)), 9.0)
    'ft2{^1}'
    """
    text = ""
    for at, word in enumerate(words):
        gap = word.box[0] - words[at - 1].box[2] if at else 0.0
        if word.raised:
            mark = word.text
            if mark[:1] in "23-" and _EXPONENT.search(text):
                keep = re.match(r"-?[123]", mark)
                text += keep[0] if keep else ""
                mark = mark[keep.end() :] if keep else mark
            text += f"{{^{mark}}}" if mark else ""
        else:
            text += (" " if at and gap > TOGETHER * size else "") + word.text.replace("{^", "(^")
    return text.strip()


def box_of(words: Sequence[Word], turn_back: Turn) -> Box:
    """The box around words, on the page as shown."""
    boxes = [word.box for word in words]
    around = (
        min(box[0] for box in boxes),
        min(box[1] for box in boxes),
        max(box[2] for box in boxes),
        max(box[3] for box in boxes),
    )
    return turn_back.box(around)


@dataclass(frozen=True)
class Turn:
    """Quarter turns, clockwise, of a frame on a page; ``width`` and ``height`` are those of the page as shown."""

    quarters: int
    width: float
    height: float

    def box(self, box: Box) -> Box:
        """A box of the frame, on the page as shown."""
        left, top, right, bottom = box
        match self.quarters % 4:
            case 1:
                return self.width - bottom, left, self.width - top, right
            case 2:
                return self.width - right, self.height - bottom, self.width - left, self.height - top
            case 3:
                return top, self.height - right, bottom, self.height - left
            case _:
                return box

    @property
    def across(self) -> float:
        """The width of the frame."""
        return self.height if self.quarters % 2 else self.width


def cell_of(words: Sequence[Word], size: float, turn: Turn) -> Cell:
    """Words on one line as a cell."""
    bold = all(word.bold for word in words)
    return Cell(
        text_of(words, size),
        box_of(words, turn),
        any(word.faint for word in words),
        any(word.struck for word in words),
        round(size * (AS_BOLD if bold else 1.0), 1),
    )


def joined(cells: Iterable[Cell]) -> Cell:
    """Cells one below the other as one; a word parted by a hyphen stays parted, a number such as "E331-00" does not."""
    given = [cell for cell in cells if cell.text]
    if not given:
        return Cell("")
    boxes = [cell.box for cell in given if cell.box]
    around = None
    if boxes:
        around = (
            min(box[0] for box in boxes),
            min(box[1] for box in boxes),
            max(box[2] for box in boxes),
            max(box[3] for box in boxes),
        )
    return Cell(
        _NUMBER_PARTED.sub(r"\1-", " ".join(cell.text for cell in given)),
        around,
        any(cell.faint for cell in given),
        any(cell.struck for cell in given),
        max(cell.size for cell in given),
    )


def frames(words: Iterable[Placed]) -> Iterator[tuple[int, list[Placed]]]:
    """The words by the direction in which their text runs, the most common direction first."""
    by_turn: dict[int, list[Placed]] = {}
    for one in words:
        by_turn.setdefault(one.word.turn, []).append(one)
    yield from sorted(by_turn.items(), key=lambda item: (-len(item[1]), item[0]))
