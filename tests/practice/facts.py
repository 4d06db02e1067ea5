"""The page of every practice fact: value, source, status; those from memory first, by source, for a person to confirm.

An entry is one fact; a table has as many as it has cells with a value, or rows where all its cells are words.
``python -m tests.practice.facts`` writes ``docs/facts.md``.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path

from specgen.files.yaml_reader import read_yaml
from specgen.model.project import Value
from specgen.model.source import Source, Status
from specgen.practice.entries import Practice, PracticeTable, Row
from specgen.practice.load import FOLDER, load_practice
from specgen.units.quantity import Quantity

PAGE = Path(__file__).parents[2] / "docs" / "facts.md"
KNOWN = (Status.CODE, Status.STANDARD, Status.PRACTICE, Status.MEMORY)
OWN_SOURCE = ("document", "place", "status")  # columns in which a row of words names its own source


@dataclass(frozen=True)
class Fact:
    """One line of the page; a line of a table stands for ``count`` cells of one column with one source."""

    key: str
    title: str
    value: str
    source: Source
    note: str = ""
    count: int = 1
    of_table: bool = False


def facts(practice: Practice) -> tuple[Fact, ...]:
    """Every fact of the practice folder, entries before tables."""
    entries = (
        Fact(one.key, one.title, _words(one.value), one.source, one.note) for one in practice.entries.values()
    )
    return (*entries, *(fact for table in practice.tables.values() for fact in _of_table(table)))


def _of_table(table: PracticeTable) -> Iterator[Fact]:
    content = read_yaml(FOLDER / "tables" / f"{table.key}.yaml")
    note = str(content["note"]) if isinstance(content, dict) and "note" in content else ""
    label = _label(table)
    numbers = [name for name, kind in table.columns.items() if kind != "word" and name not in label]
    cells: dict[tuple[str, Source], list[str]] = {}
    for row in table.rows:
        named = _named(row, label)
        for name in numbers:
            if row[name] is not None:
                cells.setdefault((name, table.source_of(row, name)), []).append(
                    f"{named} {_words(row[name])}"
                )
        if not numbers:
            printed = _named(row, [name for name in table.columns if name not in (*label, *OWN_SOURCE)])
            cells.setdefault(("", _own(row, table)), []).append(f"{named}: {printed}" if printed else named)
    for (name, source), values in cells.items():
        key = f"table {table.key}" + (f", {name}" if name else "")
        yield Fact(key, table.title, "; ".join(values), source, note, len(values), of_table=True)


def _label(table: PracticeTable) -> list[str]:
    """The fewest columns from the left that tell the rows apart, words before numbers."""
    words = [name for name, kind in table.columns.items() if kind == "word"]
    chosen: list[str] = []
    for name in (*words, *table.columns):
        if chosen and len({_named(row, chosen) for row in table.rows}) == len(table.rows):
            break
        chosen += [] if name in chosen else [name]
    return chosen


def _named(row: Row, columns: Iterable[str]) -> str:
    return ", ".join(_words(row[name]) for name in columns if row[name] is not None)


def _own(row: Mapping[str, Value | None], table: PracticeTable) -> Source:
    if row.get("status") is None:
        return table.source
    return Source(str(row["document"]), "", str(row["place"]), Status(str(row["status"])))


def _words(value: Value | None) -> str:
    if value is None:
        return "as stated"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Quantity):
        return value.text
    return ", ".join(map(str, value)) if isinstance(value, tuple) else str(value)


def page(practice: Practice) -> str:
    """The facts as Markdown."""
    found = facts(practice)
    by_status = {status: [one for one in found if one.source.status is status] for status in KNOWN}
    remembered = by_status[Status.MEMORY]
    lines = [
        "# Practice facts",
        "",
        "Written by `python -m tests.practice.facts` from `specgen/practice`; a test compares it.",
        "",
        "| status | values and statements | cells of tables |",
        "|---|---|---|",
        *(f"| {status.value}: {status.words} | {_count(by_status[status])} |" for status in KNOWN),
        "",
        "C or S means that the text was read, save where the remark says quoted. What was only found quoted since stays"
        " M, and the remark says by whom: confirm what has no remark first. A code is quoted in the edition named.",
        "",
        "## From memory, by source",
        "",
        *_by_document(remembered),
        "## From the text of a code or standard",
        "",
        *_table(by_status[Status.CODE] + by_status[Status.STANDARD]),
        "## Common practice",
        "",
        *_practice(by_status[Status.PRACTICE]),
    ]
    return "\n".join(lines)


def _count(group: Iterable[Fact]) -> str:
    sums: Counter[bool] = Counter()
    for one in group:
        sums[one.of_table] += one.count
    return f"{sums[False]} | {sums[True]}"


def _by_document(remembered: list[Fact]) -> Iterator[str]:
    def document(one: Fact) -> str:
        return one.source.document

    for name, group in groupby(sorted(remembered, key=document), key=document):
        listed = list(group)
        yield from (f"### {name} ({sum(one.count for one in listed)})", "", *_table(listed))


def _table(listed: Iterable[Fact]) -> Iterator[str]:
    yield from ("| fact | value | source | remark |", "|---|---|---|---|")
    for one in listed:
        source = ", ".join(filter(None, (one.source.document, one.source.edition, one.source.place)))
        cells = (f"`{one.key}` {one.title}", one.value, f"{source} [{one.source.status.value}]", one.note)
        yield "| " + " | ".join(cell.replace("|", "/") for cell in cells) + " |"
    yield ""


def _practice(listed: Iterable[Fact]) -> Iterator[str]:
    """Common practice has no source to look up: the value, and of a table how many cells or rows."""
    yield from ("| fact | value |", "|---|---|")
    for one in listed:
        value = f"{one.count} in the file" if one.of_table else one.value
        remark = f" ({one.note})" if one.note and not one.of_table else ""
        yield f"| `{one.key}` {one.title} | {value}{remark} |".replace("\n", " ")
    yield ""


if __name__ == "__main__":
    PAGE.write_text(page(load_practice()), encoding="utf-8")
