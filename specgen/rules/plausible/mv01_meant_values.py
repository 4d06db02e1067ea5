"""MV01: each stated value is one that its kind can have, or is confirmed.

Where a kind is changed and its values are left as they were, they tell of another product. A value outside what is
expected of its kind (`specgen/practice/tables/expected_ranges.yaml`), a material family that is another kind's, and
design temperatures and rain that the climate zone does not have are set aside: nothing is calculated with them and no
requirement is made of them until `meant` confirms each with a reason.

Right::

    - role: drainage layer
      kind: mesh
      vapor_permeance: 6 perm
      meant: {vapor_permeance: "tested with its filter fabric, report of March"}

Wrong::

    - role: drainage layer
      kind: mesh
      vapor_permeance: 0.05 perm
"""

from collections.abc import Iterator
from dataclasses import replace

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.hold import words
from specgen.rules.plausible.naming import called, title_of
from specgen.rules.rule import Rule, RuleResult, not_applicable, ok, unknown
from specgen.rules.wall import Wall
from specgen.wall.change import kept
from specgen.wall.differing import own_records, records_at
from specgen.wall.plausible import doubts

RULE = Rule(
    name="values as meant",
    severity=Severity.RISK,
    applies_to="every record",
    reason="A value left over from another kind of product is specified and calculated with as if it were measured.",
    basis=("table expected_ranges", "table expected_families"),
    remedy="State the value of this kind, or confirm it with the reason. Confirm by `meant: {attribute: reason}`.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """Every value of a component that its kind is not expected to have."""
    records = [one for _, one in (*own_records(wall.project), *records_at(wall.parapet))]
    found = list(doubts(records, wall.practice, wall.project.system))
    if not found:
        yield not_applicable("every value is one that its kind is expected to have")
    for part, name, stated, why in found:
        known = wall.practice.vocabulary
        key = "table expected_families" if name == "family" else "table expected_ranges"
        layer = part.id if isinstance(part, Component) else ""
        message = f"{title_of(known, part, name)} of {called(known, part)} is {words(stated)}; {why}"
        if name in part.meant:
            yield ok(f"{message}; meant: {part.meant[name]}", part.at(name), layer, basis=(key,))
        else:
            of = f"what {part.kind} has" if isinstance(part, Component) else "the right value"
            missing = f"{'layer ' if layer else ''}{called(known, part)}: state {of}, or add `meant: {{{name}: reason}}`"
            stays = kept(part, wall.practice) if isinstance(part, Component) else ""
            message += f"; kept: {stays}" if stays else ""
            asked = unknown(f"{message}; is this meant?", missing, part.at(name), layer, basis=(key,))
            yield replace(asked, attribute=name)
