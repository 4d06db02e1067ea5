"""The condensate that a project allows behind the roof membrane, and whether a calculated one stays within it."""

from __future__ import annotations

from specgen.design.worksheet import CONDENSATE, Worksheet
from specgen.units.compare import computed_at_most


def stated_limit(work: Worksheet, symbol: str) -> float | None:
    """The limit that the project states, with its source, written as inputs [kg/m²]; None where none is stated."""
    if not work.given("parapet.condensate_limit"):
        return None
    limit = work.input(symbol, "parapet.condensate_limit")
    if work.word("parapet.condensate_limit_source"):
        work.input_word("", "parapet.condensate_limit_source")
    return limit


def say_limit_met(work: Worksheet, formula: str, condensate: float, limit: float | None) -> None:
    """Write as a result whether the limit is met, with both numbers behind the formula; both in [kg/m²]."""
    met = "no limit stated"
    if limit is not None:
        met = "yes" if computed_at_most(condensate, limit) else "no"
        formula += f": {work.shown(condensate, CONDENSATE)} against {work.shown(limit, CONDENSATE)}"
    work.result_word("limit_met", "the stated limit is met as specified", met, formula)
