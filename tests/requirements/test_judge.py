"""When a value meets a limit: at the boundary, in mixed units, for words and lists, and for values of another kind."""

from __future__ import annotations

import math
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.model.project import Stated
from specgen.model.requirement import Limit, Origin, Requirement
from specgen.model.source import Source, Status
from specgen.practice.entries import Practice
from specgen.practice.load import load_practice
from specgen.practice.methods import MAKERS_WORD, Edition
from specgen.practice.nominal import paired
from specgen.requirements.judge import OtherEdition, Standing, judge, meets, proven
from specgen.units.compare import at_least, at_most
from specgen.units.quantity import from_si, parse, to_unit


@pytest.mark.parametrize(
    ("comparison", "limit", "value", "met"),
    [
        ("at least", "8 in", "8 in", True),
        ("at least", "8 in", "203.2 mm", True),
        ("at least", "203.2 mm", "8 in", True),
        ("at least", "8 in", "203.1999 mm", False),
        ("at least", "3/16 in", "4.7625 mm", True),
        ("at least", "3/16 in", "4.762 mm", False),
        ("at least", "3/16 in", "0.1875 in", True),
        ("at least", "1 ft", "12 in", True),
        ("at least", "18 ft", "6 yd", True),
        ("at least", "240 degF", "115.5555555556 degC", True),
        ("at least", "240 degF", "115 degC", False),
        ("at least", "-40 degF", "-40 degC", True),
        ("at least", "16 psi", "110.3161 kPa", False),
        ("at least", "16 psi", "110.4 kPa", True),
        ("at least", "90 %", "0.9", True),
        ("at least", "90 %", "89.999 %", False),
        ("at least", "1/4 in/ft", "1:48", True),
        ("at least", "1/4 in/ft", "2 %", False),  # 2 % is less than 1/4 in 12
        ("at most", "0.004 cfm/ft2 @ 75 Pa", "0.004 cfm/ft2", True),  # the condition is judged apart
        ("at most", "0.004 cfm/ft2", "0.02032 L/(s·m2)", True),
        ("at most", "0.004 cfm/ft2", "0.0204 L/(s·m2)", False),
        ("at most", "0.1 perm", "0.1 perm", True),
        ("at most", "0.1 perm", "5.7213 ng/(Pa·s·m2)", True),
        ("at most", "0.1 perm", "5.73 ng/(Pa·s·m2)", False),
        ("at most", "144 ft2", "13.378 m2", True),
        ("at most", "144 ft2", "13.38 m2", False),
        ("at most", "240 degF", "115.5555555556 degC", False),  # a third of a degree has no last digit
        ("at most", "1/4 in/ft", "1:48", True),
        ("at least", "1/3 ft", "4 in", True),
        ("is", "1/3 ft", "4 in", True),
        ("at most", "240 degF", "115.556 degC", False),
        ("at most", "2.5", "2.5", True),
        ("at most", "2.5", "2.51", False),
        ("is", "2", "2", True),
        ("is", "1 in", "25.4 mm", True),
        ("is", "1 in", "25.41 mm", False),
        ("at least", "0 in", "0 in", True),
        ("at most", "0 in", "0.001 in", False),
    ],
)
def test_quantities(comparison: Any, limit: str, value: str, met: bool) -> None:
    held = parse(limit)
    assert meets(parse(value, {held.dimension}), comparison, held) is met


@pytest.mark.parametrize(
    ("comparison", "limit", "value", "met"),
    [
        ("is", "copper", "copper", True),
        ("is", "copper", "Copper", False),
        ("is", True, True, True),
        ("is", True, False, False),
        ("is", True, 1, False),
        ("is", 1, True, False),
        ("is", 2, 2, True),
        ("one of", ("fully adhered", "fluid-applied"), "fluid-applied", True),
        ("one of", ("fully adhered", "fluid-applied"), "loose", False),
        ("one of", ("fully adhered",), "fully", False),
        ("includes", ("TPO", "butyl"), ("butyl", "TPO"), True),
        ("includes", ("TPO", "butyl"), ("EPDM", "TPO", "butyl"), True),
        ("includes", ("TPO", "butyl"), ("TPO",), False),
        ("includes", ("TPO",), "TPO", False),
        ("includes", ("T", "P"), "TPO", False),
        ("includes", "TPO", ("T", "P", "O"), False),
        ("includes", (), (), True),
    ],
)
def test_words_and_lists(comparison: Any, limit: Any, value: Any, met: bool) -> None:
    assert meets(value, comparison, limit) is met


@pytest.mark.parametrize("value", [parse("10 perm"), parse("22 ga"), 8, 8.0, "8 in", True, ("8 in",)])
def test_a_value_of_another_kind_is_an_error_and_not_a_failure(value: Any) -> None:
    with pytest.raises(TypeError, match="cannot be held against 8 in"):
        meets(value, "at least", parse("8 in"))


sizes = st.floats(1e-6, 1e6)
units = st.sampled_from(["in", "ft", "mil", "mm", "m"])


@given(sizes, sizes)
def test_at_least_and_at_most_are_opposite_sides(limit: float, value: float) -> None:
    held, found = from_si(limit, "length"), from_si(value, "length", "mm")
    low, high = at_least(found, held), at_most(found, held)
    assert low or high
    if not math.isclose(limit, value, rel_tol=1e-8):
        assert (low, high) == (value > limit, value < limit)


@given(st.decimals(0, 1000, places=4), units, units)
def test_the_limit_itself_meets_it_in_any_unit(number: Decimal, one: str, other: str) -> None:
    limit = parse(f"{number} {one}")
    same = parse(f"{to_unit(limit, other):.12g} {other}")
    if same.exact == limit.exact:
        assert all(meets(same, comparison, limit) for comparison in ("at least", "at most", "is"))
    else:
        assert meets(same, "at least", limit) is not meets(same, "at most", limit)
    assert meets(limit, "is", limit)


@pytest.mark.parametrize(("count", "met"), [(2, False), (3, True), (4, True)])
def test_a_count_is_held_against_a_number(count: int, met: bool) -> None:
    assert meets(count, "at least", parse("3")) is met


# What a statement proves, and how it stands to a requirement

PRACTICE = load_practice()
SECTION = Source("", "", "", Status.PRACTICE)


def asked(
    comparison: Any,
    value: Any,
    printed: Any = None,
    *,
    method: str = "",
    condition: str = "",
    part: tuple[str, str] = ("barrier", "air_permeance"),
) -> Requirement:
    """A requirement with a limit; ``printed`` is the limit as the documents print it."""
    limit = Limit(comparison, value) if printed is None else Limit(comparison, printed, value)
    return Requirement(
        "x", "x", *part, "value", limit, method, condition, "", "product", "", "", ("P-1",), True,
        Origin("practice", "x", SECTION),
    )  # fmt: skip


def stated(value: Any, sense: Any = "", upper: str | None = None, method: str | None = None) -> Stated:
    return Stated(
        parse(value) if isinstance(value, str) else value, sense, parse(upper) if upper else None, method
    )


@pytest.mark.parametrize(
    ("comparison", "sense", "values"),
    [
        # Each: what a bound of 8, 10 and 12 perm proves of a limit of 10 perm.
        ("at least", "at least", (None, True, True)),
        ("at least", "more than", (None, True, True)),
        ("at least", "at most", (False, None, None)),
        ("at least", "less than", (False, False, None)),
        ("at most", "at least", (None, None, False)),
        ("at most", "more than", (None, False, False)),
        ("at most", "at most", (True, True, None)),
        ("at most", "less than", (True, True, None)),
        ("is", "at least", (None, None, False)),
        ("is", "at most", (False, None, None)),
        ("at least", "", (False, True, True)),
        ("at most", "", (True, True, False)),
        ("is", "", (False, True, False)),
    ],
)
def test_what_a_bound_proves(comparison: Any, sense: Any, values: tuple[bool | None, ...]) -> None:
    limit = Limit(comparison, parse("10 perm"))
    assert tuple(proven(limit, stated(f"{number} perm", sense)) for number in (8, 10, 12)) == values


@pytest.mark.parametrize(
    ("comparison", "low", "high", "proves"),
    [
        ("at least", 10, 12, True),
        ("at least", 8, 10, None),
        ("at least", 8, 9, False),
        ("at most", 8, 10, True),
        ("at most", 10, 12, None),
        ("at most", 11, 12, False),
        ("is", 8, 12, None),
        ("is", 8, 9, False),
        ("is", 11, 12, False),
        ("is", 8, 10, None),
        ("is", 10, 12, None),
    ],
)
def test_what_a_range_proves(comparison: Any, low: int, high: int, proves: bool | None) -> None:
    assert proven(Limit(comparison, parse("10 perm")), stated(f"{low} perm", "to", f"{high} perm")) is proves


FLUID = Limit("is", paired(parse("12 in")))


def test_a_bound_is_held_against_the_nominal_value_too() -> None:
    assert proven(FLUID, stated("300 mm", "at least")) is None
    assert proven(FLUID, stated("301 mm", "at least")) is None, "the limit as it was set is 304.8 mm"
    assert proven(FLUID, stated("305 mm", "at least")) is False
    assert proven(FLUID, stated("299 mm", "at most")) is False
    assert proven(FLUID, stated("300 mm", "at most")) is None


LEAK = "0.004 cfm/ft2"


@pytest.mark.parametrize(
    ("requirement", "statement", "expected"),
    [
        (asked("at least", parse("8 in")), None, Standing.NOT_STATED),
        (asked("at least", parse("8 in")), stated("9 in"), Standing.MET),
        (asked("at least", parse("8 in")), stated("7 in"), Standing.MISSED),
        (asked("at least", parse("8 in")), stated("7 in", "at least"), Standing.OPEN),
        (asked("is", "roof"), Stated("roof"), Standing.MET),
        (asked("is", "roof"), Stated("wall"), Standing.MISSED),
        # The condition of the test
        (asked("at most", parse(LEAK), condition="75 Pa"), stated(LEAK), Standing.NO_CONDITION),
        (asked("at most", parse(LEAK), condition="75 Pa"), stated(f"{LEAK} at 75 Pa"), Standing.MET),
        (asked("at most", parse(LEAK), condition="75 Pa"), stated(f"{LEAK} at 1.57 psf"), Standing.MET),
        (
            asked("at most", parse(LEAK), condition="75 Pa"),
            stated(f"{LEAK} at 50 Pa"),
            Standing.OTHER_CONDITION,
        ),
        (
            asked("at most", parse(LEAK), condition="75 Pa"),
            stated(f"{LEAK} at 300 Pa"),
            Standing.OTHER_CONDITION,
        ),
        (
            asked("at most", parse(LEAK), condition="75 Pa"),
            stated("1 cfm/ft2 at 300 Pa"),
            Standing.OVERSTATED,
        ),
        (asked("at most", parse(LEAK), condition="75 Pa"), stated("1 cfm/ft2 at 50 Pa"), Standing.MISSED),
        (asked("at most", parse(LEAK), condition="75 Pa"), stated("1 cfm/ft2 at 75 Pa"), Standing.MISSED),
        (asked("at most", parse(LEAK), condition="75 Pa"), stated("1 cfm/ft2"), Standing.MISSED),
        (asked("at most", parse(LEAK), condition="20 degC"), stated("1 cfm/ft2 at 30 degC"), Standing.MISSED),
        (asked("at most", parse(LEAK), condition="20 degC"), stated("1 cfm/ft2 at 300 Pa"), Standing.MISSED),
        (
            asked("at least", parse("1 perm"), condition="75 Pa"),
            stated("0.5 perm at 300 Pa"),
            Standing.MISSED,
        ),
        (asked("is", "roof", condition="75 Pa"), Stated("roof"), Standing.MET),
        # The method
        (asked("at least", parse("8 in"), method="ASTM D1621"), stated("9 in"), Standing.MET),
        (
            asked("at least", parse("8 in"), method="ASTM D1621"),
            stated("9 in", method=""),
            Standing.NO_METHOD,
        ),
        (
            asked("at least", parse("8 in"), method="ASTM D1621"),
            stated("9 in", method="ASTM D1622"),
            Standing.OTHER_METHOD,
        ),
        (
            asked("at least", parse("8 in"), method="ASTM D1621"),
            stated("9 in", method="ASTM D1621"),
            Standing.MET,
        ),
        (
            asked("at least", parse("8 in"), method="ASTM E96 method A"),
            stated("9 in", method="ASTM E96"),
            Standing.NO_PROCEDURE,
        ),
        (asked("at least", parse("8 in")), stated("9 in", method=""), Standing.MET),
        (asked("at least", parse("8 in"), method=MAKERS_WORD), stated("9 in", method=""), Standing.MET),
        (
            asked("at least", parse("8 in"), method=MAKERS_WORD),
            stated("9 in", method="ASTM D1621"),
            Standing.OTHER_METHOD,
        ),
        # What misses misses by any method; a doubt of the condition comes before one of the method
        (
            asked("at least", parse("8 in"), method="ASTM D1621"),
            stated("7 in", method="ASTM D1622"),
            Standing.MISSED,
        ),
        (
            asked("at most", parse(LEAK), condition="75 Pa", method="ASTM E2178"),
            stated(f"{LEAK} at 50 Pa", method="ASTM E283"),
            Standing.OTHER_CONDITION,
        ),
        (
            asked("at most", parse(LEAK), condition="75 Pa", method="ASTM E2178"),
            stated("1 cfm/ft2 at 300 Pa", method="ASTM E283"),
            Standing.OVERSTATED,
        ),
    ],
)
def test_standing(requirement: Requirement, statement: Stated | None, expected: Standing) -> None:
    assert judge(requirement, statement, PRACTICE).standing is expected


def test_a_value_of_another_method_is_told_whether_it_meets_or_not() -> None:
    requirement = asked("at least", parse("8 in"), method="ASTM D1621")
    found = [
        judge(requirement, stated(value, method=method), PRACTICE).other_method
        for value in ("9 in", "7 in")
        for method in ("ASTM D1621", "ASTM D1622")
    ]
    assert found == [False, True, False, True]


NEW = OtherEdition("ASTM D1621-21", "ASTM D1621-16", older=False)
OLD = OtherEdition("ASTM D1621-10", "ASTM D1621-16", older=True)


@pytest.mark.parametrize(
    ("written", "value", "older", "standing", "edition"),
    [
        ("ASTM D1621-16", "9 in", "confirm", Standing.MET, None),
        ("ASTM D1621", "9 in", "confirm", Standing.MET, None),
        ("ASTM D1621-21", "9 in", "confirm", Standing.MET, NEW),
        ("ASTM D1621-10", "9 in", "confirm", Standing.OLDER_EDITION, OLD),
        ("ASTM D1621-10", "9 in", "accept", Standing.MET, OLD),
        ("ASTM D1621-10", "7 in", "confirm", Standing.MISSED, OLD),
        ("ASTM D1622-10", "9 in", "confirm", Standing.OTHER_METHOD, None),
        ("ASTM D1622-10", "7 in", "confirm", Standing.MISSED, None),
        (None, "9 in", "confirm", Standing.MET, None),
    ],
)
@pytest.mark.parametrize("by", ["the office", "the method"])
def test_the_edition_of_a_method(
    by: str, written: str | None, value: str, older: Any, standing: Standing, edition: OtherEdition | None
) -> None:
    editions = {"ASTM D1621": Edition(2016)} if by == "the office" else {}
    under = replace(PRACTICE, editions=editions, older_editions=older)
    method = "ASTM D1621" if by == "the office" else "ASTM D1621-16"
    found = judge(asked("at least", parse("8 in"), method=method), stated(value, method=written), under)
    assert (found.standing, found.edition) == (standing, edition)


def test_the_edition_that_the_method_names_comes_before_that_of_the_office() -> None:
    under = replace(PRACTICE, editions={"ASTM D1621": Edition(2021)})
    requirement = asked("at least", parse("8 in"), method="ASTM D1621-16")
    assert judge(requirement, stated("9 in", method="ASTM D1621-16"), under).standing is Standing.MET


STRENGTH = ("drainage layer", "compressive_strength")


def accepting(*methods: str) -> Practice:
    """The practice, in which the strength is measured by ASTM D1621 and some methods are accepted."""
    roles = PRACTICE.vocabulary.roles
    role, name = roles[STRENGTH[0]], STRENGTH[1]
    field = replace(role.fields[name], method="ASTM D1621", methods_accepted=methods)
    changed = {**roles, STRENGTH[0]: replace(role, fields={**role.fields, name: field})}
    return replace(PRACTICE, vocabulary=replace(PRACTICE.vocabulary, roles=changed))


def test_an_edition_is_held_against_that_of_its_own_standard() -> None:
    requirement = asked("at least", parse("8 in"), method="ASTM D1621", part=STRENGTH)
    under = accepting("ASTM D6364-05", "ASTM D1621")
    found = judge(requirement, stated("9 in", method="ASTM D1621-16"), under)
    assert (found.standing, found.edition) == (Standing.MET, None)


@pytest.mark.parametrize(
    ("wanted", "standing"), [("ASTM D1621", Standing.MET), ("ASTM C165", Standing.OTHER_METHOD)]
)
def test_what_is_accepted_beside_the_usual_method_is_not_accepted_beside_another(
    wanted: str, standing: Standing
) -> None:
    requirement = asked("at least", parse("8 in"), method=wanted, part=STRENGTH)
    under = accepting("ASTM D1621", "ASTM D6364")
    assert judge(requirement, stated("9 in", method="ASTM D6364"), under).standing is standing


@pytest.mark.parametrize(
    ("requirement", "statement", "against", "share"),
    [
        (asked("at least", parse("8 in")), stated("10 in"), "8 in", Fraction(1, 4)),
        (asked("at least", parse("8 in")), stated("6 in"), "8 in", Fraction(-1, 4)),
        (asked("at least", parse("8 in"), parse("204 mm")), stated("408 mm"), "204 mm", Fraction(1)),
        # Where the printed limit reads otherwise than the one that was set, the one that was set.
        (asked("at least", parse("8 in"), parse("204 mm")), stated("203.2 mm"), "8 in", Fraction(0)),
        (asked("at least", parse("8 in"), parse("203 mm")), stated("203.1 mm"), "8 in", Fraction(-1, 2032)),
        # The nominal value that is met, where the printed limit reads otherwise.
        (asked("at least", paired(parse("12 in"))), stated("300 mm"), "300 mm", Fraction(0)),
        # The end of a bound or range that decides; where none does, the end that is there.
        (asked("at least", parse("8 in")), stated("10 in", "at least"), "8 in", Fraction(1, 4)),
        (asked("at least", parse("8 in")), stated("6 in", "at most"), "8 in", Fraction(-1, 4)),
        (asked("at least", parse("8 in")), stated("10 in", "to", "12 in"), "8 in", Fraction(1, 4)),
        (asked("at least", parse("8 in")), stated("4 in", "to", "6 in"), "8 in", Fraction(-1, 4)),
        (asked("at most", parse("8 in")), stated("4 in", "to", "6 in"), "8 in", Fraction(-1, 4)),
        (asked("at most", parse("8 in")), stated("10 in", "to", "12 in"), "8 in", Fraction(1, 4)),
        (asked("at most", parse("8 in")), stated("6 in", "at most"), "8 in", Fraction(-1, 4)),
        (asked("at most", parse("8 in")), stated("6 in", "at least"), "8 in", None),
        # No share of nothing, nor of a temperature
        (asked("at most", parse("0 in")), stated("1 in"), "0 in", None),
        (asked("at least", parse("100 degF")), stated("200 degF"), "100 degF", None),
        (asked("is", "roof"), Stated("roof"), "roof", None),
    ],
)
def test_what_a_value_was_held_against_and_by_how_much(
    requirement: Requirement, statement: Stated, against: str, share: Fraction | None
) -> None:
    found = judge(requirement, statement, PRACTICE)
    assert (getattr(found.against, "text", found.against), found.share) == (against, share)


def test_what_is_not_stated_was_held_against_nothing() -> None:
    found = judge(asked("at least", parse("8 in"), parse("204 mm")), None, PRACTICE)
    assert (found.against, found.share, found.other_method, found.edition) == (
        parse("8 in"),
        None,
        False,
        None,
    )


def test_a_count_is_no_yes_or_no() -> None:
    with pytest.raises(TypeError, match="True cannot be held against 3"):
        meets(True, "at least", parse("3"))


@pytest.mark.parametrize("value", [("TPO", "butyl"), "TPO", 1])
def test_words_are_not_of_a_list_by_another_comparison(value: Any) -> None:
    assert meets(value, "one of", ("TPO", "butyl")) is (value == "TPO")


def test_a_limit_of_practice_brings_its_nominal_values() -> None:
    entry = PRACTICE.entry("coping.corner_leg")
    assert meets(parse("600 mm"), "at least", entry) and not meets(parse("599 mm"), "at least", entry)
