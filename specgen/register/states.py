"""Every state that a register has had: what a copy was made from, and what can be brought back."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any, ClassVar

from specgen.files.atomic import Batch
from specgen.files.foreign import foreign_bytes, refused
from specgen.files.marks import InputError
from specgen.files.withdrawn import REGISTER
from specgen.model.plain import plain
from specgen.register.columns import DATES, ROUND
from specgen.register.merge import Conflict, Register, Row
from specgen.register.rounds import round_of

STATES = f"{REGISTER}-states"
PROPERTY = "Register state"  # of a workbook: the state it shows, then those that came before it
FORMAT = 1
MOST_BYTES = 50_000_000
MOST_BEFORE = 40  # states that a workbook names
_NAME = re.compile(r"(\d{4,})\.json")
_FIX = "put the file back from a backup, or move the folder away: copies are then compared without what they came from"


@dataclass(frozen=True)
class StateRecord:
    """A state as its record keeps it, above the register of that state."""

    register: Register
    format: int
    state: str  # its name, which names no other state
    before: tuple[str, ...]  # names of the states that came before it, the latest first
    lines: tuple[str, ...]  # above the table, as written
    workbook: str  # hash of the workbook beside the record
    SPREAD_PLAIN: ClassVar = ("register",)


@dataclass(frozen=True)
class State:
    """One state: its number in the folder, its name, which names no other state, and the states before it."""

    number: int
    name: str
    before: tuple[str, ...]
    register: Register
    lines: tuple[str, ...]  # above the table, as written
    workbook: bytes

    @property
    def chain(self) -> str:
        """What the workbook carries."""
        return " ".join((self.name, *self.before)[:MOST_BEFORE])


def made(number: int, former: State | None, register: Register, lines: tuple[str, ...]) -> State:
    """A new state behind a former one, as yet without its workbook."""
    before = former.chain.split() if former else []
    content = json.dumps([number, before, plain(register)], ensure_ascii=False)
    name = hashlib.sha256(content.encode("utf-8", "surrogatepass")).hexdigest()[:16]
    return State(number, name, tuple(before), register, lines, b"")


def keep(batch: Batch, folder: Path, state: State, as_saved: Mapping[str, bytes]) -> None:
    """Prepare a state's files, its record last: a state without a record is none.

    Args:
        batch: that the files are written with.
        folder: of the register.
        state: with its workbook.
        as_saved: other workbooks of this run by a word for the file name: as people saved them.

    Raises:
        OutputError: a file cannot be written.
    """
    place = folder / STATES
    workbook = hashlib.sha256(state.workbook).hexdigest()
    record = StateRecord(state.register, FORMAT, state.name, state.before, state.lines, workbook)
    text = json.dumps(plain(record), indent=1, ensure_ascii=False)
    for word, data in as_saved.items():
        batch.write(place / f"{state.number:04}-{word}.xlsx", data)
    batch.write(place / f"{state.number:04}.xlsx", state.workbook)
    batch.write(place / f"{state.number:04}.json", f"{text}\n".encode("utf-8", "surrogatepass"))


def hold(folder: Path, saved: Iterable[bytes]) -> bool:
    """Whether each of these workbooks lies with the states already, as it was written or as somebody saved it."""
    names = {hashlib.sha256(path.read_bytes()).digest() for path in (folder / STATES).glob("*.xlsx")}
    return names.issuperset(hashlib.sha256(data).digest() for data in saved)


def numbers(folder: Path) -> list[int]:
    """The numbers of the states of a register, the latest last."""
    try:
        names = [path.name for path in (folder / STATES).iterdir()]
    except OSError:
        return []
    return sorted(int(found[1]) for found in map(_NAME.fullmatch, names) if found)


def state(folder: Path, number: int) -> State:
    """One state as it was written.

    Raises:
        InputError: there is none of that number, or its files are not what was written.
    """
    path = folder / STATES / f"{number:04}.json"
    data = foreign_bytes(path, MOST_BYTES)
    try:
        content = json.loads(data)
        if not isinstance(content["format"], int) or content["format"] > FORMAT:
            raise refused(path, "it was written by a newer specgen", "use that one")
        register = Register(
            {str(row["id"]): _typed(row) for row in content["rows"].values()},
            tuple(_typed(row) for row in content["history"]),
            tuple(
                Conflict(**{key: _cell(value) for key, value in one.items()}) for one in content["conflicts"]
            ),
            {str(name): _typed(row) for name, row in content["made"].items()},
        )
        before = tuple(str(one) for one in content["before"])
        workbook = foreign_bytes(path.with_suffix(".xlsx"), MOST_BYTES)
        if hashlib.sha256(workbook).hexdigest() != content["workbook"]:
            raise refused(path.with_suffix(".xlsx"), "it is not the workbook of this state", _FIX)
        return State(
            number, str(content["state"]), before, register, tuple(map(str, content["lines"])), workbook
        )
    except InputError:
        raise
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        raise refused(path, "it is not the record of a register", _FIX) from None


def base(folder: Path, chain: str) -> Register | None:
    """The latest state of a folder that a workbook was made from; None if it names none that is known.

    Raises:
        InputError: a record is damaged.
    """
    named = chain.split()
    latest_first = (state(folder, number) for number in reversed(numbers(folder) if named else []))
    return next((one.register for one in latest_first if one.name in named), None)


def _typed(row: Any) -> Row:
    if not isinstance(row, dict):
        raise TypeError("no row")
    cells = {
        str(key): date.fromisoformat(value) if key in DATES and value else _cell(value)
        for key, value in row.items()
    }
    return cells if ROUND not in cells else {**cells, ROUND: round_of(cells[ROUND])}


def _cell(value: Any) -> Any:
    if value is not None and not isinstance(value, str | int):
        raise TypeError("no cell")
    return value
