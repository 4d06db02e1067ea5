"""DL02: the drainage layer is deep enough, or proves that it drains.

Holds the stated depth against its requirement, which is more where drying by ventilation is counted on; a
layer that states a drainage efficiency and no depth is held against the efficiency. Too little is a defect
where the adopted code asks for it, and a risk elsewhere: a shallow gap holds water by capillarity.

Right::

    - role: drainage layer
      kind: dimpled sheet
      depth: 7/16 in

Wrong::

    - role: drainage layer
      kind: mesh
      depth: 1/8 in
"""

from collections.abc import Iterator
from dataclasses import replace

from specgen.model.finding import Outcome, Severity
from specgen.model.project import Component
from specgen.rules.drainage.code_demand import drainage_demand
from specgen.rules.held import each_layer
from specgen.rules.hold import hold
from specgen.rules.rule import Option, Rule, RuleResult, unknown
from specgen.rules.wall import Wall
from specgen.units.compare import at_least
from specgen.wall.facts import ventilation_counted

RULE = Rule(
    severity=Severity.DEFECT,
    applies_to="drainage layer",
    reason="A shallow gap holds water by capillarity instead of draining it.",
    basis=(
        "drainage.depth",
        "drainage.ventilation_depth",
        "drainage.efficiency",
        "drainage.every_parapet",
        "drainage.code_zones",
        "drainage.code_zones_2018",
    ),
    remedy="Use a deeper drainage layer, or prove its efficiency by test. Then state `drainage_efficiency` alone.",
    options=(
        Option("depth", "drainage.depth", "least depth of the drainage space"),
        Option("ventilated depth", "drainage.ventilation_depth", "least depth where ventilation dries"),
        Option("efficiency", "drainage.efficiency", "least drainage efficiency in place of the depth"),
    ),
)

BY_PRACTICE = "held by practice: the code does not ask for it here"


@each_layer("drainage layer")
def check(wall: Wall, layer: Component) -> Iterator[RuleResult]:
    """Depth or efficiency against its requirement; the severity by the adopted code."""
    by_efficiency = wall.requirement("drainage.efficiency", layer) is not None
    name = "drainage.efficiency" if by_efficiency else "drainage.depth"
    demand = drainage_demand(wall)
    by_code = demand.asks and not _satisfies_code(wall, layer)
    severity = Severity.DEFECT if by_code else Severity.RISK
    because = demand.because if by_code or demand.asks is None else (*demand.because, BY_PRACTICE)
    result = hold(wall, name, layer, severity=severity, because=because)
    key = "drainage.ventilation_depth" if not by_efficiency and ventilation_counted(wall) else name
    keys = (key, "drainage.every_parapet", *(demand.keys if by_code else ()))
    yield replace(result, basis=keys)
    if result.outcome is Outcome.FAIL and demand.asks is None:
        message = "whether the code asks for this drainage cannot be told"
        yield unknown(message, demand.missing, layer.mark, layer.id, demand.because, keys)


def _satisfies_code(wall: Wall, layer: Component) -> bool:
    """Whether the stated depth or efficiency satisfies the code, though practice asks for more."""
    stated = {
        "drainage.efficiency": layer.quantity("drainage_efficiency"),
        "drainage.depth": layer.quantity("depth"),
    }
    return any(value and at_least(value, wall.practice.quantity(key)) for key, value in stated.items())
