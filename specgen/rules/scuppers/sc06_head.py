"""SC06: the base flashing stands above the water of the heaviest design rainfall.

Reads the calculation `scuppers`: depth of water at the rainfall of the secondary drainage with every primary drain
blocked, against the height of the base flashing. Where a datum is missing, the calculation names it.

Right::

    scuppers:
      - name: S-1
        use: overflow
        width: 24 in
        height: 6 in
        inlet_height: 2 in
        area_served: 1000 ft2

Wrong::

    build_up:
      - role: roof turn-up
        kind: TPO
        height: 12 in
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
    reason="Water over the upper edge of the base flashing runs into the parapet.",
    basis=("scupper.head", "scupper.freeboard"),
    remedy="Enlarge the overflow, lower its inlet, or carry the base flashing higher.",
)
SUBJECT = "scuppers"


def check(wall: Wall) -> Iterator[RuleResult]:
    """The depth of water against the base flashing, by calculation."""
    if not any(one.word("use") == "overflow" for one in wall.parapet.scuppers):
        yield not_applicable("no overflow scupper is listed")
        return
    mark = next(one.mark for one in wall.parapet.scuppers if one.word("use") == "overflow")
    done = wall.calculations.get(SUBJECT)
    if done is None or not done.done:
        missing = "; ".join(done.missing) if done else f"calculation `{SUBJECT}`"
        yield unknown("the water on the roof cannot be calculated", missing, mark)
        return
    depth, left, spare = (done.result(name) for name in ("water_depth", "freeboard", "spare"))
    assert depth is not None and left is not None and spare is not None
    below = f"{wall.shown(left)} below the upper edge of the base flashing"
    message = f"with the drains blocked water stands {wall.shown(depth)} deep, {below}"
    yield (ok if spare.value >= 0.0 else fail)(message, mark)
