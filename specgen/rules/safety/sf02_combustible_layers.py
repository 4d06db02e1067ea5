"""SF02: combustible layers of the wall are answered by a tested assembly.

In construction of Types I to IV the code asks for a wall assembly tested by NFPA 285 where the wall holds foam plastic,
at any height, or where it holds a combustible water-resistive barrier and reaches, with its parapet, above the code's
height. A barrier that is the only combustible component is excepted behind cement plaster, and behind any covering where
its own heat release is low; a drainage layer of plastic or wood in the wall ends both exceptions. What decides and is
not stated is asked. `building.nfpa_285` records the answer of the design professional: the tested assembly, which the
sections then name, or with `nfpa_285_basis: exception of the code` the exception. The tool never decides.

Right::

    building:
      height: 76 ft
      construction_type: I-B
      nfpa_285: assembly tested, by the architect of record

Wrong::

    building:
      height: 76 ft
      construction_type: I-B
"""

from collections.abc import Iterable, Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.rule import Option, Rule, RuleResult, not_applicable, ok, unknown
from specgen.rules.wall import Wall
from specgen.wall.code import top_of_wall
from specgen.wall.fire import (
    LOW_HEAT_RELEASE,
    TYPE_V,
    FireTest,
    beside_the_barrier,
    combustible,
    construction_of,
    faced_with_plaster,
    fire_test,
    foam_plastic,
)

RULE = Rule(
    name="combustible layers",
    severity=Severity.QUERY,
    applies_to="barrier",
    reason="Foam, a combustible barrier, or a plastic sheet behind cladding can carry fire from floor to floor.",
    basis=(
        "fire.foam_plastic",
        "fire.one_story",
        "fire.combustible_barrier",
        "fire.only_combustible",
        "fire.covering",
        "fire.covering_without_lath",
        "fire.low_heat_release",
        "fire.flame_spread",
        "fire.smoke_developed",
    ),
    remedy=(
        "Ask the design professional which assembly tested by NFPA 285 the wall is built by, or which exception of the "
        "code holds. A drainage layer of plastic belongs to the assembly. Where nothing but the barrier burns, a barrier "
        "of low heat release may answer. Record the answer: `building.nfpa_285`, with `nfpa_285_basis`, or "
        "`low_heat_release` of the layer."
    ),
    options=(
        Option(
            "height", "fire.combustible_barrier", "height above which a combustible barrier is a question"
        ),
    ),
)
DECIDES = {
    "building.construction_type": "type of construction",
    "building.height": "height of the building",
    "height": "height of the parapet",
    "plaster.thickness": "thickness of the plaster",
    "site.code": "edition of the code",
}


def check(wall: Wall) -> Iterator[RuleResult]:
    """The layers, the recorded answer, then what the code asks."""
    layers, building = combustible(wall), wall.project.building
    answer, test = building.word("nfpa_285"), fire_test(wall)
    if not layers:
        yield not_applicable("no combustible layer is described")
    elif answer:
        yield ok(f"answer on NFPA 285: {answer}", building.at("nfpa_285"))
    elif test.asked is None:
        layer = (foam_plastic(wall) or layers)[0]
        what = ", ".join(DECIDES[one] for one in test.missing)
        message = f"whether the code asks for a tested assembly depends on what is not stated: {what}; {_named(layers)}"
        missing = ", ".join(f"`{one}`" for one in test.missing)
        yield unknown(message, f"add {missing}", layer.mark, layer.id)
    else:
        yield _asked(wall, layers) if test.asked else _not_asked(wall, test)


def _asked(wall: Wall, layers: tuple[Component, ...]) -> RuleResult:
    foam, because = foam_plastic(wall), [f"construction of Type {construction_of(wall.project)}"]
    if foam:
        what = f"foam plastic in the wall, at any height: {_named(foam)}"
        layer, basis = foam[0], ["fire.foam_plastic", "fire.one_story"]
        if faced_with_plaster(wall):
            because.append(
                "foam behind plaster lies under no metal, as the relief of one-story buildings asks for"
            )
    else:
        what = f"combustible layers above {_limit(wall)}: {_named(layers)}"
        layer, basis = layers[0], ["fire.combustible_barrier", "fire.only_combustible"]
        because.append(_height(wall))
        if others := beside_the_barrier(wall):
            layer = others[0]
            because.append(f"{_named(others)} beside the barrier: it is not the only combustible component")
    message = f"{what}; `building.nfpa_285` is not stated"
    missing = "add `building.nfpa_285`"
    return unknown(message, missing, layer.mark, layer.id, tuple(because), tuple(basis))


def _not_asked(wall: Wall, test: FireTest) -> RuleResult:
    type_, building = construction_of(wall.project), wall.project.building
    if type_ in TYPE_V:
        message = f"construction of Type {type_}: the code asks for no assembly tested by NFPA 285"
        return ok(message, building.at("construction_type"))
    if test.exception:
        alone = "the barrier is the only combustible component"
        low = test.exception == LOW_HEAT_RELEASE
        say = f"{alone}, and its heat release is low" if low else f"{alone} behind cement plaster"
        return ok(say, basis=(test.exception,))
    message = (
        f"{_height(wall)}, not over {_limit(wall)}: in no type of construction does the code ask for a test"
    )
    return ok(message, building.at("height"), basis=("fire.combustible_barrier",))


def _limit(wall: Wall) -> str:
    limit, top = wall.practice.quantity("fire.combustible_barrier"), top_of_wall(wall)
    return wall.beside(top, "at most", limit)[1] if top else wall.limit(limit, "at most")


def _height(wall: Wall) -> str:
    roof, parapet = wall.project.building.quantity("height"), wall.parapet.quantity("height")
    stated = f"building height {roof.text}" if roof else "height of the building not stated"
    return f"{stated}, parapet {parapet.text} above it" if parapet else stated


def _named(layers: Iterable[Component]) -> str:
    return ", ".join(f"{part.role} ({part.kind})" for part in layers)
