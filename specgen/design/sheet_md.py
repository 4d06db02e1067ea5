"""A calculation as Markdown."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from specgen.model.calculation import CalcLine, CalcTable, Calculation
from specgen.units.show import show_on_sheet


def markdown(calc: Calculation, system: str = "inch-pound") -> str:
    """Print a calculation as Markdown: a heading, a table each for inputs, steps and results, lists below.

    Args:
        calc: the calculation.
        system: ``inch-pound``, ``SI`` or ``both``.

    Returns:
        Text that ends with a newline.
    """
    lines = [f"## {_cell(calc.title)}, parapet {_cell(calc.parapet)}", ""]
    if calc.missing:
        lines += ["**No result: unknown.**", "", *_list("Missing", calc.missing)]
    lines += _table("Inputs", "Source", [(line, line.source) for line in calc.inputs], system)
    lines += _table("Steps", "Formula, source", [(line, _formula(line)) for line in calc.steps], system)
    lines += _table("Results", "Formula", [(line, line.formula) for line in calc.results.values()], system)
    for table in calc.tables:
        lines += _comparison(table, system)
    lines += _list("Validity", (calc.validity,))
    lines += _list("Leaves out", calc.leaves_out)
    lines += _list("Sources", calc.sources)
    return "\n".join(lines).rstrip("\n") + "\n"


def _formula(line: CalcLine) -> str:
    return "; ".join(part for part in (line.formula, line.source) if part)


def _table(head: str, last: str, rows: Sequence[tuple[CalcLine, str]], system: str) -> list[str]:
    if not rows:
        return []
    out = [f"### {head}", "", f"| Symbol | Quantity | Value | {last} |", "|---|---|---|---|"]
    for line, note in rows:
        value = show_on_sheet(line.value, system)
        out.append("| " + " | ".join(_cell(text) for text in (line.symbol, line.title, value, note)) + " |")
    return [*out, ""]


def _comparison(table: CalcTable, system: str) -> list[str]:
    rows = [[show_on_sheet(cell, system) for cell in row] for row in table.rows]
    out = [f"### {_cell(table.title)}", ""]
    out.append("| " + " | ".join(_cell(text) for text in table.columns) + " |")
    out.append("|" + "---|" * len(table.columns))
    out += ["| " + " | ".join(_cell(text) for text in row) + " |" for row in rows]
    return [*out, "", *([_cell(table.note), ""] if table.note else [])]


def _list(head: str, items: Iterable[str]) -> list[str]:
    found = [f"- {_cell(item)}" for item in items]
    return [f"### {head}", "", *found, ""] if found else []


def _cell(text: str) -> str:
    """Text that stays one cell and is not read as markup."""
    for mark in ("\\", "|", "*", "_", "<", "`"):
        text = text.replace(mark, f"\\{mark}")
    return " ".join(text.split())
