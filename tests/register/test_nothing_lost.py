"""What people typed into a register is never lost: older copies, two runs at once, their own columns, any history."""

from __future__ import annotations

import os
import random
import shutil
import subprocess
import sys
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook
from openpyxl.formatting.rule import CellIsRule
from openpyxl.styles import PatternFill

from specgen.files.lock import LOCK, locked
from specgen.files.withdrawn import REGISTER as STEM
from specgen.model.sheet import Cell
from specgen.register.book import brought_up_to_date
from specgen.register.columns import COLUMNS, ID, OF_A_ROUND, REGISTER, ROUND
from specgen.register.entries import RegisterEntry
from specgen.register.merge import BETWEEN, Register, Row, merge
from specgen.register.states import STATES, numbers, state
from specgen.work import register_run
from specgen.work.register_run import read_copy
from tests.chain.runs import CONFORMING, REPO, Done, contents, copied, run

LONG = os.environ.get("SPECGEN_LONG") == "1"
KEYS = [column.key for column in COLUMNS]


@pytest.fixture
def out(tmp_path: Path) -> Path:
    assert register(tmp_path).status == 0
    return tmp_path


def register(out: Path, *words: object) -> Done:
    return run("register", CONFORMING, "-o", out, *words)


def book(out: Path) -> Path:
    return out / f"{STEM}.xlsx"


def rows(path: Path) -> list[Row]:
    return list(read_copy(path).register.rows.values())


def fill(path: Path, changes: dict[tuple[int, str], Any]) -> None:
    """What a person types into rows counted from the first."""
    made = load_workbook(path)
    tab = made[REGISTER]
    head = next(number for number in range(1, 12) if tab.cell(number, len(KEYS)).value == COLUMNS[-1].title)
    for (row, key), value in changes.items():
        tab.cell(head + 1 + row, KEYS.index(key) + 1).value = value
    made.save(path)


RETURNED = {(0, "returned"): date(2027, 1, 4), (0, "result"): "revise and resubmit", (0, "by"): "A. B."}


def test_an_untouched_older_copy_takes_nothing_back(out: Path) -> None:
    older = shutil.copy(book(out), out / "older.xlsx")
    fill(book(out), RETURNED)
    register(out)
    first, closed = rows(book(out))[0], read_copy(book(out)).register.history
    assert first[ROUND] == "2" and len(closed) == 1
    done = register(out, "--merge", older)
    assert done.status == 0, done.out
    assert rows(book(out))[0] == first
    assert read_copy(book(out)).register.history == closed


def test_an_older_copy_put_in_place_of_the_register_takes_nothing_back(out: Path) -> None:
    older = shutil.copy(book(out), out / "older.xlsx")
    fill(book(out), {**RETURNED, (1, "remarks"): "call"})
    register(out)
    kept = read_copy(book(out)).register
    shutil.copy(older, book(out))
    assert register(out).status == 0
    assert read_copy(book(out)).register == kept


def test_what_an_older_copy_says_of_a_closed_round_goes_to_that_round(out: Path) -> None:
    older = Path(shutil.copy(book(out), out / "older.xlsx"))
    fill(book(out), RETURNED)
    register(out)
    fill(older, {(0, "submittal"): "07-01", (0, "by"): "C. D."})
    done = register(out, "--merge", older)
    assert done.status == 1 and "Reviewed by, 1: kept `A. B.`, the other copy says `C. D.`" in done.out
    closed = read_copy(book(out)).register.history
    assert [(one[ROUND], one["submittal"], one["by"]) for one in closed] == [("1", "07-01", "A. B.")]
    assert rows(book(out))[0]["submittal"] is None


def test_a_copy_that_was_brought_up_to_date_elsewhere_is_merged_from_their_common_state(out: Path) -> None:
    away = out / "away"
    away.mkdir()
    shutil.copy(book(out), book(away))
    shutil.copytree(out / STATES, away / STATES)
    fill(book(away), {**RETURNED, (2, "remarks"): "away"})
    register(away)
    fill(book(out), {(0, "submittal"): "07-01", (2, "remarks"): "here"})
    done = register(out, "--merge", book(away))
    assert done.status == 0, done.out
    merged = read_copy(book(out)).register
    assert [(one[ROUND], one["submittal"], one["by"]) for one in merged.history] == [("1", "07-01", "A. B.")]
    assert rows(book(out))[0][ROUND] == "2" and rows(book(out))[2]["remarks"] == f"here{BETWEEN}away"


def test_two_merges_at_once_lose_neither(out: Path) -> None:
    for number in range(1, 3):
        copy = Path(shutil.copy(book(out), out / f"copy-{number}.xlsx"))
        fill(copy, {(number, "remarks"): f"copy {number}"})
    command = [sys.executable, "-m", "specgen", "register", str(CONFORMING), "-o", str(out), "--merge"]
    runs = [
        subprocess.Popen([*command, str(out / f"copy-{number}.xlsx")], cwd=REPO, stdout=subprocess.DEVNULL)
        for number in range(1, 3)
    ]
    assert [one.wait(120) for one in runs] == [0, 0]
    assert [row["remarks"] for row in rows(book(out))[1:3]] == ["copy 1", "copy 2"]
    assert not (out / LOCK).exists()


def test_a_folder_that_is_held_is_told_with_its_holder(out: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    before = contents(out)
    monkeypatch.setattr("specgen.files.lock.WAIT", 0.2)
    with locked(out), ThreadPoolExecutor(1) as other:
        done = other.submit(register, out).result()
    assert done.status == 2 and "is in use by" in done.err and f"(process {os.getpid()}) since" in done.err
    assert contents(out) == before


def test_a_save_during_a_run_is_taken_up(out: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    fill(book(out), {(0, "remarks"): "before"})
    keep = register_run.states.keep
    saves = iter([{(1, "remarks"): "meanwhile"}])

    def slow(*given: Any) -> None:
        keep(*given)
        for change in saves:
            fill(book(out), change)
            break

    monkeypatch.setattr(register_run.states, "keep", slow)
    assert register(out).status == 0
    assert [row["remarks"] for row in rows(book(out))[:2]] == ["before", "meanwhile"]


def test_a_workbook_that_is_saved_without_end_is_left_alone(
    out: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    keep = register_run.states.keep
    count = iter(range(100))

    def slow(*given: Any) -> None:
        keep(*given)
        fill(book(out), {(1, "remarks"): f"save {next(count)}"})

    fill(book(out), {(0, "remarks"): "before"})
    monkeypatch.setattr(register_run.states, "keep", slow)
    done = register(out)
    assert done.status == 2 and "is being saved by another program" in done.err
    assert rows(book(out))[1]["remarks"] == f"save {next(count) - 1}"


def test_columns_sheets_widths_filters_and_formulas_of_a_person_stay(out: Path) -> None:
    made = load_workbook(book(out))
    tab = made[REGISTER]
    tab.cell(5, len(KEYS) + 1).value = "Our note"
    tab.cell(6, len(KEYS) + 1).value = "ask the roofer"
    tab.cell(7, len(KEYS) + 1).value = "=LEN(D7)"
    tab.cell(6, KEYS.index("by") + 1).value = '="A. "&"B."'
    tab.column_dimensions["D"].width = 61
    tab.auto_filter.add_filter_column(0, ["asked for"])
    tab.conditional_formatting.add(
        "A1:A9", CellIsRule(operator="equal", formula=['"x"'], fill=PatternFill("solid"))
    )
    made.create_sheet("Mine")["B2"] = "own sheet"
    tab.cell(6, KEYS.index("item") + 1).value = "our wording"
    made.save(book(out))
    fill(book(out), {(3, "remarks"): "something new"})
    done = register(out)
    assert done.status == 1 and "it holds a formula, which is not read" in done.out
    made = load_workbook(book(out))
    tab = made[REGISTER]
    assert [tab.cell(row, len(KEYS) + 1).value for row in (5, 6, 7)] == [
        "Our note",
        "ask the roofer",
        "=LEN(D7)",
    ]
    assert tab.cell(6, KEYS.index("by") + 1).value == '="A. "&"B."'
    assert tab.cell(6, KEYS.index("item") + 1).value == "our wording"
    assert tab.column_dimensions["D"].width == 61 and made["Mine"]["B2"].value == "own sheet"
    assert tab.auto_filter.filterColumn[0].colId == 0
    assert any(str(one.sqref) == "A1:A9" for one in tab.conditional_formatting)


def test_a_new_row_is_added_below_and_looks_like_the_others(out: Path) -> None:
    made = load_workbook(book(out))
    tab = made[REGISTER]
    last = tab.max_row
    gone = tab.cell(last, len(KEYS)).value
    tab.delete_rows(last)
    made.save(book(out))
    register(out)
    tab = load_workbook(book(out))[REGISTER]
    assert tab.cell(last, len(KEYS)).value == gone
    assert tab.cell(last, 1)._style == tab.cell(last - 1, 1)._style
    assert tab.auto_filter.ref.endswith(str(last))


def test_words_typed_over_a_computed_cell_give_way_only_to_new_ones_and_are_told(
    out: Path, tmp_path: Path
) -> None:
    # Not the substitution request, which is due on no day.
    at = next(number for number, row in enumerate(rows(book(out))) if row["before"])
    first = rows(book(out))[at]
    fill(book(out), {(at, "before"): "the mockup"})
    assert register(out).status == 0 and rows(book(out))[at]["before"] == "the mockup"
    later = tmp_path / "start.yaml"
    later.write_text("start: 2027-03-01\n", encoding="utf-8")
    fill(book(out), {(at, "submit"): date(2026, 12, 1)})
    assert register(out).status == 0
    done = register(out, "--schedule", later)
    assert done.status == 1 and "Submit by: kept" in done.out and "2026-12-01" in done.out
    assert rows(book(out))[at]["before"] == "the mockup" != first["before"]


def test_any_state_can_be_brought_back(out: Path) -> None:
    fill(book(out), {**RETURNED, (1, "remarks"): "second"})
    register(out)
    second = read_copy(book(out)).register
    fill(book(out), {(1, "remarks"): "third"})
    register(out)
    assert register(out, "--back-to", 2).status == 0
    assert read_copy(book(out)).register == second
    assert register(out, "--back-to", 3).status == 0
    assert rows(book(out))[1]["remarks"] == "third"
    done = register(out, "--back-to", 9)
    assert done.status == 2 and "it holds no state 9" in done.err and "states: 1 to 5" in done.err


def test_the_state_that_was_last_can_be_brought_back_over_what_was_typed_since(out: Path) -> None:
    fill(book(out), {(1, "remarks"): "typed since"})
    assert register(out, "--back-to", 1).status == 0
    assert rows(book(out))[1]["remarks"] is None
    assert rows(out / STATES / "0002-as-saved.xlsx")[1]["remarks"] == "typed since"


def test_a_run_after_a_conflict_changes_nothing(out: Path) -> None:
    other = Path(shutil.copy(book(out), out / "other.xlsx"))
    fill(book(out), {(0, "by"): "A. B."})
    fill(other, {(0, "by"): "C. D."})
    assert register(out, "--merge", other).status == 1
    before = contents(out)
    assert register(out).status == 0 and contents(out) == before


def test_what_comes_into_a_cell_that_shows_a_formula_is_told(out: Path) -> None:
    other = Path(shutil.copy(book(out), out / "other.xlsx"))
    fill(book(out), {(0, "by"): '="A. "&"B."'})
    fill(other, {(0, "by"): "C. D."})
    for words in (("--merge", other), ()):
        done = register(out, *words)
        assert done.status == 1 and "the register holds `C. D.`, which the cell does not show" in done.out


def test_two_rounds_closed_at_once_keep_their_order_in_every_rerun(out: Path) -> None:
    fill(book(out), {(1, "returned"): date(2027, 1, 4), (1, "result"): "rejected"})
    register(out)
    other = Path(shutil.copy(book(out), out / "other.xlsx"))
    fill(book(out), RETURNED)
    register(out)
    register(out, "--merge", other)
    before = contents(out)
    assert register(out).status == 0 and contents(out) == before


def test_a_copy_that_brings_only_a_column_of_its_own_is_kept_with_the_states(out: Path) -> None:
    other = Path(shutil.copy(book(out), out / "other.xlsx"))
    made = load_workbook(other)
    made[REGISTER].cell(6, len(KEYS) + 1).value = "ask the roofer"
    made.save(other)
    assert register(out, "--merge", other).status == 0
    assert (out / STATES / "0002-copy-1.xlsx").read_bytes() == other.read_bytes()
    before = contents(out)
    assert register(out, "--merge", other).status == 0 and contents(out) == before


def test_the_lines_above_the_rows_are_of_the_project_as_it_is(out: Path, tmp_path: Path) -> None:
    later = copied(CONFORMING, tmp_path / "later", ("issue_date: 2026-11-02", "issue_date: 2027-02-03"))
    for words in ((), ("--back-to", 1)):
        assert run("register", later, "-o", out, *words).status == 0
        assert str(load_workbook(book(out))[REGISTER]["A2"].value).startswith("2027-02-03 | ")


def test_a_copy_that_does_not_say_where_it_comes_from_makes_conflicts_and_takes_nothing_back(
    out: Path,
) -> None:
    made = load_workbook(book(out))
    del made.custom_doc_props["Register state"]
    made.save(out / "unnamed.xlsx")
    fill(book(out), {(0, "by"): "A. B.", (1, "by"): "A. B."})
    fill(out / "unnamed.xlsx", {(0, "by"): "C. D.", (2, "by"): "C. D."})
    done = register(out, "--merge", out / "unnamed.xlsx")
    assert done.status == 1 and "does not say which state" in done.out and "C. D." in done.out
    assert [row["by"] for row in rows(book(out))[:3]] == ["A. B.", "A. B.", "C. D."]


def test_another_name_written_on_the_open_round_is_no_other_round() -> None:
    base = brought_up_to_date(Register(), DUE)
    name = DUE[0].id
    theirs = with_cells(base, name, {ROUND: "A", "submittal": "07-01"})
    mine = with_cells(base, name, {"by": "A. B."})
    for one, other in ((mine, theirs), (theirs, mine)):
        merged = merge(base, one, other)
        row = merged.rows[name]
        assert (row[ROUND], row["submittal"], row["by"]) == ("A", "07-01", "A. B.")
        assert merged.history == () and merged.conflicts == ()


# histories: two people, copies of any age, runs in any order. An oracle in plain Python knows who typed what over what.

DUE = tuple(
    RegisterEntry(f"07 27 00 {key}", "07 27 00", "1.4.A", key, "action", "barrier", "all", "", None, None)
    for key in "abc"
)
TYPED = ("by", "submittal", "remarks", "agreed")


class Oracle:
    """Each word that somebody typed, and whether somebody who saw it wrote something else in its place."""

    def __init__(self) -> None:
        self.words: dict[str, bool] = {}

    def typed(self, word: str, over: Cell) -> None:
        for seen in str(over or "").split(BETWEEN):
            if seen in self.words:
                self.words[seen] = False
        self.words[word] = True

    def lost(self, register: Register, conflicts: list[str]) -> list[str]:
        cells = [row.get(key) for row in (*register.rows.values(), *register.history) for key in row]
        kept = {part for cell in (*cells, *conflicts) if cell for part in str(cell).split(BETWEEN)}
        return [word for word, stands in self.words.items() if stands and word not in kept]


def history(chance: random.Random) -> None:
    """One life of a register on a small wall, without files."""
    oracle, conflicts, number = Oracle(), [], 0
    known = [brought_up_to_date(Register(), DUE)]
    books: list[tuple[Register, int]] = [(known[0], 0)]  # what each workbook shows, and from which state
    for _ in range(chance.randint(4, 24)):
        which = chance.randrange(len(books))
        shown, base = books[which]
        match chance.choice(["type", "type", "type", "return", "relabel", "copy", "run", "merge", "merge"]):
            case "type":
                name, key = chance.choice(list(shown.rows)), chance.choice(TYPED)
                number += 1
                word = f"w{number}"
                oracle.typed(word, shown.rows[name].get(key))
                books[which] = (with_cells(shown, name, {key: word}), base)
            case "return":
                name = chance.choice(list(shown.rows))
                cells = {"returned": date(2027, 1, 1 + number % 28), "result": "revise and resubmit"}
                books[which] = (with_cells(shown, name, cells), base)
            case "relabel":
                name = chance.choice(list(shown.rows))
                books[which] = (
                    with_cells(shown, name, {ROUND: chance.choice(["1", "2", "8", "A"])}),
                    base,
                )
            case "copy":
                books.append((shown, base))
            case "run" | "merge" as what:
                mine = known[-1]
                for here in dict.fromkeys((0, which) if what == "merge" else (0,)):
                    mine = merge(known[books[here][1]], mine, books[here][0])
                conflicts += [str(one.other) for one in mine.conflicts]
                done = brought_up_to_date(Register(mine.rows, mine.history, (), mine.made), DUE)
                known.append(done)
                books[0] = (done, len(known) - 1)
    for copy, base in books:  # at the end every copy comes in
        mine = merge(known[base], known[-1], copy)
        conflicts += [str(one.other) for one in mine.conflicts]
        known.append(brought_up_to_date(Register(mine.rows, mine.history, (), mine.made), DUE))
    assert oracle.lost(known[-1], conflicts) == []
    rounds = [(row.get(ID), row.get(ROUND)) for row in known[-1].history]
    assert len(rounds) == len(set(rounds)), "a closed round stands twice"


def with_cells(register: Register, name: str, cells: dict[str, Cell]) -> Register:
    rows = {**register.rows, name: {**register.rows[name], **cells}}
    return Register(rows, register.history, (), register.made)


def seeds(count: int, few: int) -> Iterator[int]:
    yield from range(20261128, 20261128 + (count if LONG else few))


def test_no_history_loses_a_word() -> None:
    for seed in seeds(20_000, 300):
        try:
            history(random.Random(seed))
        except AssertionError as error:
            raise AssertionError(f"history {seed}: {error}") from error


def test_histories_through_the_command(tmp_path: Path) -> None:
    """The same with workbooks, copies and runs as people have them."""
    for seed in seeds(50, 2):
        chance, oracle, out = random.Random(seed), Oracle(), tmp_path / str(seed)
        register(out)
        books, listed, number = [book(out)], [""], 0
        for _ in range(chance.randint(4, 10)):
            path = chance.choice(books)
            match chance.choice(["type", "type", "return", "copy", "run", "merge"]):
                case "type":
                    shown = rows(path)
                    row, key = chance.randrange(4), chance.choice(["by", "submittal", "remarks"])
                    number += 1
                    oracle.typed(f"w{number}", shown[row].get(key))
                    fill(path, {(row, key): f"w{number}"})
                case "return":
                    row = chance.randrange(4)
                    fill(path, {(row, "returned"): date(2027, 1, 5), (row, "result"): "rejected"})
                case "copy":
                    books.append(Path(shutil.copy(path, out / f"copy-{len(books)}.xlsx")))
                case "run":
                    listed.append(register(out).out)
                case "merge":
                    listed.append(register(out, *(("--merge", path) if path != books[0] else ())).out)
        listed.append(register(out, *(word for path in books[1:] for word in ("--merge", path))).out)
        final = state(out, numbers(out)[-1]).register
        others = [
            word
            for line in "\n".join(listed).split("the other copy says `")[1:]
            for word in [line.split("`")[0]]
        ]
        assert oracle.lost(final, others) == [], seed


def test_the_cells_of_a_round_are_columns_that_people_fill() -> None:
    assert set(OF_A_ROUND) <= {column.key for column in COLUMNS if column.filled}
