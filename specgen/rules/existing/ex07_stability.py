"""EX07: the structural engineer has evaluated a standing parapet before it is opened.

Asks whether the parapet stands while plaster, sheathing, or framing is off it, or how it is braced. One that is not
evaluated is a question, and the sections hold the work for it; it is a risk where rot, corrosion, or soft sheathing was
found, or where masonry stands in a seismic design category in which the code asks for bracing in major alterations.

Right::

    existing:
      stability: temporary bracing designed

Wrong::

    existing:
      stability: not evaluated
      openings:
        - {name: T-1, where: below the coping, found: rotten or corroded}
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Existing
from specgen.rules.existing.ex04_hidden import ROT
from specgen.rules.existing.standing import standing
from specgen.rules.rule import Option, Rule, RuleResult, fail, ok, unknown
from specgen.rules.wall import Wall

RULE = Rule(
    name="stability while open",
    severity=Severity.QUERY,
    applies_to="existing",
    reason="A parapet stands free; sheathing and plaster may be what still holds it, and it falls on people.",
    basis=("existing.engineering_survey", "existing.bracing"),
    remedy="Have the structural engineer of record evaluate the parapet and design its bracing before it is opened.",
    options=(Option("bracing", "existing.bracing", "categories in which masonry parapets are braced"),),
)
KEY = "stability"
SOFT = "soft sheathing"
MASONRY = "concrete masonry"


@standing
def check(wall: Wall, existing: Existing) -> Iterator[RuleResult]:
    """The engineer's statement, or what makes it urgent."""
    stated, mark = existing.word(KEY), existing.at(KEY)
    if stated is None:
        missing = f"`{KEY}` below `existing`, by the structural engineer of record"
        yield unknown("nobody states how the parapet stands while it is open", missing, mark)
    elif stated == "not evaluated":
        weak = tuple(_weak(wall, existing))
        yield fail(
            "the parapet is not evaluated for the time it is open; the sections hold the work for it",
            mark,
            severity=Severity.RISK if weak else None,
            because=weak,
        )
    else:
        yield ok(f"stability while open: {stated}", mark)


def _weak(wall: Wall, existing: Existing) -> Iterator[str]:
    """Why the parapet may not stand by itself."""
    framing = wall.part("framing")
    for records, key, word in ((existing.openings, "found", ROT), (existing.observations, "what", SOFT)):
        for one in records:
            if one.word(key) == word:
                yield f"{one.word('name')}: {word}"
    category = wall.project.building.word("seismic_design_category")
    masonry = framing is not None and framing.kind == MASONRY
    if masonry and category in wall.practice.entry("existing.bracing").words():
        yield f"masonry in seismic design category {category}: braced, if unreinforced, in a major alteration"
