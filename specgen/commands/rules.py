"""specgen rules: the catalogue, printed from the rule modules."""

from __future__ import annotations

import sys
from collections.abc import Iterable
from dataclasses import dataclass

import click

from specgen.commands.common import CLEAN, echo_json, exits
from specgen.commands.options import FORMAT, completed
from specgen.commands.terminal import columns, print_text
from specgen.commands.unusable import WordError
from specgen.files.marks import near
from specgen.practice.load import load_practice
from specgen.rules.book import load_book
from specgen.rules.catalogue import Described, RulePage, rule_page, rule_sheet
from specgen.rules.papers import PAPER_BOOK


@dataclass(frozen=True)
class Catalogue:
    """What is printed as data of all rules."""

    rules: tuple[RulePage, ...]


@click.command()
@click.argument("code", required=False, shell_complete=completed("rules"))
@FORMAT
@exits
def command(code: str | None, form: str) -> int:
    """Print the rule catalogue, or with CODE one rule: reason, options, sources, examples.

    Exit status: 0 printed, 2 there is no such rule.
    """
    practice = load_practice()
    entries: list[Described] = [*load_book(practice), *PAPER_BOOK]
    book = {entry.rule.code: entry for entry in sorted(entries, key=lambda entry: entry.rule.code)}
    if code is None:
        if form == "json":
            echo_json(Catalogue(tuple(rule_page(one, practice) for one in book.values())))
        else:
            for one in book.values():
                rule = one.rule
                print_text(f"{rule.code}  {rule.severity.value:<7} {rule.title}")
        return CLEAN
    entry = book.get(code.upper())
    if entry is None:
        guess = meant(code, book)
        hint = f"did you mean `{guess}`?" if guess else "list them: specgen rules"
        raise WordError([f"no rule `{code}`; {hint}"])
    if form == "json":
        echo_json(rule_page(entry, practice))
    else:
        sheet = rule_sheet(entry, practice)
        print_text(refilled(sheet) if columns(sys.stdout) else sheet)
    return CLEAN


def refilled(sheet: str) -> str:
    """A sheet whose paragraphs stand on one line each, for a terminal to wrap; heading, facts and examples stay.

    >>> refilled("WB01 bonded\\n\\nseverity: defect\\n\\nLooks for\\na barrier.\\n\\n    - role: barrier\\n      kind: x")
    'WB01 bonded\\n\\nseverity: defect\\n\\nLooks for a barrier.\\n\\n    - role: barrier\\n      kind: x'
    """
    heading, facts, *blocks = sheet.split("\n\n")
    kept = [
        one if any(line[:1] in " -" for line in one.split("\n")) else " ".join(one.split("\n"))
        for one in blocks
    ]
    return "\n\n".join([heading, facts, *kept])


def meant(code: str, codes: Iterable[str]) -> str:
    """The code that was most likely meant, or "": a zero left out or a letter for a digit is set right first.

    >>> meant("wb1", ["WB01", "WB10"]), meant("WBO1", ["WB01", "WB10"]), meant("WC01", ["WB01", "CP09"])
    ('WB01', 'WB01', 'WB01')
    """
    known = tuple(codes)
    word = code.upper()
    repaired = word[:2] + word[2:].translate(str.maketrans("OIL", "011")).zfill(2)
    return repaired if repaired in known else near(word, known)
