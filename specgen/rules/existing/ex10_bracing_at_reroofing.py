"""EX10: an unreinforced masonry parapet is braced, or shown to comply, where much of its roof is reroofed.

The existing-building code asks for it in the seismic design categories of strong shaking, whatever the class of the
work on the wall. Asks whether standing masonry is reinforced, how much of the roof area is reroofed, and for the answer
of the structural engineer of record.

Right::

    building: {seismic_design_category: D}
    existing:
      masonry: unreinforced
      reroofed: 40 %
      seismic_bracing: installed with this work

Wrong::

    building: {seismic_design_category: D}
    existing:
      masonry: unreinforced
      reroofed: 40 %
      seismic_bracing: not evaluated
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Existing
from specgen.rules.existing.ex07_stability import MASONRY
from specgen.rules.existing.standing import answered, standing
from specgen.rules.hold import not_stated
from specgen.rules.rule import Option, Rule, RuleResult, not_applicable, ok
from specgen.rules.wall import Wall
from specgen.units.compare import at_most

RULE = Rule(
    name="bracing at reroofing",
    severity=Severity.DEFECT,
    applies_to="existing",
    reason="A masonry parapet without reinforcement is the first part of a building that an earthquake throws down.",
    basis=("existing.reroof_bracing", "existing.reroof_share"),
    remedy="Have the structural engineer of record brace the parapet with the reroofing, or show that it complies.",
    options=(
        Option("bracing", "existing.reroof_bracing", "categories in which reroofing asks for bracing"),
        Option("share", "existing.reroof_share", "share of the roof area above which it does"),
    ),
)


@standing
def check(wall: Wall, existing: Existing) -> Iterator[RuleResult]:
    """Masonry, category, and share of the roof; then the engineer's answer."""
    masonry, framing, building = existing.word("masonry"), wall.part("framing"), wall.project.building
    asked = masonry is None and framing is not None and framing.kind == MASONRY
    category, share = building.word("seismic_design_category"), existing.quantity("reroofed")
    if masonry != "unreinforced" and not asked:
        yield not_applicable("the parapet is not of unreinforced masonry")
    elif category is None:
        yield not_stated("seismic design category", building, "seismic_design_category", "")
    elif category not in wall.practice.entry("existing.reroof_bracing").words():
        yield not_applicable(f"seismic design category {category} asks for no bracing at reroofing")
    elif asked:
        yield not_stated("whether the masonry of the parapet is reinforced", existing, "masonry", "")
    elif share is None:
        yield not_stated("how much of the roof area is reroofed with this work", existing, "reroofed", "")
    elif at_most(share, wall.practice.quantity("existing.reroof_share")):
        yield ok(f"{share.text} of the roof area reroofed asks for no bracing", existing.at("reroofed"))
    else:
        matter = f"bracing of the unreinforced masonry parapet, with {share.text} of the roof area reroofed"
        yield answered(existing, "seismic_bracing", matter)
