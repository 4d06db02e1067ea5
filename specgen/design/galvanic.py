"""Metals of the parapet's top that touch, or stand one above the other in the rain, by their anodic index."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from specgen.design.worksheet import VOLTAGE, Worksheet, calculation
from specgen.model.project import Parapet
from specgen.physics.galvanic import Couple, galvanic_couple
from specgen.practice.entries import cell
from specgen.wall.facts import TREATED

SUBJECT = "galvanic"
TITLE = "Metals in contact and in runoff at the top"
SETS = ("worst_difference", "worst_pair", "corrodes", "beyond_limit", "treated_wood")
TABLE = "anodic_index"
SHEDS = "copper"  # its ions leave with the water and attack what stands below without touching it
FASTENER_METALS = {
    "hot-dip galvanized steel": "galvanized steel",
    "electrogalvanized steel": "galvanized steel",
    "galvanized steel": "galvanized steel",
    "stainless steel": "stainless steel",
}
# What touches what under and behind a coping, and what the coping sheds water on.
CONTACTS = (
    ("coping", "cleat"),
    ("cleat", "fasteners of the cleat"),
    ("cleat", "fasteners into the blocking"),
    ("lath", "weep screed"),
    ("lath", "fasteners of the lath"),
)
RUNOFF = (("coping", "weep screed"), ("coping", "lath"), ("coping", "cleat"))
VALIDITY = "Bare metals in rain; a rule of thumb that ranks pairs, not a forecast of the rate of corrosion."
LEAVES_OUT = (
    "The area of the two metals: a small anode at a large cathode corrodes fastest.",
    "Coatings, gaskets and separators, which break the circuit while they last.",
    "Runoff of metals other than copper.",
    "Experience in outdoor air: the index was measured in sea water. Where the table of pairs allows a pair beyond the "
    "limit, the check CP13 says which of the two governs at this site.",
    "Anchors and flashings that the project file does not describe.",
)


@dataclass(frozen=True)
class Metal:
    """One metal part: what it is, and its metal."""

    part: str
    metal: str


@calculation(SUBJECT, TITLE, VALIDITY, LEAVES_OUT)
def calculate(work: Worksheet) -> None:
    """Difference of anodic index of every pair of metals at the top of one parapet, against the limit outdoors.

    Formula: ΔV = |V1 - V2| ≤ limit.

    Given: coping, cleat, blocking, lath and screed with their metals. Of practice:
    anodic indices and limits. Unknown where the metal of the coping or the cleat is missing.
    """
    metals = {metal.part: metal for metal in _metals(work)}
    work.stop_if_missing()
    limit = work.practice_input("limit", "galvanic.limit_outdoors")
    pairs = list(_pairs(work, metals, limit))
    if not pairs:
        raise work.stop("not covered: no two metals of the work.project file meet at this parapet")
    _report(work, pairs, metals)


def _metals(work: Worksheet) -> Iterator[Metal]:
    for role in ("coping", "cleat"):
        part = work.parapet.part(role)
        if part is None or (role == "coping" and not work.practice.kind(role, part.kind).metal):
            continue
        if part.has("metal"):
            yield Metal(role, work.input_word("", f"{role}.metal"))
        else:
            work.missing.append(f"{role}.metal: {work.title_of(f'{role}.metal')}")
    for role in ("lath", "weep screed"):
        part = work.parapet.part(role)
        if part is not None:
            family = work.practice.kind(role, part.kind).family
            if family in FASTENER_METALS:
                yield Metal(role, family)
    for role, name in (("cleat", "fastener_metal"), ("blocking", "fasteners"), ("lath", "fastener_metal")):
        part = work.parapet.part(role)
        if part is not None and part.has(name):
            how = "into" if role == "blocking" else "of"
            yield Metal(f"fasteners {how} the {role}", FASTENER_METALS[work.input_word("", f"{role}.{name}")])


def _pairs(work: Worksheet, metals: dict[str, Metal], limit: float) -> Iterator[tuple[str, Couple]]:
    table = work.practice.table(TABLE)
    index = {str(row["metal"]): cell(row, "index").value for row in table.rows}
    listed = [(one, other, "in contact") for one, other in CONTACTS]
    listed += [(one, other, "in runoff") for one, other in RUNOFF]
    source = work.cite(table.source)
    for one, other, how in listed:
        if one not in metals or other not in metals:
            continue
        first, second = metals[one].metal, metals[other].metal
        if how == "in runoff" and first != SHEDS:
            continue
        couple = galvanic_couple(first, second, index, limit)
        name = f"{one} ({first}) and {other} ({second}), {how}"
        formula = f"ΔV = |{index[first]:g} - {index[second]:g}|"
        work.step("ΔV", name, couple.difference_v, VOLTAGE, formula, source)
        yield name, couple


def _report(work: Worksheet, pairs: list[tuple[str, Couple]], metals: dict[str, Metal]) -> None:
    name, worst = max(pairs, key=lambda pair: pair[1].difference_v)
    work.result("worst_difference", "ΔV", "largest difference", worst.difference_v, VOLTAGE, "max ΔV")
    work.result_word("worst_pair", "of", name)
    work.result_word("corrodes", "metal that corrodes there", worst.anode or "neither")
    beyond = "; ".join(pair for pair, couple in pairs if not couple.acceptable) or "none"
    work.result_word("beyond_limit", "pairs beyond the limit", beyond, "ΔV > limit")
    work.result_word("treated_wood", "metals at the blocking's treatment", _treated(work.parapet, metals))


def _treated(parapet: Parapet, metals: dict[str, Metal]) -> str:
    """Copper-bearing preservative: no aluminum against it, fasteners hot-dip galvanized or stainless."""
    blocking = parapet.part("blocking")
    if blocking is None or blocking.kind != TREATED:
        return "the blocking is not treated"
    bare = parapet.part("top flashing") is None  # which separates the metal from the wood
    wrong = [
        f"{part} of aluminum" for part in ("coping", "cleat") if bare and _is(metals.get(part), "aluminum")
    ]
    if blocking.word("fasteners") == "electrogalvanized steel":
        wrong.append("electrogalvanized fasteners")
    return f"separate from the wood: {', '.join(wrong)}" if wrong else "no conflict"


def _is(metal: Metal | None, name: str) -> bool:
    return metal is not None and metal.metal == name
