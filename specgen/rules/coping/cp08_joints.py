"""CP08: joints of the coping move and drain without relying on sealant.

Holds the kind of joint and the length of each piece against practice. A gap stated in the project is held against
the calculation `coping movement`; a gap not stated is no finding where the specification prints the calculated one.

Right::

    - role: coping
      kind: formed metal
      joint: standing seam
      piece_length: 10 ft

Wrong::

    - role: coping
      kind: formed metal
      joint: lapped
      piece_length: 12 ft
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of
from specgen.rules.rule import RuleResult, not_applicable, unknown
from specgen.rules.wall import Wall

RULE = rule_of(
    "coping.joint",
    "coping.piece_length",
    name="coping joints",
    severity=Severity.RISK,
    remedy="Join short pieces with concealed and cover plates or standing seams, and leave the calculated gap.",
    reason="Metal in the sun grows; a joint without room buckles, and one that relies on its sealant opens.",
    basis=("coping.joint", "coping.joint_gap", "coping.piece_length"),
)
SUBJECT = "coping movement"
JOINTS = Held(RULE.holds)
GAP = Held(("coping.joint_gap",), if_stated=True, basis=("coping.joint_gap",))


def check(wall: Wall) -> Iterator[RuleResult]:
    """Kind of joint, length of the pieces, and a gap that is stated or cannot be calculated."""
    coping = wall.part("coping")
    if coping is None or not wall.kind(coping).metal:
        yield not_applicable("no metal coping is described")
        return
    yield from JOINTS(wall)
    if wall.requirement("coping.joint_gap") is not None:
        yield from GAP(wall)
        return
    done = wall.calculations.get(SUBJECT)
    missing = "; ".join(done.missing) if done else f"calculation `{SUBJECT}`"
    message, at = "the movement at the joint cannot be calculated", coping.at("joint_gap")
    yield unknown(message, missing, at, coping.id, basis=("coping.joint_gap",))
