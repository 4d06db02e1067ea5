"""Older files rewritten: what they say, and every byte beside what a step changes, stays."""

from __future__ import annotations

import difflib
import re
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from specgen.files.marks import InputError
from specgen.files.yaml_reader import read_yaml_text
from specgen.intake import formats
from specgen.intake.formats import STEPS, Renamed, current
from specgen.intake.rewriting import Rewriting, rewritings
from tests.intake.test_formats import KINDS

EXAMPLES = sorted(
    path
    for folder in (Path("tests/stated"), Path("templates/new"))
    for path in folder.rglob("*.yaml")
    if path.name != "expected.yaml"
)
BOM = b"\xef\xbb\xbf"
NUMBER = "format: 2"
# Steps as a later format may have them: a key and two words have other names.
RENAMES = (
    (),
    (
        Renamed("*/build_up/*/thickness", "depth"),
        Renamed("*/kind", "dimple board", word="dimpled sheet"),
        Renamed("project", "job"),
    ),
)


def only(path: Path) -> Rewriting:
    (one,) = rewritings([path]).files
    return one


def rewritten(tmp_path: Path, data: bytes) -> bytes:
    path = tmp_path / "file.yaml"
    path.write_bytes(data)
    return only(path).after


def older(path: Path) -> str:
    """An example as it was before files bore a number."""
    text = path.read_text("utf-8")
    lines = [line for line in text.splitlines(keepends=True) if not line.startswith("format:")]
    assert len(lines) == text.count("\n") - 1
    return "".join(lines)


def contents_of(path: Path, kind: str) -> str:
    """What a file's reader makes of it, without the places."""
    return re.sub(r"Mark\(file='[^']*', line=\d+, column=\d+\)", "Mark", repr(KINDS[kind][1](path)))


@pytest.mark.parametrize("path", EXAMPLES, ids=str)
@pytest.mark.parametrize("sign", [b"", BOM], ids=["plain", "BOM"])
@pytest.mark.parametrize("end", ["\n", "\r\n"], ids=["LF", "CRLF"])
def test_every_example_says_the_same_and_gains_one_line(
    path: Path, sign: bytes, end: str, tmp_path: Path
) -> None:
    before = sign + older(path).replace("\n", end).encode()
    file = tmp_path / "file.yaml"
    file.write_bytes(before)
    one = only(file)
    assert (one.number, one.before) == (1, before)
    added = f"{NUMBER}{end}".encode()
    assert one.after.count(added) == 1 and one.after.replace(added, b"") == before
    words = contents_of(file, one.kind)
    file.write_bytes(one.after)
    assert contents_of(file, one.kind) == words
    assert only(file).after == one.after, "a second time there is nothing to do"


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("accepted: []\n", "format: 2\naccepted: []\n"),
        ("accepted: []", "format: 2\naccepted: []"),
        ("---\n# c\naccepted: [] # d\n...\n", "---\n# c\nformat: 2\naccepted: [] # d\n...\n"),
        ("%YAML 1.1\n--- # x\n\n'accepted': []\n", "%YAML 1.1\n--- # x\n\nformat: 2\n'accepted': []\n"),
        ("  accepted: []\n", "  format: 2\n  accepted: []\n"),
        ("? accepted\n: []\n", "format: 2\n? accepted\n: []\n"),
        ("# a\n{ # b\n  accepted: [] }\n", "# a\n{ # b\n  format: 2, accepted: [] }\n"),
        ("{accepted: []}", "{format: 2, accepted: []}"),
        ("--- &a\n&b accepted: []\n", "--- &a\nformat: 2\n&b accepted: []\n"),
        ("accepted: []\nformat: 1 # old\n", "accepted: []\nformat: 2 # old\n"),
        ("{format: 1,accepted: []}\n", "{format: 2,accepted: []}\n"),
        ("# über\u2028accepted: []\n", "# über\u2028format: 2\u2028accepted: []\n"),
        ("accepted: []\r# old\r", "format: 2\raccepted: []\r# old\r"),
    ],
)
def test_where_the_number_goes(before: str, after: str, tmp_path: Path) -> None:
    assert rewritten(tmp_path, before.encode()).decode() == after


@pytest.fixture
def renames(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(formats, "STEPS", {**STEPS, "project": RENAMES})


WALL = """# head
project: {name: A, number: "1"}   # a
site: &s {place: B}
parapets:
  - build_up:
      - &d {role: drainage layer, 'kind': "dimpled sheet", "thickness": 1/4 in}  # b
      - {? thickness : 1 in , kind: &k dimpled sheet, note: 'dimpled sheet'}
      - kind: >-   # c
          dimpled
          sheet
        &t thickness: 2 in
      - *d
other: {kind: dimpled sheet, thickness: 3 in}
"""
WALL_NOW = """# head
format: 3
job: {name: A, number: "1"}   # a
site: &s {place: B}
parapets:
  - build_up:
      - &d {role: drainage layer, 'kind': "dimple board", "depth": 1/4 in}  # b
      - {? depth : 1 in , kind: &k dimple board, note: 'dimpled sheet'}
      - kind: dimple board
        &t depth: 2 in
      - *d
other: {kind: dimple board, thickness: 3 in}
"""


@pytest.mark.parametrize("end", ["\n", "\r\n"])
@pytest.mark.parametrize("sign", [b"", BOM])
def test_renamed_keys_and_words_keep_quotes_anchors_comments_and_order(
    end: str, sign: bytes, renames: None, tmp_path: Path
) -> None:
    found = rewritten(tmp_path, sign + WALL.replace("\n", end).encode())
    assert found == sign + WALL_NOW.replace("\n", end).encode()


def test_a_word_that_is_shared_with_a_place_that_keeps_it_is_refused(renames: None, tmp_path: Path) -> None:
    text = "project: {name: A, kind: &k dimpled sheet}\nsite: {place: *k}\nbuilding: {}\n"
    with pytest.raises(InputError, match="cannot be rewritten without a change of what it says"):
        rewritten(tmp_path, text.encode())


def test_an_alias_in_a_place_that_is_renamed_is_written_out(renames: None, tmp_path: Path) -> None:
    text = "project: {name: &k dimpled sheet}\nsite: {kind: *k }\n"
    assert rewritten(tmp_path, text.encode()).decode().endswith("site: {kind: dimple board }\n")


def comments(text: str) -> list[str]:
    """The comments drawn, in order; they bear a sign that no key or value holds."""
    return re.findall("#¶.*", text)


TREES = st.recursive(
    st.sampled_from(["dimpled sheet", "x y", "12 in", "yes", 'it\'s "q"', "über", 3, True, None]),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(
            st.sampled_from(["kind", "thickness", "build_up", "project", "a b", "#c"]), inner, max_size=4
        )
    ),
    max_leaves=12,
)


@settings(max_examples=60, deadline=None)
@given(data=st.data())
def test_comments_anywhere_stay_and_only_what_a_step_renames_changes(
    data: st.DataObject, tmp_path_factory: pytest.TempPathFactory
) -> None:
    tree: dict[str, Any] = {"project": data.draw(TREES), "parapets": [{"build_up": [data.draw(TREES)]}]}
    flow = data.draw(st.sampled_from([None, False]))
    style = data.draw(st.sampled_from([None, '"', "'"]))
    text = (
        yaml.safe_dump(
            tree,
            sort_keys=False,
            default_flow_style=flow,
            default_style=style,
            allow_unicode=True,
            width=4096,
        )
        .replace("!!null ", "")
        .replace('!!bool "', '"')
        .replace("!!int ", "")
        .replace("!!bool ", "")
    )
    lines = []
    for line in text.splitlines():
        indent = " " * data.draw(st.integers(0, 6))
        lines += [
            f"{indent}#¶ {word}"
            for word in data.draw(st.lists(st.sampled_from(["a: b", "'", "{"]), max_size=2))
        ]
        lines.append(line + data.draw(st.sampled_from(["", "  #¶ dimpled sheet", "\t#¶ thickness: 1"])))
    end = data.draw(st.sampled_from(["\n", "\r\n"]))
    before = end.join([*lines, ""])
    folder = tmp_path_factory.mktemp("one")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(formats, "STEPS", {**STEPS, "project": RENAMES})
        try:
            read_yaml_text(before, "p", want=dict)
        except InputError:
            return
        after = rewritten(folder, before.encode()).decode()
        number, _ = formats.brought_up(root := read_yaml_text(before, "p", want=dict), "project")
    again = read_yaml_text(after, "p", want=dict)
    assert number == 1 and again == root and again["format"] == 3
    assert comments(after) == comments(before)
    gone = [line for line in difflib.ndiff(before.split(end), after.split(end)) if line.startswith("- ")]
    assert all(re.search("project|thickness|dimpled sheet", line) for line in gone)


def test_a_folder_is_read_whole_and_what_is_not_ours_is_named(tmp_path: Path) -> None:
    for name, text in {
        "job/project.yaml": KINDS["project"][0],
        "job/office.yaml": KINDS["office"][0],
        "job/accepted.yaml": KINDS["acceptance"][0],
        "job/comments.yaml": KINDS["comments"][0],
        "job/time.yml": KINDS["schedule"][0],
        "job/submittals/a.yaml": KINDS["submittal"][0],
        "job/substitutions/b.yaml": KINDS["request"][0],
        "job/clauses/07.yaml": "section: 07 71 00\n",
        "job/shop.yaml": "products: [a]\n",
        "job/ci.yaml": "start: now\njobs: []\n",
        "job/.hidden/c.yaml": "a: [\n",
    }.items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(text)
    found = rewritings([tmp_path])
    assert sorted(one.kind for one in found.files) == sorted(KINDS)
    assert [path.name for path in found.aside] == ["ci.yaml", "07.yaml", "shop.yaml"]
    assert all(one.number == current(one.kind) and one.after == one.before for one in found.files)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("a: [\n", "2:1"),
        ("section: 07 71 00\n", "1:1: error: the file is of no kind of specgen's"),
        ("- a\n", "1:1: error: the file is of no kind of specgen's"),
        ("format: 9\nproject: {}\n", "1:9: error: format 9 is written for a newer specgen"),
        ("format: two\nproject: {}\n", "1:9: error: `format`"),
    ],
)
def test_a_named_file_that_cannot_be_used_is_told_with_its_place(
    text: str, message: str, tmp_path: Path
) -> None:
    path = tmp_path / "file.yaml"
    path.write_text(text)
    with pytest.raises(InputError) as caught:
        rewritings([path])
    assert f"{path}:{message}" in str(caught.value)


def test_an_empty_folder_is_told(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="the folder holds no file of specgen"):
        rewritings([tmp_path])
