"""Write docs/data-sheets.md: what the reader makes of data sheets drawn from known products.

Run from the project folder::

    .venv/bin/python -m tests.intake.sheets.table
"""

from __future__ import annotations

from collections import Counter
from functools import lru_cache
from pathlib import Path

from tests.intake.sheets.layouts import LAYOUTS
from tests.intake.sheets.score import Outcome, outcomes

PAGE = Path(__file__).parents[3] / "docs" / "data-sheets.md"
SHEETS = 10  # of each layout
HEADS = (
    "stated",
    "accepted",
    "left to a person",
    "of these rightly",
    "missed",
    "wrong, accepted",
    "seen where none is stated",
)
TEXT = """\
# Reading data sheets: what is read, and what is not

`specgen read` was tried on {sheets} data sheets drawn from known products in {layouts} layouts
(`tests/intake/sheets`). The products are invented and seeded. Some of their values are stated without a test method or
a condition, by another method, for two grades, in two systems of units that disagree, or with a note that limits them:
those must be left to a person. This page is written by `python -m tests.intake.sheets.table`.

- **accepted**: written as a value, and value, method and condition are those of the sheet.
- **left to a person**: written with a line `confirm:`. *Rightly*: a careful reader would not take it either.
- **missed**: stated on the sheet and not found.
- **wrong, accepted**: written as a value, and it is not that of the sheet, or should have been left to a person.

The sheets and the reader come from the same hands. The figures say how it does on these layouts, not on every sheet
a manufacturer prints.

## By layout

{by_layout}

Of {acceptable} values that can be taken as they stand, {accepted} were accepted ({share:.0f} %). {wrong} wrong values
were accepted. Scanned sheets and running text are counted in.

## By attribute, scanned sheets left out

{by_attribute}

## What it does not read

- Scanned pages: they are named, and every value is left blank. With `--recognize` and tesseract installed they are
  read, and every value is left to a person; that is not counted here.
- Values in running text are found by name and always left to a person.
- A label that none of the known names is; a value in words that the vocabulary does not have; months.
- A table whose cells cannot be told apart; a heading that stands close above the first row joins its label.
- A row that goes on on the next page is left to a person where the next page begins with a row without a label; else
  what follows there is not seen.
- A notice in a picture beside the text, or one that uses none of the words in the table of notices.
- A font that shows one sign and names another.
- Hidden rows and columns of a workbook are read like the others.
"""


@lru_cache(maxsize=1)
def everything() -> dict[str, list[Outcome]]:
    """The outcomes of all sheets, by layout."""
    found: dict[str, list[Outcome]] = {}
    for at, (name, draw) in enumerate(LAYOUTS.items()):
        for seed in range(SHEETS):
            found.setdefault(name, []).extend(outcomes(*draw(100 * at + seed)))
    return found


def _row(name: str, counts: Counter[str]) -> str:
    confirmed = counts["to confirm"] + counts["to confirm, rightly"]
    stated = counts["accepted"] + confirmed + counts["missed"] + counts["WRONG"]
    cells = (
        stated,
        counts["accepted"],
        confirmed,
        counts["to confirm, rightly"],
        counts["missed"],
        counts["WRONG"],
    )
    return (
        f"| {name} | " + " | ".join(str(cell) for cell in (*cells, counts["to confirm, not stated"])) + " |"
    )


def _table(first: str, rows: dict[str, Counter[str]]) -> str:
    total: Counter[str] = sum(rows.values(), Counter())
    lines = [f"| {first} | " + " | ".join(HEADS) + " |", "|---" * (len(HEADS) + 1) + "|"]
    shown = [_row(name, counts) for name, counts in rows.items() if set(counts) - {"not stated"}]
    return "\n".join([*lines, *shown, _row("all", total)])


def page() -> str:
    """The text of the page."""
    found = everything()
    by_layout = {name: Counter(one.outcome for one in some) for name, some in found.items()}
    by_attribute: dict[str, Counter[str]] = {}
    for name, some in found.items():
        for one in some if name != "scanned" else ():
            by_attribute.setdefault(one.attribute, Counter())[one.outcome] += 1
    total: Counter[str] = sum(by_layout.values(), Counter())
    acceptable = sum(one.acceptable for some in found.values() for one in some)
    return TEXT.format(
        sheets=SHEETS * len(LAYOUTS),
        layouts=len(LAYOUTS),
        by_layout=_table("layout", by_layout),
        by_attribute=_table("attribute", dict(sorted(by_attribute.items()))),
        acceptable=acceptable,
        accepted=total["accepted"],
        share=100 * total["accepted"] / acceptable,
        wrong=total["WRONG"] or "No",
    )


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
