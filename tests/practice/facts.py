"""The page of every practice fact: value, source, status; those from memory first, by source, for a person to confirm.

An entry is one fact; a table has as many as it has cells with a value, or rows where all its cells are words. A cell that
is taken from another table is a fact of that table. By what reads it, a fact decides, only asks, or does neither yet.
``python -m tests.practice.facts`` writes ``docs/facts.md``.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from enum import Enum
from itertools import groupby
from pathlib import Path
from typing import Any

import specgen
from specgen.files.yaml_reader import read_yaml
from specgen.model.project import Value
from specgen.model.source import Source, Status
from specgen.practice.entries import Practice, PracticeTable, Row
from specgen.practice.load import FOLDER, load_practice
from specgen.practice.ranges import EXPECTED, POSSIBLE, TIMES
from specgen.units.quantity import Quantity
from specgen.wall.plausible import FAMILIES

PAGE = Path(__file__).parents[2] / "docs" / "facts.md"
KNOWN = (Status.CODE, Status.STANDARD, Status.PRACTICE, Status.MEMORY)
ASKING = (EXPECTED, POSSIBLE, TIMES, FAMILIES)  # each named by the module that reads it
OWN_SOURCE = ("document", "place", "status")  # columns in which a row of words names its own source
Cell = tuple[int, str]  # row and column of a table


class Use(Enum):
    """What a fact is read for."""

    DECIDES = "What decides"
    ASKS = "What only asks"
    NOTHING = "What nothing reads yet"


ABOUT = {
    Use.DECIDES: "A verdict, a limit, a calculation, or a printed sentence follows from it.",
    Use.ASKS: f"Tables of plausible values ({', '.join(ASKING)}): no requirement, calculation, or limit reads them."
    " A value outside is asked about, or it cannot be and the file is refused.",
    Use.NOTHING: "Properties of materials that no layer, filling, or calculation takes.",
}


@dataclass(frozen=True)
class Fact:
    """One line of the page; a line of a table stands for ``count`` cells of one column with one source and one use."""

    key: str
    title: str
    value: str
    source: Source
    note: str = ""
    count: int = 1
    of_table: bool = False
    use: Use = Use.DECIDES


def facts(practice: Practice) -> tuple[Fact, ...]:
    """Every fact of the practice folder, entries before tables."""
    entries = (
        Fact(one.key, one.title, _words(one.value), one.source, one.note) for one in practice.entries.values()
    )
    taken = _taken(practice)
    return (
        *entries,
        *(fact for table in practice.tables.values() for fact in _of_table(table, taken.get(table.key))),
    )


def _of_table(table: PracticeTable, taken: set[Cell] | None) -> Iterator[Fact]:
    content = _content(table)
    note = str(content.get("note", ""))
    label = _label(table)
    numbers = [name for name, kind in table.columns.items() if kind != "word" and name not in label]
    cells: dict[tuple[str, Source, Use], list[str]] = {}
    for at, row in enumerate(table.rows):
        named = _named(row, label)
        for name in numbers:
            if content["rows"][at].get(name) is not None:
                use = Use.NOTHING if taken is not None and (at, name) not in taken else _use(table)
                key = (name, table.source_of(row, name), use)
                cells.setdefault(key, []).append(f"{named} {_words(row[name])}")
        if not numbers:
            printed = _named(row, [name for name in table.columns if name not in (*label, *OWN_SOURCE)])
            own = f"{named}: {printed}" if printed else named
            cells.setdefault(("", _own(row, table), _use(table)), []).append(own)
    for (name, source, use), values in cells.items():
        title = f"table {table.key}" + (f", {name}" if name else "")
        yield Fact(title, table.title, "; ".join(values), source, note, len(values), of_table=True, use=use)


def _content(table: PracticeTable) -> Mapping[str, Any]:
    content = read_yaml(FOLDER / "tables" / f"{table.key}.yaml")
    assert isinstance(content, dict), table.key
    return content


def _use(table: PracticeTable) -> Use:
    return Use.ASKS if table.key in ASKING else Use.DECIDES


def _taken(practice: Practice) -> dict[str, set[Cell]]:
    """Of each table from which others take cells: those that they take, or that a module names by role and column."""
    found: dict[str, set[Cell]] = {}
    for table in practice.tables.values():
        content = _content(table)
        if "from" not in content:
            continue
        other, by = practice.table(content["from"]["table"]), content["from"]["by"]
        wanted = {row[by] for row in table.rows}
        columns = [one["from"] for one in content["columns"].values() if "from" in one]
        cells = found.setdefault(other.key, _named_by_modules(other))
        cells |= {(at, name) for at, row in enumerate(other.rows) if row[by] in wanted for name in columns}
    return found


def _named_by_modules(table: PracticeTable) -> set[Cell]:
    modules = [path.read_text(encoding="utf-8") for path in Path(specgen.__path__[0]).rglob("*.py")]
    return {
        (at, name)
        for module in modules
        if f'"{table.key}"' in module
        for at, row in enumerate(table.rows)
        if f'"{row["role"]}"' in module
        for name in table.columns
        if f'"{name}"' in module
    }


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
        cited = (table.source_of(row, name) for name in table.columns)
        return next((one for one in cited if one != table.source), table.source)
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
    used = {use: [one for one in found if one.use is use] for use in Use}
    memory = {use: _of(used[use], Status.MEMORY) for use in Use}
    lines = [
        "# Practice facts",
        "",
        "Written by `python -m tests.practice.facts` from `specgen/practice`; a test compares it.",
        "",
        "C or S means that the text was read, save where the remark says quoted. What was only found quoted since stays"
        " M, and the remark says by whom: confirm what has no remark first. A code is quoted in the edition named.",
        "",
        *(line for use in Use for line in (f"## {use.value}", "", ABOUT[use], "", *_shares(used[use]))),
        "## From memory, by source",
        "",
        *_by_document(memory[Use.DECIDES]),
        "## From memory, what only asks",
        "",
        *_by_document(memory[Use.ASKS]),
        "## From memory, what nothing reads yet",
        "",
        *_by_document(memory[Use.NOTHING]),
        "## From the text of a code or standard",
        "",
        *_table(_of(found, Status.CODE, Status.STANDARD)),
        "## Common practice",
        "",
        *_practice(_of(found, Status.PRACTICE)),
    ]
    return "\n".join(lines)


def _of(found: Iterable[Fact], *statuses: Status) -> list[Fact]:
    return [one for status in statuses for one in found if one.source.status is status]


def from_memory(found: Iterable[Fact], of_table: bool) -> float:
    """The share, in percent, of entries or of cells of tables that is from memory, of what decides."""
    deciding = [one for one in found if one.use is Use.DECIDES]
    return 100 * _counts(_of(deciding, Status.MEMORY))[of_table] / _counts(deciding)[of_table]


def _counts(group: Iterable[Fact]) -> Counter[bool]:
    """How many entries (False) and cells of tables (True)."""
    sums: Counter[bool] = Counter()
    for one in group:
        sums[one.of_table] += one.count
    return sums


def _shares(found: list[Fact]) -> Iterator[str]:
    every = _counts(found)
    yield from ("| status | values and statements | cells of tables |", "|---|---|---|")
    for status in KNOWN:
        counted = _counts(_of(found, status))
        cells = (
            f"{counted[kind]} ({100 * counted[kind] / every[kind]:.0f} %)" if every[kind] else "none"
            for kind in (False, True)
        )
        yield f"| {status.value}: {status.words} | {' | '.join(cells)} |"
    yield ""


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
