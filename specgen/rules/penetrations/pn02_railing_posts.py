"""PN02: no railing post passes through the coping.

A railing post through the coping, or through the membrane or blocking under it, is at least a risk, however it is
sealed. What seals it is looked at by PN01.

Right::

    penetrations:
      - name: R-1
        what: railing post
        through: base flashing
        sealed_by: boot
        seal_family: TPO

Wrong::

    penetrations:
      - name: R-1
        what: railing post
        through: coping
        sealed_by: boot
        seal_family: TPO
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Record
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall

RULE = Rule(
    severity=Severity.RISK,
    applies_to="penetrations",
    reason="A post moves with every hand on the rail and opens whatever seals it to the coping.",
    basis=("penetration.no_posts",),
    remedy="Mount the railing on the roof side of the parapet or on the roof, and leave the coping whole.",
)
TOP = ("coping", "top flashing", "blocking", "cleat", "top insulation")


def check(wall: Wall) -> Iterator[RuleResult]:
    """Where each railing post passes."""
    posts = [one for one in wall.parapet.penetrations if one.word("what") == "railing post"]
    for post in posts:
        yield _post(wall, post)
    if not posts:
        yield not_applicable("no railing post is listed")


def _post(wall: Wall, post: Record) -> RuleResult:
    part = wall.parapet.by_id(post.word("through") or "")
    name = f"railing post {post.word('name')}"
    if part is not None and part.role in TOP:
        return fail(f"{name} passes through the {part.role}", post.at("through"), part.id)
    return ok(f"{name} stands clear of the coping", post.at("through"), part.id if part else "")
