"""JT03: where the wall does not carry the roof deck, the base flashing stands on a curb free of the wall.

A deck on a frame of its own sinks, sways and lengthens against the parapet. Looks at `deck_support`, and where the
deck stands apart at what the base flashing is bonded to.

Right::

    deck_support: a frame apart from the wall
    build_up:
      - role: roof turn-up
        kind: TPO
        stands_on: curb on the deck

Wrong::

    deck_support: a frame apart from the wall
    build_up:
      - role: roof turn-up
        kind: TPO
        stands_on: parapet
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.held import each_layer
from specgen.rules.hold import not_stated
from specgen.rules.rule import Rule, RuleResult, fail, ok
from specgen.rules.wall import Wall

RULE = Rule(
    name="deck apart from the wall",
    severity=Severity.DEFECT,
    applies_to="roof turn-up",
    reason="A membrane that is bonded to the wall and to a deck that moves against it tears at its foot.",
    basis=("turnup.deck_apart",),
    remedy="Fasten a curb to the deck, bond the base flashing to it, and lap it with a counterflashing of the wall.",
)


@each_layer("roof turn-up")
def check(wall: Wall, turn_up: Component) -> Iterator[RuleResult]:
    """What carries the deck, and what the base flashing is bonded to."""
    support, parapet = wall.parapet.word("deck_support"), wall.parapet
    if support is None:
        yield not_stated("what carries the roof deck at the parapet", parapet, "deck_support", "")
    elif support == "the wall below":
        yield ok("the wall below carries the deck", parapet.at("deck_support"), turn_up.id)
    elif not turn_up.has("stands_on"):
        yield not_stated("what the base flashing is bonded to", turn_up, "stands_on", turn_up.id)
    else:
        stands = turn_up.word("stands_on")
        message = f"the wall does not carry the deck, and the base flashing is bonded to the {stands}"
        result = ok if stands == "curb on the deck" else fail
        yield result(message, turn_up.at("stands_on"), turn_up.id)
