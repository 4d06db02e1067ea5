"""Results of calculations before and after a change, in words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from specgen.model.calculation import CalcLine, Calculation
from specgen.units.compare import same_computed
from specgen.units.quantity import Quantity
from specgen.units.show import show_on_sheet


@dataclass(frozen=True)
class ResultChange:
    """One result before and after; an empty text stands for an unknown calculation."""

    subject: str
    parapet: str
    name: str
    title: str
    before: str
    after: str
    factor: float | None


def changes(
    before: Sequence[Calculation], after: Sequence[Calculation], system: str
) -> tuple[ResultChange, ...]:
    """The results that differ, in the order of the calculations."""
    out: list[ResultChange] = []
    for old, new in zip(before, after, strict=True):
        if old.done != new.done:
            title = f"{old.title}: result"
            missing = [_missing(calc) for calc in (old, new)]
            out.append(ResultChange(old.subject, old.parapet, "", title, missing[0], missing[1], None))
            continue
        for name, line in new.results.items():
            was = old.results[name]
            if _same(was, line):
                continue
            texts = (show_on_sheet(was.value, system), show_on_sheet(line.value, system))
            out.append(ResultChange(old.subject, old.parapet, name, line.title, *texts, _factor(was, line)))
    return tuple(out)


def _missing(calc: Calculation) -> str:
    return "determined" if calc.done else f"unknown: {'; '.join(calc.missing)}"


def _same(one: CalcLine, other: CalcLine) -> bool:
    if isinstance(one.value, Quantity) and isinstance(other.value, Quantity):
        return same_computed(one.value.value, other.value.value)
    return one.value == other.value


def _factor(one: CalcLine, other: CalcLine) -> float | None:
    """After over before; None for words, temperatures and zero."""
    was, new = one.value, other.value
    if not isinstance(was, Quantity) or not isinstance(new, Quantity):
        return None
    if was.dimension == "temperature" or not was.value:
        return None
    return new.value / was.value


def change_lines(found: Sequence[ResultChange]) -> list[str]:
    """The changes for a terminal, one heading a calculation."""
    if not found:
        return ["No result changes."]
    lines, last = [], ("", "")
    for one in found:
        if (one.subject, one.parapet) != last:
            lines.append(f"{one.subject}, parapet {one.parapet}")
            last = (one.subject, one.parapet)
        times = f"  (x {one.factor:.3g})" if one.factor is not None else ""
        lines.append(f"  {one.title}" + (f" [{one.name}]" if one.name else ""))
        lines.append(f"    {one.before} -> {one.after}{times}")
    return lines
