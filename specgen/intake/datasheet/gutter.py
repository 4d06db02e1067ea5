"""The columns of a page: what a gutter parts are two columns of text, and no table."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from specgen.intake.datasheet.lines import TextLine
from specgen.model.datasheet import Word
from specgen.practice.datasheet_names import load_datasheet_names, plain_name

FEWEST = 5  # lines on each side of a gutter
PROSE_WORDS = 6  # of a line of prose, at least
PROSE_FILL = 0.65  # of its column that a line of prose fills
LOOKS_LIKE_VALUE = 0.3  # share of the stretches on the right that begin as values do
_VALUE_START = re.compile(
    r"^(?:[≥≤<>~±+\-–(\d.½¼¾]|ASTM|AAMA|ANSI|EN |ISO|pass|fail|min|max|not |"
    r"up to|at least|no |none|yes\b|value|result)",
    re.I,
)


def areas(lines: Sequence[TextLine], across: float) -> tuple[tuple[TextLine, ...], ...]:
    """The lines by column of the page, in reading order. A gutter parts two columns of text, not a table.

    Args:
        lines: of the whole page, from top to bottom.
        across: width of the page [pt].
    """
    found: list[tuple[TextLine, ...]] = []
    band: list[TextLine] = []
    gutter = _gutter(lines, across)
    if gutter is None:
        return (tuple(lines),) if lines else ()
    for line in lines:
        if _crosses(line, gutter):
            found += _split(band, gutter)
            found.append((line,))
            band = []
        else:
            band.append(line)
    found += _split(band, gutter)
    return tuple(_merged(found))


def _merged(found: Iterable[tuple[TextLine, ...]]) -> Iterator[tuple[TextLine, ...]]:
    """Lines across the page that follow each other are one area."""
    held: list[TextLine] = []
    for area in found:
        if len(area) == 1:
            held += area
            continue
        if held:
            yield tuple(held)
            held = []
        yield area
    if held:
        yield tuple(held)


def _gutter(lines: Sequence[TextLine], across: float) -> float | None:
    """Where two columns of a page part: most lines keep clear of it, and what it parts is not one table."""
    best, most = None, 0
    for step in range(30, 71):
        x = across * step / 100
        free = [line for line in lines if not _crosses(line, x)]
        left = [line for line in free if line.words[0].box[0] < x]
        right = [
            next(part for part in line.stretches if part[0].box[0] > x)
            for line in free
            if line.words[-1].box[0] > x
        ]
        score = min(len(left), len(right))
        if score >= FEWEST and score > most and _two_columns(left, right, x):
            best, most = x, score
    return best


def _two_columns(left: Sequence[TextLine], right: Sequence[Sequence[Word]], x: float) -> bool:
    """Prose on the left; or prose, or labels that are known, on the right: else it is the gap inside a table."""
    edge = min(line.words[0].box[0] for line in left)
    if _is_prose([(line.stretches[0], x - edge) for line in left]):
        return True
    texts = [" ".join(word.text for word in part) for part in right]
    if sum(bool(_VALUE_START.match(text)) for text in texts) >= LOOKS_LIKE_VALUE * len(texts):
        return False
    reach = max(part[-1].box[2] for part in right) - min(part[0].box[0] for part in right)
    known = load_datasheet_names().known
    return (
        _is_prose([(part, reach) for part in right]) or sum(plain_name(text) in known for text in texts) >= 2
    )


def _is_prose(parts: Sequence[tuple[Sequence[Word], float]]) -> bool:
    """Whether most stretches have many words and fill their column."""
    full = sum(
        len(part) >= PROSE_WORDS and part[-1].box[2] - part[0].box[0] >= PROSE_FILL * reach
        for part, reach in parts
    )
    return full >= 0.5 * len(parts)


def _crosses(line: TextLine, x: float) -> bool:
    room = 0.4 * line.size
    return any(part[0].box[0] - room < x < part[-1].box[2] + room for part in line.stretches)


def _split(band: Sequence[TextLine], gutter: float) -> list[tuple[TextLine, ...]]:
    sides: list[list[TextLine]] = [[], []]
    for line in band:
        for at, words in enumerate(
            (
                tuple(word for word in line.words if word.box[0] < gutter),
                tuple(word for word in line.words if word.box[0] >= gutter),
            )
        ):
            if words:
                sides[at].append(TextLine(words, line.base, line.size))
    return [tuple(side) for side in sides if side]
