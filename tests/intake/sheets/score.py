"""What the reader makes of a sheet, against what the sheet states."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from specgen.intake.datasheet.pdf import read_pages
from specgen.intake.datasheet.read import read_product, sheet_of
from specgen.model.datasheet import Reading, ReadValue, Standing
from specgen.practice.load import load_practice
from specgen.practice.methods import designation
from specgen.units.quantity import parse
from tests.intake.sheets.truth import Fact, Truth

SAME = 0.006  # of the value: rounding of the generator's table


@dataclass(frozen=True)
class Outcome:
    """One attribute of one sheet: what was stated, what was made of it."""

    attribute: str
    outcome: str  # accepted, to confirm, missed, WRONG, not stated
    detail: str
    acceptable: bool  # stated so that it can be taken as it stands


def reading_of(data: bytes, role: str) -> Reading:
    """The reading of a PDF, in this process."""
    sheet = sheet_of("sheet.pdf", {"pages": read_pages(data)})
    return read_product([sheet], role, load_practice())


def outcomes(data: bytes, truth: Truth) -> list[Outcome]:
    """The outcome of every attribute of the role."""
    return outcomes_of(reading_of(data, truth.role), truth)


def outcomes_of(reading: Reading, truth: Truth) -> list[Outcome]:
    """The outcome of every attribute of a reading."""
    stated = {fact.attribute: fact for fact in truth.facts}
    found = []
    for value in reading.values:
        if value.attribute == "kind":
            continue
        fact = stated.get(value.attribute)
        what = _outcome(value, fact)
        detail = f"{value.value} | {value.method} | {value.confirm} || {fact}"
        found.append(Outcome(value.attribute, what, detail, fact is not None and fact.acceptable))
    return found


def _outcome(value: ReadValue, fact: Fact | None) -> str:
    if fact is None:
        return {Standing.READ: "WRONG", Standing.CONFIRM: "to confirm, not stated"}.get(
            value.standing, "not stated"
        )
    if value.standing is Standing.READ:
        right = (
            fact.acceptable
            and same_value(value, fact)
            and same_method(value, fact)
            and same_condition(value, fact)
        )
        return "accepted" if right else "WRONG"
    if value.standing is Standing.NOT_FOUND:
        return "missed"
    return "to confirm" if fact.acceptable else "to confirm, rightly"


def same_value(value: ReadValue, fact: Fact) -> bool:
    """Whether a value that was written is the true one."""
    if isinstance(fact.value, str):
        return value.value == fact.value
    found = parse(value.value)
    room = 0.6 if found.dimension == "temperature" else SAME * abs(fact.value) + 1e-15
    return abs(found.value - fact.value) <= room


def same_method(value: ReadValue, fact: Fact) -> bool:
    """Whether the method written is the one stated."""
    return designation(value.method) == designation(fact.method) if fact.method else not value.method


def same_condition(value: ReadValue, fact: Fact) -> bool:
    """Whether the condition written is the one stated."""
    found = parse(value.value).condition if " @ " in value.value else None
    if not fact.wanted_condition:
        return found is None
    return found is not None and abs(found.value - 75.0) < 0.75


def tally(found: list[Outcome]) -> Counter[str]:
    """How often each outcome came up."""
    return Counter(one.outcome for one in found)
