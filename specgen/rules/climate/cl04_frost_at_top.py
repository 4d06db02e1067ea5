"""CL04: in freezing climates the plaster at the top stays drained and free to dry.

Looks at sites where wet plaster freezes often. A plaster-covered top stands saturated and is a defect there;
a coating that keeps water in, and an upper edge sealed or turned over the top, are risks.

Right::

    site: {climate_zone: 6A}
    build_up:
      - role: plaster
        kind: portland cement plaster
        top_edge: casing bead
        finish: cement finish

Wrong::

    site: {climate_zone: 6A}
    build_up:
      - role: plaster
        kind: portland cement plaster
        top_edge: sealed to coping
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.drainage.code_demand import zone_words
from specgen.rules.rule import Option, Rule, RuleResult, fail, not_applicable, ok, unknown
from specgen.rules.wall import Wall
from specgen.wall.facts import plaster_covered

RULE = Rule(
    name="frost at the top",
    severity=Severity.RISK,
    applies_to="plaster",
    reason="Saturated plaster bursts when it freezes, and the top is wet longest.",
    basis=("climate.frost_at_top", "climate.freezing_zones"),
    remedy="Cover the top with a metal coping, end the plaster in an open casing bead, and leave it uncoated.",
    options=(Option("zones", "climate.freezing_zones", "zones in which wet plaster freezes often"),),
)
WET = {
    "top_edge": ("sealed to coping", "turned over the top"),
    "finish": ("elastomeric coating",),
}


def check(wall: Wall) -> Iterator[RuleResult]:
    """The climate, then what keeps the plaster wet."""
    zone, plaster, coping = wall.project.site.word("climate_zone"), wall.part("plaster"), wall.part("coping")
    if plaster is None:
        yield not_applicable("no plaster is described")
        return
    if zone is None:
        yield unknown("whether wet plaster freezes here cannot be told", "add `site.climate_zone`")
        return
    if zone not in wall.practice.entry("climate.freezing_zones").words():
        yield not_applicable(f"wet plaster does not freeze often in {zone_words(zone)}")
        return
    because = (zone_words(zone),)
    wet = False
    if coping is not None and plaster_covered(coping):
        wet, message = True, "the top is plaster, which stands saturated and freezes"
        yield fail(message, coping.at("kind"), coping.id, Severity.DEFECT, because)
    for attribute, words in WET.items():
        word = plaster.word(attribute)
        if word in words:
            wet, message = True, f"{attribute.replace('_', ' ')} of the plaster: {word}; wet plaster freezes"
            yield fail(message, plaster.at(attribute), plaster.id, because=because)
    if not wet:
        yield ok("nothing stated keeps the plaster at the top wet", plaster.mark, plaster.id, because)
