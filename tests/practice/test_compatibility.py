"""Contact between material families: the order does not matter, and what nobody listed is never fine."""

from __future__ import annotations

from itertools import combinations_with_replacement

from specgen.practice.compatibility import may_touch
from specgen.practice.load import load_practice

PRACTICE = load_practice()
FAMILIES = PRACTICE.vocabulary.families


def test_the_order_of_a_contact_does_not_matter() -> None:
    for one, other in combinations_with_replacement(FAMILIES, 2):
        found, turned = may_touch(PRACTICE, one, other), may_touch(PRACTICE, other, one)
        assert (found.answer, found.source) == (turned.answer, turned.source)
        assert found.mechanism and found.source.document


def test_an_unlisted_pair_is_for_the_makers_to_confirm() -> None:
    found = may_touch(PRACTICE, "a new polymer", "TPO")
    assert found.answer == "confirm"
    assert "ask both makers in writing" in found.mechanism and "a new polymer" in found.mechanism


def test_the_pairs_of_the_trade() -> None:
    for roof in ("EPDM", "TPO", "PVC", "KEE-modified PVC"):
        for bitumen in ("SBS bitumen", "oxidised asphalt"):
            assert may_touch(PRACTICE, bitumen, roof).answer == "not allowed"
    for foam in ("EPS", "XPS"):
        assert may_touch(PRACTICE, "PVC", foam).answer == "not allowed"
    assert may_touch(PRACTICE, "SBS bitumen", "SBS bitumen").answer == "allowed"
    assert may_touch(PRACTICE, "butyl", "TPO").answer == "confirm"


def test_the_table_names_only_known_families_and_no_pair_twice() -> None:
    rows = PRACTICE.table("compatibility").rows
    assert {row[side] for row in rows for side in ("one", "other")} <= set(FAMILIES)
    pairs = [(row.get("adjacency"), *sorted((str(row["one"]), str(row["other"])))) for row in rows]
    contact = [pair for pair in pairs if pair[0] != "runoff"]
    assert len(set(contact)) == len(contact)
