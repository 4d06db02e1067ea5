"""A calculation as plain text for a terminal."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence

from specgen.model.calculation import CalcLine, CalcTable, Calculation
from specgen.units.show import show_on_sheet

WIDTH = 100
INDENT = "  "
LONGEST_SYMBOL = 12
LONGEST_VALUE = 24
LEAST_WORDS = 33
LONGEST_HEAD = 12


def sheet(calc: Calculation, system: str = "inch-pound", width: int = WIDTH) -> str:
    """Print a calculation.

    Args:
        calc: the calculation.
        system: ``inch-pound``, ``SI`` or ``both``.
        width: columns of the sheet.

    Returns:
        Text of at most so many columns, except where a single word is longer, that ends with a newline.
    """
    head = f"{calc.title}, parapet {calc.parapet}"
    lines = [*_wrapped(head, width, ""), "=" * min(len(head), width), ""]
    if calc.missing:
        lines += ["No result: unknown.", ""]
        lines += _list("Missing", calc.missing, width)
    lines += _lines("Inputs", [("", line) for line in calc.inputs], system, width)
    lines += _lines("Steps", [("", line) for line in calc.steps], system, width)
    lines += _lines("Results", list(calc.results.items()), system, width)
    for table in calc.tables:
        lines += _table(table, system, width)
    lines += _list("Validity", (calc.validity,), width)
    lines += _list("Leaves out", calc.leaves_out, width)
    lines += _list("Sources", calc.sources, width)
    return "\n".join(lines).rstrip("\n") + "\n"


def _wrapped(text: str, width: int, indent: str, hanging: str | None = None) -> list[str]:
    deeper = indent if hanging is None else hanging
    return textwrap.wrap(
        text,
        width,
        initial_indent=indent,
        subsequent_indent=deeper,
        break_long_words=False,
        break_on_hyphens=False,
    )


def _list(head: str, items: Sequence[str], width: int) -> list[str]:
    if not items:
        return []
    out = [head]
    for item in items:
        out += _wrapped(item, width, f"{INDENT}- ", f"{INDENT}  ")
    return [*out, ""]


def _lines(head: str, named: Sequence[tuple[str, CalcLine]], system: str, width: int) -> list[str]:
    """A block of lines: symbol, title and value in columns, then formula, name and source beneath."""
    if not named:
        return []
    values = [show_on_sheet(line.value, system) for _, line in named]
    symbols = _column((line.symbol for _, line in named), LONGEST_SYMBOL)
    wide = _column(values, LONGEST_VALUE)
    room = width - len(INDENT) * 3 - symbols - wide
    out = [head]
    for (name, line), value in zip(named, values, strict=True):
        titles = textwrap.wrap(line.title, room, break_long_words=False) or [""]
        first = f"{INDENT}{line.symbol:<{symbols}}{INDENT}{titles[0]:<{room}}{INDENT}"
        if len(value) <= wide:
            out.append(f"{first}{value:>{wide}}".rstrip())
            value = ""
        else:
            out.append(first.rstrip())
        out += [f"{INDENT}{'':<{symbols}}{INDENT}{more}" for more in titles[1:]]
        deep = " " * (symbols + len(INDENT) * 3)
        for text in (value, line.formula, f"[{name}]" if name else "", line.source):
            out += _wrapped(text, width, deep, deep + INDENT) if text else []
    return [*out, ""]


def _table(table: CalcTable, system: str, width: int) -> list[str]:
    """A comparison in columns; a cell that is a number stands at the right of its column."""
    rows = [tuple(show_on_sheet(cell, system) for cell in row) for row in table.rows]
    wide = [max(len(cell) for cell in column) for column in zip(*rows, strict=True)] if rows else []
    # A long head is broken so that the numbers under it need no more room than their own.
    heads = [
        textwrap.wrap(head, max(size, LONGEST_HEAD)) for head, size in zip(table.columns, wide, strict=True)
    ]
    sizes = [max(size, *map(len, head)) for size, head in zip(wide, heads, strict=True)]
    _narrow(table, sizes, width)
    deep = max((len(head) for head in heads), default=0)
    out = _wrapped(table.title, width, "")
    for level in range(deep):
        cells = [head[level] if level < len(head) else "" for head in heads]
        out.append(_across(cells, sizes, [True] * len(sizes)))
    for row, shown in zip(table.rows, rows, strict=True):
        broken = [textwrap.wrap(cell, size) or [""] for cell, size in zip(shown, sizes, strict=True)]
        for level in range(max(map(len, broken))):
            cells = [lines[level] if level < len(lines) else "" for lines in broken]
            out.append(_across(cells, sizes, [isinstance(cell, str) for cell in row]))
    return [*out, *(_wrapped(table.note, width, INDENT) if table.note else []), ""]


def _narrow(table: CalcTable, sizes: list[int], width: int) -> None:
    """Take what a table is too wide from its widest column of words, down to `LEAST_WORDS`."""
    words = [at for at in range(len(sizes)) if any(isinstance(row[at], str) for row in table.rows)]
    excess = sum(sizes) + len(INDENT) * len(sizes) - width
    if words and excess > 0:
        widest = max(words, key=lambda at: sizes[at])
        sizes[widest] = max(min(LEAST_WORDS, sizes[widest]), sizes[widest] - excess)


def _across(cells: Sequence[str], sizes: Sequence[int], left: Sequence[bool]) -> str:
    parts = [
        f"{cell:<{size}}" if at else f"{cell:>{size}}"
        for cell, size, at in zip(cells, sizes, left, strict=True)
    ]
    return (INDENT + INDENT.join(parts)).rstrip()


def _column(texts: Iterable[str], longest: int) -> int:
    """The width of a column: that of its longest text that is not too long to stand in it."""
    return max((len(text) for text in texts if len(text) <= longest), default=0)
