"""SF02: combustible layers on a tall building are answered by a tested assembly.

On a building higher than the code's limit, lists the combustible layers of the wall (barrier, drainage layer, foam) and
asks for the answer of the design professional. `building.nfpa_285` records it. The tool never decides.

Right::

    building:
      height: 76 ft
      nfpa_285: assembly tested, by the architect of record

Wrong::

    building:
      height: 76 ft
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.rule import Option, Rule, RuleResult, fail, not_applicable, ok, unknown
from specgen.rules.wall import Wall
from specgen.units.compare import at_most

RULE = Rule(
    name="combustible layers on tall buildings",
    severity=Severity.QUERY,
    applies_to="barrier",
    reason="A combustible layer behind cladding can carry fire from floor to floor.",
    basis=("fire.combustible_barrier",),
    remedy="Ask the design professional whether an assembly tested by NFPA 285 is needed, and record the answer.",
    options=(
        Option("height", "fire.combustible_barrier", "height above which combustible layers are a question"),
    ),
)
ROLES = ("barrier", "drainage layer", "insulation", "top insulation")
NONCOMBUSTIBLE = ("mineral wool",)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The height, the layers, and the recorded answer."""
    height, limit = (
        wall.project.building.quantity("height"),
        wall.practice.quantity("fire.combustible_barrier"),
    )
    layers = [part for part in wall.parapet.components() if _burns(part)]
    answer = wall.project.building.word("nfpa_285")
    if not layers:
        yield not_applicable("no combustible layer is described")
    elif answer:
        yield ok(f"answer on NFPA 285: {answer}", wall.project.building.at("nfpa_285"))
    elif height is None:
        yield unknown("height of the building is not stated", "add `building.height`")
    elif at_most(height, limit):
        message = f"building is {height.text} high, not over {wall.beside(height, 'at most', limit)[1]}"
        yield ok(message, wall.project.building.at("height"))
    else:
        _, most = wall.beside(height, "at most", limit)
        named = ", ".join(f"{part.role} ({part.kind})" for part in layers)
        message = f"combustible layers above {most}: {named}; `building.nfpa_285` is not stated"
        yield fail(message, layers[0].mark, layers[0].id, because=(f"building height {height.text}",))


def _burns(part: Component) -> bool:
    return part.role in ROLES and part.kind not in NONCOMBUSTIBLE
