"""The linter of clause language: what a contractor could not act on, or a lawyer could read twice."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from specgen.files.marks import Mark
from specgen.sections.clause_file import Clause, ClauseBook

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
    "accept", "add", "align", "allow", "anchor", "apply", "ask", "bed", "bend", "block", "bond",
    "break", "bring", "build", "butt", "carry", "cast", "check", "clean", "clear", "close",
    "coordinate", "correct", "cover", "cure", "cut", "dam", "deliver", "distribute", "do", "drain",
    "drive", "embed", "end", "engage", "enlarge", "examine", "extend", "fasten", "fill", "finish",
    "fix", "flash", "form", "frame", "fur", "furnish", "hang", "hem", "hold", "hook", "include",
    "install", "insulate", "join", "keep", "lap", "lay", "leave", "lift", "limit", "line", "locate",
    "make", "mark", "measure", "name", "notify", "number", "obtain", "open", "order", "paint", "patch",
    "place", "point", "position", "pour", "press", "prime", "probe", "propose", "protect", "provide",
    "pull", "recoat", "reinforce", "remove", "repair", "repeat", "replace", "report", "restore", "roll",
    "round", "rout", "run", "sand", "saturate", "score", "scrape", "seal", "separate", "set", "shade",
    "shim", "slope", "soak", "space", "spray", "stack", "stagger", "stand", "start", "step", "stop",
    "store", "stretch", "strip", "submit", "support", "test", "tie", "tighten", "tool", "treat", "turn",
    "uncover", "use", "vent", "verify", "wait", "weld", "wet", "wire", "wrap",
)  # fmt: skip
NAMES = (
    "ASTM", "ANSI", "SPRI", "FM", "ES", "ASCE", "AWPA", "IBC", "IRC", "IECC", "ISO", "NFPA", "AAMA",
    "CSA", "DOC", "PS", "Section", "Sections", "Part", "Article", "Articles", "Paragraph", "Paragraphs",
    "Drawings", "Architect", "Contractor", "Owner", "Work", "Annex", "TPO", "PVC", "EPDM", "SBS",
    "KEE", "PMMA",
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


def lint_book(book: ClauseBook) -> tuple[Remark, ...]:
    """Every remark on every clause."""
    return tuple(
        remark for section in book.sections for clause in section.clauses() for remark in _of_clause(clause)
    )


def _of_clause(clause: Clause) -> Iterator[Remark]:
    for source in (clause.text.source, clause.item.source if clause.item else "", clause.document):
        for message in lint_text(re.sub(r"\{\{.*?\}\}|\{%.*?%\}", "x", source)):
            yield Remark(clause.mark, clause.key, message)


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
    for item in listed:
        if re.search(rf"(?<!\w){re.escape(item)}(?!\w)", words, re.IGNORECASE):
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
