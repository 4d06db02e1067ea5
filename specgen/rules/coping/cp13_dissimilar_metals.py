"""CP13: metals that touch or shed water on each other do not corrode each other.

Judges each pair of metals that touches or stands in the other's runoff: coping and cleat, coping and weep screed, lath
and weep screed, the sleeves of scuppers, and what else stands above the coping or below it (`metals_above`,
`metals_below`). A pair that is not allowed is a defect. A pair to be kept apart is a risk until the project says
that it is (`separated` of the cleat). Where the table allows a pair whose anodic indices lie further apart than the
limit, the two disagree: the table, which is experience in outdoor air, governs in ordinary air; the index, which was
measured in sea water, governs near salt water or under severe driving rain, and the pair is a risk there
unless something separates it; on a coast the distance to salt water is asked for (`site.salt_water_distance`).
A fastener of the cleat less noble than the cleat is a risk. A cleat whose metal is not stated is unknown. Treated
wood is looked at by BK02.

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

from collections.abc import Iterator
from dataclasses import replace

from specgen.model.finding import Severity
from specgen.model.project import Component, Record
from specgen.paths.contacts import Contact, contacts, couple
from specgen.practice.compatibility import may_touch
from specgen.rules.hold import not_stated
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok, unknown
from specgen.rules.top.contact import contact_result
from specgen.rules.wall import Wall
from specgen.wall.facts import metal_of_coping
from specgen.wall.memo import once
from specgen.wall.site import near_salt_water

RULE = Rule(
    severity=Severity.DEFECT,
    applies_to="coping",
    reason="The less noble of two metals that stay wet together is eaten; copper in runoff pits what is below.",
    basis=(
        "coping.dissimilar",
        "coping.fastener_metal",
        "table compatibility",
        "table anodic_index",
        "galvanic.limit_outdoors",
        "galvanic.governs",
        "site.salt_water",
    ),
    remedy="Use one metal for coping, cleat and what stands below, or keep the two apart by a coating or a membrane.",
)

WHERE = {
    "metals_above": "the coping",
    "metals_below": "which stands below the coping",
    "sleeve_family": "the sleeve of a scupper",
}


def check(wall: Wall) -> Iterator[RuleResult]:
    """Every pair of metals, then the fasteners of the cleat."""
    metals = {str(row["metal"]) for row in wall.practice.table("anodic_index").rows}
    pairs = [
        one
        for one in once(contacts, wall.project, wall.parapet, wall.practice)
        if set(one.families) <= metals and one.judgement is not None
    ]
    for pair in pairs:
        yield _pair(wall, pair)
    others = list(_above_and_below(wall, metals))
    yield from others
    cleat = wall.part("cleat")
    fasteners = list(_fasteners(wall, cleat)) if cleat else []
    yield from fasteners
    coping = wall.part("coping")
    if cleat and coping and wall.kind(coping).metal and not cleat.has("metal"):
        yield not_stated("metal of the cleat", cleat, "metal", cleat.id)
        return
    if not pairs and not others and not fasteners:
        yield not_applicable("no two metals that meet are described")


def _pair(wall: Wall, pair: Contact) -> RuleResult:
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
        return _disagree(wall, pair, meeting)
    return contact_result(known, meeting, "", "", pair.mark, pair.second)


def _disagree(wall: Wall, pair: Contact, meeting: str) -> RuleResult:
    """The table allows what the index does not: the exposure decides which governs."""
    known, found = pair.judgement, pair.couple
    assert known is not None
    assert found is not None
    site = wall.project.site
    salt, severe = near_salt_water(wall), site.word("rain_exposure") == "severe"
    both = (
        f"rule of thumb table compatibility: allowed, {known.mechanism}",
        f"calculation galvanic: indices {found.difference_v:.2f} V apart, more than {found.limit_v:.2f} V",
    )
    if salt or severe:
        exposure = "near salt water" if salt else "under severe driving rain"
        because = "; ".join([*both, f"the calculation governs {exposure}"])
        message = (
            f"{meeting}: anodic indices {found.difference_v:.2f} V apart, more than {found.limit_v:.2f} V; "
            f"the {found.anode} is consumed where it stays wet"
        )
        basis = ("table anodic_index", "galvanic.limit_outdoors", "galvanic.governs")
        return fail(message, pair.mark, pair.second, Severity.RISK, (because,), basis)
    if salt is None:
        message = f"{meeting}: the distance to salt water is not stated; whether they may meet depends on it"
        asked = ("galvanic.governs", "site.salt_water")
        return unknown(message, "add `site.salt_water_distance`", pair.mark, pair.second, both, asked)
    because = "; ".join([*both, "the rule of thumb governs in ordinary outdoor air"])
    result = contact_result(known, meeting, "", "", pair.mark, pair.second)
    return replace(
        result, because=(because,), sources=(*result.sources, wall.practice.source("galvanic.governs"))
    )


def _above_and_below(wall: Wall, metals: set[str]) -> Iterator[RuleResult]:
    """Metals beside the top: the coping stands in their runoff, or they stand in that of the coping."""
    coping, parapet = wall.part("coping"), wall.parapet
    metal = metal_of_coping(wall)
    if coping is None or not metal:
        return
    listed: list[tuple[Record, str]] = [(parapet, "metals_above"), (parapet, "metals_below")]
    listed += [(scupper, "sleeve_family") for scupper in parapet.scuppers]
    for record, name in listed:
        value = record.values.get(name)
        for other in value if isinstance(value, tuple) else (value,):
            if not isinstance(other, str) or other not in metals:
                continue
            above, below = (other, metal) if name == "metals_above" else (metal, other)
            known = may_touch(wall.practice, above, below, adjacency="runoff")
            meeting = f"{above} sheds water on {below}, {WHERE[name]}"
            yield contact_result(known, meeting, "", "", record.at(name), coping.id)


def _fasteners(wall: Wall, cleat: Component) -> Iterator[RuleResult]:
    metal, held = cleat.word("fastener_metal"), cleat.word("metal")
    found = couple(wall.practice, metal, held) if metal and held else None
    if found is None:
        return
    meeting = f"fasteners of {metal} in a cleat of {held}"
    at = cleat.at("fastener_metal")
    if found.acceptable or found.anode != metal:
        result = ok(f"{meeting}: no less noble than the cleat", at, cleat.id)
    else:
        message = f"{meeting}: the fasteners are consumed, {found.difference_v:.2f} V apart"
        result = fail(message, at, cleat.id, Severity.RISK)
    yield replace(result, basis=("coping.fastener_metal", "table anodic_index"))
