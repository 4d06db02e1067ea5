"""CL07: the adopted code and its edition are stated.

A finding of code names the edition on which it rests; without one, what an edition asks for is not asked.

Right::

    site: {code: IBC 2021}

Wrong::

    site: {code: unknown}
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import not_stated
from specgen.rules.rule import Rule, RuleResult, not_applicable, ok
from specgen.rules.wall import Wall

RULE = Rule(
    name="adopted code",
    severity=Severity.DEFECT,
    applies_to="site",
    reason="Each edition of the code asks for other layers, loads, and proofs.",
    basis=("code.adopted",),
    remedy="Ask the authority having jurisdiction which code and edition is adopted. State it in `site.code`.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The stated code."""
    site = wall.project.site
    if not wall.country_covered:
        yield not_applicable("the rules of code cover the United States alone")
    elif code := site.word("code"):
        yield ok(f"the adopted code is {code}", site.at("code"))
    else:
        yield not_stated("adopted building code", site, "code", "")
