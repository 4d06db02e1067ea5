"""No silent pass: each entry of a worked example is taken away, or written `unknown`, and `check` tells it by its status.

What counts: an input error with its place and fix, a finding that makes the status 1 or 3, or a requirement that stands
for the value. Where nothing but a query or another quiet outcome comes of it, or nothing at all, a table says why a
practitioner accepts that. The whole sweep runs under ``SPECGEN_LONG=1``, a seeded sample always.
"""

from __future__ import annotations

import os
import random
from collections import Counter

import pytest

from tests import plain_yaml
from tests.chain.sweep.gone import CHANGES, TAKEN_AWAY, UNKNOWN, Entry, Loss, entries, losses
from tests.chain.sweep.lost import ANSWERS, QUIET, answer_to, every_loss, reasons
from tests.chain.sweep.seen import Example

LONG = os.environ.get("SPECGEN_LONG") == "1"
SEED = 20261129
SAMPLE = 24  # some four seconds, with the assessment they start from
QUICK = ("mixed-humid-midrise",)
Lost = tuple[Example, Loss, str]


@pytest.fixture(scope="module")
def answers() -> list[Lost]:
    """How each loss is told."""
    every = every_loss()
    if not LONG:
        every = tuple(one for one in every if one[0].name in QUICK and one[0].stated)
        every = tuple(random.Random(SEED).sample(every, SAMPLE))
    return [(example, loss, answer_to(example, loss)) for example, loss in every]


def explained(example: Example, loss: Loss) -> bool:
    return any(row.fits_at(example, loss.entry.field, loss.change) for row in reasons())


def test_what_is_lost_changes_the_status_or_has_a_reason(answers: list[Lost]) -> None:
    print(table(answers))
    bare = [
        f"{example.name}:{loss.id} ({answer})"
        for example, loss, answer in answers
        if answer in QUIET and not explained(example, loss)
    ]
    assert bare == [], "let a rule ask for it, or add the reason to losses.yaml"


def table(answers: list[Lost]) -> str:
    """How many losses of each kind are told in which way."""
    count = Counter((loss.change, answer) for _, loss, answer in answers)
    rows = [[change, *(str(count[change, answer]) for answer in ANSWERS)] for change in CHANGES]
    return "\n".join(" | ".join(row) for row in [["change", *ANSWERS], *rows])


def test_a_reason_fits_some_loss() -> None:
    every = [(example, loss.entry.field, loss.change) for example, loss in every_loss()]
    assert [row for row in reasons() if not any(row.fits_at(*one) for one in every)] == []


@pytest.mark.long
@pytest.mark.skipif(not LONG, reason="the whole sweep is wanted: SPECGEN_LONG=1")
def test_a_reason_is_still_needed(answers: list[Lost]) -> None:
    quiet = [(example, loss.entry.field, loss.change) for example, loss, answer in answers if answer in QUIET]
    assert [row for row in reasons() if not any(row.fits_at(*one) for one in quiet)] == []


def test_no_two_rows_give_a_reason_for_the_same() -> None:
    twice = Counter((row.field, row.change) for row in reasons() if not row.examples)
    assert [key for key, times in twice.items() if times > 1] == []


def test_every_entry_of_a_file_is_swept() -> None:
    assert len(every_loss()) > 4_500
    assert {loss.change for _, loss in every_loss()} == set(CHANGES)


FILE = """\
project: {name: mill, number: "2602"}  # a comment
types:
  wall:
    height: 3 ft
    build_up:
      - role: coping
        outer_drip: 1 1/2 in
      - {role: cleat, kind: continuous}
parapets:
  - name: P-1
    type: wall
    changes: {coping: {outer_drip: 2 in}}
    transitions:
      - between: [coping, cleat]
        lap: 2 in
"""


def found(field: str, text: str = "") -> Entry:
    return next(one for one in entries(FILE) if one.field == field and one.text.startswith(text))


@pytest.mark.parametrize(
    ("field", "text", "gone", "left"),
    [
        ("project.number", "", "project: {name: mill}  # a comment\n", "number: unknown}"),
        ("project.name", "", 'project: {number: "2602"}', "name: unknown, number"),
        ("coping.role", "", "      - \n        outer_drip", "- role: unknown\n"),
        ("coping.outer_drip", "1 1/2", "role: coping\n        \n", "outer_drip: unknown\n"),
        ("coping.outer_drip", "2 in", "changes: {coping: {}}", "{coping: {outer_drip: unknown}}"),
        ("cleat", "", "1 1/2 in\n      \nparapets", ""),
        ("parapet.name", "", "  - \n    type: wall", "- name: unknown\n"),
        ("transition", "", "transitions:\n      \n", ""),
        ("transition.between", "[", "      - \n        lap", "between: unknown\n"),
    ],
)
def test_one_entry_is_lost_and_each_line_stays_where_it_was(
    field: str, text: str, gone: str, left: str
) -> None:
    entry = found(field, text)
    for change, wanted in ((TAKEN_AWAY, gone), (UNKNOWN, left)):
        changed = Loss(entry, change).of(FILE)
        assert wanted in changed and changed.count("\n") == FILE.count("\n")
        plain_yaml.load(changed)
    assert entry.field in ("cleat", "transition") or entry.name
    assert {one.change for one in losses(FILE) if one.entry == entry} == (
        {TAKEN_AWAY, UNKNOWN} if entry.name else {TAKEN_AWAY}
    )
