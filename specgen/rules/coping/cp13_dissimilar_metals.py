"""CP13: metals in contact and in runoff.

Judges each pair of metals that touches or stands in the other's runoff: coping and cleat, coping and weep screed, lath
and weep screed. A pair that is not allowed is a defect. A pair to be kept apart is a risk until the project says
that it is (`separated` of the cleat). A pair the table allows is a risk all the same where its anodic indices lie
further apart than the limit for its exposure and nothing separates it. A fastener of the cleat less noble than the
cleat is a risk. A cleat whose metal is not stated is undetermined. Treated wood is looked at by BK02.

Right::

    - role: coping
      kind: formed metal
      metal: aluminum
      thickness: 0.050 in

Wrong::

    - role: coping
      kind: formed metal
      metal: copper
      thickness: 20 oz/ft2
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.paths.contacts import Contact, contacts, couple
from specgen.rules.hold import not_stated
from specgen.rules.rule import Rule, Said, fail, not_applicable, ok
from specgen.rules.top.contact import said_of
from specgen.rules.wall import Wall

RULE = Rule(
    code="CP13",
    name="dissimilar metals",
    title="Metals that touch or shed water on each other do not corrode each other",
    severity=Severity.DEFECT,
    applies_to="coping",
    reason="The less noble of two metals that stay wet together is eaten; copper in runoff pits what is below.",
    basis=(
        "coping.dissimilar",
        "coping.fastener_metal",
        "table compatibility",
        "table anodic_index",
        "galvanic.limit_outdoors",
    ),
    remedy="Use one metal for coping, cleat and what stands below, or keep the two apart by a coating or a membrane.",
)


def check(wall: Wall) -> Iterator[Said]:
    """Every pair of metals, then the fasteners of the cleat."""
    metals = {str(row["metal"]) for row in wall.practice.table("anodic_index").rows}
    pairs = [
        one
        for one in contacts(wall.project, wall.parapet, wall.practice)
        if set(one.families) <= metals and one.judgement is not None
    ]
    for pair in pairs:
        yield _pair(wall, pair)
    cleat = wall.part("cleat")
    fasteners = list(_fasteners(wall, cleat)) if cleat else []
    yield from fasteners
    coping = wall.part("coping")
    if cleat and coping and wall.kind(coping).metal and not cleat.has("metal"):
        yield not_stated("metal of the cleat", cleat, "metal", cleat.id)
        return
    if not pairs and not fasteners:
        yield not_applicable("no two metals that meet are described")


def _pair(wall: Wall, pair: Contact) -> Said:
    known = pair.judgement
    assert known is not None
    first, second = pair.families
    how = "sheds water on" if pair.adjacency == "runoff" else "touches"
    meeting = f"`{pair.first}` ({first}) {how} `{pair.second}` ({second})"
    separated = any(
        part.flag("separated") for end in (pair.first, pair.second) if (part := wall.parapet.by_id(end))
    )
    if separated and pair.adjacency == "contact":
        return ok(f"{meeting}, kept apart", pair.mark, pair.second, basis=("coping.dissimilar",))
    if known.answer == "allowed" and pair.couple is not None and not pair.couple.acceptable:
        message = (
            f"{meeting}: anodic indices {pair.couple.difference_v:.2f} V apart, more than "
            f"{pair.couple.limit_v:.2f} V; the {pair.couple.anode} is consumed where it stays wet"
        )
        basis = ("table anodic_index", "galvanic.limit_outdoors")
        return fail(message, pair.mark, pair.second, Severity.RISK, basis=basis)
    return said_of(known, meeting, "", "", pair.mark, pair.second)


def _fasteners(wall: Wall, cleat: Component) -> Iterator[Said]:
    metal, held = cleat.word("fastener_metal"), cleat.word("metal")
    found = couple(wall.practice, metal, held) if metal and held else None
    if found is None:
        return
    meeting = f"fasteners of {metal} in a cleat of {held}"
    at = cleat.at("fastener_metal")
    if found.acceptable or found.anode != metal:
        said = ok(f"{meeting}: no less noble than the cleat", at, cleat.id)
    else:
        message = f"{meeting}: the fasteners are consumed, {found.difference_v:.2f} V apart"
        said = fail(message, at, cleat.id, Severity.RISK)
    yield replace(said, basis=("coping.fastener_metal", "table anodic_index"))
