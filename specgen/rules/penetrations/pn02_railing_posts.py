"""PN02: no post, davit or anchor passes through the coping.

A railing post, a davit, a fall-protection anchor or an anchor of a sign through the coping, or through the membrane or
blocking under it, is at least a risk, however it is sealed. What seals it is looked at by PN01.

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
    name="posts and anchors",
    severity=Severity.RISK,
    applies_to="penetrations",
    reason="What carries a load moves with it and opens whatever seals it to the coping.",
    basis=("penetration.no_posts",),
    remedy="Mount it on the roof side of the parapet or on the roof, and leave the coping whole.",
)
LOADED = ("railing post", "davit", "fall-protection anchor", "sign anchor")
TOP = ("coping", "top flashing", "blocking", "cleat", "top insulation")


def check(wall: Wall) -> Iterator[RuleResult]:
    """Where each post, davit or anchor passes."""
    posts = [one for one in wall.parapet.penetrations if one.word("what") in LOADED]
    for post in posts:
        yield _post(wall, post)
    if not posts:
        yield not_applicable("no post, davit or anchor is listed")


def _post(wall: Wall, post: Record) -> RuleResult:
    part = wall.parapet.by_id(post.word("through") or "")
    name = f"{post.word('what')} {post.word('name')}"
    if part is not None and part.role in TOP:
        return fail(f"{name} passes through the {part.role}", post.at("through"), part.id)
    return ok(f"{name} stands clear of the coping", post.at("through"), part.id if part else "")
