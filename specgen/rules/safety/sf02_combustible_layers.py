"""SF02: combustible layers of the wall are answered by a tested assembly.

In construction of Types I to IV the code asks for a wall assembly tested by NFPA 285 where the wall holds foam plastic,
at any height, or a combustible water-resistive barrier above its limit of height. A barrier that is the only
combustible component behind cement plaster is excepted; a drainage layer of plastic ends that exception.
`building.nfpa_285` records the answer of the design professional. The tool never decides.

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

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.rule import Option, Rule, RuleResult, fail, not_applicable, ok, unknown
from specgen.rules.wall import Wall
from specgen.units.compare import at_most
from specgen.wall.code import (
    TYPE_V,
    combustible,
    construction_of,
    faced_with_plaster,
    fire_tested,
    foam_plastic,
    only_the_barrier_burns,
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
        "fire.flame_spread",
        "fire.smoke_developed",
    ),
    remedy=(
        "Ask the design professional which assembly tested by NFPA 285 the wall is built by, or which exception of the "
        "code holds, and record the answer: `building.nfpa_285`. A drainage layer of plastic belongs to the assembly."
    ),
    options=(
        Option(
            "height", "fire.combustible_barrier", "height above which a combustible barrier is a question"
        ),
    ),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The layers, the recorded answer, the type of construction, the height."""
    layers, building = combustible(wall), wall.project.building
    answer = building.word("nfpa_285")
    if not layers:
        yield not_applicable("no combustible layer is described")
    elif answer:
        yield ok(f"answer on NFPA 285: {answer}", building.at("nfpa_285"))
    else:
        yield _unanswered(wall, layers)


def _unanswered(wall: Wall, layers: tuple[Component, ...]) -> RuleResult:
    foam, type_ = foam_plastic(wall), construction_of(wall.project)
    asked = fire_tested(wall)
    if asked is None:
        missing = "height" if type_ else "construction_type"
        layer = (foam or layers)[0]
        what = "height of the building" if type_ else "type of construction"
        message = f"{what} is not stated; whether the code asks for a tested assembly depends on it: {_named(layers)}"
        return unknown(message, f"add `building.{missing}`", layer.mark, layer.id)
    if asked:
        return _asked(wall, layers, foam)
    if type_ in TYPE_V:
        place = wall.project.building.at("construction_type")
        return ok(f"construction of Type {type_}: the code asks for no assembly tested by NFPA 285", place)
    return _not_high(wall)


def _asked(wall: Wall, layers: tuple[Component, ...], foam: tuple[Component, ...]) -> RuleResult:
    type_ = construction_of(wall.project)
    because = [f"construction of Type {type_}"]
    if foam:
        what = f"foam plastic in the wall, at any height: {_named(foam)}"
        layer, basis = foam[0], ["fire.foam_plastic", "fire.one_story"]
        if faced_with_plaster(wall):
            because.append(
                "foam behind plaster lies under no metal, as the relief of one-story buildings asks for"
            )
    else:
        height, limit = (
            wall.project.building.quantity("height"),
            wall.practice.quantity("fire.combustible_barrier"),
        )
        assert height is not None
        what = f"combustible layers above {wall.beside(height, 'at most', limit)[1]}: {_named(layers)}"
        layer, basis = layers[0], ["fire.combustible_barrier", "fire.only_combustible"]
        because.append(f"building height {height.text}")
        others = [one for one in layers if one.role != "barrier"]
        if others:
            layer = others[0]
            because.append(f"{_named(others)} beside the barrier: it is not the only combustible component")
    return fail(
        f"{what}; `building.nfpa_285` is not stated",
        layer.mark,
        layer.id,
        because=tuple(because),
        basis=tuple(basis),
    )


def _not_high(wall: Wall) -> RuleResult:
    height, limit = (
        wall.project.building.quantity("height"),
        wall.practice.quantity("fire.combustible_barrier"),
    )
    if height is not None and at_most(height, limit):
        message = f"building is {height.text} high, not over {wall.beside(height, 'at most', limit)[1]}"
        return ok(message, wall.project.building.at("height"))
    assert only_the_barrier_burns(wall)
    return ok(
        "the barrier is the only combustible component behind cement plaster",
        basis=("fire.only_combustible",),
    )


def _named(layers: list[Component] | tuple[Component, ...]) -> str:
    return ", ".join(f"{part.role} ({part.kind})" for part in layers)
