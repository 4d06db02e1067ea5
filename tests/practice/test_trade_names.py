"""Everyday names: each leads to what the vocabulary knows, and none hides a word of ours."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from specgen.files.marks import plain
from specgen.practice.load import load_practice
from specgen.practice.trade_names import LISTS, Meaning, called, hint, names_of, trade_names

VOCABULARY = load_practice().vocabulary
LED = [(name, one) for name, meanings in trade_names().items() for one in meanings]


def _problems(name: str, one: Meaning) -> Iterator[str]:
    """What is wrong with a meaning, by the vocabulary."""
    if not one.of:
        if one.word not in VOCABULARY.families:
            yield "no such family"
        return
    held = VOCABULARY.roles if one.is_role else VOCABULARY.records
    kind = held.get(one.of if one.is_role else LISTS.get(one.of, one.of))
    if kind is None:
        yield "no such role or record"
    elif one.key == "kind":
        if one.word not in VOCABULARY.roles[one.of].kinds:
            yield "no such kind"
    elif one.key:
        field = kind.fields.get(one.key)
        if field is None:
            yield "no such key"
        elif one.word and one.word not in (field.choices or VOCABULARY.families):
            yield "no such choice"


def test_every_name_leads_to_what_the_vocabulary_knows() -> None:
    assert len(trade_names()) > 250
    assert {f"{name}: {one}: {what}" for name, one in LED for what in _problems(name, one)} == set()
    assert list(_problems("", Meaning("coping", "lid", is_role=True))) == ["no such key"]


def test_no_name_is_a_word_that_a_file_may_say_in_that_place() -> None:
    roles = {plain(role) for role in VOCABULARY.roles}
    assert {name for name, one in LED if one.is_role and not one.key and name in roles} == set()
    for name, one in LED:
        if one.key == "kind":
            assert name not in map(plain, VOCABULARY.roles[one.of].kinds), name


def test_every_role_has_a_name_of_the_trade_or_is_one() -> None:
    assert [role for role in VOCABULARY.roles if not names_of(role)] == []


@pytest.mark.parametrize("word", [
    "base flashing", "counterflashing", "WRB", "weather barrier", "drainage mat", "cap flashing", "coping cap",
    "cant", "foundation weep screed", "casing bead", "stop bead", "control joint", "reglet",
    "self-adhered membrane", "peel-and-stick", "rainscreen mat", "housewrap", "ISO board", "mod bit", "rubber", "CMU",
])  # fmt: skip
def test_a_word_of_the_trade_is_known(word: str) -> None:
    assert called(word, VOCABULARY.roles)
    assert called(word.upper().replace("-", " "), VOCABULARY.roles)


def test_a_word_with_a_meaning_at_its_place_is_told_that_one_alone() -> None:
    kinds = VOCABULARY.roles["barrier"].kinds
    assert hint("peel and stick", kinds, of="barrier", key="kind") == "did you mean `self-adhered`?"
    metals = VOCABULARY.roles["coping"].fields["metal"].choices
    assert hint("SS", metals, key="metal") == "did you mean `stainless steel`?"
    assert hint("SBS", VOCABULARY.families, key="family") == "did you mean `SBS bitumen`?"
    assert "`kind: self-adhered` of role `barrier`" in hint("peel and stick", VOCABULARY.roles)


def test_what_is_spelled_alike_comes_behind_and_the_same_word_before() -> None:
    assert hint("hieght", ["height"]) == "did you mean `height`?"
    assert hint("Control_Joints", ["control_joints"]) == "did you mean `control_joints`?"
    assert hint("cap flashing", ["top flashing"]).startswith("cap flashing is role `coping`")
    assert hint("zebra", ["height"], "known: height") == "known: height"
