"""One value of a worked example slips: `check` tells it, or a table says why it need not.

The slips are those of a hand: zero, the sign, a factor of a thousand or of a unit, the unit left out, the value of the
next line, the value of the project that was copied. The whole sweep runs under ``SPECGEN_LONG=1``, a seeded sample
always.
"""

from __future__ import annotations

import os
import random
from collections import Counter

import pytest

from tests.chain.sweep.seen import ANSWERS, SILENT, Example, Reason, every_slip, examples, reasons
from tests.chain.sweep.values import KINDS, Scalar, Slip, scalars, slips

LONG = os.environ.get("SPECGEN_LONG") == "1"
SEED = 20261128
SAMPLE = 160  # some ten seconds, with the assessments they start from


def swept() -> list[tuple[Example, Slip]]:
    """The slips that are tried; of the file a new project starts with and of one other, where not all are."""
    every = every_slip()
    if LONG:
        return list(every)
    quick = {"new", "marine-library", "mixed-humid-midrise"}
    return random.Random(SEED).sample([one for one in every if one[0].name in quick], SAMPLE)


@pytest.fixture(scope="module")
def answers() -> list[tuple[Example, Slip, str]]:
    """How each slip is told."""
    return [(example, slip, example.answer_to(slip)) for example, slip in swept()]


def explained(example: Example, slip: Slip) -> bool:
    return any(row.fits(example, slip) for row in reasons())


def test_a_slip_is_told_or_has_a_reason(answers: list[tuple[Example, Slip, str]]) -> None:
    print(table(answers))
    bare = [
        f"{example.name}:{slip.id}"
        for example, slip, answer in answers
        if answer == SILENT and not explained(example, slip)
    ]
    assert bare == [], "let a rule or a range tell it, or add the reason to reasons.yaml"


def table(answers: list[tuple[Example, Slip, str]]) -> str:
    """How many slips of each kind are told in which way."""
    columns = (*ANSWERS[:-1], "silent with reason", "silent without")
    count: Counter[tuple[str, str]] = Counter()
    for example, slip, answer in answers:
        with_reason = f"silent {'with reason' if explained(example, slip) else 'without'}"
        count[slip.change, with_reason if answer == SILENT else answer] += 1
    rows = [[kind, *(str(count[kind, column]) for column in columns)] for kind in KINDS]
    return "\n".join(" | ".join(row) for row in [["change", *columns], *rows])


def test_a_reason_fits_some_slip() -> None:
    idle = [row for row in reasons() if not any(row.fits(*one) for one in every_slip())]
    assert idle == []


@pytest.mark.long
@pytest.mark.skipif(not LONG, reason="the whole sweep is wanted: SPECGEN_LONG=1")
def test_a_reason_is_still_needed(answers: list[tuple[Example, Slip, str]]) -> None:
    silent = [(example, slip) for example, slip, answer in answers if answer == SILENT]
    idle = [row for row in reasons() if not any(row.fits(*one) for one in silent)]
    assert idle == []


def test_no_two_rows_give_a_reason_for_the_same() -> None:
    """Else one of them would hide that the other is no longer needed."""
    twice = Counter((row.field, row.change) for row in reasons() if not row.examples)
    assert [key for key, times in twice.items() if times > 1] == []


def test_every_value_of_a_file_is_swept() -> None:
    values = [one for example in examples() for one in example.scalars]
    assert len(values) > 1_900
    assert len(every_slip()) > 6_500
    numbers = {slip.scalar for _, slip in every_slip() if slip.change in ("x1000", "zero")}
    bare = [
        one.field
        for one in values
        if one.text[:1] in "123456789" and one.type not in ("date", "") and one not in numbers
    ]
    assert set(bare) <= {"site.climate_zone"}, "a number that no slip changes"


FILE = """\
project: {number: "2602", issue_date: 2026-11-02}
site: {temp_winter: -5 degF, temp_months: "20, 24 degF"}
types:
  wall:
    height: 3 ft
    build_up:
      - role: coping
        outer_drip: 1 1/2 in
        slope: 4 %
parapets:
  - {name: P-1, type: wall, changes: {coping: {outer_drip: 2 in}}}
"""


def test_scalars_know_their_fields() -> None:
    found = {one.text: one for one in scalars(FILE)}
    assert found["2 in"].field == found["1 1/2 in"].field == "coping.outer_drip"
    assert found["3 ft"].field == "parapet.height" and found["3 ft"].line == 5
    assert found["3 ft"].type == found["2 in"].type == "length"
    assert found["P-1"].field == "parapet.name"


def test_slips_of_a_hand() -> None:
    other = scalars(FILE.replace("4 %", "6 %"))
    made = {(one.scalar.text, one.change): one for one in slips(scalars(FILE), other)}
    assert made["1 1/2 in", "x25.4"].text == "38.1 in"
    assert made["-5 degF", "sign changed"].text == "5 degF"
    assert made["4 %", "unit removed"].text == "4"
    assert made["1 1/2 in", "neighbor's value"].text == "2 in"
    assert made["4 %", "another project's value"].text == "6 %"
    assert made['"20, 24 degF"', "unit removed"].text == '"20, 24"'
    assert "outer_drip: 38.1 in\n" in made["1 1/2 in", "x25.4"].of(FILE)


def test_a_silent_slip_without_a_row_is_bare() -> None:
    example = examples()[0]
    slip = Slip(Scalar("coping", "", "outer_drip", "length", "1 in", 1, 0, 4), "zero", "0 in")
    assert not Reason("coping.*", "x1000", "why").fits(example, slip)
    assert not Reason("coping.*", "zero", "why", ("new",)).fits(example, slip)
    assert Reason("coping.*", "zero", "why").fits(example, slip)
