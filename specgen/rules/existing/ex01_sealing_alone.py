"""EX01: a standing wall is not repaired by sealing its face alone.

Looks at the repairs proposed for an existing parapet. Sealant and coating close the cracks of today; the
plaster cracks again, and what got in cannot get out.

Right::

    existing:
      repairs:
        - what: seal cracks
        - what: reclad with drainage gap

Wrong::

    existing:
      repairs:
        - what: seal cracks
        - what: coat face
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Existing
from specgen.rules.existing.standing import standing
from specgen.rules.rule import Option, Rule, RuleResult, fail, ok, unknown
from specgen.rules.wall import Wall

RULE = Rule(
    name="repair by sealing alone",
    severity=Severity.DEFECT,
    applies_to="existing",
    reason="Plaster cracks again with movement and wetting, and a closed face keeps in what has entered.",
    basis=("existing.not_by_sealing", "existing.sealing"),
    remedy="Propose a repair that gives the wall a drained gap, a bonded barrier and a coping with drips.",
    options=(Option("sealing", "existing.sealing", "repairs that only close the face"),),
)


@standing
def check(wall: Wall, existing: Existing) -> Iterator[RuleResult]:
    """What is proposed beyond sealing."""
    proposed = [one.word("what") or "" for one in existing.repairs]
    mark = existing.repairs[0].at("what") if existing.repairs else existing.mark
    sealing = wall.practice.entry("existing.sealing").words()
    if not proposed:
        missing = f"parapet `{wall.parapet.name}`: add `repairs` below `existing`"
        yield unknown("no repair is proposed", missing, mark)
    elif all(one in sealing for one in proposed):
        yield fail(f"the proposed repair only closes the face: {', '.join(proposed)}", mark)
    else:
        yield ok(f"the proposed repair goes beyond sealing: {', '.join(proposed)}", mark)
