"""CP08: joints of a metal coping: kind, gap and length of the pieces.

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

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.hold import hold
from specgen.rules.rule import Option, Rule, RuleResult, not_applicable, unknown
from specgen.rules.wall import Wall

RULE = Rule(
    code="CP08",
    name="coping joints",
    title="Joints of the coping move and drain without relying on sealant",
    severity=Severity.RISK,
    applies_to="coping",
    reason="Metal in the sun grows; a joint without room buckles, and one that relies on its sealant opens.",
    basis=("coping.joint", "coping.joint_gap", "coping.piece_length"),
    remedy="Join short pieces with concealed and cover plates or standing seams, and leave the calculated gap.",
    options=(Option("piece length", "length", "coping.piece_length", "greatest length of a piece"),),
)
SUBJECT = "coping movement"


def check(wall: Wall) -> Iterator[RuleResult]:
    """Kind of joint, length of the pieces, and a gap that is stated or cannot be calculated."""
    coping = wall.part("coping")
    if coping is None or not wall.kind(coping).metal:
        yield not_applicable("no metal coping is described")
        return
    yield hold(wall, "coping.joint", coping)
    yield replace(hold(wall, "coping.piece_length", coping), basis=("coping.piece_length",))
    if coping.has("joint_gap") or wall.requirement("coping.joint_gap") is None:
        yield replace(_gap(wall, coping), basis=("coping.joint_gap",))


def _gap(wall: Wall, coping: Component) -> RuleResult:
    if wall.requirement("coping.joint_gap") is not None:
        return hold(wall, "coping.joint_gap", coping)
    done = wall.calculations.get(SUBJECT)
    missing = "; ".join(done.missing) if done else f"calculation `{SUBJECT}`"
    message = "the movement at the joint cannot be calculated"
    return unknown(message, missing, coping.at("joint_gap"), coping.id)
