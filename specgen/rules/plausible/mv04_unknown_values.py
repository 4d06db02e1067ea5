"""MV04: what the file says nobody knows is found out.

A value that is written `unknown` is no answer and no choice: no requirement stands for it, and nothing is calculated
with it. Where a product, a size or a lap may be left to the sections, leave the line out: the sections then ask for
it, and the submittal proves it.

Right::

    - role: coping
      kind: formed metal
      metal: aluminum
      color: medium

Wrong::

    - role: coping
      kind: formed metal
      metal: aluminum
      color: unknown
"""

from collections.abc import Iterator
from dataclasses import replace

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.plausible.naming import called, title_of
from specgen.rules.rule import Rule, RuleResult, ok, unknown
from specgen.rules.wall import Wall
from specgen.wall.differing import own_records, records_at

RULE = Rule(
    name="unknown values",
    severity=Severity.QUERY,
    applies_to="every record",
    reason="What nobody knows when the wall is specified is decided on the scaffold.",
    basis=("unknown.asked",),
    remedy="Find the value out and state it, or leave the line out where the sections may ask for it.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """Every value that the file says is unknown, of the parapet and of its site and building."""
    records = [one for _, one in (*own_records(wall.project), *records_at(wall.parapet))]
    found = [(record, name) for record in records for name in record.unknown]
    for part in wall.parapet.undecided:
        held = "; what is stated of it counts when its kind is known" if part.values else ""
        message, missing = (
            f"the kind of the {part.role} is not known{held}",
            f"layer `{part.id}`: find out `kind`",
        )
        yield replace(unknown(message, missing, part.at("kind"), part.id), attribute="kind")
    if not found and not wall.parapet.undecided:
        yield ok("the file says of no value that it is unknown")
    for record, name in found:
        layer = record.id if isinstance(record, Component) else ""
        known = wall.practice.vocabulary
        message = f"{title_of(known, record, name)} of {called(known, record)} is not known"
        missing = f"{called(known, record)}: find out `{name}`"
        yield replace(unknown(message, missing, record.at(name), layer), attribute=name)
