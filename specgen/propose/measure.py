"""What of a wall differs and matters: results of calculations, trades, hold points, letters, parts that must not fail."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import fsum
from typing import Literal

from specgen.assessment import Assessment
from specgen.model.finding import Finding, Outcome, Severity
from specgen.propose.omissions import omissions
from specgen.propose.quantities import Prices, cost_of
from specgen.units.quantity import Quantity, QuantityError, parse, quantity, to_unit

Better = Literal["less", "more"]
OPEN_NOW = "questions that stay open"
LETTERS = "letters of manufacturers to obtain"
SUBSTITUTES = "other choices that would fit in its place"
NO_RESULT = "not calculated"
_DIGITS = 2  # that a result is compared by: what differs beyond them is no difference of walls
# Results of calculations: title, subject and name of the result, and which way is better.
RESULTS: tuple[tuple[str, str, str, Better], ...] = (
    ("condensate of a sun-heated day behind the wet plaster", "vapor drive", "condensate_governing", "less"),
    ("time until it is dry again", "inward drive", "dry_after", "less"),
    ("load of the wind on a cleat fastener", "cleat loads", "needed_pull_out", "less"),
    ("pressure that the face of the coping must be tested for", "coping wind", "resistance_face", "less"),
)


@dataclass(frozen=True)
class Measure:
    """One thing that is compared; no value where its calculation has no result."""

    title: str
    better: Better
    amount: float | None
    text: str


@dataclass(frozen=True)
class Standing:
    """What the assessment of a wall says of it."""

    fails: tuple[tuple[str, str], ...]  # code and name of each defect and risk
    open: tuple[Finding, ...]  # what is unknown
    queries: tuple[Finding, ...]

    @property
    def good(self) -> bool:
        """Whether neither a defect nor a risk stands."""
        return not self.fails


def standing(assessment: Assessment) -> Standing:
    """The findings of a wall that somebody must act on."""
    fails = tuple(
        dict.fromkeys(
            (one.code, one.name)
            for one in assessment.findings
            if one.failed and one.severity is not Severity.QUERY
        )
    )
    queries = (
        one for one in assessment.findings if one.outcome is Outcome.FAIL and one.severity is Severity.QUERY
    )
    return Standing(fails, tuple(one for one in assessment.findings if one.open), tuple(queries))


def measures(
    assessment: Assessment,
    letters: int,
    prices: Prices | None,
    failing: tuple[Measure, ...] | None = None,
) -> tuple[Measure, ...]:
    """What is compared of a wall, but for what can only be told beside the others.

    Args:
        assessment: the wall as assessed.
        letters: of manufacturers, that it asks for.
        prices: of parts, where somebody gives them.
        failing: what `omitted` found of a wall with the same laps and the same parts in them; None: it is tried.
    """
    found = standing(assessment)
    return (
        Measure(
            OPEN_NOW, "less", len(found.queries) + len(found.open), str(len(found.queries) + len(found.open))
        ),
        Measure(LETTERS, "less", letters, str(letters)),
        *_results(assessment),
        *_work(assessment),
        *(omitted(assessment) if failing is None else failing),
        *_cost(assessment, prices),
    )


def _results(assessment: Assessment) -> Iterator[Measure]:
    for title, subject, name, better in RESULTS:
        found: list[Quantity] = []
        for made in assessment.calculations.values():
            one = made[subject]
            value = _as_quantity(one.results[name].value) if one.done else None
            if value is not None:
                found.append(value)
        if len(found) < len(assessment.calculations):
            yield Measure(title, better, None, NO_RESULT)
            continue
        unit = found[0].unit
        worst = (max if better == "less" else min)(found, key=lambda value: to_unit(value, unit))
        shown = quantity(float(f"{worst.number:.{_DIGITS}g}"), unit)
        yield Measure(title, better, float(f"{shown.value:.9g}"), shown.text)


def _as_quantity(value: Quantity | str) -> Quantity | None:
    """A result as a quantity; None for a word, as one that says why there is no number."""
    if isinstance(value, Quantity):
        return value
    try:
        return parse(value)
    except QuantityError:
        return None


def _work(assessment: Assessment) -> Iterator[Measure]:
    orders = [wall.order for wall in assessment.walls]
    counts: Mapping[str, int] = {
        "trades": max(len({step.trade for step in order.steps}) for order in orders),
        "handovers between trades": max(order.handovers for order in orders),
        "hold points": max(sum(len(step.holds) for step in order.steps) for order in orders),
        "parts to place": max(len(order.steps) for order in orders),
    }
    for title, count in counts.items():
        yield Measure(title, "less", count, str(count))


def omitted(assessment: Assessment) -> tuple[Measure, ...]:
    """How many single omissions break water, and how many paths all of them together."""
    every = [one for wall in assessment.walls for one in omissions(wall)]
    leaks = sum("water" in one.breaks for one in every)
    paths = sum(len(one.breaks) for one in every)
    return (
        Measure("single omissions that let water in", "less", leaks, f"{leaks} of {len(every)}"),
        Measure("paths that single omissions break", "less", paths, str(paths)),
    )


def _cost(assessment: Assessment, prices: Prices | None) -> Iterator[Measure]:
    if prices is None:
        return
    amounts = cost_of(assessment, prices)
    total = float(f"{fsum(one.price for one in amounts):.6g}")
    yield Measure(
        f"price of what is priced ({prices.currency})", "less", total, f"{total:,.0f} {prices.currency}"
    )
