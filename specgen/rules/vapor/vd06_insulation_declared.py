"""VD06: the project states where the insulation is.

Passes where insulation is described in or on the parapet, or where the project states the heat path. A parapet
with an empty cavity and no word on insulation leaves the roof edge cold, and nobody decided it.

Right::

    heat_path: across at roof level

Wrong::

    heat_path:  # not stated, and the cavity of the framing is empty
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.rule import Rule, RuleResult, fail, ok, unknown
from specgen.rules.wall import Wall
from specgen.wall.facts import solid_framing

RULE = Rule(
    severity=Severity.QUERY,
    applies_to="parapet",
    reason="A roof edge without a decision on its insulation is cold, and its inner faces take up water.",
    basis=("heat.declared",),
    remedy="Describe the insulation in or on the parapet. Where there is none, state `heat_path`.",
)
INSULATION = ("insulation", "top insulation")


def check(wall: Wall) -> Iterator[RuleResult]:
    """Insulation in the build-up, in the cavity, or a stated heat path."""
    parapet, framing = wall.parapet, wall.part("framing")
    described = next((part for role in INSULATION if (part := wall.part(role))), None)
    filling = framing.word("cavity") if framing else None
    if described is not None:
        yield ok(f"insulation is {described.kind}", described.mark, described.id)
    elif framing is not None and filling not in (None, "empty"):
        yield ok(f"the cavity is filled: {filling}", framing.at("cavity"), framing.id)
    elif parapet.has("heat_path"):
        yield ok(f"heat path: {parapet.word('heat_path')}", parapet.at("heat_path"))
    elif framing is None or (filling is None and not solid_framing(wall)):
        missing = f"parapet `{parapet.name}`: add `heat_path`, or `cavity` to the framing"
        yield unknown("whether the parapet is insulated is not stated", missing)
    else:
        yield fail("no insulation is described, and no heat path is stated", framing.mark, framing.id)
