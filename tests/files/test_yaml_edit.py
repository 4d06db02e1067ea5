"""Changes of YAML texts against an oracle that changes the plain data, and against the lines that must stay."""

from __future__ import annotations

import random
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.files.marks import InputError
from specgen.files.yaml_edit import insert_item, move_item, remove, set_value
from specgen.files.yaml_nodes import spliced
from specgen.files.yaml_reader import read_yaml_text
from tests.chain.runs import REPO
from tests.conftest import LONG, SEED, sampled
from tests.files.yaml_changes import Drawn, drawn, held, places, plain
from tests.files.yaml_texts import Writer

EXAMPLES = sorted([*REPO.glob("projects/*/*.yaml"), *REPO.glob("tests/stated/**/*.yaml")])


def test_nothing_changed_is_no_byte_changed() -> None:
    for path in EXAMPLES:
        text = path.read_bytes().decode()
        data = read_yaml_text(text, str(path))
        assert spliced(text, []) == text
        lists = [one for one, value in places(data) if isinstance(value, list) and value]
        assert all(move_item(text, one, 0, 0) == text for one in lists)


def cases() -> list[int]:
    return sampled("changes of a YAML text", range(1_000))


def test_a_thousand_changes_of_the_examples() -> None:
    for seed in cases():
        chance = random.Random(f"{SEED} {seed}")
        text = chance.choice(EXAMPLES).read_bytes().decode()
        if chance.random() < 0.2:
            text = text.replace("\n", "\r\n")
        for _ in range(chance.choice((1, 1, 3))):
            text = held(text, drawn(plain(text), chance))


@given(st.integers(0, 10**9))
def test_changes_of_strange_texts(seed: int) -> None:
    chance, text = random.Random(seed), Writer(seed).text()
    for _ in range(3):
        try:
            text = held(text, drawn(plain(text), chance))
        except InputError as error:
            assert error.problems[0].fix, "refused without a way out"


def test_hardly_anything_is_refused() -> None:
    refused = 0
    for seed in range(300 if LONG else 60):
        chance, text = random.Random(seed), Writer(seed).text()
        try:
            held(text, drawn(plain(text), chance))
        except InputError:
            refused += 1
    assert refused <= (3 if LONG else 1)


@pytest.mark.parametrize(
    ("before", "change", "after"),
    [
        ("site:\nb: 1\n", Drawn("set", ("site", "a"), "1/2 in"), "site:\n  a: 1/2 in\nb: 1\n"),
        ("site: {}  # why\n", Drawn("set", ("site", "a"), "x"), "site: {a: x}  # why\n"),
        ("a: 1\nparts:\n  - x\n", Drawn("set", ("b",), "2"), "a: 1\nb: 2\nparts:\n  - x\n"),
        ("a: 1", Drawn("set", ("b", "c", "d"), "yes"), "a: 1\nb: {c: {d: yes}}"),
        ("a: 'x'  # why\r\n", Drawn("set", ("a",), "y"), "a: y  # why\r\n"),
        ("m:\n  # of a\n  a: 1  # beside\n  b: 2\n", Drawn("remove", ("m", "a")),
         "m:\n  # of a\n  # beside\n  b: 2\n"),
        ("m:\n  a: 1\nn: 2\n", Drawn("remove", ("m", "a")), "m: {}\nn: 2\n"),
        ("- {a: 1,\n  b: 2,  # why\n  c: 3}\n", Drawn("remove", (0, "b")), "- {a: 1,\n  # why\n  c: 3}\n"),
        ("- a: 1  # why\n  b: 2\n", Drawn("remove", (0, "a")), "# why\n- b: 2\n"),
        ("top:\n  - a\n  # of b\n  - b\n", Drawn("insert", ("top",), "c", index=1),
         "top:\n  - a\n  - c\n  # of b\n  - b\n"),
        ("top:\n  - a\n  # of b\n  - b", Drawn("move", ("top",), index=1, to=0), "top:\n  # of b\n  - b\n  - a"),
        ("top: []\n", Drawn("insert", ("top",), "{role: cleat}"), "top:\n  - {role: cleat}\n"),
        ("a: 1\n", Drawn("insert", ("top",), "{role: cleat}"), "a: 1\ntop:\n  - {role: cleat}\n"),
    ],
)  # fmt: skip
def test_what_a_person_would_write(before: str, change: Drawn, after: str) -> None:
    assert change.of_text(before) == after


def test_a_line_that_grows_too_long_is_broken_as_its_neighbors_are() -> None:
    text = (
        f"p:\n  - {{role: coping, note: {'x' * 80},\n    kind: metal, why: {'y' * 60}}}  # {'long ' * 20}\n"
    )
    now = set_value(text, ("p", 0, "color"), f'"{"z " * 20}"')
    assert now == text.replace("}  #", f',\n    color: "{"z " * 20}"}}  #')
    assert set_value(now, ("p", 0, "kind"), "w" * 60).splitlines()[2:4] == [
        f"    kind: {'w' * 60},",
        f"    why: {'y' * 60},",
    ]


@pytest.mark.parametrize(
    ("path", "says"),
    [
        (("a", "x"), "`&m` is read in line 2 as well"),
        (("b", "x"), "behind a name with `*`"),
    ],
)
def test_what_another_place_reads_is_not_changed(path: tuple[str, ...], says: str) -> None:
    text = "a: &m {x: 1}\nb: *m\n"
    with pytest.raises(InputError, match=re.escape(says)) as caught:
        set_value(text, path, "2")
    assert caught.value.problems[0].fix
    assert set_value(text, ("b",), "2") == "a: &m {x: 1}\nb: 2\n"
    with pytest.raises(InputError, match="read in line 2"):
        remove(text, ("a",))


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        ("a: 1\na: 2\n", "twice"),
        ("<<: {a: 1}\n", "merge key"),
        ("a: !t 1\n", "tag"),
        ("a: 1\n---\nb: 2\n", "second document"),
    ],
)
def test_what_the_reader_refuses_is_refused(text: str, wrong: str) -> None:
    with pytest.raises(InputError, match=wrong):
        set_value(text, ("c",), "2")


def test_what_is_not_there_and_what_cannot_be_is_told() -> None:
    for make in (
        lambda: remove("a: 1\n", ("b",)),
        lambda: set_value("a: 1\n", ("a", "b"), "2"),
        lambda: set_value("- a\n", (3,), "2"),
        lambda: insert_item("a: [1]\n", ("a",), 4, "2"),
        lambda: insert_item("a: {b: 1}\n", ("a",), 0, "2"),
        lambda: move_item("a: [1]\n", ("a",), 0, 1),
        lambda: set_value("a: {b: 1}\n", ("a", "b"), "x: y: z"),
        lambda: set_value("a: 1\n", ("a",), "[b"),
    ):
        with pytest.raises(InputError) as caught:
            make()
        assert caught.value.problems[0].fix
