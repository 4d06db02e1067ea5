"""Whatever is printed beside a limit tells what the judge tells: a failing value never reads as the limit."""

from __future__ import annotations

import re
import tempfile
from collections.abc import Callable, Mapping
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from specgen.model.finding import Outcome
from specgen.model.submission import Claim, Result
from specgen.practice.load import load_practice
from specgen.practice.nominal import paired
from specgen.requirements.judge import holds
from specgen.review.judge import judged
from specgen.sections.words import requirement_words
from specgen.units.compare import deciding, keeps
from specgen.units.quantity import Quantity, parse, row_of
from specgen.units.show import read_back, show_beside
from tests.rules import cases

Build = Callable[[float], Mapping[str, Any]]
PRIMARY = {"name": "S-1", "use": "primary", "width": "6 in", "height": "4 in", "area_served": "400 ft2"}


def _overflow(short: float) -> Mapping[str, Any]:
    other = {"name": "S-2", "use": "overflow", "width": f"{18 - short:.6f} in", "height": "4 in"}
    return {"parapet": {"scuppers": [PRIMARY, other]}}


# How far below (or above) the limit; the words around value and limit; the comparison.
WALLS: Mapping[str, tuple[Build, str, str]] = {
    "RT08": (
        lambda short: {
            "building": {"reroof_height": f"{4 + short:.6f} in", "guard": "by railing"},
            "parts": {"base flashing": {"height": "12 in"}},
        },
        r"leaves (.+?); asked for: at least (.+)", "at least",
    ),
    "RT09": (
        lambda over: {
            "parapet": {"height": "42 in"},
            "parts": {"base flashing": {"height": f"{29 - over:.6f} in"}, "coping": {"inner_leg": "3 in"}},
        },
        r"is (.+?) high, more than (.+)", "at most",
    ),
    "SF01": (
        lambda short: {
            "parapet": {"fire_rated": True, "wall_fire_rating": "1 h", "fire_rating": "1 h"},
            "parts": {"base flashing": {"height": f"{24 + short:.6f} in"}},
        },
        r"the uppermost (.+?) on the roof side are .+ at least (.+)", "at least",
    ),
    "SC03": (_overflow, r"have (.+?) times the area .+ at least (.+)", "at least"),
    "CP18": (
        lambda over: {"parapet": {"thickness": f"{7.8125 - over:.6f} in"}},
        r"stated (?P<limit>.+?) thick; its layers are (?P<value>.+?) together", "at most",
    ),
}  # fmt: skip


def _numbers(words: str, dimension: str) -> tuple[Quantity, ...]:
    """The numbers of a printed value, the one in brackets behind it."""
    dimensions = {dimension} | ({"number", "ratio"} if dimension == "number" else set())
    return tuple(
        read_back(one, dimensions)
        for one in re.fullmatch(r"([^()]+?)(?: \((.+)\))?", words).groups()
        if one  # type: ignore[union-attr]
    )


def reads_as(value: str, comparison: str, limit: str, dimension: str) -> bool:
    """Whether a reader who compares what is printed in one language of units finds the limit kept."""
    pairs = [
        (a, b)
        for a in _numbers(value, dimension)
        for b in _numbers(limit, dimension)
        if row_of(a).system == row_of(b).system
    ]
    return any(keeps(a, comparison, b) for a, b in pairs)


@pytest.mark.parametrize("system", ["inch-pound", "SI"])
@pytest.mark.parametrize("code", WALLS)
@settings(max_examples=12, deadline=None)
@given(off=st.sampled_from([0.5, 0.05, 0.004, 0.0006, 0.00005, 0.000002]))
@example(off=0.000001)
def test_a_failing_value_of_a_rule_never_reads_as_its_limit(code: str, system: str, off: float) -> None:
    build, words, comparison = WALLS[code]
    with tempfile.TemporaryDirectory() as folder:
        project = cases.load(build(off), Path(folder))
    info = replace(project.info, values={**project.info.values, "units": system})
    messages = [
        one.message
        for one in cases.findings_of(replace(project, info=info))
        if one.code == code and one.outcome is Outcome.FAIL and re.search(words, one.message)
    ]
    assert messages, "the rule does not fail"
    found = re.search(words, messages[0])
    assert found is not None
    value, limit = (found["value"], found["limit"]) if "limit" in found.groupdict() else found.groups()
    dimension = "number" if code == "SC03" else "length"
    assert value != limit
    assert not reads_as(value, comparison, limit, dimension), messages[0]


_NUMBER = r"[\d ./]+(?:in|mm|ft|m)\b"
_SIZE = rf"{_NUMBER}(?: \({_NUMBER}\))?"
LIMITS = ("12 in", "10 ft", "3/8 in", "1 in", "8 in", "100 mm", "0.050 in", "4 in")


@given(
    st.sampled_from(LIMITS),
    st.sampled_from(["at least", "at most"]),
    st.sampled_from(["in", "mm"]),
    st.sampled_from([0, 1, -1, 2, -7, 40, -300, 1270, -6000]),
    st.sampled_from(["inch-pound", "SI"]),
)
def test_a_value_beside_its_limit_reads_as_it_is_judged(
    written: str, comparison: str, unit: str, ten_thousandths: int, system: str
) -> None:
    limit = paired(parse(written))
    number = limit.exact / Fraction("0.0254" if unit == "in" else "0.001") + Fraction(ten_thousandths, 10000)
    value = parse(f"{float(number):.9g} {unit}")
    printed, beside = show_beside(value, comparison, limit, system)
    met = deciding(value, comparison, limit) is not None
    assert met or printed != beside
    readings = [
        keeps(a, comparison, b) for a in _numbers(printed, "length") for b in _numbers(beside, "length")
        if met or row_of(a).system == row_of(b).system
    ]  # fmt: skip
    assert any(readings) is met, (printed, beside)


@settings(max_examples=60, deadline=None)
@given(
    name=st.sampled_from(["turnup.height", "cleat.fastener_spacing", "coping.outer_drip", "drainage.depth"]),
    unit=st.sampled_from(["in", "mm"]),
    off=st.integers(-30, 30),
    system=st.sampled_from(["inch-pound", "SI"]),
)
def test_a_failing_verdict_never_reads_as_the_limit(name: str, unit: str, off: int, system: str) -> None:
    requirement = replace(_asked(system)[name])
    limit = requirement.limit
    assert isinstance(limit.stated, Quantity)
    number = limit.stated.exact / Fraction("0.0254" if unit == "in" else "0.001") + Fraction(off, 100)
    claim = Claim(parse(f"{float(number):.9g} {unit}"), requirement.method, "test report", _mark())
    found = judged(requirement, claim, load_practice(), system)
    assert (found.result is Result.MEETS) is holds(claim.value, limit)
    if found.result is Result.FAILS:
        value, _, wanted = found.reason.partition("; wanted: ")
        limit_text = re.match(rf"(?:at least|not more than) ({_SIZE})", wanted)
        value_text = re.match(_SIZE, value)
        assert limit_text and value_text, found.reason
        assert not reads_as(value_text[0], limit.comparison, limit_text[1], "length"), found.reason


def _asked(system: str) -> Mapping[str, Any]:
    if system not in _ASKED:
        with tempfile.TemporaryDirectory() as folder:
            project = cases.load({}, Path(folder))
        info = replace(project.info, values={**project.info.values, "units": system})
        done = cases.assess(replace(project, info=info), load_practice())
        _ASKED[system] = {one.name: one for one in done.requirements.by_id.values()}
    return _ASKED[system]


_ASKED: dict[str, Mapping[str, Any]] = {}


def _mark() -> Any:
    with tempfile.TemporaryDirectory() as folder:
        return cases.load({}, Path(folder)).parapets[0].mark


def test_a_stricter_printed_limit_carries_the_value_as_set() -> None:
    practice, names = load_practice(), ("cleat.fastener_spacing", "turnup.height")
    words = {
        system: [requirement_words(_asked(system)[name], practice, system) for name in names]
        for system in ("SI", "inch-pound", "both")
    }
    assert words["SI"] == ["not more than 300 mm (12 in)", "at least 1020 mm (40 in)"]
    assert words["inch-pound"] == ["not more than 12 in", "at least 40 in"]
    assert words["both"] == ["not more than 12 in (300 mm)", "at least 40 in (1020 mm)"]
