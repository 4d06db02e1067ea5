"""The rule book: a page a topic, made of the rule modules and the catalogue."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from itertools import groupby

from markup import facts, plain, table

from specgen.practice.entries import Practice
from specgen.rules.book import load_book
from specgen.rules.catalogue import RulePage, rule_page
from specgen.rules.papers import PAPER_BOOK

INDENTED = re.compile(r"^(Right|Wrong):\n\n((?:    .*\n?|\n)+)", re.MULTILINE)
PAPERS = "papers"
ABOUT: Mapping[str, str] = {
    "barrier": "The wall barrier behind the plaster.",
    "blocking": "Wood and substrate below the coping.",
    "climate": "What climate and code ask of layers.",
    "coping": "The metal cap, its joints, its cleat.",
    "drainage": "The drainage layer and its outlet.",
    "existing": "Walls that stand already, and their repair.",
    "hourly": "What the hour-by-hour study found.",
    "papers": "Waivers, answers, letters, products.",
    "paths": "Control layers as unbroken paths, and the order of work.",
    "penetrations": "Pipes, rails, and other holes.",
    "places": "Corners, ends, steps, joints.",
    "plaster": "Plaster, lath, beads, control joints.",
    "plausible": "Values that are likely slips.",
    "roof": "The roof membrane's turn-up.",
    "safety": "Fall protection and guards.",
    "scuppers": "Water off the roof through the parapet.",
    "top": "The flashing across the top.",
    "vapor": "Vapor that the sun drives inward.",
}


def rule_pages(practice: Practice) -> Iterator[tuple[str, str]]:
    """Path and text of every page, the list of all rules first."""
    entries = {entry.rule.code: (PAPERS, entry) for entry in PAPER_BOOK}
    entries |= {entry.rule.code: (entry.module.split(".")[2], entry) for entry in load_book(practice)}
    book = [(topic, rule_page(entry, practice)) for _, (topic, entry) in sorted(entries.items())]
    book.sort(key=lambda one: (one[0], one[1].code))
    yield "rules/index.md", _index(book)
    for topic, pages in groupby(book, lambda one: one[0]):
        yield f"rules/{topic}.md", _topic(topic, [page for _, page in pages])


def _index(book: list[tuple[str, RulePage]]) -> str:
    lines = [
        "# Rule book",
        "",
        f"{len(book)} rules. Each says what it looks at, what is right and wrong, why, and by whose authority.",
        "The same page stands on the terminal: `specgen rules CODE`.",
        "",
        "*Defect*: breaks a code or a condition the assembly depends on. *Risk*: departs from good practice.",
        "*Query*: someone must answer or confirm in writing. C, S, P and M behind a source are explained in the",
        "[glossary](../manual/glossary.md#status-of-a-source).",
        "",
    ]
    for topic, pages in groupby(book, lambda one: one[0]):
        lines += [f"## {topic.capitalize()} {{: #{topic} }}", "", ABOUT[topic], ""]
        rows = [
            (f"[{page.code}]({topic}.md#{page.code.lower()})", page.severity.value, plain(page.title))
            for _, page in pages
        ]
        lines += table(("Code", "Severity", "What it asks"), rows)
    return "\n".join(lines)


def _topic(topic: str, pages: list[RulePage]) -> str:
    lines = [f"# {topic.capitalize()}", "", ABOUT[topic], ""]
    for page in pages:
        lines += _rule(page)
    return "\n".join(lines)


def _rule(page: RulePage) -> Iterator[str]:
    yield f"## {page.code} {plain(page.name)} {{: #{page.code.lower()} }}"
    yield ""
    yield f"**{plain(page.title)}.**"
    yield ""
    yield facts(
        ("Severity", page.severity.value),
        ("Applies to", page.applies_to),
        ("Reason", page.reason),
        *(("Source", f"{one.source} (`{one.key}`)") for one in page.sources),
        ("Remedy", page.remedy),
        *(
            ("Option", f"{one.name} ({one.type}), default {one.default}: {one.wording}")
            for one in page.options
        ),
    )
    yield INDENTED.sub(_example, page.manual + "\n")
    yield ""


def _example(match: re.Match[str]) -> str:
    code = "\n".join(line[4:] for line in match[2].strip("\n").splitlines())
    return f'```yaml title="{match[1]}"\n{code}\n```\n\n'
