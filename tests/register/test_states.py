"""The states of a register on disk: read as they were written, refused where somebody changed them."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from specgen.files.atomic import Batch
from specgen.files.marks import InputError
from specgen.register import states
from specgen.register.merge import Conflict, Register

ROW = {"id": "07 62 00 a", "item": "Samples", "submit": date(2027, 3, 1), "needed": None, "round": "2"}
REGISTER = Register(
    {"07 62 00 a": ROW},
    ({"id": "07 62 00 a", "round": "1", "returned": date(2027, 2, 1)},),
    (Conflict("07 62 00 a", "remarks", None, "mine", 7),),
    {"07 62 00 a": {"item": "Samples", "submit": date(2027, 3, 1)}},
)


def kept(folder: Path, number: int, former: states.State | None = None) -> states.State:
    made = states.made(number, former, REGISTER, ("Submittal register", "2601 A name"))
    whole = states.State(made.number, made.name, made.before, made.register, made.lines, b"PK workbook")
    with Batch(folder) as batch:
        states.keep(batch, folder, whole, {"as-saved": b"PK by hand"})
        batch.place()
    return whole


def test_a_state_is_read_as_it_was_written(tmp_path: Path) -> None:
    first = kept(tmp_path, 1)
    second = kept(tmp_path, 2, first)
    assert states.numbers(tmp_path) == [1, 2] and states.numbers(tmp_path / "none") == []
    assert states.state(tmp_path, 1) == states.State(1, first.name, (), REGISTER, first.lines, b"PK workbook")
    assert states.state(tmp_path, 2).before == (first.name,) and second.chain == f"{second.name} {first.name}"
    assert states.hold(tmp_path, [b"PK workbook", b"PK by hand"]) and not states.hold(
        tmp_path, [b"PK another"]
    )


def test_the_latest_state_that_a_copy_names_is_what_it_was_made_from(tmp_path: Path) -> None:
    first = kept(tmp_path, 1)
    second = kept(tmp_path, 2, first)
    assert states.base(tmp_path, second.chain) == states.base(tmp_path, first.chain) == REGISTER
    assert states.base(tmp_path, "0123456789abcdef") is states.base(tmp_path, "") is None


def test_a_state_that_is_not_there_is_told(tmp_path: Path) -> None:
    kept(tmp_path, 1)
    with pytest.raises(InputError, match="there is no such file"):
        states.state(tmp_path, 7)


def put(*path: str | int, to: Any) -> Callable[[dict[str, Any]], object]:
    """A change of a record: another value at a place of it."""

    def change(record: Any) -> None:
        for step in path[:-1]:
            record = record[step]
        record[path[-1]] = to

    return change


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (
            put("format", to=2),
            "0001.json:1:1: error: it was written by a newer specgen\n    fix: use that one",
        ),
        (put("format", to="1"), "it was written by a newer specgen"),
        (put("workbook", to="0" * 64), "0001.xlsx:1:1: error: it is not the workbook of this state"),
        (put("rows", to=[ROW["id"]]), "not the record of a register"),
        (put("rows", "07 62 00 a", to="Samples"), "not the record of a register"),
        (put("rows", "07 62 00 a", "item", to=["Samples"]), "not the record of a register"),
        (put("rows", "07 62 00 a", "item", to=1.5), "not the record of a register"),
        (put("rows", "07 62 00 a", "submit", to="1 March"), "not the record of a register"),
        (put("history", 0, "returned", to=20270201), "not the record of a register"),
        (put("history", 0, to="1"), "not the record of a register"),
        (put("conflicts", 0, "kept", to={}), "not the record of a register"),
        (put("conflicts", 0, "more", to="x"), "not the record of a register"),
        (put("made", to=None), "not the record of a register"),
        (put("before", to=7), "not the record of a register"),
        (lambda record: record.pop("lines"), "not the record of a register"),
        (lambda record: record.pop("state"), "not the record of a register"),
    ],
)
def test_a_record_that_somebody_changed_is_told_with_the_file(
    tmp_path: Path, change: Callable[[dict[str, Any]], object], message: str
) -> None:
    kept(tmp_path, 1)
    path = tmp_path / states.STATES / "0001.json"
    record = json.loads(path.read_text("utf-8"))
    change(record)
    path.write_text(json.dumps(record), encoding="utf-8")
    with pytest.raises(InputError) as caught:
        states.state(tmp_path, 1)
    assert message in str(caught.value)
    assert "0001." in str(caught.value)


@pytest.mark.parametrize("data", [b"", b"{", b"[1]", b"7", b"\xff", b"[" * 99_999])
def test_a_record_that_is_none_is_told(tmp_path: Path, data: bytes) -> None:
    kept(tmp_path, 1)
    (tmp_path / states.STATES / "0001.json").write_bytes(data)
    with pytest.raises(InputError, match="not the record of a register"):
        states.base(tmp_path, "0123456789abcdef")
