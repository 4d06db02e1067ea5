"""CP16: the inner leg of a metal coping laps the roof turn-up far enough.

Holds the stated lap of the inner leg against practice. A lap not stated is no finding here.

Right::

    - role: coping
      kind: formed metal
      inner_leg: 3 in

Wrong::

    - role: coping
      kind: formed metal
      inner_leg: 1 in
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.rule import Option, Rule, RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall

RULE = Rule(
    code="CP16",
    name="coping inner leg",
    title="The inner leg of the coping laps the roof turn-up far enough",
    severity=Severity.RISK,
    applies_to="coping",
    reason="Wind drives rain and snow under a short leg on the roof side as it does outside.",
    basis=("coping.inner_leg",),
    remedy="Lengthen the inner leg of the coping.",
    options=(
        Option("lap", "length", "coping.inner_leg", "least lap of the inner leg over the roof turn-up"),
    ),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The stated lap of the inner leg."""
    coping = wall.part("coping")
    stated = coping.quantity("inner_leg") if coping else None
    if coping is None or stated is None or not wall.kind(coping).metal:
        yield not_applicable("no inner leg of a metal coping is stated")
        return
    least = wall.practice.quantity("coping.inner_leg")
    message = (
        f"inner leg laps the roof turn-up by {stated.text}; asked for: at least {wall.shown(least, 'up')}"
    )
    say = ok if stated.value >= least.value * (1 - 1e-9) else fail
    yield say(message, coping.at("inner_leg"), coping.id)
