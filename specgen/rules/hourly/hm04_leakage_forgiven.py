"""HM04: the wall forgives some leakage past its barrier.

Looks at the kept hourly result: the largest share of the rain that may pass each cut's barrier, or its coping joint,
while the criterion still holds. A wall that forgives less than the share of the practice is a risk: it stands as long as
nobody makes a mistake at a lap, a fastener, or a joint.

Right::

    build_up:
      - role: drainage layer
        kind: mesh
        depth: 3/8 in

Wrong::

    build_up:
      - role: drainage layer
        kind: dimpled sheet
        depth: 1/4 in
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.hourly import CutHours, LeakRun, PlaceHours
from specgen.rules.hourly.kept import each_cut, layer_of, number_beside, place_words, run_command, share_words
from specgen.rules.rule import Option, Rule, RuleResult, fail, ok, unknown
from specgen.rules.wall import Wall
from specgen.units.compare import computed_at_least

LEAST = "hours.forgiven"
RULE = Rule(
    name="leakage forgiven",
    severity=Severity.RISK,
    applies_to="parapet",
    reason="Every wall leaks somewhere in its years; one that dries slower than it wets does not stand a small leak.",
    basis=(LEAST,),
    remedy="Let the wall dry faster behind the barrier: a vapor-open barrier, a drainage layer with air, an open cavity "
    "on the other side. Or protect its laps and joints twice.",
    options=(Option("least", LEAST, "share of the driving rain that is to be forgiven"),),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The share that each cut forgives."""
    yield from each_cut(wall, _cut)


def _cut(wall: Wall, cut: CutHours, _: LeakRun) -> Iterator[RuleResult]:
    least = wall.practice.quantity(LEAST)
    first = next((run for run in cut.runs if not run.holds), None)
    place = _decides(first) if first else None
    mark, layer = layer_of(wall, place) if place else (None, "")
    where = place_words(cut, place) if place else cut.cut
    because = (
        (f"the criterion fails with {share_words(first.share)} {cut.leak}",) if first and first.share else ()
    )
    if cut.forgiven is None:
        message = f"{where}: the criterion fails before any rain passes the barrier"
        yield fail(message, mark, layer, because=because)
        return
    share = number_beside(cut.forgiven, least)
    if computed_at_least(cut.forgiven, least.value):
        more = "or more " if cut.forgiven_all else ""
        yield ok(f"{where}: the wall forgives {share} {more}{cut.leak}", mark, layer, because)
    elif cut.forgiven_all:
        message = f"{where}: the wall forgives {share} {cut.leak}, and no more was tried"
        yield unknown(message, run_command(wall), mark, layer)
    else:
        message = f"{where}: the wall forgives {share} {cut.leak}, asked for: at least {least.text}"
        yield fail(message, mark, layer, because=because)


def _decides(run: LeakRun) -> PlaceHours | None:
    """The place that a run fails at: the wood that decays, else the greatest mold index."""
    held = [one for one in run.places if one.mold]
    decaying = [one for one in held if one.hours_28]
    if decaying:
        return max(decaying, key=lambda one: one.moisture_peak or 0.0)
    return max(held, key=lambda one: one.mold_peak, default=None)
