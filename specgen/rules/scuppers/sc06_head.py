"""SC06: the turn-up stands above the water of the heaviest design rainfall.

Reads the calculation `scuppers`: depth of water at the rainfall of the secondary drainage with every primary drain
blocked, against the height of the turn-up. Where a datum is missing, the calculation names it.

Right::

    scuppers:
      - name: S-1
        use: overflow
        width: 24 in
        height: 6 in
        inlet_height: 2 in
        area_served: 1000 ft2

Wrong::

    scuppers:
      - name: S-1
        use: overflow
        width: 4 in
        height: 4 in
        inlet_height: 4 in
        area_served: 4000 ft2
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok, unknown
from specgen.rules.wall import Wall

RULE = Rule(
    name="water over blocked drains",
    severity=Severity.DEFECT,
    applies_to="scuppers",
    reason="Water over the upper edge of the turn-up runs into the parapet.",
    basis=("scupper.head", "scupper.freeboard"),
    remedy="Enlarge the overflow, lower its inlet, or carry the turn-up higher.",
)
SUBJECT = "scuppers"


def check(wall: Wall) -> Iterator[RuleResult]:
    """The depth of water against the turn-up, by calculation."""
    if not any(one.word("use") == "overflow" for one in wall.parapet.scuppers):
        yield not_applicable("no overflow scupper is listed")
        return
    mark = next(one.mark for one in wall.parapet.scuppers if one.word("use") == "overflow")
    done = wall.calculations.get(SUBJECT)
    if done is None or not done.done:
        missing = "; ".join(done.missing) if done else f"calculation `{SUBJECT}`"
        yield unknown("the water on the roof cannot be calculated", missing, mark)
        return
    depth, left = done.result("water_depth"), done.result("freeboard")
    assert depth is not None and left is not None
    below = f"{wall.shown(left)} below the upper edge of the turn-up"
    message = f"with the drains blocked water stands {wall.shown(depth)} deep, {below}"
    yield (ok if done.verdict("turn_up_holds") == "yes" else fail)(message, mark)
