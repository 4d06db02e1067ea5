"""EX05: the proposed repair answers each observed condition.

Compares the observations with the repairs that are known to answer them. An observation that no proposed
repair answers will come back.

Right::

    existing:
      observations:
        - {name: O-1, what: missing drip, where: below the coping}
      repairs:
        - what: replace coping

Wrong::

    existing:
      observations:
        - {name: O-1, what: sealed base, where: at the base}
      repairs:
        - what: replace coping
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall

RULE = Rule(
    name="repair answers what was seen",
    severity=Severity.RISK,
    applies_to="existing",
    reason="A condition that the repair does not answer comes back.",
    basis=("existing.answered", "table existing_answers"),
    remedy="Add a repair that answers the condition, or explain in a waiver why it needs none.",
)
GRAVE = ("soft sheathing", "sealed base")  # the wall loses its strength, or holds its water


def check(wall: Wall) -> Iterator[RuleResult]:
    """Each observation against the proposed repairs."""
    existing = wall.parapet.existing
    if existing is None or not existing.observations or not existing.repairs:
        yield not_applicable("no observations with a proposed repair are described")
        return
    proposed = {one.word("what") for one in existing.repairs}
    for one in existing.observations:
        what = one.word("what") or ""
        rows = wall.practice.table("existing_answers").where(observed=what)
        answers = [str(row["repair"]) for row in rows]
        seen = f"{one.word('name')}, {what} {_place(one.word('where'))}"
        if proposed & set(answers):
            yield ok(f"{seen}: answered", one.at("what"))
        else:
            severity = Severity.DEFECT if what in GRAVE else Severity.RISK
            message = f"{seen}: no proposed repair answers it; known to: {', '.join(answers)}"
            yield fail(message, one.at("what"), severity=severity)


def _place(where: str | None) -> str:
    return f"on the {where}" if where in ("outer face", "roof side") else where or ""
