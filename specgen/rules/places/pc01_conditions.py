"""PC01: the conditions of the parapets are stated, and each is listed at its parapet.

Looks at `building.conditions`, what the parapets have beside straight lengths, and at the corners, ends, steps, joints
and penetrations that each parapet lists. What is named must be listed, what is listed must be named: each gets its
details, and one that nobody lists gets none.

Right::

    building:
      conditions: [outside corner]
    corners:
      - name: northeast
        turn: outside
        coping: welded
        flashing: preformed piece
        drainage: runs around

Wrong::

    building:
      conditions: [straight lengths only]
    corners:
      - name: northeast
        turn: outside
        coping: welded
        flashing: preformed piece
        drainage: runs around
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.rule import Rule, RuleResult, fail, ok, unknown
from specgen.rules.wall import Wall
from specgen.wall.place import of_condition

RULE = Rule(
    name="conditions of the parapets",
    severity=Severity.RISK,
    applies_to="building",
    reason="A corner, an end or a joint that no detail shows is made up on the scaffold.",
    basis=("place.conditions",),
    remedy="Describe each condition where it stands. Name it in `building.conditions`, and list it at its parapet.",
)
PLAIN = "straight lengths only"


def check(wall: Wall) -> Iterator[RuleResult]:
    """What is named against what is listed."""
    building = wall.project.building
    if not building.has("conditions"):
        yield unknown(
            "what the parapets have beside straight lengths is not stated",
            "building: add `conditions`, or [straight lengths only]",
            building.mark,
        )
        return
    named, mark = building.words("conditions"), building.at("conditions")
    if PLAIN in named and len(named) > 1:
        others = ", ".join(word for word in named if word != PLAIN)
        yield fail(f"`{PLAIN}` stands beside {others}", mark)
        return
    wrong = False
    for condition in named if PLAIN not in named else ():
        if not any(of_condition(parapet, condition) for parapet in wall.project.parapets):
            wrong = True
            yield fail(f"{condition} is named and no parapet lists one", mark)
    for condition in wall.practice.vocabulary.records["building"].fields["conditions"].choices:
        for place in of_condition(wall.parapet, condition) if condition not in named else ():
            wrong = True
            message = f"{place.word('name')} is listed, and `building.conditions` names no {condition}"
            yield fail(message, place.at("name"))
    if not wrong:
        yield ok(f"named and listed: {', '.join(named) or 'none'}", mark)
