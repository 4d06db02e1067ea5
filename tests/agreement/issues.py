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
    return issue_of(REPO / "tests" / "stated" / example)


@cache
def found_in(example: str) -> tuple[Contradiction, ...]:
    """What the issue of a worked example contradicts itself in."""
    return contradictions(written(example))


def issue_of(project: Path) -> dict[str, bytes]:
    """The files that ``write`` makes of a project."""
    with TemporaryDirectory() as folder:
        done = run("write", project, "-o", Path(folder) / "out", "--with-open-points")
        assert done.status in (0, 1, 3), done.err
        return contents(Path(folder) / "out")
