"""CP12: a stated tested resistance covers the calculated pressure.

Holds the tested resistance of face, top and interior face, where the project states them, against the requirement
from the calculation `coping wind`. Without a stated value there is nothing to hold here: the specification asks for
it and the review of the submittal compares it.

Right::

    - role: coping
      kind: formed metal
      resistance_face: 200 psf
      resistance_top: 300 psf
      resistance_inner: 300 psf

Wrong::

    - role: coping
      kind: formed metal
      resistance_face: 5 psf
      resistance_top: 5 psf
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.held import each_layer
from specgen.rules.hold import hold
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, unknown
from specgen.rules.wall import Wall
from specgen.wall.specified import new_work

RULE = Rule(
    name="tested wind resistance",
    severity=Severity.DEFECT,
    applies_to="coping",
    reason="A coping lost in a storm opens the roof edge and falls on people.",
    basis=("coping.resistance", "wind.test_factor", "wind.minimum"),
    remedy="Choose a coping, cleat and fasteners whose tested resistance covers the requirement.",
)
SUBJECT = "coping wind"
ATTRIBUTES = ("resistance_face", "resistance_top", "resistance_inner")


@each_layer("coping")
def check(wall: Wall, coping: Component) -> Iterator[RuleResult]:
    """Each stated resistance; a pressure that cannot be calculated is told whether one is stated or not."""
    if not wall.kind(coping).metal:
        yield not_applicable("no metal coping is described")
        return
    stated = [name for name in ATTRIBUTES if coping.has(name)]
    lacking = [name for name in ATTRIBUTES if wall.requirement(f"coping.{name}") is None]
    if lacking:
        done = wall.calculations.get(SUBJECT)
        missing = "; ".join(done.missing) if done else f"calculation `{SUBJECT}`"
        message = "the wind pressure on the coping cannot be calculated: no resistance can be required"
        yield unknown(message, missing, coping.at((stated or lacking)[0]), coping.id)
    site = wall.project.site
    if not lacking and not site.has("topographic_factor"):
        message = (
            "the wind pressure on the coping is calculated for flat ground; no topographic factor is stated"
        )
        yield fail(message, site.at("topographic_factor"), coping.id, Severity.QUERY)
    new = new_work(wall.project, wall.parapet, wall.practice, coping)
    if not lacking and not stated and not new:
        yield not_applicable("no tested resistance is stated; the submittals state it")
    for name in ATTRIBUTES:
        if name not in lacking and (new or name in stated):
            yield hold(wall, f"coping.{name}", coping)
