"""PL14: no coating keeps water in the plaster.

Looks at the finish. An elastomeric coating bridges cracks for some years, and keeps in the water that enters
through the next ones; it is a risk even where its permeance is tested (PL15).

Right::

    - role: plaster
      kind: portland cement plaster
      finish: cement finish

Wrong::

    - role: plaster
      kind: portland cement plaster
      finish: elastomeric coating
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.held import each_layer
from specgen.rules.hold import not_stated
from specgen.rules.rule import Rule, RuleResult, fail, ok
from specgen.rules.wall import Wall

RULE = Rule(
    name="no trapping coating",
    severity=Severity.RISK,
    applies_to="plaster",
    reason="A film on the plaster stops rain until it cracks, and then keeps in the water that enters.",
    basis=("plaster.no_trapping_coating",),
    remedy="Use a cement finish, and let the drainage gap keep the water out of the wall.",
)


@each_layer("plaster")
def check(wall: Wall, plaster: Component) -> Iterator[RuleResult]:
    """The stated finish."""
    if not plaster.has("finish"):
        yield not_stated("finish of the plaster", plaster, "finish", plaster.id)
    elif plaster.word("finish") == "elastomeric coating":
        message = "an elastomeric coating closes the face of the plaster"
        yield fail(message, plaster.at("finish"), plaster.id)
    else:
        yield ok(f"finish is {plaster.word('finish')}", plaster.at("finish"), plaster.id)
