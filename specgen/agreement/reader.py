"""The reader: the finished files of an issue in, what contradicts what out."""

from __future__ import annotations

from collections.abc import Mapping

from specgen.agreement import asked, drawn, order
from specgen.agreement.counts import counts
from specgen.agreement.identity import identity
from specgen.agreement.issue import opened, read_pages
from specgen.agreement.page import Page
from specgen.agreement.statement import Contradiction, differing


def contradictions(files: Mapping[str, bytes]) -> tuple[Contradiction, ...]:
    """Everything in which the files of an issue do not agree, read from what they print.

    Args:
        files: each file's bytes by its name in the folder.
    """
    return among(read_pages(files))


def among(pages: tuple[Page, ...]) -> tuple[Contradiction, ...]:
    """The contradictions among the pages of an issue, each pair of statements once, in the order of the matters."""
    issue = opened(pages)
    rows, steps = list(asked.row_statements(issue)), list(order.steps(issue))
    found = [
        *differing("identity", identity(issue)),
        *differing("value", [*rows, *asked.paragraph_statements(issue), *asked.values_in_file(issue)]),
        *asked.held_to_paragraphs(issue),
        *asked.held_to_citations(issue),
        *asked.held_to_references(issue),
        *differing("order", [*steps, *order.owners(issue), *order.laps(issue)]),
        *order.out_of_order(issue, steps),
        *differing("count", counts(issue)),
        *drawn.forms(issue),
        *drawn.described_twice(issue),
        *drawn.steps_quoted(issue),
        *drawn.failing_sizes(issue),
        *drawn.drawn_against_stated(issue),
        *drawn.places(issue),
        *drawn.sides(issue),
        *differing("value", drawn.blanks(issue)),
        *drawn.folded(issue),
        *drawn.materials(issue),
    ]
    return tuple(dict.fromkeys(found))
