"""Inputs that can be tried, their ranges, and what follows: the same as of a file that says so."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from specgen.assessment import Assessment
from specgen.design.changes import changes
from specgen.design.run import calculate_all, everyday
from specgen.design.uncertainty import doubts_of
from specgen.units.quantity import from_si, parse, to_unit
from specgen.work.inputs import read_inputs
from specgen.work.sensitivity import DOUBTFUL, EXPECTED, POSSIBLE, Slide, slides, tried_values
from specgen.work.trial import TrialError

FAULTY = Path("tests/stated/faulty-parapet")


@pytest.fixture(scope="module")
def assessed() -> Assessment:
    return read_inputs(FAULTY, None, False).assessed()


def of(assessed: Assessment, subject: str) -> dict[str, Slide]:
    return {one.path: one for one in slides(assessed, assessed.calculations["P-1"][subject])}


def test_a_doubtful_input_has_the_range_of_the_table(assessed: Assessment) -> None:
    found = of(assessed, "coping wind")
    wall = assessed.project.parapets[0]
    for doubt in doubts_of("coping wind", assessed.project, wall, assessed.practice):
        one = found[doubt.path]
        assert one.source == DOUBTFUL and one.narrow
        ends = [to_unit(from_si(end, doubt.dimension), one.stated.unit) for end in (doubt.low, doubt.high)]
        assert [one.low, one.high] == pytest.approx(ends)
    assert found["site.wind_speed"].stated.text == "115 mph"
    assert not found["practice.wind.effective_area"].writable and found["P-1.height"].writable


def test_another_has_what_is_expected_of_its_kind_or_what_can_be(assessed: Assessment) -> None:
    found = of(assessed, "cleat loads")
    spacing = found["P-1.cleat.fastener_spacing"]
    assert (spacing.source, spacing.low, spacing.high) == (EXPECTED, 2.0, 36.0)
    assert found["P-1.coping.outer_drip"].source == POSSIBLE and not found["P-1.coping.outer_drip"].narrow


def test_every_slide_goes_through_its_range_in_small_steps(assessed: Assessment) -> None:
    every = [one for name in everyday(assessed.project.parapets) for one in of(assessed, name).values()]
    assert len(every) > 30
    for one in every:
        assert one.low <= one.stated.number <= one.high
        assert 100 <= (one.high - one.low) / one.step < 1001
        assert one.near(one.stated.number) == one.stated.number
        assert one.low - one.step <= one.near(one.low - 1e9) <= one.near(1e9) <= one.high + one.step
        assert parse(one.words(one.stated.number), {one.stated.dimension}).value == pytest.approx(
            one.stated.value
        )


def test_what_follows_is_what_a_new_assessment_finds(assessed: Assessment) -> None:
    calculation = assessed.calculations["P-1"]["coping wind"]
    found = tried_values(assessed, calculation, {"P-1.height": "60 in"})
    project = assessed.project
    walls = tuple(
        replace(one, values={**one.values, "height": parse("60 in")}) if one.name == "P-1" else one
        for one in project.parapets
    )
    anew = assessed.again(replace(project, parapets=walls))
    names = everyday(project.parapets)
    before, after = ([one.calculations["P-1"][name] for name in names] for one in (assessed, anew))
    assert found.results == changes(before, after, assessed.system) != ()
    standing = {(one.code, one.message) for one in anew.findings if one.counts and one.parapet == "P-1"}
    new = {(one.after.code, one.after.message) for one in found.findings if one.after}
    assert new <= standing
    assert any(one.subject == "coping wind" for one in found.results)


def test_a_number_of_the_trade_is_tried_too(assessed: Assessment) -> None:
    calculation = assessed.calculations["P-1"]["coping wind"]
    found = tried_values(assessed, calculation, {"practice.wind.effective_area": "20 ft2"})
    project, practice = assessed.project, assessed.practice
    entry = practice.entry("wind.effective_area")
    other = replace(practice, entries={**practice.entries, entry.key: replace(entry, value=parse("20 ft2"))})
    wanted = calculate_all(assessed.stages[-1].memo.project, other, ["coping wind"], ["P-1"])
    own = [one for one in found.results if one.subject == "coping wind"]
    assert own == list(changes([calculation], wanted, project.system)) != []


@pytest.mark.parametrize(
    ("path", "words", "message"),
    [
        ("P-1.height", "tall", "`P-1.height=tall`: "),
        ("P-1.hight", "36 in", "did you mean `height`"),
        ("P-9.height", "36 in", "no component `P-9`"),
        ("P-1.height", "", "write path=value"),
    ],
)
def test_what_cannot_stand_there_is_refused(
    assessed: Assessment, path: str, words: str, message: str
) -> None:
    calculation = assessed.calculations["P-1"]["coping wind"]
    with pytest.raises(TrialError, match=re.escape(message)):
        tried_values(assessed, calculation, {path: words})
