"""OU02: the outlet stands clear of roof, earth and paving.

Holds each stated clearance of the weep screed against its requirement. One of the three must be stated, or
that nothing lies close below, as at a floor line high on a wall. Clearance to earth and paving is code; to a roof it
is practice.

Right::

    - role: weep screed
      kind: perforated weep screed
      above_roof: 9 in

Wrong::

    - role: weep screed
      kind: perforated weep screed
      above_paving: 1 in
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.held import Held, each_layer, rule_of
from specgen.rules.rule import RuleResult, ok, unknown
from specgen.rules.wall import Wall
from specgen.wall.facts import SURFACES
from specgen.wall.specified import left_open

RULE = rule_of(
    "weep.above_roof",
    "weep.above_earth",
    "weep.above_paving",
    severity=Severity.DEFECT,
    remedy="Raise the weep screed, or lower the surface under it.",
    reason="Splash, snow, soil and ponding water close an outlet that is too low.",
)
CLEARANCE = Held(RULE.holds, severities={"weep.above_roof": Severity.RISK})


@each_layer("weep screed")
def check(wall: Wall, screed: Component) -> Iterator[RuleResult]:
    """Each stated clearance against its requirement."""
    if any(screed.has(one) for one in SURFACES) or left_open(
        wall.at(screed), screed, *SURFACES, "nothing_below"
    ):
        yield from CLEARANCE.at(wall, screed)
    elif screed.flag("nothing_below"):
        message = "no roof, earth or paving lies close below the weep screed"
        yield ok(message, screed.at("nothing_below"), screed.id)
    else:
        yield unknown(
            "clearance of the weep screed is not stated",
            f"layer `{screed.id}`: add `above_roof`, `above_earth` or `above_paving`, whichever it stands above, "
            "or `nothing_below: yes`",
            screed.mark,
            screed.id,
        )
