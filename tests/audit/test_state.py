"""The state file: what was whole before a cut is kept, what was cut is made again, a foreign file is left alone."""

from __future__ import annotations

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from specgen.audit.state import HEAD, NAME, State, line_of
from specgen.files.faults import OutputError


def line(path: str, number: int = 0) -> str:
    return line_of({"path": path, "key": "k", "inputs": {}, "problems": [], "number": number})


def written(folder, *lines: str) -> bytes:
    with State(folder) as state:
        for one in lines:
            state.add(json.loads(one)["path"], one)
    return (folder / NAME).read_bytes()


def test_lines_are_found_again_and_the_last_counts(tmp_path):
    written(tmp_path, line("a"), line("b"))
    written(tmp_path, line("a", 2))
    with State(tmp_path) as state:
        assert "a" in state and "b" in state and "c" not in state
        assert [one["number"] for one in state.records(["b", "a"])] == [0, 2]


def test_reading_between_appends_disturbs_nothing(tmp_path):
    with State(tmp_path) as state:
        state.add("a", line("a", 1))
        assert state.record("a")["number"] == 1
        state.add("b", line("b", 2))
        assert state.record("a")["number"] == 1 and state.record("b")["number"] == 2
    assert (tmp_path / NAME).read_bytes().count(b"\n") == 3


@settings(max_examples=60)
@given(data=st.data())
def test_cut_at_any_byte(tmp_path_factory, data):
    folder = tmp_path_factory.mktemp("cut")
    whole = written(folder, line("a", 1), line("b\n\udcff", 2), line("c", 3))
    at = data.draw(st.integers(0, len(whole)))
    (folder / NAME).write_bytes(whole[:at])
    kept = max(whole[:at].count(b"\n") - 1, 0)
    with State(folder) as state:
        assert [one in state for one in ("a", "b\n\udcff", "c")] == [number < kept for number in range(3)]
        state.add("d", line("d", 4))
    with State(folder) as state:
        assert state.repaired == 0 and state.record("d")["number"] == 4
    assert (folder / NAME).read_bytes().startswith(HEAD)


@pytest.mark.parametrize("torn", [b"\0\0\0\0\n", b'{"path": "a"}\n', b"[]\n", b'{"path": \n'])
def test_a_line_that_is_not_whole_is_passed_over(tmp_path, torn):
    before = written(tmp_path, line("a", 1))
    (tmp_path / NAME).write_bytes(before + torn + line("b", 2).encode() + b"\n")
    with State(tmp_path) as state:
        assert state.record("a")["number"] == 1 and state.record("b")["number"] == 2


def test_a_foreign_file_is_refused_and_left_as_it_is(tmp_path):
    (tmp_path / NAME).write_bytes(b"my notes, no newline")
    with pytest.raises(OutputError, match="not the state of an audit"), State(tmp_path):
        pass
    assert (tmp_path / NAME).read_bytes() == b"my notes, no newline"


def test_a_link_in_its_place_is_refused(tmp_path):
    (tmp_path / "elsewhere").write_bytes(b"")
    (tmp_path / NAME).symlink_to(tmp_path / "elsewhere")
    with pytest.raises(OutputError), State(tmp_path):
        pass
    assert (tmp_path / "elsewhere").read_bytes() == b""


def test_a_second_run_in_the_same_folder_is_refused(tmp_path):
    pytest.importorskip("fcntl", reason="two runs at once not tried: this system has no such lock")
    with State(tmp_path), pytest.raises(OutputError, match="another audit"), State(tmp_path):
        pass
