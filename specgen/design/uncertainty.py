"""How far the headline results move with inputs that nobody knows exactly, and which input to find out first.

The same calculations run again with other values: one input at a time at each end of its range, then all together in a
seeded Latin hypercube.
"""

from __future__ import annotations

import importlib
from collections.abc import Sequence
from dataclasses import dataclass

from specgen.design.extras import STUDIES, need_scipy
from specgen.design.progress import tell
from specgen.design.worksheet import Unit, Worksheet, calculation
from specgen.model.calculation import CalcLine, CalcTable, Calculation
from specgen.model.project import Parapet, Project, Value
from specgen.physics.errors import PhysicsError
from specgen.practice.entries import Practice, Row
from specgen.units.quantity import Quantity, from_si, parse
from specgen.wall.edit import PRACTICE, PathError, find, value_at, with_practice, with_value

SUBJECT = "uncertainty"
TITLE = "Spread of the headline results over doubtful inputs"
ON_REQUEST = True
EXTRA = STUDIES  # without which it has no result
SAMPLES = 128
SEED = 20_260_301
LOW_SHARE, HIGH_SHARE = 0.05, 0.95


@dataclass(frozen=True)
class Headline:
    """A result whose spread is studied: the module and subject it comes from, its name, and its short name here."""

    module: str
    subject: str
    result: str
    name: str


HEADLINES = (
    Headline("vapor_drive", "vapor drive", "condensate_afternoon", "condensate"),
    Headline("coping_movement", "coping movement", "movement", "movement"),
    Headline("coping_wind", "coping wind", "resistance_top", "resistance"),
)
SETS = tuple(f"{one.name}_{end}" for one in HEADLINES for end in ("low", "high", "first"))
VALIDITY = (
    "Ranges chosen by this tool, each input on its own and evenly likely over its range. The spread is that of the "
    "inputs named, not of the formulas."
)
LEAVES_OUT = (
    "Inputs that are not in the table of doubtful inputs, which stay as they are.",
    "Inputs that depend on each other: a dark face and a warm membrane come together.",
    "The error of the formulas themselves; each calculation says what it leaves out.",
)


@dataclass(frozen=True)
class Doubt:
    """One doubtful input with its range, as values in the SI base, at one parapet."""

    path: str
    title: str
    dimension: str
    unit: str
    low: float
    high: float


@dataclass(frozen=True)
class Swing:
    """What one input does alone: the result at the low and at the high end of its range."""

    doubt: Doubt
    at_low: Quantity
    at_high: Quantity

    @property
    def width(self) -> float:
        """The change of the result over the range, in SI."""
        return abs(self.at_high.value - self.at_low.value)


@calculation(SUBJECT, TITLE, VALIDITY, LEAVES_OUT)
def calculate(work: Worksheet) -> None:
    """Sensitivity and spread of every headline result at one parapet.

    Formulas: one input at a time at the ends of its range; 5th and 95th hundredth of a Latin hypercube sample.

    Given: what the headline calculations need; its doubtful values are varied. Of practice: the table of doubtful
    inputs, and values that are varied. Unknown where a headline calculation is.
    """
    need_scipy(work)
    for one in HEADLINES:
        work.missing += [
            f"{reason} ({one.subject})"
            for reason in _run(one, work.project, work.parapet, work.practice).missing
        ]
    work.stop_if_missing()
    work.cite(work.practice.table("doubtful").source)
    for place, one in enumerate(HEADLINES):
        _study(work, one, place / len(HEADLINES))


def _run(one: Headline, project: Project, parapet: Parapet, practice: Practice) -> Calculation:
    module = importlib.import_module(f"specgen.design.{one.module}")
    (here,) = (other for other in project.parapets if other.name == parapet.name)
    found: Calculation = module.calculate(project, here, practice)
    return found


def _result(one: Headline, project: Project, parapet: Parapet, practice: Practice) -> Quantity:
    calc = _run(one, project, parapet, practice)
    value = calc.result(one.result)
    if value is None:
        raise PhysicsError(f"a doubtful input leaves its calculation unknown: {'; '.join(calc.missing)}")
    return value


def doubts(one: Headline, project: Project, parapet: Parapet, practice: Practice) -> tuple[Doubt, ...]:
    """The doubtful inputs of a headline result that this project has, in the order of the table."""
    return doubts_of(one.subject, project, parapet, practice)


def doubts_of(subject: str, project: Project, parapet: Parapet, practice: Practice) -> tuple[Doubt, ...]:
    """The doubtful inputs of a calculation that this project has, in the order of the table; none for most subjects."""
    found = []
    for row in practice.table("doubtful").where(subject=subject):
        doubt = _doubt(row, project, parapet, practice)
        if doubt is not None:
            found.append(doubt)
    return tuple(found)


def _doubt(row: Row, project: Project, parapet: Parapet, practice: Practice) -> Doubt | None:
    path = _here(str(row["input"]), parapet)
    try:
        field = find(project, practice, path).field
    except PathError:
        return None  # this parapet has no such component
    base = value_at(project, practice, path, parapet.name)
    if base is None:
        base = _by_table(path, parapet, practice)
    low, high = (_end(str(row[end]), base, field.type) for end in ("low", "high"))
    if low is None or high is None:
        return None
    unit = base.unit if isinstance(base, Quantity) else ""
    component = path.removeprefix(f"{parapet.name}.").rpartition(".")[0]
    whose = f" of the {component}" if parapet.part(component) is not None else ""
    return Doubt(path, field.title + whose, field.type, unit, low, high)


def _here(path: str, parapet: Parapet) -> str:
    """A path of the table, made to mean this parapet alone."""
    if path.startswith((f"{PRACTICE}.", "site.", "building.")):
        return path
    return f"{parapet.name}.{path.removeprefix('parapet.')}"


def _by_table(path: str, parapet: Parapet, practice: Practice) -> Value | None:
    """The value of the material table that stands in where the project gives none."""
    component, _, name = path.removeprefix(f"{parapet.name}.").rpartition(".")
    part = parapet.part(component)
    if name != "vapor_permeance" or part is None:
        return None
    rows = practice.table("materials").where(role=part.role, kind=part.kind)
    return rows[0].get("permeance") if rows else None


def _end(text: str, base: Value | None, dimension: str) -> float | None:
    """One end of a range in SI: a factor ``x0.5``, a difference of temperature, or the value itself."""
    if text.startswith("x"):
        return base.value * float(text[1:]) if isinstance(base, Quantity) else None
    if dimension == "temperature" and "delta" in text:
        shift = parse(text, {"temperature difference"}).value
        return base.value + shift if isinstance(base, Quantity) else None
    return parse(text, {dimension}).value


def _varied(project: Project, practice: Practice, doubt: Doubt, value: float) -> tuple[Project, Practice]:
    made = from_si(value, doubt.dimension, doubt.unit or None)
    if doubt.path.startswith(f"{PRACTICE}."):
        return project, with_practice(practice, doubt.path.removeprefix(f"{PRACTICE}."), made)
    return with_value(project, practice, doubt.path, made), practice


def swings(one: Headline, project: Project, parapet: Parapet, practice: Practice) -> tuple[Swing, ...]:
    """One input at a time, the widest swing first; inputs that move nothing are left out.

    Raises:
        PhysicsError: an end of a range is out of the formula's range.
    """
    found = []
    for doubt in doubts(one, project, parapet, practice):
        ends = [
            _result(one, *_placed(_varied(project, practice, doubt, value), parapet))
            for value in (doubt.low, doubt.high)
        ]
        found.append(Swing(doubt, ends[0], ends[1]))
    moving = [swing for swing in found if swing.width > 0.0]
    return tuple(sorted(moving, key=lambda swing: -swing.width))


def headline(
    one: Headline, project: Project, parapet: Parapet, practice: Practice
) -> tuple[Quantity, tuple[Swing, ...]] | None:
    """The result as calculated and its swings for a drawing; None where it is unknown."""
    base = _run(one, project, parapet, practice).result(one.result)
    return None if base is None else (base, swings(one, project, parapet, practice))


def _placed(varied: tuple[Project, Practice], parapet: Parapet) -> tuple[Project, Parapet, Practice]:
    return varied[0], parapet, varied[1]


def spread(
    one: Headline,
    project: Project,
    parapet: Parapet,
    practice: Practice,
    samples: int = SAMPLES,
    before: float = 0.0,
) -> tuple[float, float]:
    """5th and 95th hundredth of the result with all inputs varied together, in SI.

    It tells how far the study is, of which a share was done before.

    Raises:
        PhysicsError: a sample is out of the formula's range.
        ModuleNotFoundError: scipy is not installed.
    """
    import numpy as np

    varying = doubts(one, project, parapet, practice)
    results = []
    for done, row in enumerate(_sample(len(varying), samples)):
        tell(before + done / samples / len(HEADLINES))
        tried = (project, practice)
        for doubt, share in zip(varying, row, strict=True):
            tried = _varied(*tried, doubt, doubt.low + share * (doubt.high - doubt.low))
        results.append(_result(one, *_placed(tried, parapet)).value)
    low, high = np.quantile(results, (LOW_SHARE, HIGH_SHARE))
    return float(low), float(high)


def _sample(dimensions: int, samples: int) -> Sequence[Sequence[float]]:
    """A seeded Latin hypercube; the same on every run."""
    from scipy.stats import qmc

    found: list[list[float]] = qmc.LatinHypercube(d=dimensions, seed=SEED).random(samples).tolist()
    return found


def _study(work: Worksheet, one: Headline, before: float) -> None:
    project, parapet, practice = work.project, work.parapet, work.practice
    base = _result(one, project, parapet, practice)
    found = swings(one, project, parapet, practice)
    title = f"{one.result.replace('_', ' ')} as calculated"
    work.steps.append(_line(title, base, f"calculation {one.subject}"))
    rows: list[tuple[Quantity | str, ...]] = []
    for swing in found:
        doubt = swing.doubt
        ends = [_shown(work, value, doubt.dimension, doubt.unit) for value in (doubt.low, doubt.high)]
        rows.append((f"{doubt.title} ({doubt.path})", *ends, swing.at_low, swing.at_high))
    columns = ("input", "from", "to", "result at from", "result at to")
    title = f"{one.result.replace('_', ' ').capitalize()}, one input at a time, widest swing first"
    work.tables.append(CalcTable(one.name, title, columns, tuple(rows)))
    low, high = spread(one, project, parapet, practice, before=before)
    for end, title, value in (
        ("low", "5 in 100 samples lie below this", low),
        ("high", "5 in 100 samples lie above this", high),
    ):
        shown = _shown(work, value, base.dimension, base.unit)
        title = f"{one.result.replace('_', ' ')}: {title}"
        work.result_quantity(f"{one.name}_{end}", "", title, shown, f"{SAMPLES} samples, seed {SEED}")
    first = found[0].doubt.path if found else "none"
    work.result_word(f"{one.name}_first", f"input of {one.subject} to find out first", first, "widest swing")


def _line(title: str, value: Quantity, formula: str) -> CalcLine:
    return CalcLine("", title, value, formula)


def _shown(work: Worksheet, value: float, dimension: str, unit: str) -> Quantity:
    symbol = unit or None
    made = from_si(value, dimension, symbol)
    return work.quantity(value, Unit(dimension, made.unit, made.unit))
