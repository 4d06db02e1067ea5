"""MV01: each stated value is one that its kind can have, or is said to be meant.

Where a kind is changed and its values are left as they were, they tell of another product. A value outside what is
expected of its kind (`specgen/practice/tables/expected_ranges.yaml`), or a material family that is another kind's, is
set aside: nothing is calculated with it and no requirement is made of it until `meant` confirms it with a reason.

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

from specgen.model.finding import Severity
from specgen.rules.hold import words
from specgen.rules.rule import Rule, RuleResult, not_applicable, ok, unknown
from specgen.rules.wall import Wall
from specgen.wall.change import kept
from specgen.wall.plausible import doubts

RULE = Rule(
    name="values as meant",
    severity=Severity.RISK,
    applies_to="build_up and top",
    reason="A value left over from another kind of product is specified and calculated with as if it were measured.",
    basis=("table expected_ranges", "table expected_families"),
    remedy="State the value of this kind, or confirm it: `meant: {attribute: reason}`.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """Every value of a component that its kind is not expected to have."""
    found = list(doubts(wall.parapet, wall.practice))
    if not found:
        yield not_applicable("every value is one that its kind is expected to have")
    for part, name, value, why in found:
        key = "table expected_families" if name == "family" else "table expected_ranges"
        title = wall.practice.vocabulary.roles[part.role].fields[name].title
        message = f"{title} of `{part.id}` is {words(value)}; {why}"
        if name in part.meant:
            yield ok(f"{message}; meant: {part.meant[name]}", part.at(name), part.id, basis=(key,))
        else:
            missing = f"layer `{part.id}`: state what {part.kind} has, or add `meant: {{{name}: reason}}`"
            stays = kept(part, wall.practice)
            message += f"; kept: {stays}" if stays else ""
            yield unknown(f"{message}; is this meant?", missing, part.at(name), part.id, basis=(key,))
