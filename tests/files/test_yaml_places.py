"""What stands at a path of a YAML text: its data, its mark, and its words, which can be put elsewhere."""

from __future__ import annotations

import random
from collections import Counter

import pytest

from specgen.files.marks import InputError, Mark
from specgen.files.yaml_comments import comments
from specgen.files.yaml_edit import set_value, take_out
from specgen.files.yaml_places import data_of, mark_of, words_at
from specgen.files.yaml_splice import words_of
from tests.conftest import sampled
from tests.files.test_yaml_edit import EXAMPLES
from tests.files.yaml_changes import places, plain, typed
from tests.files.yaml_texts import Writer

TEXTS = [path.read_bytes().decode() for path in EXAMPLES]


def test_the_words_at_every_place_say_what_stands_there() -> None:
    for text in TEXTS:
        for path, value in sampled("words of a YAML text", places(plain(text)), text[:200]):
            if path:
                words = words_at(text, path)
                assert typed(words_of(words, "p").data) == typed(value), path
                assert typed(plain(set_value(text, path, words))) == typed(plain(text)), path


def test_the_words_of_strange_texts() -> None:
    for seed in range(60):
        text = Writer(seed).text()
        assert data_of(text) == plain(text)
        for path, value in places(plain(text)):
            words = words_at(text, path)
            if words and path and not words.startswith(("|", ">")):  # their lines are indented as they stand
                assert typed(words_of(words, "p").data) == typed(value), (seed, path)


def test_a_key_is_taken_out_with_its_comments() -> None:
    for text in TEXTS:
        chance = random.Random(text[:200])
        keys = [one for one in places(plain(text)) if one[0] and isinstance(one[0][-1], str)]
        for path, value in chance.sample(keys, min(12, len(keys))):
            try:
                now, words = take_out(text, path)
            except InputError as error:
                assert "no lines of its own" in str(error)
                continue
            assert typed(words_of(words, "p").data) == typed({path[-1]: value}), path
            kept = Counter(one.text for each in (now, words) for one in comments(each))
            assert kept == Counter(one.text for one in comments(text)), path


def test_marks_and_what_is_not_there() -> None:
    text = "\ufeffa: 1\nb:\n  - {c: 2}\n"
    assert mark_of(text, ("b", 0, "c"), "p.yaml") == Mark("p.yaml", 3, 6)
    assert mark_of(text, ("b", 7), "p.yaml") == Mark("p.yaml", 2, 1)
    assert words_at(text, ("b", 7)) == words_at(text, ("a", "c")) == ""
    for path in ((), ("c",), ("b", 0, "c")):
        with pytest.raises(InputError):
            take_out(text, path)
    with pytest.raises(InputError, match="behind a name"):
        words_at("a: &x {b: 1}\nc: *x\n", ("c", "b"))
