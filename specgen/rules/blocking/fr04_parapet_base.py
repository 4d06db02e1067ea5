"""FR04: the parapet and its base are designed for wind and earthquake.

Wind presses on both faces of a parapet at once, and an earthquake shakes it harder than the roof it stands on. The
calculations `parapet wind` and `parapet seismic` give shear and moment at its base, which the sections ask for; a value
that the project states for its framing is held against them. What they need and the project does not state is unknown:
risk category, seismic design category, SDS, and the weight of the parapet. No force of an earthquake is asked for in
Seismic Design Category A.

Right::

    building:
      risk_category: II
      seismic_design_category: B
      sds: 0.22

Wrong::

    - role: framing
      kind: wood studs
      shear_outward: 12 lbf/ft
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.held import each_layer
from specgen.rules.hold import hold
from specgen.rules.rule import Rule, RuleResult, ok, unknown
from specgen.rules.wall import Wall

LOADS = ("shear_toward_roof", "moment_toward_roof", "shear_outward", "moment_outward")
ATTRIBUTES = (*LOADS, "brace_force", "top_deflection")
SUBJECTS = {"parapet wind": "wind", "parapet seismic": "earthquake"}
RULE = Rule(
    name="loads at the base",
    severity=Severity.DEFECT,
    applies_to="framing",
    reason="A parapet stands as a cantilever in wind and earthquake, and its base carries all of it.",
    basis=("structure.base", "structure.deflection", "structure.cantilever"),
    remedy="Design framing, anchorage, and bracing of the parapet for the loads that the calculations give.",
)


@each_layer("framing")
def check(wall: Wall, framing: Component) -> Iterator[RuleResult]:
    """What the loads lack, then each stated value."""
    for subject, load in SUBJECTS.items():
        found = wall.calculations.get(subject)
        if found is not None and found.done:
            yield ok(f"the load of {load} on the parapet is calculated", framing.mark, framing.id)
        else:
            missing = "; ".join(found.missing) if found else f"calculation `{subject}`"
            message = f"the load of {load} on the parapet cannot be calculated"
            yield unknown(message, missing, framing.mark, framing.id)
    for name in ATTRIBUTES:
        if framing.has(name):
            yield hold(wall, f"framing.{name}", framing)
