"""The page of the thirteen sets of facts: ``python -m tests.propose.table`` writes ``docs/proposals.md``.

Times are of the machine that wrote the page; everything else is the same wherever it is written.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from math import fsum
from pathlib import Path
from time import perf_counter

from specgen.propose.proposals import MOST_LEFT
from specgen.propose.result import Proposed
from specgen.propose.search import Count, search_blocks, walls_in
from specgen.work.inputs import read_inputs
from specgen.work.proposals import propose
from tests.propose.sets import FOLDER, SETS, proposer

PAGE = Path(__file__).parents[2] / "docs" / "proposals.md"
MOST_REASONS = 8
TIME = re.compile(r"[\d.,]+ s\b|[\d,]+ a second")


def head(name: str) -> str:
    """What a set is of, as its file says."""
    return (FOLDER / f"{name}.yaml").read_text("utf-8").splitlines()[0].removeprefix("# ")


def lines(name: str, found: Proposed, rate: str) -> Iterator[str]:
    """The section of one set."""
    yield f"## {name}"
    yield ""
    yield f"{head(name)} `tests/propose/facts/{name}.yaml`"
    yield ""
    yield (
        f"{found.walls_possible:,} walls; {found.walls_left:,} left by chemistry, laps, and order of work; "
        f"{found.walls_assessed:,} assessed; {len(found.walls)} on the front; {found.seconds:.1f} s, {rate}"
    )
    yield ""
    yield from _front(found)
    yield "| why the others fell | walls |"
    yield "|---|---|"
    for reason, count in list(found.fallen.items())[:MOST_REASONS]:
        yield f"| {reason} | {count:,} |"
    results = {reason: count for reason, count in found.fallen.items() if reason.startswith("result:")}
    for reason, count in results.items():
        if reason not in list(found.fallen)[:MOST_REASONS]:
            yield f"| {reason} | {count:,} |"
    yield ""


def _front(found: Proposed) -> Iterator[str]:
    if not found.walls:
        yield "No wall fits."
        for one in found.give_up:
            yield f"Give up `{'` and `'.join(one.facts)}`; then a wall fits: {one.then}."
        yield ""
        return
    yield f"| | {' | '.join(wall.name for wall in found.walls)} |"
    yield f"|---|{'---|' * len(found.walls)}"
    for place, reason in enumerate(found.walls[0].reasons):
        yield f"| {reason.choice} | {' | '.join(wall.reasons[place].option for wall in found.walls)} |"
    for place, measure in enumerate(found.walls[0].measures):
        yield f"| {measure.title} | {' | '.join(wall.measures[place].text for wall in found.walls)} |"
    yield ""
    unknown = dict.fromkeys(words for wall in found.walls for words in wall.open_facts)
    yield from (f"- unknown: {words}" for words in unknown)
    asked = dict.fromkeys(words for wall in found.walls for words in wall.questions)
    yield from (f"- question: {words}" for words in asked)
    if unknown or asked:
        yield ""


def section(name: str) -> str:
    """The section of one set, proposed anew."""
    path = FOLDER / f"{name}.yaml"
    before = fsum(os.times()[:4])
    found = propose(read_inputs(path, None, False)).proposed
    spent = f"{fsum(os.times()[:4]) - before:.1f} s of processor time in all processes."
    return "\n".join(lines(name, found, f"{spent} {pruned(name, found.letters)}"))


def pruned(name: str, letters: int) -> str:
    """How fast the search alone is, the making of its constraints included: the base is assessed before."""
    here = proposer(name)
    assert here.bench
    started = perf_counter()
    count = Count(walls_in(here.offers.choices))
    left = search_blocks(here.offers.choices, here.constraints, letters + 1, count, MOST_LEFT)
    seconds = perf_counter() - started
    every = count.looked_at + sum(map(len, left.blocks))
    return f"The search alone looked at {every:,} options, {every / seconds:,.0f} a second."


def page() -> str:
    """The whole page."""
    intro = [
        "# Proposed walls for thirteen sets of facts",
        "",
        "Written by `python -m tests.propose.table`. Each set is a project file that states the site, the building, the",
        "size of the parapet, and the wall behind it; `specgen propose` searches the rest. Times are of the machine that",
        "wrote this page, two cores shared with other work; all else is the same on each. A wall that several reasons",
        "exclude is counted at the first.",
        "",
    ]
    return "\n".join([*intro, *(section(name) for name in SETS)]).rstrip() + "\n"


def without_times(text: str) -> str:
    """A page without what hangs on the machine."""
    return TIME.sub("", text)


if __name__ == "__main__":
    PAGE.write_text(page(), "utf-8")
