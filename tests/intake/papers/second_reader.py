"""A second, independent reading of the same pages by a table reader, and what it would add.

    python -m tests.intake.papers.second_reader [COUNT [FIRST]]

It needs pdfplumber, which specgen does not: on the papers of ``makers`` it caught nothing that our layout lets pass.
"""

from __future__ import annotations

import logging
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable
from pathlib import Path

from specgen.intake.datasheet.read import load_sheets, read_product
from specgen.model.datasheet import Cell, DataSheet, Grid, Page, Reading
from specgen.practice.load import load_practice
from tests.intake.papers.makers import Drawn, drawn
from tests.intake.papers.printers import PRINTERS
from tests.intake.sheets.score import outcomes_of

BY_TEXT = {"vertical_strategy": "text", "horizontal_strategy": "text"}


def second(path: Path) -> DataSheet:
    """The pages of a PDF as the table reader sees them: its tables, and the lines outside."""
    import pdfplumber

    pages = []
    with pdfplumber.open(path) as pdf:
        for number, page in enumerate(pdf.pages, 1):
            tables = page.find_tables() or page.find_tables(BY_TEXT)
            grids, rest = [], page
            for table in tables:
                rows = tuple(
                    tuple(Cell(" ".join((text or "").split())) for text in row) for row in table.extract()
                )
                kept = tuple(row for row in rows if any(cell.text for cell in row))
                grids += [Grid(kept, ruled=True)] if kept else []
                left, top, right, bottom = table.bbox
                rest = rest.outside_bbox(table.bbox) if right > left and bottom > top else rest
            lines = tuple(
                Cell(
                    line["text"],
                    (line["x0"], line["top"], line["x1"], line["bottom"]),
                    size=line["chars"][0]["size"],
                )
                for line in rest.extract_text_lines()
            )
            size = float(page.width), float(page.height)
            pages.append(Page(f"page {number}", number, *size, tuple(grids), lines))
    return DataSheet(path.name, tuple(pages))


def main() -> None:
    logging.disable(logging.CRITICAL)
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 100
    first = int(sys.argv[2]) if len(sys.argv) > 2 else 30000
    practice, spent = load_practice(), Counter[str]()
    counts: dict[str, Counter[str]] = {"ours": Counter(), "second": Counter(), "both": Counter()}

    def timed(name: str, one: Drawn, sheet: Callable[[], DataSheet]) -> Reading:
        started = time.perf_counter()
        found = read_product([sheet()], one.truth.role, practice)
        spent[name] += time.perf_counter() - started  # type: ignore[assignment]
        counts[name].update(outcome.outcome for outcome in outcomes_of(found, one.truth))
        return found

    with tempfile.TemporaryDirectory() as folder:
        for at, (program, printer) in enumerate(PRINTERS.items()):
            papers = {seed: drawn(seed) for seed in range(first, first + count) if seed % len(PRINTERS) == at}
            place = Path(folder) / program.replace(" ", "-")
            place.mkdir()
            for seed, path in printer({seed: one.paper for seed, one in papers.items()}, place).items():
                if path.suffix != ".pdf":
                    continue
                one = papers[seed]
                ours = timed("ours", one, lambda path=path: load_sheets([path])[0][0])  # type: ignore[misc]
                other = timed("second", one, lambda path=path: second(path))  # type: ignore[misc]
                says = {value.attribute: value.value for value in other.values}
                for outcome, value in zip(outcomes_of(ours, one.truth), ours.values[1:], strict=True):
                    if outcome.outcome in ("accepted", "WRONG"):
                        same = "the same" if says[value.attribute] == value.value else "other"
                        counts["both"][f"{outcome.outcome}, the second says {same}"] += 1
    for name, count_of in counts.items():
        print(name, dict(count_of), f"{spent[name]:.1f} s")


if __name__ == "__main__":
    main()
