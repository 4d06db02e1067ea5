"""Reading: values, marks, limits and hostile files; every case with both of PyYAML's parsers."""

import datetime
import io
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import yaml

from specgen.files.marks import InputError
from specgen.files.yaml_reader import Limits, MarkedList, MarkedMap, read_yaml, read_yaml_text


@pytest.fixture(params=["fast", "pure"], autouse=True)
def parser(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    if request.param == "pure":
        monkeypatch.setattr(yaml, "__with_libyaml__", False)
    elif not yaml.__with_libyaml__:
        pytest.skip("PyYAML was built without its C parser")
    return str(request.param)


def problems(text: str, **options: Any) -> list[str]:
    with pytest.raises(InputError) as caught:
        read_yaml_text(text, "p.yaml", **options)
    return str(caught.value).splitlines()


def problem(text: str, **options: Any) -> str:
    """The one problem of a text: its line and its fix, joined."""
    found = problems(text, **options)
    assert sum(line.startswith("p.yaml:") for line in found) == 1, found
    return " ".join(line.strip() for line in found)


@pytest.mark.parametrize(
    ("written", "value"),
    [
        ("true", True), ("false", False), ("yes", True), ("no", False),
        ("null", None), ("~", None), ("", None),
        ("0", 0), ("12", 12), ("-7", -7), ("+5", 5), ("0.040", 0.04), ("-1.5", -1.5), (".5", 0.5),
        ("2026-01-31", datetime.date(2026, 1, 31)),
        ("010", "010"), ("07 27 00", "07 27 00"), ("1:48", "1:48"), ("3/16 in", "3/16 in"), ("on", "on"),
        ("off", "off"), ("0x10", "0x10"), ("1_000", "1_000"), (".nan", ".nan"), (".inf", ".inf"),
        ("1e3", "1e3"),
        ("5.", "5."), ("00.5", "00.5"), ("True", "True"), ("2026-1-3", "2026-1-3"), ("1,000", "1,000"),
        ("=", "="), ("2026-01-31 10:00:00", "2026-01-31 10:00:00"), ("-", "-"), ("٣", "٣"),
        ("'12'", "12"), ('"true"', "true"), ("''", ""), ("'2026-13-40'", "2026-13-40"), ("|\n  12", "12\n"),
    ],
)  # fmt: skip
def test_scalars_follow_the_strict_rule(written: str, value: object) -> None:
    if written == "-":
        written = "'-'"
    read = read_yaml_text(f"a: {written}\n", "p.yaml", want=dict)["a"]
    assert read == value
    assert type(read) is type(value)


def test_every_key_value_and_item_has_its_mark() -> None:
    text = "# comment\nname: Größe\nlayers:\n- wrb\n-   kind: lath\n    tags: [é, 'b', {c: d}]\nlast:\n"
    read = read_yaml_text(text, "x/p.yaml", want=dict)
    assert isinstance(read, MarkedMap)
    layers = read["layers"]
    assert isinstance(layers, MarkedList)
    places = [read.mark, read.keys_at["layers"], read.values_at["layers"], read.values_at["last"]]
    assert [(m.file, m.line, m.column) for m in places] == [
        ("x/p.yaml", 2, 1), ("x/p.yaml", 3, 1), ("x/p.yaml", 4, 1), ("x/p.yaml", 7, 6)
    ]  # fmt: skip
    assert [(m.line, m.column) for m in layers.items_at] == [(4, 3), (5, 5)]
    tags = layers[1]["tags"]
    assert [(m.line, m.column) for m in tags.items_at] == [(6, 12), (6, 15), (6, 20)]
    assert (tags[2].values_at["c"].line, tags[2].values_at["c"].column) == (6, 24)


@pytest.mark.parametrize(
    ("text", "place", "words"),
    [
        ("a: 1\nb: 2\na: 3\n", "3:1", "'a' is here twice; first in line 1"),
        ("a: {b: 1, b: 2}\n", "1:11", "'b' is here twice; first in line 1"),
        ("7: x\n", "1:1", "key '7' is not text but a number fix: put it in quotes: \"7\""),
        ("1.5: x\n", "1:1", "not text but a number"),
        ("yes: x\n", "1:1", "not text but true or false"),
        ("~: x\n", "1:1", "not text but empty"),
        (": x\n", "1:1", "a key is missing before the colon"),
        ("2026-01-02: x\n", "1:1", "not text but a date"),
        ("2026-02-30: x\n", "1:1", "key '2026-02-30' is not text but a number"),
        ("a: |3x\n", "1:6", "only a line break can follow '|' or '>'"),
        ("%TAG x\n---\na: 1\n", "1:1", "a line cannot start with '%'"),
        ("[a, b]: x\n", "1:1", "a map or a list stands where a key is wanted"),
        ("? {a: b}\n: x\n", "1:3", "a map or a list stands where a key is wanted"),
        ("a: {{x}}\n", "1:5", "a map or a list stands where a key is wanted"),
        ("a: &k x\n*k : y\n", "2:1", "stands where a key is wanted"),
        ("a: &m {b: 1}\nc:\n  <<: *m\n", "3:3", "merge key '<<' is not accepted fix: write the keys out"),
        ("a: !!python/object/apply:os.system ['x']\n", "1:4", "is not accepted"),
        ("a: !foo x\n", "1:4", "the tag '!foo' is not accepted"),
        ("a: ! x\n", "1:4", "the tag '!' is not accepted"),
        ("!!map {a: b}\n", "1:1", "is not accepted"),
        ("a: !e!x y\n", "1:4", "tags, words that start with '!', are not accepted"),
        ("a: 2026-13-40\n", "1:4", "there is no date 2026-13-40"),
        ("a: 2026-02-30\n", "1:4", "there is no date 2026-02-30"),
        ("a: " + "9" * 5000 + "\n", "1:4", "number of 5000 characters, limit 100"),
        ("a: *x\n", "1:4", "names nothing above"),
        ("a: &x [*x]\n", "1:8", "stands inside what it names"),
        ('a: "x\\0y"\n', "1:4", "the character U+0000: it cannot be printed"),
        ('a: "\\ud800"\n', "1:4", "the character U+D800: it cannot be printed"),
        ('a: "\\UFFFFFFFF"\n', "1:7", "there is no such character"),
        ("a: 1\n---\nb: 2\n", "2:1", "a second document starts here fix: remove the '---' line"),
        ("a: x\x00y\n", "1:5", "the character U+0000 is not accepted"),
        ("a: 1\r\nb: x\x07\r\n", "2:5", "the character U+0007 is not accepted"),
        ("a: \ud800\n", "1:4", "the character U+D800 is not accepted"),
        ("a: x\n\ufeffb: y\n", "2:1", "the character U+FEFF is not accepted"),
    ],
)  # fmt: skip
def test_refused_content_names_place_and_fix(text: str, place: str, words: str) -> None:
    found = problem(text)
    assert found.startswith(f"p.yaml:{place}: error: ")
    assert words in found


@pytest.mark.parametrize(
    ("text", "place", "words"),
    [
        ("a: 1\nb: 'open\nc: 2\n", "2:4", "the quote opened here is not closed"),
        ('a: "open\nb: 2\n', "1:4", "the quote opened here is not closed"),
        ("a: [1, 2\nb: 3\n", "1:4", "the '[' opened here is not closed"),
        ("a: {x: 1\n", "1:4", "the '{' opened here is not closed"),
        ("a: [1 2, {b: c d: e}]\n", "1:10", "not closed, or a comma is missing before line 1 column 17"),
        ("a:\n  b: 1\n c: 2\n", "3:2", "the indentation fits no line above"),
        ("a:\n  - x\n - y\n", "3:2", "the indentation fits no line above"),
        ("a: 1\n  b: 2\n", "2:4", "'b' stands under a line that already has its value"),
        ("a:\n\tb: 1\n", "2:1", "a tab stands where spaces are wanted fix: use spaces"),
        ("a:\n  b: 1\n\tc: 1\n", "3:1", "use spaces"),
        ("a:\tb\n", "1:3", "use spaces"),
        ("a: {\tb: 1}\n", "1:5", "use spaces"),
        ("a: 1\r\tb: 2\r", "2:1", "use spaces"),
        ("a: 1\nword\nb: 2\n", "2:1", "no colon after 'word'"),
        ("a: 1\nheight:30\nb: 2\n", "2:1", "no space after the colon of 'height'"),
        ("height:30\nb: 2\n", "2:2", "no space after the colon of 'height' above"),
        ("a: @x\n", "1:4", "a value cannot start with '@' fix: put the value in quotes"),
        ("a: `x`\n", "1:4", "a value cannot start with a backtick"),
        ("a: %x\n", "1:4", "a value cannot start with '%'"),
        ("%x\na: b\n", "2:1", "the line above starts with '%'"),
        ("a: note: more\n", "1:8", "a colon and a space stand inside a value without quotes"),
        ("a: 'x' y\n", "1:8", "there is text after the closing quote"),
        ('a: "C:\\qx"\n', "1:8", "use single quotes, or write the backslash twice"),
        ("a: x\n]\n", "2:1", "']' stands here without an opening bracket"),
        ("a: - b\n", "1:4", "a list item '- ' cannot stand here"),
        ("[a]\nb: 1\n", "2:1", "there is text after the end of the data"),
        ("a: | x\n  y\n", "1:6", "only a line break can follow '|' or '>'"),
        ("a: * b\n", "1:4", "a value cannot start with '&' or '*'"),
        ("a: [dry? yes]\n", "1:8", "a question mark stands inside brackets without quotes"),
        ("a: [\n", "2:1", "the file ends inside a '[' or '{' that is not closed"),
        ("a: ]\n", "1:4", "a value is missing before ']'"),
    ],
)  # fmt: skip
def test_syntax_errors_in_plain_words(text: str, place: str, words: str) -> None:
    found = problem(text)
    assert words in found
    assert found.startswith(f"p.yaml:{place}: error: ")


def test_tabs_in_comments_and_quoted_text_are_no_error() -> None:
    text = "# a\tb\na: 'x\ty' # c\td\nb: |\n  one\ttwo\n"
    assert read_yaml_text(text, "p.yaml") == {"a": "x\ty", "b": "one\ttwo\n"}


def test_all_problems_of_one_pass_are_reported_in_order() -> None:
    text = "a: 2026-13-40\n5: x\na: !t y\nb: [*no, {c: 1, c: 2}]\nd: 'open\n"
    found = [line.split(": error")[0] for line in problems(text) if line.startswith("p.yaml")]
    assert found == [f"p.yaml:{at}" for at in ("1:4", "2:1", "3:1", "3:4", "4:5", "4:17", "5:4")]


def test_the_list_of_problems_ends() -> None:
    found = problems("".join(f"{n}: x\n" for n in range(5000)))
    assert "more than 100 problems" in found[-1]
    assert len(found) < 250


@pytest.mark.parametrize(
    "text", ["", "\n\n", "# only a comment\n", "---\n", "--- # c\n...\n", "\ufeff", "~\n"]
)
def test_empty_files(text: str) -> None:
    assert problem(text).startswith("p.yaml:1:1: error: the file is empty")


def test_wrong_kind_at_the_top() -> None:
    assert "1:1: error: the file holds a list, not a map of keys fix:" in problem("- a\n", want=dict)
    assert "2:1: error: the file holds a map of keys, not a list fix:" in problem("# c\na: b\n", want=list)
    assert "1:1: error: the file holds a single value, not a map of keys" in problem("word\n", want=dict)
    assert "the file holds a single value, not a map of keys or a list" in problem("'word'\n")
    assert read_yaml_text("- a\n", "p.yaml", want=list) == ["a"]


def test_limits_name_value_and_limit() -> None:
    assert "the file has 12 bytes, limit 10" in problem("a: 345678901", limits=Limits(bytes=10))
    assert "4 keys and values or more, limit 3" in problem("[a, b, c, d]", limits=Limits(nodes=3))
    assert "3 levels deep or more, limit 2" in problem("[[[a]]]", limits=Limits(depth=2))
    assert read_yaml_text("[[a]]", "p.yaml", Limits(depth=2, nodes=3)) == [["a"]]
    assert "2 aliases or more, limit 1" in problem("[&x a, *x, *x]", limits=Limits(aliases=1))
    assert read_yaml_text("[&x a, *x]", "p.yaml", Limits(aliases=1)) == ["a", "a"]
    assert "limit 4" in problem("[&x [a, b], *x, *x]", limits=Limits(expanded=4))


@pytest.mark.parametrize(
    "text",
    ["[" * 10_000, "{a: " * 10_000, "- " * 10_000 + "x", "[" * 10_000 + "]" * 10_000,
     "".join(" " * n + "a:\n" for n in range(2000)), "? " * 10_000 + "x"],
)  # fmt: skip
def test_deep_nesting_is_stopped_at_the_limit(text: str) -> None:
    found = problems(text)
    assert "51 levels deep or more, limit 50" in found[-1]
    assert len(found) == 1 or text.startswith("?")


def test_alias_bombs_stop_with_one_line() -> None:
    rows = ["a0: &a0 [x, x, x, x, x, x, x, x, x, x]"]
    rows += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]" for n in range(1, 10)]
    assert "limit 10000" in problem("\n".join(rows))


def test_aliases_do_not_get_round_the_depth_limit() -> None:
    rows = ["a0: &a0 [x]"] + [f"a{n}: &a{n} [*a{n - 1}]" for n in range(1, 90)]
    assert "51 levels deep or more, limit 50" in problem("\n".join(rows))


def test_an_alias_is_marked_where_it_stands() -> None:
    read = read_yaml_text("a: &x {b: 1}\nc: *x\n", "p.yaml", want=dict)
    assert read["c"] == {"b": 1}
    assert str(read.values_at["c"]) == "p.yaml:2:4"


Write = Callable[[bytes], Path]


@pytest.fixture
def write(tmp_path: Path) -> Write:
    def put(data: bytes) -> Path:
        (tmp_path / "p.yaml").write_bytes(data)
        return tmp_path / "p.yaml"

    return put


def file_problem(path: Path | str, **options: Any) -> str:
    with pytest.raises(InputError) as caught:
        read_yaml(path, **options)
    assert len(caught.value.problems) == 1
    text = str(caught.value.problems[0])
    assert text.startswith(f"{path}:")
    return text.removeprefix(f"{path}:")


def test_byte_order_mark_and_windows_lines(write: Write) -> None:
    read = read_yaml(write(b"\xef\xbb\xbfa: 1\r\n\r\nb:\r\n  - c\r\n"), want=dict)
    assert read == {"a": 1, "b": ["c"]}
    assert (read.keys_at["a"].column, read.keys_at["b"].line) == (1, 3)
    assert (read["b"].items_at[0].line, read["b"].items_at[0].column) == (4, 5)


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "utf-16-be", "utf-32"])
def test_other_encodings_are_refused_with_the_fix(write: Write, encoding: str) -> None:
    assert "save the file as UTF-8" in file_problem(write("a: b\n".encode(encoding)))


def test_latin_1_names_the_first_bad_byte(write: Write) -> None:
    found = file_problem(write("é: ok\n".encode() + "b: Größe\n".encode("latin-1")))
    assert found == "2:6: error: the byte 0xF6 is not UTF-8\n    fix: save the file as UTF-8"


def test_the_path_is_shown_as_typed(write: Write, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(write(b"a: [\n").parent)
    assert file_problem("./p.yaml").startswith("2:1: error: the file ends inside a '['")


def test_things_that_are_not_files(tmp_path: Path, write: Write) -> None:
    path = write(b"a: b\n")
    assert "this is a folder" in file_problem(tmp_path)
    missing = file_problem(tmp_path / "P.yml")
    assert "1:1: error: there is no such file" in missing
    assert f"did you mean '{path}'?" in missing
    assert "there is no such file" in file_problem(tmp_path / "no" / "x.yaml")
    assert "cannot be read" in file_problem(f"{path}/x.yaml")
    assert "cannot be read" in file_problem("a\0b")
    assert "cannot be read" in file_problem("x" * 5000)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no FIFO")
def test_pipes_and_devices_are_refused_without_reading(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    assert "not a regular file" in file_problem(tmp_path / "pipe")
    assert "not a regular file" in file_problem("/dev/zero")


def test_unreadable_file(write: Write, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    path = write(b"a: b\n")
    monkeypatch.setattr(os, "open", refuse)
    assert "permission denied" in file_problem(path)


class Unread(io.FileIO):
    """A file that fails when it is read."""

    def read(self, *_: object) -> bytes:
        raise AssertionError("it was read")


def test_a_huge_file_is_refused_before_it_is_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "big.yaml"
    with path.open("wb") as file:
        file.truncate(50_000_000)
    monkeypatch.setattr(os, "fdopen", Unread)
    assert "the file has 50000000 bytes, limit 5000000" in file_problem(path)


def test_long_lines_are_read() -> None:
    word = "x" * 500_000
    read = read_yaml_text(f"a: {word}\nb: [{word}, '{word}']\n", "p.yaml")
    assert read == {"a": word, "b": [word, word]}
