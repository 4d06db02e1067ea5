"""The linter of clause language: what a contractor could not act on, or a lawyer could read twice."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from specgen.files.marks import Mark

VAGUE = (
    "as required", "as necessary", "if necessary", "properly", "proper", "adequate", "adequately", "suitable",
    "suitably", "appropriate", "appropriately", "sufficient", "sufficiently", "reasonable", "satisfactory",
    "acceptable", "good", "best", "first-class", "high-quality", "workmanlike", "neat", "neatly", "any",
    "either", "etc.", "and/or", "or equal", "approved equal", "industry standard", "to the satisfaction",
    "where applicable", "as applicable", "as needed", "carefully", "thoroughly", "securely", "in general",
    "generally", "normally", "typically", "some", "several", "minimize", "ensure",
)  # fmt: skip
BRITISH = (
    "colour", "vapour", "aluminium", "fibre", "centre", "metre", "moulding", "mould", "grey", "galvanised",
    "oxidised", "pressurised", "organise", "recognise", "neighbouring", "labour", "storey", "programme",
    "licence", "plough", "draught", "kerb", "tyre", "sulphur", "authorised", "minimise", "modelled",
)  # fmt: skip
IMPERATIVES = (
    "accept", "add", "adjust", "align", "allocate", "allow", "anchor", "apply", "arrange", "ask",
    "assign", "attach", "bear", "bed", "bend", "block", "bond", "break", "bring", "build", "butt",
    "cap", "carry", "cast", "caulk", "chamfer", "check", "clean", "clear", "close", "complete",
    "comply", "conceal", "conduct", "construct", "continue", "coordinate", "correct", "cover", "crimp",
    "cure", "cut", "dam", "deduct", "define", "deliver", "dispose", "distribute", "do", "drain",
    "dress", "drive", "dry", "embed", "employ", "end", "engage", "enlarge", "establish", "examine",
    "exclude", "extend", "fabricate", "fasten", "fill", "finish", "fix", "flash", "float", "flush", "fold",
    "form", "frame", "fur", "furnish", "grind", "grout", "handle", "hang", "hem", "hoist", "hold",
    "hook", "identify", "include", "inform", "inject", "inspect", "install", "insulate", "isolate",
    "join", "keep", "label", "lap", "lay", "leave", "lift", "limit", "line", "locate", "lock", "loosen",
    "maintain", "make", "mark", "match", "measure", "mix", "moisten", "mount", "move", "nail", "name",
    "notify", "number", "obtain", "offset", "open", "order", "overlap", "paint", "part", "patch", "pay", "peel",
    "perform", "photograph", "place", "plumb", "point", "polish", "position", "pour", "prepare",
    "present", "press", "prevent", "prime", "probe", "propose", "protect", "provide", "pull", "raise",
    "recoat", "reduce", "reinforce", "reject", "relieve", "remove", "repair", "repeat", "replace",
    "report", "request", "require", "reset", "restore", "retain", "return", "review", "rivet", "roll",
    "round", "rout", "route", "run", "sand", "saturate", "score", "scrape", "screw", "seal", "secure",
    "select", "send", "separate", "sequence", "set", "shade", "shape", "shield", "shim", "sign", "slit",
    "slope", "soak", "solder", "sort", "space", "specify", "splice", "spray", "spread", "stabilize",
    "stack", "stagger", "stake", "stand", "start", "step", "stop", "store", "stretch", "strip",
    "submerge", "submit", "supply", "support", "suspend", "taper", "test", "thin", "tie", "tighten",
    "tool", "trace", "train", "transfer", "transport", "treat", "trim", "trowel", "turn", "uncoil",
    "uncover", "undercut", "underlay", "unroll", "use", "vacuum", "vary", "vent", "verify", "wait",
    "wash", "weigh", "weld", "wet", "wipe", "wire", "withdraw", "withhold", "wrap",
)  # fmt: skip
NAMES = (
    "ASTM", "ANSI", "SPRI", "FM", "ES", "ASCE", "AWPA", "IBC", "IEBC", "IRC", "IECC", "ISO", "NFPA", "AAMA", "ICC", "AC",
    "CSA", "DOC", "PS", "CFR", "Section", "Sections", "Part", "Article", "Articles", "Paragraph", "Paragraphs",
    "Drawings", "Architect", "Contractor", "Owner", "Work", "Contract", "Change", "Order", "Annex", "II",
    "TPO", "PVC", "EPDM", "SBS", "KEE", "PMMA", "Type", "IL", "UC", "UCFA", "UCFB", "UL", "AZ",
)  # fmt: skip
_NUMBER_WORD = (
    r"\b(?:two|three|four|five|six|seven|eight|nine|ten|twelve|fifteen|twenty|thirty)\b[ -]"
    r"(?:inch|inches|foot|feet|day|days|week|weeks|hour|hours|minute|minutes|year|years|mil|mils|percent|coats)\b"
)


@dataclass(frozen=True)
class Remark:
    """One doubt about one clause."""

    mark: Mark
    key: str
    message: str

    def __str__(self) -> str:
        return f"{self.mark}: {self.key}: {self.message}"


def lint_text(words: str) -> tuple[str, ...]:
    """The doubts about one paragraph.

    >>> lint_text("Install the sheet properly and/or as required.")
    ('vague: `as required`', 'vague: `properly`', 'vague: `and/or`')
    """
    return (
        *_listed("vague", VAGUE, words),
        *_listed("British spelling", BRITISH, words),
        *_structure(words),
        *_brands(words),
    )


def _listed(what: str, listed: Iterable[str], words: str) -> Iterator[str]:
    lower = words.lower()
    for item in listed:
        if item in lower and re.search(rf"(?<!\w){re.escape(item)}(?!\w)", lower):
            yield f"{what}: `{item}`"


def _structure(words: str) -> Iterator[str]:
    if re.search(r"\bshall\b", words, re.IGNORECASE):
        yield "`shall`: write the imperative"
    if re.search(r"\brequired to\b|\bmust be\b", words, re.IGNORECASE):
        yield "indirect: write the imperative"
    if re.search(r"\[[^\]]*\]|_{2,}|\bTBD\b|<[^>]*>", words):
        yield "unresolved choice"
    sentences = [part.strip() for part in re.split(r"(?<=[.;])\s+", words) if part.strip()]
    commands = [part for part in sentences if part.split()[0].lower().strip(",:") in IMPERATIVES]
    if len(commands) > 1 or len(re.findall(r"\.(?:\s|$)", words)) > 1:
        yield "more than one requirement in a paragraph"
    match = re.search(_NUMBER_WORD, words, re.IGNORECASE)
    if match:
        yield f"a number in words: `{match[0]}`"
    if not words.rstrip().endswith((".", ":")) and " " in words and len(sentences) > 1:
        yield "no full stop"


def _brands(words: str) -> Iterator[str]:
    # A capital inside a sentence is a name; names of products and companies have no place in a clause.
    for match in re.finditer(r"(?<![.:;]\s)(?<!^)(?<![\w/-])([A-Z][A-Za-z]+)", words):
        if match[1] not in NAMES:
            yield f"a name: `{match[1]}`"
    if re.search(r"[®™]", words):
        yield "a trademark sign"
