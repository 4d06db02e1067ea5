"""SF05: wood blocking in noncombustible construction is permitted by the code, or answered by the authority.

In Types I and II the code names the wood that it permits. Wood nailers for parapet flashing stand in that list from the
edition of the practice entry on; before it no item names them, and opinions differ. There the tool asks, once, and never
decides: `building.wood_blocking` records the answer. A type of construction that is not stated is asked for where it
decides.

Right::

    site:
      code: IBC 2018
    building:
      construction_type: II-B
      wood_blocking: accepted by the building official, letter of 2 November

Wrong::

    site:
      code: IBC 2018
    building:
      construction_type: II-B
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.rule import Rule, RuleResult, not_applicable, ok, unknown
from specgen.rules.wall import Wall
from specgen.wall.code import edition_of
from specgen.wall.fire import NONCOMBUSTIBLE, construction_of

RULE = Rule(
    name="wood blocking in noncombustible construction",
    severity=Severity.QUERY,
    applies_to="blocking",
    reason="Where the structure does not burn, wood at the roof's edge is permitted by the code or by the authority.",
    basis=("fire.blocking", "fire.nailers"),
    remedy="Ask the authority having jurisdiction. Record the answer: `building.wood_blocking`.",
)
FIRST_WITH_NAILERS = 2021  # edition of the building code whose list, as read, names them


def check(wall: Wall) -> Iterator[RuleResult]:
    """The recorded answer, the edition of the code, the type of construction."""
    building, blocking = wall.project.building, wall.part("blocking")
    answer, type_, edition = (
        building.word("wood_blocking"),
        construction_of(wall.project),
        edition_of(wall.project),
    )
    if blocking is None:
        yield not_applicable("no blocking is described")
    elif type_ and type_ not in NONCOMBUSTIBLE:
        yield not_applicable(f"construction of Type {type_}: the question is one of Types I and II")
    elif answer:
        yield ok(f"answer on wood blocking: {answer}", building.at("wood_blocking"))
    elif edition is not None and edition >= FIRST_WITH_NAILERS:
        message = "the code permits wood nailers for parapet flashing in Types I and II"
        yield ok(message, wall.project.site.at("code"), basis=("fire.nailers",))
    elif not type_:
        what = f"whether the code permits blocking of {blocking.kind} depends on the type of construction"
        yield unknown(
            f"{what}, which is not stated",
            "add `building.construction_type`",
            blocking.at("kind"),
            blocking.id,
        )
    else:
        message = f"blocking of {blocking.kind} in construction of Type {type_}; `building.wood_blocking` is not stated"
        missing = "add `building.wood_blocking`"
        yield unknown(message, missing, blocking.at("kind"), blocking.id, basis=("fire.blocking",))
