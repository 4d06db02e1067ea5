"""Rounds are counted as the submittals count them; a register that began with R0 is read on, and keeps what was typed."""

from __future__ import annotations

import hashlib
import json
import shutil
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from specgen.files.withdrawn import REGISTER as STEM
from specgen.register.columns import HISTORY, REGISTER, ROUND
from specgen.register.states import STATES, numbers, state
from specgen.work.register_run import read_copy
from tests.chain.runs import CONFORMING, Done, run
from tests.register.test_from_reviews import entered, row
from tests.register.test_results_of_offices import AT, typed_at
from tests.review.test_rounds import PERM, sent


def registered(out: Path, *more: object) -> Done:
    return run("register", CONFORMING, "-o", out, "--as-of", "2026-12-01", *more)


def counted_from_zero(path: Path) -> None:
    """A workbook as registers were written before: R0 for round 1, as words."""
    made = load_workbook(path)
    for sheet in (REGISTER, HISTORY):
        tab = made[sheet]
        head = next(one[0].row for one in tab.iter_rows() if any(cell.value == "Round" for cell in one))
        place = next(cell.column for cell in tab[head] if cell.value == "Round")
        for number in range(head + 1, tab.max_row + 1):
            shown = tab.cell(number, place).value
            if isinstance(shown, int):
                tab.cell(number, place).value = f"R{shown - 1}"
    made.save(path)


def as_written_before(out: Path) -> None:
    """The register and all its states as they stood before."""

    def older(one: dict[str, Any]) -> dict[str, Any]:
        return {**one, ROUND: f"R{int(one[ROUND]) - 1}"} if one.get(ROUND) else one

    counted_from_zero(out / f"{STEM}.xlsx")
    for number in numbers(out):
        path = out / STATES / f"{number:04}.json"
        content = json.loads(path.read_text(encoding="utf-8"))
        content["rows"] = {name: older(one) for name, one in content["rows"].items()}
        content["history"] = [older(one) for one in content["history"]]
        book = path.with_suffix(".xlsx")
        counted_from_zero(book)
        content["workbook"] = hashlib.sha256(book.read_bytes()).hexdigest()
        path.write_text(json.dumps(content), encoding="utf-8")


def shown(out: Path, sheet: str = REGISTER) -> list[Any]:
    tab = load_workbook(out / f"{STEM}.xlsx")[sheet]
    head = next(one[0].row for one in tab.iter_rows() if any(cell.value == "Round" for cell in one))
    place = next(cell.column for cell in tab[head] if cell.value == "Round")
    cells = (tab.cell(number, place).value for number in range(head + 1, tab.max_row + 1))
    return [one for one in cells if one is not None]


def first(out: Path) -> dict[str, Any]:
    return dict(next(iter(read_copy(out / f"{STEM}.xlsx").register.rows.values())))


@pytest.fixture
def out(tmp_path: Path) -> Path:
    """A register in its second round, as it was written before, with a person's words in both rounds."""
    registered(tmp_path)
    typed = {
        "submittal": "07-1",
        "received": date(2026, 11, 16),
        "returned": date(2026, 11, 20),
        "by": "A. B.",
    }
    typed_at(tmp_path, first(tmp_path), **typed, result="R&R", remarks="film")
    registered(tmp_path)
    as_written_before(tmp_path)
    assert shown(tmp_path)[:2] == ["R1", "R0"] and shown(tmp_path, HISTORY) == ["R0"]
    return tmp_path


def test_a_new_register_shows_the_first_round_as_a_number(tmp_path: Path) -> None:
    registered(tmp_path)
    assert set(shown(tmp_path)) == {1}


def test_the_round_that_a_submittal_states_is_the_round_of_letter_and_register(tmp_path: Path) -> None:
    sent(tmp_path, 1, (PERM, ""))
    entered(tmp_path)
    letter = json.loads((tmp_path / "out" / "review-07-27-00-01.json").read_text(encoding="utf-8"))
    assert row(tmp_path)[ROUND] == str(letter["round"]) == "1"


def test_a_first_review_here_may_be_of_a_later_round(tmp_path: Path) -> None:
    """The rounds before were on paper: the row for product data takes the submittal, and shows its round."""
    sent(tmp_path, 3, (PERM, ""))
    done = entered(tmp_path)
    assert "not entered" not in done.out
    found = row(tmp_path)
    assert (found[ROUND], found["submittal"], found["open_comments"]) == ("3", "07 27 00-01", 1)
    typed_at(tmp_path / "out", found, result="R&R", returned=date(2026, 11, 30))
    entered(tmp_path)
    assert row(tmp_path)[ROUND] == "4"


def test_an_older_register_goes_on_in_rounds_from_1_and_loses_nothing(out: Path) -> None:
    done = registered(out)
    assert done.status == 0, done.out + done.err
    assert set(shown(out)) == {1, 2} and shown(out)[0] == 2 and shown(out, HISTORY) == [1]
    found, (closed,) = first(out), read_copy(out / f"{STEM}.xlsx").register.history
    assert (found[ROUND], found["remarks"]) == ("2", "film")
    assert (closed[ROUND], closed["submittal"], closed["by"]) == ("1", "07-1", "A. B.")
    before = (out / f"{STEM}.xlsx").read_bytes()
    registered(out)
    assert (out / f"{STEM}.xlsx").read_bytes() == before, "a second run changes nothing"


def test_an_older_copy_is_merged_into_its_round(out: Path) -> None:
    copy = Path(shutil.copy(out / f"{STEM}.xlsx", out / "copy.xlsx"))
    made = load_workbook(copy)
    tab = made[REGISTER]
    head = next(one[0].row for one in tab.iter_rows() if one[0].value == "State")
    tab.cell(head + 1, AT["submittal"]).value = "07-1A"
    made.save(copy)
    registered(out)  # the register itself has gone on
    done = registered(out, "--merge", copy)
    assert done.status == 0 and "conflict" not in done.out, done.out
    found = first(out)
    assert (found[ROUND], found["submittal"], found["remarks"]) == ("2", "07-1A", "film")
    assert len(read_copy(out / f"{STEM}.xlsx").register.history) == 1


def test_an_older_state_is_brought_back(out: Path) -> None:
    registered(out)
    assert registered(out, "--back-to", 1).status == 0
    assert set(shown(out)) == {1} and first(out)["remarks"] is None
    assert state(out, 1).register.history == ()


@pytest.mark.parametrize(
    ("typed", "kept", "cell"),
    [(2, "2", 2), ("2", "2", 2), ("R1", "2", 2), ("resubmittal A", "resubmittal A", "resubmittal A")],
)
def test_a_round_that_a_person_types_stays(tmp_path: Path, typed: Any, kept: str, cell: Any) -> None:
    registered(tmp_path)
    typed_at(tmp_path, first(tmp_path), round=typed)
    assert registered(tmp_path).status == 0
    assert first(tmp_path)[ROUND] == kept and shown(tmp_path)[0] == cell
