"""The reader on papers that four programs print: accepted, left to a person, missed, wrong; by layout and by trap.

python -m tests.intake.papers.trial [COUNT [FIRST]]
"""

from __future__ import annotations

import math
import sys
import tempfile
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from specgen.intake.datasheet.read import load_sheets, read_product
from specgen.practice.load import load_practice
from tests.intake.papers.makers import PLAIN, Drawn, drawn
from tests.intake.papers.printers import PRINTERS
from tests.intake.sheets.score import Outcome, outcomes_of

PAGE = Path(__file__).parents[3] / "docs" / "printed-papers.md"
PAPERS, FIRST = 860, 3000
HEAD = """# Data sheets that four programs print: what is taken, and what is not

860 papers, printed by a browser, a word processor, a spreadsheet (every other one as a workbook) and a typesetting
program. Layouts, words and traps are drawn at random (`tests/intake/papers/makers.py`); two of five papers carry a
trap: a notice, a value that is crossed out, another product above, below, beside, within the table or on the next
sheet, a heading that limits, variants in columns. Products are invented.
Written by `python -m tests.intake.papers.trial`.

- **can be taken**: stated so that a careful reader takes it as it stands.
- **left to a person**: written with a line `confirm:`. **missed**: on the paper and not found.
- **wrong**: taken without a question, and it is not what the paper states of this product, or the paper takes it back.

The papers and the reader come from the same hands. Intervals are Wilson's, at 95 %.

A second, independent reading was tried and left out (`tests/intake/papers/second_reader.py`, with pdfplumber 0.11, on 75
PDF papers of the same kind): ours took 187 values and none wrong, the second 106 and 7 wrong (what is crossed out, a
notice in a heading). To take a value only where both agree would leave 68 of the 187 to a person and keep out nothing.
It takes 0.13 s a paper beside 0.31 s of ours, which opens each file in a process of its own, and 10 MB to install.

"""
Z = 1.96  # of a 95 % interval


@dataclass(frozen=True)
class Tried:
    """One paper as one program printed it, and what was made of it."""

    seed: int
    program: str
    paper: Drawn
    found: tuple[Outcome, ...]
    silent: tuple[str, ...]  # values that were missed and are not among the places shown as not understood


def tried(seeds: Iterable[int], folder: Path) -> list[Tried]:
    """Papers drawn from seeds, printed by the four programs in turn, and read."""
    programs = list(PRINTERS)
    papers = {seed: drawn(seed) for seed in seeds}
    found = []
    for at, program in enumerate(programs):
        mine = {seed: one for seed, one in papers.items() if seed % len(programs) == at}
        place = folder / program.replace(" ", "-")
        place.mkdir()
        printed = PRINTERS[program]({seed: one.paper for seed, one in mine.items()}, place)
        found += [Tried(seed, program, one, *read(printed[seed], one)) for seed, one in mine.items()]
    return found


def read(path: Path, one: Drawn) -> tuple[tuple[Outcome, ...], tuple[str, ...]]:
    """What the reader makes of a printed paper, and what it neither reads nor shows."""
    sheets, _ = load_sheets([path])
    reading = read_product(sheets, one.truth.role, load_practice())
    found = tuple(outcomes_of(reading, one.truth))
    missed = {outcome.attribute for outcome in found if outcome.outcome == "missed"}
    shown = "".join(_letters(place.words) for place in reading.unread)
    silent = tuple(
        fact.label
        for fact in one.truth.facts
        if fact.attribute in missed and _letters(fact.ip) not in shown and _letters(fact.label) not in shown
    )
    return found, silent


def _letters(text: str) -> str:
    return "".join(one for one in text.replace("²", "2").casefold() if one.isalnum())


def wilson(hits: int, of: int) -> tuple[float, float]:
    """The 95 % interval of a share. Source: Wilson 1927, score interval.

    >>> [round(end, 3) for end in wilson(0, 3000)]
    [0.0, 0.001]
    """
    if not of:
        return 0.0, 1.0
    share, room = hits / of, Z * Z / of
    middle = (share + room / 2) / (1 + room)
    half = Z * math.sqrt(share * (1 - share) / of + room / (4 * of)) / (1 + room)
    return max(middle - half, 0.0), min(middle + half, 1.0)


def table(tries: Sequence[Tried]) -> str:
    """The counts by layout and program of plain papers, and by trap."""
    rows: dict[tuple[str, str], Counter[str]] = {}
    for one in tries:
        group = (f"trap: {one.paper.trap}", "") if one.paper.trap else (one.paper.layout, one.program)
        count = rows.setdefault(group, Counter())
        for outcome in one.found:
            count[outcome.outcome] += 1
            count["acceptable"] += outcome.acceptable
    lines = [
        "| papers | program | stated | can be taken | accepted | left to a person | missed | wrong |",
        "|---|---|---|---|---|---|---|---|",
    ]
    for (group, program), count in sorted(rows.items()):
        lines.append(f"| {group} | {program} | {_cells(count)} |")
    every = sum(rows.values(), Counter())
    plain = sum((count for (group, _), count in rows.items() if group in PLAIN), Counter())
    lines.append(f"| all | | {_cells(every)} |")
    taken, of = plain["accepted"], plain["acceptable"]
    low, high = wilson(taken, of)
    lines += [
        "",
        f"Plain values accepted: {taken} of {of} ({taken / max(of, 1):.0%}, {low:.1%} to {high:.1%}).",
    ]
    low, high = wilson(every["WRONG"], _stated(every))
    silent = sum(len(one.silent) for one in tries)
    lines.append(f"Missed and not shown among what was not understood: {silent} of {every['missed']}.")
    lines.append(f"Wrong: {every['WRONG']} of {_stated(every)} ({low:.2%} to {high:.2%}).")
    return "\n".join(lines)


def _stated(count: Mapping[str, int]) -> int:
    return sum(
        n for name, n in count.items() if name not in ("not stated", "acceptable", "to confirm, not stated")
    )


def _cells(count: Mapping[str, int]) -> str:
    left = count["to confirm"] + count["to confirm, rightly"]
    cells = (_stated(count), count["acceptable"], count["accepted"], left, count["missed"], count["WRONG"])
    return " | ".join(map(str, cells))


def page(tries: Sequence[Tried]) -> str:
    """The page of the documentation."""
    return HEAD + table(tries) + "\n"


def main() -> None:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else PAPERS
    first = int(sys.argv[2]) if len(sys.argv) > 2 else FIRST
    with tempfile.TemporaryDirectory() as folder:
        tries = tried(range(first, first + count), Path(folder))
    if (count, first) == (PAPERS, FIRST):
        PAGE.write_text(page(tries), encoding="utf-8")
    print(table(tries))
    for one in tries:
        for outcome in one.found:
            lost = (
                outcome.outcome in ("to confirm", "missed")
                and not one.paper.trap
                and one.paper.layout in PLAIN
            )
            if outcome.outcome == "WRONG" or lost:
                what = (
                    outcome.outcome,
                    one.seed,
                    one.program,
                    one.paper.layout,
                    one.paper.trap,
                    outcome.attribute,
                )
                print(*what, outcome.detail[:200])


if __name__ == "__main__":
    main()
