"""SF06: wood that frames or sheathes the wall of a building of Types I to IV is answered.

The code builds the exterior walls of Types I to III of noncombustible materials and permits fire-retardant-treated wood
by type and rating; Type IV adds mass timber. Asks which of it the wood is, and a type of construction that is not
stated is asked for where wood stands in the wall. `building.wood_in_walls` records the answer. The sections ask for
fire-retardant-treated wood, of the use category that `fire_treatment` of the layer names; where the answer permits other
wood, `fire_treatment: none` says so.

Right::

    building:
      construction_type: III-A
      wood_in_walls: fire-retardant-treated, walls rated 2 h, by the architect of record

Wrong::

    building:
      construction_type: III-A
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok, unknown
from specgen.rules.wall import Wall
from specgen.wall.fire import TYPE_V, construction_of, wood_in_wall

RULE = Rule(
    name="wood in walls of Types I to IV",
    severity=Severity.QUERY,
    applies_to="framing",
    reason="A wall that the code wants noncombustible burns where its studs or its sheathing are common wood.",
    basis=("fire.wood_in_walls",),
    remedy=(
        "Build the wall without wood, or ask the design professional which wood the code permits there. Record the "
        "answer: `building.wood_in_walls`, with `fire_treatment` of each layer of wood."
    ),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The wood, the type of construction, the recorded answer."""
    wood, building = wood_in_wall(wall), wall.project.building
    answer, type_ = building.word("wood_in_walls"), construction_of(wall.project)
    if not wood:
        yield not_applicable("no wood frames or sheathes the wall")
        return
    named, first = ", ".join(dict.fromkeys(part.kind for part in wood)), wood[0]
    if type_ in TYPE_V:
        yield ok(f"construction of Type {type_}: walls of any material", building.at("construction_type"))
    elif answer:
        yield ok(f"answer on wood in the walls: {answer}", building.at("wood_in_walls"))
    elif not type_:
        message = (
            f"whether the code permits {named} in the wall depends on the type of construction, not stated"
        )
        yield unknown(message, "add `building.construction_type`", first.at("kind"), first.id)
    else:
        message = f"{named} in a wall of Type {type_}; `building.wood_in_walls` is not stated"
        yield fail(message, first.at("kind"), first.id)
