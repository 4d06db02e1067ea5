"""What makers of data sheets do, drawn at random: layouts, notices, neighbors and other traps. Seeded, invented."""

from __future__ import annotations

import random
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from tests.intake.papers.blocks import Beside, Block, Cells, Items, NewPage, Paper, Text, Tiles
from tests.intake.sheets.truth import BARRIER, DRAINAGE, SEALANT, Fact, Truth, _fact, product

TABLES = {"barrier": BARRIER, "drainage layer": DRAINAGE, "joint sealant": SEALANT}
HEADINGS = (
    "Technical data", "Typical properties", "Physical properties", "Performance data", "Test results",
    "Product data", "Properties", "Technical information", "Performance", "Specification data",
    "Typical physical properties", "Table 1: Properties", "General properties", "Data", "Performance characteristics",
)  # fmt: skip
SLOGANS = (
    "Stays where you put it.", "One coat, no joints.", "Made for walls that get wet.", "Quick on site",
    "Covers corners without cutting", "Tough under lath",
)  # fmt: skip
TALK = (
    "Apply to clean and dry surfaces. Store above freezing and out of the sun. Protect open tops at the end of "
    "each day. This edition supersedes all previous editions. Samples are available on request. Do not use it below "
    "grade. Read the safety data before use and keep records of each area covered."
)
LISTED = ("Bonds to sheathing, concrete and masonry", "Bridges joints up to 1/8 in", "Rolls on in one pass")
NEIGHBORS = {
    "barrier": ("Transition sheet TS-2", "Primer PR-7", "Flashing membrane FM-4", "Joint sealant JS-1"),
    "drainage layer": ("Drainage mat edge strip ES-3", "Insulation board IB-9", "Joint sealant JS-1"),
    "joint sealant": ("Sealant primer SP-5", "Backer tape BT-8", "Air barrier membrane AB-6"),
}
LETTERS = {"barrier": "WB", "drainage layer": "DM", "joint sealant": "ES"}
NOTICES = (
    "SUPERSEDED", "Superseded by edition 4", "PRELIMINARY", "Preliminary data, subject to final testing",
    "DRAFT", "Draft for review", "WITHDRAWN", "This product has been discontinued.", "SAMPLE", "Specimen data sheet",
    "DO NOT USE", "For reference only", "Not for construction", "Obsolete", "VOID", "Provisional values",
    "This sheet has been replaced by the edition of May 2026.", "No longer manufactured", "Expires: 05/31/2025",
    "Valid until 31 March 2024", "Target values; testing pending", "FOR INFORMATION ONLY",
    "Values are not to be used for specification.",
)  # fmt: skip


@dataclass(frozen=True)
class Drawn:
    """A paper with what a careful reader makes of it."""

    paper: Paper
    truth: Truth
    layout: str
    trap: str  # "" for a plain paper


def drawn(seed: int) -> Drawn:
    """One paper of any layout, with a trap on two of five."""
    rnd = random.Random(seed)
    truth = product(seed)
    if rnd.random() < 0.6:
        truth = replace(truth, title=f"{truth.title[:-2]} {LETTERS[truth.role]}-{10 + seed % 80}")
    layout = rnd.choices(list(LAYOUTS), weights=[one[1] for one in LAYOUTS.values()])[0]
    body = LAYOUTS[layout][0]
    opening: list[Block] = [Text(truth.title, 1), Text(truth.opening)]
    if rnd.random() < 0.4:
        opening.append(Text(rnd.choice(SLOGANS), rnd.choice((0, 3))))
    if rnd.random() < 0.4:
        opening.append(Items(LISTED))
    closing = [Text(TALK)] if rnd.random() < 0.7 else []
    edition = rnd.choice(("", "Edition 3, May 2025", "Rev. 2", "Issued 2025-03-14", "Page 1 of 1"))
    paper = Paper((), header=rnd.choice(("", "Product data")), footer=edition, size=rnd.choice((8, 9, 10, 11)),
                  serif=rnd.random() < 0.3)  # fmt: skip
    trap = rnd.choice(list(TRAPS)) if rnd.random() < 0.4 else ""
    heading = Text(rnd.choice(HEADINGS), 2)
    if trap:
        paper, truth = TRAPS[trap](rnd, truth, paper, opening, heading, body, closing)
    else:
        paper = replace(paper, blocks=(*opening, heading, *body(rnd, truth.facts), *closing))
    return Drawn(paper, truth, layout, trap)


def _value(fact: Fact, systems: str = "both", condition: bool = True) -> str:
    text = f"{fact.ip} ({fact.si})" if systems == "both" and fact.si else fact.ip
    text = f"{fact.compare} {text}" if fact.compare else text
    return f"{text} @ {fact.condition}" if condition and fact.condition else text


def _table(rnd: random.Random, facts: tuple[Fact, ...]) -> list[Block]:
    ruled = rnd.random() < 0.6
    systems = rnd.choice(("both", "ip"))
    match rnd.randrange(4):
        case 0:
            rows = [("Property", "Test method", "Result")]
            rows += [(f.label, f.method, _value(f, systems)) for f in facts]
        case 1:
            rows = [("Property", "Typical value", "Standard")]
            rows += [(f.label, _value(f, systems), f.method) for f in facts]
        case 2:
            rows = [("Characteristic", "Value")]
            rows += [(f.label, _value(f, systems) + (f", {f.method}" if f.method else "")) for f in facts]
        case _:
            rows = [("Item", "Description")]
            rows += [(f.label, _value(f, systems) + (f" ({f.method})" if f.method else "")) for f in facts]
    return [Cells(tuple(rows), True, ruled)]


def _units_apart(rnd: random.Random, facts: tuple[Fact, ...]) -> list[Block]:
    rows = [("Property", "Method", "Unit", "Value")]
    for fact in facts:
        number, _, unit = fact.ip.partition(" ")
        if isinstance(fact.value, str) or not unit or not number[0].isdecimal() or "/" in number:
            number, unit = fact.ip, ""
        compare = f"{fact.compare} " if fact.compare else ""
        condition = f" @ {fact.condition}" if fact.condition else ""
        rows.append((fact.label, fact.method + condition, unit, compare + number))
    return [Cells(tuple(rows), True, rnd.random() < 0.7)]


def _narrow_table(rnd: random.Random, facts: tuple[Fact, ...]) -> list[Block]:
    rows = [("Property", "Test method", "Result"), *((f.label, f.method, _value(f, "ip")) for f in facts)]
    return [Cells(tuple(rows), True, rnd.random() < 0.6, rnd.choice((60, 75)))]


EVERYDAY = {
    "vapor_permeance": ("Permeance", "Perm rating"), "assembly_air_leakage": ("Air leakage of wall assembly",),
    "exposure_limit": ("Exposure", "Max. UV exposure"), "service_temperature": ("Service temp.", "Max. service temp."),
    "thickness": ("Dry film thickness (DFT)", "Thickness, dry"), "depth": ("Overall height", "Depth of mat"),
}  # fmt: skip


def _everyday(rnd: random.Random, facts: tuple[Fact, ...]) -> list[Block]:
    """A table with the names that people use."""
    called = tuple(replace(f, label=rnd.choice(EVERYDAY.get(f.attribute, (f.label,)))) for f in facts)
    return _table(rnd, called)


def _listed(rnd: random.Random, facts: tuple[Fact, ...]) -> list[Block]:
    lines = [f"{f.label}: {_value(f)}" + (f" ({f.method})" if f.method else "") for f in facts]
    return [Items(tuple(lines))] if rnd.random() < 0.5 else [Text(line) for line in lines]


def _tiles(rnd: random.Random, facts: tuple[Fact, ...]) -> list[Block]:
    tiles = [(_value(f, "ip"), f"{f.label}" + (f", {f.method}" if f.method else "")) for f in facts]
    return [Tiles(tuple(tiles[at : at + 3])) for at in range(0, len(tiles), 3)]


def _prose(rnd: random.Random, facts: tuple[Fact, ...]) -> list[Block]:
    sentences = [f"{f.label} is {_value(f, 'ip')}" + (f" by {f.method}." if f.method else ".") for f in facts]
    return [Text(" ".join(sentences))]


Body = Callable[[random.Random, tuple[Fact, ...]], list[Block]]
LAYOUTS: Mapping[str, tuple[Body, int]] = {
    "table": (_table, 6),
    "units in a column": (_units_apart, 2),
    "list": (_listed, 2),
    "narrow table": (_narrow_table, 2),
    "everyday names": (_everyday, 2),
    "tiles": (_tiles, 1),
    "prose": (_prose, 1),
}
PLAIN = ("table", "units in a column", "list", "narrow table", "everyday names")


def _blocked(truth: Truth, why: str) -> Truth:
    return replace(truth, facts=tuple(replace(one, acceptable=False, why=why) for one in truth.facts))


def _neighbor(rnd: random.Random, truth: Truth) -> tuple[str, tuple[Fact, ...]]:
    """Another product beside ours, with attributes that our role has too."""
    table = TABLES[truth.role]
    names = rnd.sample(list(table), k=min(len(table), rnd.randint(2, 4)))
    return rnd.choice(NEIGHBORS[truth.role]), tuple(_fact(rnd, name, table[name], True) for name in names)


def _notice(rnd, truth, paper, opening, heading, body, closing):
    words = rnd.choice(NOTICES)
    where = rnd.choice(("header", "footer", "line", "heading", "closing", "across", "status"))
    blocks = [*opening, heading, *body(rnd, truth.facts), *closing]
    paper = replace(paper, blocks=tuple(blocks))
    if where == "header":
        paper = replace(paper, header=words)
    elif where == "footer":
        paper = replace(paper, footer=f"{words}   Edition 3")
    elif where == "line":
        paper = replace(paper, blocks=(blocks[0], Text(words), *blocks[1:]))
    elif where == "heading":
        paper = replace(paper, blocks=(Text(words, 2), *blocks))
    elif where == "closing":
        paper = replace(paper, blocks=(*blocks, Text(f"Colors may vary. {words}")))
    elif where == "across":
        paper = replace(paper, across=rnd.choice(("SUPERSEDED", "DRAFT", "SAMPLE", "VOID", "PRELIMINARY")))
    else:
        status = Cells((("Document", "Data sheet"), ("Status", words)), False, True)
        paper = replace(paper, blocks=(blocks[0], status, *blocks[1:]))
    return paper, _blocked(truth, f"a notice: {words} ({where})")


def _struck(rnd, truth, paper, opening, heading, body, closing):
    at = rnd.randrange(len(truth.facts))
    facts = list(truth.facts)
    rows = [("Property", "Test method", "Result")]
    for index, fact in enumerate(facts):
        rows.append((fact.label, fact.method, ("~" if index == at else "") + _value(fact, "ip")))
    facts[at] = replace(facts[at], acceptable=False, why="crossed out")
    table = Cells(tuple(rows), True, rnd.random() < 0.6)
    return replace(paper, blocks=(*opening, heading, table, *closing)), replace(truth, facts=tuple(facts))


def _below(rnd, truth, paper, opening, heading, body, closing):
    name, facts = _neighbor(rnd, truth)
    level = rnd.choice((1, 2, 3))
    other = [Text(name, level)] + ([Text(rnd.choice(HEADINGS), 3)] if rnd.random() < 0.5 else [])
    blocks = [*opening, heading, *body(rnd, truth.facts), *other, *body(rnd, facts), *closing]
    return replace(paper, blocks=tuple(blocks)), truth


def _above(rnd, truth, paper, opening, heading, body, closing):
    name, facts = _neighbor(rnd, truth)
    blocks = [Text("Wall system data", 1), Text(name, 2), *body(rnd, facts)]
    blocks += [Text(truth.title, 2), heading, *body(rnd, truth.facts), *closing]
    return replace(paper, blocks=tuple(blocks)), truth


def _narrow(title: str, facts: tuple[Fact, ...]) -> tuple[Block, ...]:
    return Text(title, 2), Cells(tuple((f.label, _value(f, "ip")) for f in facts), False)


def _side_by_side(rnd, truth, paper, opening, heading, body, closing):
    name, facts = _neighbor(rnd, truth)
    columns = Beside(_narrow(truth.title, truth.facts), _narrow(name, facts))
    held = tuple(
        replace(one, acceptable=one.acceptable and not one.method, method="", why="no method")
        for one in truth.facts
    )
    return replace(paper, blocks=(Text("Product data", 1), columns, *closing)), replace(truth, facts=held)


def _within_table(rnd, truth, paper, opening, heading, body, closing):
    name, facts = _neighbor(rnd, truth)
    name = rnd.choice((name, name.rpartition(" ")[0]))
    rows = [("Property", "Test method", "Result"), (truth.title,)]
    rows += [(f.label, f.method, _value(f, "ip")) for f in truth.facts]
    rows += [(name,), *((f.label, f.method, _value(f, "ip")) for f in facts)]
    return replace(paper, blocks=(*opening, Cells(tuple(rows), True, rnd.random() < 0.7), *closing)), truth


def _film(rnd, truth, paper, opening, heading, body, closing):
    words = rnd.choice((
        "Properties of a 12 mil film", "Values for a 60 mil sheet", "Properties at 120 °F", "Properties of aged film",
        "Winter grade", "Properties on primed concrete", "Performance of the joint", "Type B",
    ))  # fmt: skip
    blocks = [*opening, Text(words, 2), *body(rnd, truth.facts), *closing]
    return replace(paper, blocks=tuple(blocks)), _blocked(truth, f"a heading that limits: {words}")


def _variants(rnd, truth, paper, opening, heading, body, closing):
    names = rnd.choice(
        (("Standard", "Winter"), ("WB-1 S", "WB-1 W"), ("40 mil", "60 mil"), ("Sheet", "Roll"))
    )
    rows = [("Property", "Test method", *names)]
    facts = []
    for fact in truth.facts:
        one, other = _value(fact, "ip"), rnd.choice(("–", "", _value(fact, "ip")))
        pair = [one, other]
        rnd.shuffle(pair)
        rows.append((fact.label, fact.method, *pair))
        facts.append(fact if one == other else replace(fact, acceptable=False, why="of one variant alone"))
    table = Cells(tuple(rows), True, rnd.random() < 0.7)
    return replace(paper, blocks=(*opening, heading, table, *closing)), replace(truth, facts=tuple(facts))


def _next_sheet(rnd, truth, paper, opening, heading, body, closing):
    """In a workbook, the other product on a sheet of its own; elsewhere, below on the page."""
    name, facts = _neighbor(rnd, truth)
    blocks = (*opening, heading, *body(rnd, truth.facts))
    tab = (rnd.choice((name, "Sheet2", name.partition(" ")[0])), (Text(name, 1), *body(rnd, facts)))
    return replace(paper, blocks=blocks, tabs=(tab,)), truth


LIMITS = (
    "All values apply to the 60 mil sheet.", "The values above are for the winter grade.", "Tested on primed concrete.",
    "The results refer to the former formula.", "Values shown are for two coats.", "Measured after aging.",
)  # fmt: skip


def _sentence(rnd, truth, paper, opening, heading, body, closing):
    """A sentence above or below the table that limits every value in it."""
    words = Text(rnd.choice(LIMITS))
    around = [words, *body(rnd, truth.facts)] if rnd.random() < 0.5 else [*body(rnd, truth.facts), words]
    paper = replace(paper, blocks=(*opening, heading, *around, *closing))
    return paper, _blocked(truth, f"a sentence that limits: {words.text}")


def _required(rnd, truth, paper, opening, heading, body, closing):
    """A column of requirements beside that of the results, or alone."""
    alone = rnd.random() < 0.3
    wanted = [
        f"{rnd.choice(('≥ 10', 'max. 20', '5 min.'))} {f.ip.partition(' ')[2] or 'psi'}" for f in truth.facts
    ]
    if alone:
        rows = [("Property", "Test method", rnd.choice(("Requirement", "Code limit", "Acceptance criteria")))]
        rows += [(f.label, f.method, one) for f, one in zip(truth.facts, wanted, strict=True)]
        truth = replace(truth, facts=())
    else:
        head = ["Property", "Test method", "Requirement", "Result"]
        rows = [tuple(head)]
        rows += [
            (f.label, f.method, one, _value(f, "ip")) for f, one in zip(truth.facts, wanted, strict=True)
        ]
    return replace(
        paper, blocks=(*opening, heading, Cells(tuple(rows), True, rnd.random() < 0.7), *closing)
    ), truth


def _rival(rnd, truth, paper, opening, heading, body, closing):
    """Our values beside those of others."""
    other = rnd.choice(("Typical sheet membrane", "Building paper", "Others", "Competitor", "Old formula"))
    ours = rnd.choice((truth.title, "This product", "Ours", LETTERS[truth.role] + "-5"))
    rows = [("Property", ours, other)]
    theirs = [rnd.choice(("–", "n/a", "fails", _value(f, "ip"))) for f in truth.facts]
    rows += [(f.label, _value(f, "ip"), one) for f, one in zip(truth.facts, theirs, strict=True)]
    held = tuple(
        replace(f, acceptable=f.acceptable and not f.method and one == _value(f, "ip"), method="")
        for f, one in zip(truth.facts, theirs, strict=True)
    )
    table = Cells(tuple(rows), True, rnd.random() < 0.7)
    return replace(paper, blocks=(*opening, heading, table, *closing)), replace(truth, facts=held)


def _second_page(rnd, truth, paper, opening, heading, body, closing):
    """Another product on the page behind."""
    name, facts = _neighbor(rnd, truth)
    blocks = [
        *opening,
        heading,
        *body(rnd, truth.facts),
        NewPage(),
        Text(name, rnd.choice((1, 2))),
        *body(rnd, facts),
    ]
    return replace(paper, blocks=tuple(blocks)), truth


def _note_takes_back(rnd, truth, paper, opening, heading, body, closing):
    """A footnote takes one value back."""
    at = rnd.randrange(len(truth.facts))
    facts = list(truth.facts)
    rows = [("Property", "Test method", "Result")]
    for index, fact in enumerate(facts):
        rows.append((fact.label, fact.method, _value(fact, "ip") + (" *" if index == at else "")))
    facts[at] = replace(facts[at], acceptable=False, why="a footnote takes it back")
    words = rnd.choice(
        ("* estimated", "* value of the primed sheet", "* on the 60 mil roll only", "* not yet tested")
    )
    note = Text(words)
    table = Cells(tuple(rows), True, rnd.random() < 0.6)
    truth = replace(truth, facts=tuple(facts))
    if "not yet" in words:  # which is a notice on the whole paper
        truth = _blocked(truth, "a notice in a footnote")
    return replace(paper, blocks=(*opening, heading, table, note, *closing)), truth


TRAPS = {
    "sentence that limits": _sentence,
    "requirements in a column": _required,
    "others in a column": _rival,
    "another product on the next page": _second_page,
    "footnote that takes back": _note_takes_back,
    "notice": _notice,
    "notice again": _notice,
    "crossed out": _struck,
    "another product below": _below,
    "another product above": _above,
    "side by side": _side_by_side,
    "heading within the table": _within_table,
    "heading that limits": _film,
    "variants": _variants,
    "another sheet": _next_sheet,
}
