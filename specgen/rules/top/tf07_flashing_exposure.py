"""TF07: the flashing is covered before its exposure limit.

Compares the exposure the maker allows with the exposure the project plans until the coping covers the flashing.

Right::

    - role: top flashing
      kind: self-adhered butyl
      exposure_limit: 60 days
      planned_exposure: 30 days

Wrong::

    - role: top flashing
      kind: self-adhered butyl
      exposure_limit: 30 days
      planned_exposure: 60 days
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import absent, hold, not_stated
from specgen.rules.rule import Rule, RuleResult
from specgen.rules.wall import Wall

RULE = Rule(
    code="TF07",
    name="flashing exposure",
    title="The flashing is covered before its exposure limit",
    severity=Severity.RISK,
    applies_to="top flashing",
    reason="Sunlight degrades the flashing while it waits for the coping.",
    basis=("flashing.exposure",),
    remedy="Choose a flashing that may stay exposed as long as planned, or plan the coping earlier.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The allowed exposure against the planned exposure."""
    flashing = wall.part("top flashing")
    if flashing is None:
        yield absent(wall, "top flashing", "top")
    elif not flashing.has("planned_exposure"):
        what = "planned exposure of the top flashing"
        yield not_stated(what, flashing, "planned_exposure", flashing.id)
    else:
        yield hold(wall, "flashing.exposure", flashing)
