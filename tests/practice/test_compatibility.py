"""The table of pairs: whole, symmetric, and what manufacturers' letters change."""

from __future__ import annotations

from itertools import combinations, combinations_with_replacement

import pytest

from specgen.practice.compatibility import ANSWERS, Letter, may_touch
from specgen.practice.load import load_practice

PRACTICE = load_practice()
TABLE = PRACTICE.table("compatibility")
FAMILIES = PRACTICE.vocabulary.families


@pytest.mark.parametrize("adjacency", ["contact", "solvent", "heat"])
def test_order_of_the_pair_does_not_matter(adjacency: str) -> None:
    for one, other in combinations(FAMILIES, 2):
        assert may_touch(PRACTICE, one, other, adjacency=adjacency).answer == (  # type: ignore[arg-type]
            may_touch(PRACTICE, other, one, adjacency=adjacency).answer  # type: ignore[arg-type]
        )


def test_rows_are_well_formed_and_told_once() -> None:
    seen = set()
    for row in TABLE.rows:
        assert row["one"] in FAMILIES and row["other"] in FAMILIES, row
        assert row["judgement"] in ANSWERS and row["mechanism"]
        assert row["adjacency"] in ("contact", "runoff", "solvent", "heat")
        assert (row["document"] is None) == (row["status"] is None)
        ends = (row["one"], row["other"])
        key = (row["adjacency"], ends if row["adjacency"] == "runoff" else frozenset(ends))
        assert key not in seen, row
        seen.add(key)


def test_every_family_is_known_to_the_table() -> None:
    named = {row["one"] for row in TABLE.rows} | {row["other"] for row in TABLE.rows}
    assert set(FAMILIES) <= named


def test_every_pair_has_an_answer_and_none_is_fine_by_default() -> None:
    listed = {frozenset((row["one"], row["other"])) for row in TABLE.rows if row["adjacency"] == "contact"}
    for one, other in combinations_with_replacement(FAMILIES, 2):
        answer = may_touch(PRACTICE, one, other).answer
        assert answer == "confirm" or frozenset((one, other)) in listed


@pytest.mark.parametrize("sheet", ["EPDM", "TPO", "PVC", "KEE-modified PVC"])
def test_bitumen_stays_away_from_roof_sheets(sheet: str) -> None:
    assert may_touch(PRACTICE, "SBS bitumen", sheet).answer == "not allowed"


def test_unknown_family_is_for_the_makers() -> None:
    assert may_touch(PRACTICE, "TPO", "something new").answer == "confirm"


def test_runoff_has_a_direction() -> None:
    above = may_touch(PRACTICE, "copper", "aluminum", adjacency="runoff")
    below = may_touch(PRACTICE, "aluminum", "copper", adjacency="runoff")
    assert (above.answer, below.answer) == ("not allowed", "allowed")


def test_a_row_may_have_its_own_source() -> None:
    own = may_touch(PRACTICE, "SBS bitumen", "zinc", adjacency="runoff").source
    assert own.status.value == "M" and own != TABLE.source


def letter(makes: str, allows: bool = True, pair: tuple[str, str] = ("TPO", "butyl")) -> Letter:
    return Letter(*pair, makes, allows, "2026-11-02")


def test_one_letter_lifts_a_confirm_and_is_named() -> None:
    assert may_touch(PRACTICE, "butyl", "TPO").answer == "confirm"
    lifted = may_touch(PRACTICE, "butyl", "TPO", [letter("TPO")])
    assert (lifted.answer, lifted.listed) == ("allowed", "confirm")
    assert "the manufacturer of the TPO dated 2026-11-02" in lifted.text


def test_a_letter_on_another_pair_lifts_nothing() -> None:
    other = letter("TPO", pair=("TPO", "EPDM"))
    assert may_touch(PRACTICE, "butyl", "TPO", [other]) == may_touch(PRACTICE, "butyl", "TPO")


def test_a_no_needs_both_makers_and_does_not_vanish() -> None:
    pair = ("TPO", "SBS bitumen")
    one, other = letter("TPO", pair=pair), letter("SBS bitumen", pair=pair)
    assert may_touch(PRACTICE, *pair, [one]).answer == "not allowed"
    assert may_touch(PRACTICE, *pair, [one, one]).answer == "not allowed"
    lifted = may_touch(PRACTICE, *pair, [one, other])
    assert (lifted.answer, lifted.listed) == ("allowed", "not allowed")
    assert "lifted by letters of both manufacturers" in lifted.text and "oil migration" in lifted.text


def test_a_refusing_letter_overrides_what_is_allowed() -> None:
    refused = may_touch(PRACTICE, "butyl", "butyl", [letter("butyl", False, ("butyl", "butyl"))])
    assert refused.answer == "not allowed" and "refused by letter" in refused.text
