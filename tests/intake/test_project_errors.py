"""Each mistake in a project file: one message, at its place, with its fix."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from specgen.files.marks import InputError
from specgen.intake.project import MOST_PARAPETS, load_project
from specgen.practice.load import load_practice
from tests import plain_yaml

ProblemsOf = Callable[[str | bytes], list[str]]

MISTAKES = plain_yaml.load(Path(__file__).with_name("mistakes.yaml").read_text())


@pytest.mark.parametrize("name", MISTAKES)
def test_a_mistake_is_told_once_at_its_place_with_its_fix(
    name: str, sound: str, problems_of: ProblemsOf
) -> None:
    case = MISTAKES[name]
    assert case["replace"] in sound
    found = problems_of(sound.replace(case["replace"], case["by"], 1))
    assert len(found) == 1, found
    where, _, rest = found[0].partition(" ")
    message, _, cure = rest.partition(" | ")
    assert where == case["at"]
    assert case["says"] in message
    assert case["fix"] in cure


def start(sound: str) -> str:
    return sound[: sound.index("parapets:")]


@pytest.mark.parametrize(
    ("parapets", "message"),
    [
        ("parapets: []", "10:11 `parapets` is empty | describe at least one parapet"),
        ("parapets: P-1", "10:11 `parapets`: `P-1` stands where a list is wanted"),
        (
            "parapets: {P-1: {height: 3 ft}}",
            "10:11 `parapets`: a group of `key: value` lines stands where a list",
        ),
        ("parapets: [P-1]", "10:12 `P-1` stands where a parapet is wanted | write `- name: P-1`"),
        ("parapets: [{height: 3 ft}]", "10:12 a parapet needs a name | add `name: P-1`"),
        ("parapets: [{name: , height: 3 ft}]", "10:19 a parapet needs a name | add `name: P-1`"),
        ('parapets: [{name: " ", height: 3 ft}]', "10:19 a parapet needs a name"),
        ("parapets: [{name: yes, height: 3 ft}]", "10:19 `name` is a yes or no, a text is wanted"),
        (
            "parapets: [{name: 1.10, height: 3 ft}]",
            "10:19 `name` is `1.1`, a text is wanted | put it in quotes",
        ),
        (
            "parapets: [{name: P, height: 3 ft}, {name: P, height: 3 ft}]",
            "10:37 parapet `P` is described twice | give this one another name (first: line 10)",
        ),
        (
            "parapets: [{name: P, height: 3 ft, build_up: x}]",
            "10:46 `build_up`: `x` stands where a list is wanted",
        ),
        ("parapets: [{name: P, type: [a]}]", "10:28 no type `['a']` in parapet `P` | known types: none"),
    ],
)
def test_parapets(parapets: str, message: str, sound: str, problems_of: ProblemsOf) -> None:
    (found,) = problems_of(start(sound) + parapets)
    assert found.startswith(message)


def test_a_misspelt_type_is_not_followed_by_what_the_type_would_have_given(
    sound: str, problems_of: ProblemsOf
) -> None:
    types = "types: {street: {height: 3 ft, top: [{role: coping, kind: stone}]}}\n"
    parapets = "parapets: [{name: P, type: stret, changes: {coping: {kind: formed metal}}}]"
    assert problems_of(start(sound) + types + parapets) == [
        "11:28 no type `stret` in parapet `P` | did you mean `street`?"
    ]


def test_too_many_parapets(sound: str, problems_of: ProblemsOf) -> None:
    one = "  - {name: P-%d, height: 3 ft}\n"
    (found,) = problems_of(start(sound) + "parapets:\n" + "".join(one % n for n in range(MOST_PARAPETS + 1)))
    assert f"{MOST_PARAPETS + 1} parapets, at most {MOST_PARAPETS} | split the project file" in found


def test_all_mistakes_of_a_file_in_one_run_in_the_order_of_its_lines(
    sound: str, problems_of: ProblemsOf
) -> None:
    text = (
        sound.replace("upper: wrb", "upper: wrbb")
        .replace("24 ga", "23 ga")
        .replace("height: 36 in", "height: 36")
        .replace("climate_zone: 4A", "climate_zone: 4D")
        .replace("kind: mesh", "kind: mash")
    )
    found = problems_of(text)
    assert [one.split(":")[0] for one in found] == ["7", "12", "18", "39", "43"]


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", "1:1 the file is empty"),
        ("# nothing but a comment\n", "1:1 the file is empty"),
        ("~", "1:1 the file is empty"),
        ("12", "1:1 the file holds a single value"),
        ("- project\n", "1:1 the file holds a list, not a project file | start with a line `project:`"),
        ("project: [\n", "2:1 "),
        ("project: a: b\n", "1:11 "),
        ("a: 1\n---\na: 2\n", "2:1 a second document starts here"),
        ("project: &a {name: *a}\n", "1:20 the alias '*a' stands inside what it names"),
        ("<<: {a: b}\n", "1:1 the merge key '<<' is not accepted"),
        ("project: !!python/object:os.system x\n", "1:10 the tag "),
        ("[" * 10_000, "1:51 maps and lists are 51 levels deep or more"),
        ("a: " + "{a: " * 10_000, "1:"),
    ],
)
def test_a_file_that_is_no_project(text: str, message: str, problems_of: ProblemsOf) -> None:
    assert problems_of(text)[0].startswith(message)


def test_an_alias_bomb_is_stopped(problems_of: ProblemsOf) -> None:
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 10)}]" for n in range(1, 9)]
    assert "the aliases stand for" in problems_of("\n".join(lines))[-1]


@pytest.mark.parametrize(
    "encode", [lambda text: b"\xef\xbb\xbf" + text, lambda text: text.replace(b"\n", b"\r\n")]
)
def test_byte_order_mark_and_windows_line_ends_are_fine(
    encode: Callable[[bytes], bytes], sound: str, load: Callable[[bytes], object], problems_of: ProblemsOf
) -> None:
    assert load(encode(sound.encode()))
    assert problems_of(encode(sound.replace("36 in", "36").encode()))[0].startswith(
        "12:13 `height`: `36` has no unit"
    )


@pytest.mark.parametrize(
    ("data", "message"),
    [
        ("name: Mühle".encode("latin-1"), "1:8 the byte 0xFC is not UTF-8 | save the file as UTF-8"),
        ("name: x".encode("utf-16"), "1:1 the file is in UTF-16, not in UTF-8 | save the file as UTF-8"),
        (
            b"name: \x00",
            "1:7 the character U+0000 is not accepted in a file: it cannot be printed | remove it",
        ),
        (b"\x89PNG\r\n\x1a\n\x00\x00", "1:1 this is a picture (PNG), not a YAML file"),
    ],
)
def test_bytes_that_are_no_text(data: bytes, message: str, problems_of: ProblemsOf) -> None:
    assert problems_of(data)[0].startswith(message)


def test_a_folder_without_a_project_file(tmp_path: Path) -> None:
    with pytest.raises(InputError) as caught:
        load_project(tmp_path, load_practice())
    assert str(caught.value) == (
        f"{tmp_path}/project.yaml:1:1: error: the folder has no project.yaml\n    fix: start one: specgen new DIR"
    )


def test_a_missing_file_names_its_neighbour(tmp_path: Path) -> None:
    (tmp_path / "project.yaml").write_text("x")
    with pytest.raises(InputError, match="there is no such file") as caught:
        load_project(tmp_path / "projct.yaml", load_practice())
    assert "did you mean" in caught.value.problems[0].fix


def test_a_huge_file_is_refused_unread(tmp_path: Path) -> None:
    path = tmp_path / "project.yaml"
    with path.open("wb") as file:
        file.truncate(50_000_000)  # a sparse file: reading it would take its size in memory
    with pytest.raises(InputError, match="the file has 50000000 bytes, limit 5000000"):
        load_project(path, load_practice())
