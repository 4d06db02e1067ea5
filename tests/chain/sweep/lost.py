"""What `check` tells of a project file from which one entry was taken, or in which one value is written `unknown`."""

from __future__ import annotations

import tempfile
from collections import Counter
from functools import lru_cache
from pathlib import Path

from specgen.assessment import Assessment
from specgen.files.marks import InputError
from specgen.intake.project import load_project
from specgen.model.finding import Finding, Outcome
from tests.chain.runs import REPO
from tests.chain.sweep.gone import CHANGES, Loss, losses
from tests.chain.sweep.seen import Example, Reason, examples, read_reasons

REASONS = Path(__file__).parent / "losses.yaml"
ERROR, STATUS, SPECIFIED, QUERY, OTHERWISE, SILENT = (
    "input error",
    "status 1 or 3",
    "specified",
    "query",
    "another outcome",
    "silent",
)
ANSWERS = (ERROR, STATUS, SPECIFIED, QUERY, OTHERWISE, SILENT)
QUIET = (QUERY, OTHERWISE, SILENT)  # these need a reason


def answer_to(example: Example, loss: Loss) -> str:
    """How a loss is told.

    Returns:
        An input error that names the place and the fix; a finding that is open or failed, and was not there before,
        so that the exit status tells it; specified, where the limit of a requirement stands for the value; a query;
        another outcome of a rule; silent, where every outcome is what it was.
    """
    before = example.before
    example.write(loss.of(example.text))
    try:
        project = load_project(example.scratch, before.shipped)
    except InputError as error:
        for one in error.problems:
            assert one.mark.line and one.message and one.fix.strip().rstrip(":"), (loss.id, str(one))
        return ERROR
    after = before.again(project)
    was, now = _outcomes(before), _outcomes(after)
    new = [one for one in after.findings if (now - was)[_key(one)]]
    if any(one.open or one.failed for one in new):
        return STATUS
    if any(one.outcome is Outcome.SPECIFIED for one in new):
        return SPECIFIED
    if any(one.outcome is Outcome.FAIL for one in new):
        return QUERY
    return OTHERWISE if was != now else SILENT


def _key(one: Finding) -> tuple[str, ...]:
    return one.code, one.parapet, one.layer, one.attribute, one.word


def _outcomes(one: Assessment) -> Counter[tuple[str, ...]]:
    return Counter(_key(finding) for finding in one.findings)


@lru_cache(maxsize=1)
def every_loss() -> tuple[tuple[Example, Loss], ...]:
    """Every loss of every entry of every example: as it is fully stated, and as it ships where that is another file."""
    stated = examples()
    texts = {example.text for example in stated}
    ships = (Example(file, Path(tempfile.mkdtemp())) for file in sorted(REPO.glob("projects/*/project.yaml")))
    every = (*stated, *(one for one in ships if one.text not in texts))
    return tuple((example, loss) for example in every for loss in losses(example.text))


@lru_cache(maxsize=1)
def reasons() -> tuple[Reason, ...]:
    """The table of reasons, a row for each field and change."""
    return read_reasons(REASONS, CHANGES)
