"""Spellings of test methods: what is one method, and what is another."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.practice.load import load_practice
from specgen.practice.methods import Edition, designation, edition_of, same_method, standard_of

SPELLINGS = {
    "ASTM E2178": [
        "ASTM E2178", "astm e2178", "ASTM E 2178", "ASTM-E2178", "E2178", "ASTM E2178-21", "ASTM E2178-21a",
        "ASTM E2178-2021", "ASTM E2178:2013", "ASTM E2178 – 21", "ASTM E2178-13(2018)", "ASTM  E2178 (2021)",
        "ASTM E2178-21ae1",
    ],
    "ASTM E96 METHOD A": [
        "ASTM E96 method A", "ASTM E96, Method A", "ASTM E96/E96M-22 Procedure A", "ASTM E96 (Procedure A)",
        "ASTM E96-A", "ASTM E96 A", "ASTM E 96: procedure A (dry cup)", "ASTM E96 desiccant method", "E96 dry cup",
        "ASTM E96/E96M-16 dry-cup",
    ],
    "ASTM E96 METHOD B": [
        "ASTM E96 method B", "ASTM E96 (Method B)", "ASTM E96/E96M water method", "ASTM E96 wet cup", "E96 B",
        "ASTM E96 – Procedure B",
    ],
    "ANSI/SPRI/FM 4435/ES-1 RE-3": [
        "ANSI/SPRI/FM 4435/ES-1 test RE-3", "ANSI/SPRI/FM 4435/ES-1, RE-3", "ANSI/SPRI ES-1 Test Method RE-3",
        "ANSI/SPRI/FM 4435/ES-1-17 test RE-3", "ANSI/SPRI ES-1 (RE-3)",
    ],
    "ASTM E2925 ANNEX A2": ["ASTM E2925 Annex A2", "ASTM E2925-19a, Annex A2", "ASTM E2925 (Annex A2)"],
    "ASTM D4541": ["ASTM D4541", "ASTM D4541-17", "D4541-02(2015)"],
}  # fmt: skip
ALL = [(name, written) for name, spellings in SPELLINGS.items() for written in spellings]


@pytest.mark.parametrize(("name", "written"), ALL)
def test_spellings_of_one_method(name: str, written: str) -> None:
    assert designation(written) == name
    assert same_method(written, [name])


@pytest.mark.parametrize("name", SPELLINGS)
def test_no_spelling_of_one_method_is_taken_for_another(name: str) -> None:
    for other, spellings in SPELLINGS.items():
        if other != name:
            assert not any(same_method(written, [name]) for written in spellings)


@pytest.mark.parametrize(
    ("written", "accepted", "same"),
    [
        ("ASTM D4541 Test Method E", "ASTM D4541", True),  # any method of the standard will do
        ("ASTM E96", "ASTM E96 method A", False),  # which method was it?
        ("ASTM E96 BW", "ASTM E96 method B", False),  # the inverted cup is its own procedure
        ("ASTM E96 inverted water method", "ASTM E96 method B", False),
        ("ASTM E96 desiccant and water method", "ASTM E96 method A", False),
        ("ASTM E9", "ASTM E96", False),
        ("ASTM E2178 METHODS", "ASTM E2178", False),
        ("ASTM E2178 and ASTM E2357", "ASTM E2178", False),
        ("ASTM D21780", "ASTM D2178", False),
        ("ISO 12572", "ASTM E96 method A", False),
        ("in-house", "ASTM E2178", False),
        ("", "ASTM E2178", False),
    ],
)
def test_near_misses(written: str, accepted: str, same: bool) -> None:
    assert same_method(written, [accepted]) is same


def test_the_methods_of_the_vocabulary_are_themselves() -> None:
    for role in load_practice().vocabulary.roles.values():
        for field in role.fields.values():
            for method in (field.method, *field.methods_accepted):
                if method:
                    assert same_method(method, [method])
                    assert designation(designation(method)) == designation(method)


@given(st.text(max_size=60))
def test_any_text_has_a_designation_and_it_is_stable(written: str) -> None:
    assert designation(written) == " ".join(designation(written).split())


@pytest.mark.parametrize(
    ("written", "edition"),
    [
        ("ASTM D1970", None),  # the number of the standard is no year
        ("ASTM D1970/D1970M", None),
        ("ASTM E96/E96M", None),
        ("ASTM E96-A", None),
        ("AAMA 501.1", None),
        ("ANSI/SPRI/FM 4435/ES-1 test RE-3", None),
        ("ASTM D1970/D1970M-21", Edition(2021)),
        ("ASTM D1970-97", Edition(1997)),
        ("ASTM E2178-13(2020)", Edition(2013, again=2020)),
        ("ASTM E 2178 - 13 (2020)", Edition(2013, again=2020)),
        ("ASTM E2178-21a", Edition(2021, "a")),
        ("ASTM E2178-21ae1", Edition(2021, "a")),
        ("ASTM E2178–2021", Edition(2021)),
        ("ASTM E2178 (2021)", Edition(2021)),
        ("ASTM E96/E96M-16, Procedure B (wet cup)", Edition(2016)),
        ("AAMA 501.1-17", Edition(2017)),
        ("ANSI/SPRI/FM 4435/ES-1-17 test RE-3", Edition(2017)),
        ("ISO 15148:2002", Edition(2002)),
    ],
)
def test_the_edition_of_a_method(written: str, edition: Edition | None) -> None:
    assert edition_of(written) == edition


@pytest.mark.parametrize(
    ("given", "wanted", "order"),
    [
        ("13", "21", "older"),
        ("21", "13", "newer"),
        ("21", "21", ""),
        ("21", "21a", "older"),
        ("13(2020)", "20", ""),  # approved again in the year that is wanted
        ("13", "13(2020)", ""),  # the same text
        ("13(2018)", "20", "older"),
        ("97", "03", "older"),
    ],
)
def test_which_edition_is_older(given: str, wanted: str, order: str) -> None:
    one, other = (edition_of(f"ASTM E2178-{year}") for year in (given, wanted))
    assert one and other
    assert (one.older_than(other), one.newer_than(other)) == (order == "older", order == "newer")


@given(st.integers(1950, 2049), st.sampled_from(["", "a", "b"]), st.sampled_from([*SPELLINGS, "AAMA 501.1"]))
def test_an_edition_is_read_as_it_is_written(year: int, letter: str, name: str) -> None:
    standard = standard_of(name)
    written = Edition(year, letter).of(standard)
    assert edition_of(written) == Edition(year, letter)
    assert standard_of(written) == standard
