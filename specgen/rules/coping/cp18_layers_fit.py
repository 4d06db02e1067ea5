"""CP18: the layers of the parapet fit into its stated thickness.

Adds the stated thicknesses of the build-up, the drainage depth included. A sum above the stated thickness is a question:
the coping is ordered by the one or the other. A smaller sum is none, because not every layer states a thickness.

Right::

    thickness: 13 in

Wrong::

    thickness: 7 in
"""

from collections.abc import Iterator
from fractions import Fraction

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall
from specgen.units.compare import at_most
from specgen.units.quantity import Quantity, exactly

RULE = Rule(
    name="thickness and layers",
    severity=Severity.QUERY,
    applies_to="parapet",
    reason="A coping ordered for a wall that is thinner than its layers does not cover it.",
    basis=("parapet.layers_fit",),
    remedy="Correct the thickness of the parapet, or that of a layer.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The stated thickness against the sum of the layers."""
    stated = wall.parapet.quantity("thickness")
    depths = [one for part in wall.parapet.build_up if (one := _depth(part)) is not None]
    if stated is None or not any(one.value for one in depths):
        yield not_applicable("the thickness of the parapet, or that of its layers, is not stated")
        return
    total = exactly(sum((one.exact for one in depths), Fraction(0)), stated)
    layers, _ = wall.beside(total, "at most", stated)
    message = f"the parapet is stated {stated.text} thick; its layers are {layers} together"
    say = ok if at_most(total, stated) else fail
    yield say(message, wall.parapet.at("thickness"))


def _depth(part: Component) -> Quantity | None:
    name = "depth" if part.role == "drainage layer" else "thickness"
    return part.quantity(name) if part.states(name) else None
