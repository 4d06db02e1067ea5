"""OU01: the drainage gap has an open, screened outlet, and the barrier laps over its flange.

Looks for a weep screed in the build-up, at its openings and its screen, at its metal, its flange, and the lath over the
flange where they are stated, and for the lap of the barrier over the flange. A gap without a way out fills; a barrier
behind the flange leads the water into the wall. The screen is good practice, and an opening without one a risk.

Right::

    - role: weep screed
      kind: perforated weep screed
      open: yes
      screened: yes
    - between: [barrier, weep screed]
      upper: barrier

Wrong::

    - role: weep screed
      kind: perforated weep screed
      open: no
      screened: no
    - between: [barrier, weep screed]
      upper: weep screed
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.held import Held, rule_of
from specgen.rules.remedy import AddPart, Known, Remedy, SetLap
from specgen.rules.rule import RuleResult, fail, not_applicable, ok
from specgen.rules.undescribed import undescribed_lap
from specgen.rules.wall import Wall
from specgen.wall.order import joined_to

RULE = rule_of(
    "weep.open",
    "weep.screened",
    "weep.flange",
    "weep.thickness",
    "weep.lath_covers_flange",
    name="outlet at the bottom",
    severity=Severity.DEFECT,
    remedy="Set an open, screened weep screed at the bottom and lap the barrier over its flange.",
    reason="A gap without a way out fills, and water behind the flange stays in the wall.",
    basis=("outlet.open", "outlet.drains", "outlet.screened", "outlet.flange", "outlet.metal"),
)
REMEDIES: tuple[Remedy, ...] = (
    (
        AddPart(
            "weep screed",
            "perforated weep screed",
            (("open", True), ("screened", True), ("flange", Known("outlet.flange"))),
            ("barrier", "sheathing"),
        ),
        SetLap("barrier", "weep screed"),
    ),
)
OPENING = ("outlet.open", "outlet.drains")
OPEN = Held(("weep.open",), wrong="the weep screed is not open to drain", basis=OPENING)
SCREEN = Held(
    ("weep.screened",),
    wrong="the openings of the weep screed are not screened",
    severities={"weep.screened": Severity.RISK},
)
FLANGE = Held(
    ("weep.flange", "weep.thickness", "weep.lath_covers_flange"),
    wrong={"weep.lath_covers_flange": "the lath does not cover the flange of the weep screed"},
    if_stated=True,
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """Each outlet: its openings, its flange and the barrier's lap."""
    screeds = wall.parapet.all_of("weep screed")
    if not wall.plastered:
        yield not_applicable("no face of the parapet is plaster")
    elif not screeds:
        message = "the bottom of the plaster has no weep screed"
        yield fail(message, basis=OPENING, without=("weep screed",))
    else:
        yield from OPEN(wall)
        yield from SCREEN(wall)
        yield from FLANGE(wall)
        for screed in screeds:
            yield from _lap(wall, screed)


def _lap(wall: Wall, screed: Component) -> Iterator[RuleResult]:
    barrier = wall.barrier
    if barrier is None:
        return
    met = joined_to(wall.parapet, screed, "barrier")
    if not met:
        what = f"lap of the barrier `{barrier.id}` over the flange of the weep screed"
        yield undescribed_lap(wall, screed, barrier, what, OPENING)
    for joint in (joint for one in met for joint in wall.parapet.between(one, screed)):
        if joint.word("upper") == screed.id:
            message = (
                "the flange of the weep screed lies over the barrier, which leads water behind the barrier"
            )
            yield fail(message, joint.at("upper"), screed.id, basis=OPENING)
        elif joint.has("upper"):
            yield ok("the barrier laps over the flange", joint.at("upper"), screed.id, basis=OPENING)
