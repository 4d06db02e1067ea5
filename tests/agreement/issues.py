"""Issues as they are written, and what the reader says of them."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

from specgen.agreement.reader import contradictions
from specgen.agreement.statement import Contradiction
from tests.agreement.walls import REPO
from tests.chain.runs import contents, run


@cache
def written(example: str) -> dict[str, bytes]:
    """The files of the issue of a worked example."""
    return issue_of(REPO / "projects" / example)


@cache
def found_in(example: str) -> tuple[Contradiction, ...]:
    """What the issue of a worked example contradicts itself in."""
    return contradictions(written(example))


def issue_of(project: Path) -> dict[str, bytes]:
    """The files that ``write`` makes of a project."""
    with TemporaryDirectory() as folder:
        done = run("write", project, "-o", Path(folder) / "out")
        assert done.status in (0, 1, 3), done.err
        return contents(Path(folder) / "out")


# What the documents contradict themselves in today, and who mends it: each line goes with its cause.
WAITING = {
    "order": "the clauses of 09 24 00 start after the barrier and set the weep screed before it",
    "late": "hold points measure the temperature of application after the application",
    "roof": "clearance above the roof is asked of a weep screed drawn below it",
    "zinc": "06 10 00 galvanizes stainless steel",
    "counts": "the report counts a finding once, the manual at each parapet",
    "failing": "drawings show a size that fails without saying so",
}


def waits_for(one: Contradiction) -> str:
    """The key of what a known contradiction waits for; empty for any other."""
    if one.kind == "order" and "weep screed" in one.about and "barrier" in one.about:
        return "order"
    if one.kind == "order" and one.about.startswith("application of "):
        return "late"
    if one.kind == "place" and "drawn below the roof" in one.other.text:
        return "roof"
    if "galvaniz" in one.other.text and "stainless steel" in one.other.text:
        return "zinc"
    if one.about in ("number of defects", "number of risks", "number of queries"):
        return "counts"
    return "failing" if one.kind == "size" else ""
