"""RT06: behind a membrane that is not bonded stands a bonded barrier.

RT01 asks for a bonded base flashing. Where it is loose or mechanically fastened all the same, this rule looks at what the
water meets that gets behind it: a bonded barrier on the roof side of the framing keeps it out of the wall.

Right::

    - role: roof turn-up
      kind: TPO
      attachment: fully adhered

Wrong::

    - role: roof turn-up
      kind: TPO
      attachment: loose
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.held import each_layer
from specgen.rules.hold import not_stated
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall

RULE = Rule(
    name="wall behind a loose membrane",
    severity=Severity.DEFECT,
    applies_to="roof turn-up",
    reason="Water that passes one hole in a loose membrane runs behind it into the parapet.",
    basis=("turnup.behind_loose",),
    remedy="Bond the membrane to the parapet; where it must stay loose, bond a barrier to the sheathing behind it.",
)


@each_layer("roof turn-up")
def check(wall: Wall, turn_up: Component) -> Iterator[RuleResult]:
    """The barrier behind a base flashing that is not bonded."""
    attachment = turn_up.word("attachment")
    if attachment is None:
        yield not_stated("attachment of the roof turn-up", turn_up, "attachment", turn_up.id)
    elif attachment in wall.practice.entry("turnup.attachment").words():
        yield not_applicable(f"the base flashing is {attachment}")
    elif behind := _bonded_behind(wall, turn_up):
        message = f"behind the {attachment} base flashing stands the bonded barrier `{behind.id}`"
        yield ok(message, behind.mark, turn_up.id)
    else:
        message = f"no bonded barrier stands behind the {attachment} base flashing"
        yield fail(message, turn_up.at("attachment"), turn_up.id)


def _bonded_behind(wall: Wall, turn_up: Component) -> Component | None:
    """The bonded barrier between the framing and the base flashing."""
    parts = wall.parapet.build_up
    core = [number for number, part in enumerate(parts) if part.role == "framing"]
    behind = parts[core[-1] + 1 : parts.index(turn_up)] if core else ()
    return next((part for part in behind if part.role == "barrier" and wall.kind(part).bonded), None)
