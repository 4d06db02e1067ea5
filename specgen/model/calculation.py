"""A calculation that can print itself: inputs, formula, steps, results, sources, what it leaves out."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import ClassVar

from specgen.model.project import Project
from specgen.units.quantity import Quantity

AT_LIMIT = "limit that the sections ask for"  # in place of a value that nobody has stated


@dataclass(frozen=True)
class CalcLine:
    """One line of a calculation sheet: an input, a step or a result."""

    symbol: str
    title: str
    value: Quantity | str
    formula: str = ""  # with the source's equation number
    source: str = ""  # citation with status, or the mark of the project's own value


@dataclass(frozen=True)
class CalcTable:
    """A comparison: a title, the heads of its columns, rows of cells, and what a reader must know of it."""

    name: str
    title: str
    columns: tuple[str, ...]
    rows: tuple[tuple[Quantity | str, ...], ...]
    note: str = ""


@dataclass(frozen=True)
class Calculation:
    """One subject at one parapet. ``missing`` names the data without which it has no result."""

    subject: str  # "coping wind"
    title: str
    parapet: str
    inputs: tuple[CalcLine, ...]
    steps: tuple[CalcLine, ...]
    results: Mapping[str, CalcLine]
    sources: tuple[str, ...]
    validity: str
    leaves_out: tuple[str, ...]
    missing: tuple[str, ...] = field(default=())
    tables: tuple[CalcTable, ...] = field(default=())
    ALSO_PLAIN: ClassVar = ("done",)

    @property
    def done(self) -> bool:
        """Whether there is a result; if not, the calculation is unknown."""
        return not self.missing

    @property
    def on_limits(self) -> bool:
        """Whether it is made with a limit in place of a value that nobody has stated."""
        return any(line.source.startswith(AT_LIMIT) for line in self.inputs)

    def result(self, name: str) -> Quantity | None:
        """A result with its unit, or None if the calculation is unknown.

        Raises:
            KeyError: a finished calculation has no result of that name.
            TypeError: the result is a word.
        """
        if not self.done:
            return None
        value = self.results[name].value
        if isinstance(value, str):
            raise TypeError(f"{self.subject}.{name} is a word")
        return value

    def verdict(self, name: str) -> str | None:
        """A result that is a word, or None if the calculation is unknown."""
        if not self.done:
            return None
        return str(self.results[name].value)


ByParapet = Mapping[str, Mapping[str, Calculation]]


def calculations_at(calculations: Iterable[Calculation] | ByParapet, project: Project) -> ByParapet:
    """Calculations by parapet and subject; a parapet without any has an empty mapping."""
    if isinstance(calculations, Mapping):
        return calculations
    out: dict[str, dict[str, Calculation]] = {parapet.name: {} for parapet in project.parapets}
    for calculation in calculations:
        out[calculation.parapet][calculation.subject] = calculation
    return out
