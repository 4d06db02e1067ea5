"""What is typed on a page enters the register as a copy of the workbook would: no cell is lost, differences are told."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from specgen.files.marks import InputError
from specgen.files.withdrawn import REGISTER as STEM
from specgen.practice.load import load_practice
from specgen.register.merge import Row
from specgen.register.typed import Decided, TypedRow
from specgen.specification import specify
from specgen.work.inputs import read_inputs
from specgen.work.register_run import Done, Sources, read_copy, shown
from specgen.work.registering import Wanted, keep_register, typed_row, wanted
from specgen.work.reviews import load_reviews
from tests.chain.runs import CONFORMING
from tests.register.test_results_of_offices import typed_at
from tests.review.test_rounds import PERM, PULL, sent

DAY = date(2026, 12, 1)
ITEM = "Product data for barrier, primers, and accessories"


@pytest.fixture(scope="module")
def asked() -> Wanted:
    return wanted(specify(read_inputs(CONFORMING, None, False).assessed()), None)


def kept(asked: Wanted, folder: Path, *typed: TypedRow, decided: tuple[Decided, ...] = ()) -> Done:
    practice = load_practice()
    reviews = load_reviews(folder, practice) if list(folder.glob("review-*.json")) else ()
    sources = Sources(folder, STEM, reviews=reviews, typed=typed, decided=decided)
    return keep_register(sources, asked, practice, DAY)[0]


def row(folder: Path, item: str = ITEM) -> Row:
    rows = read_copy(folder / f"{STEM}.xlsx").register.rows
    return next(one for one in rows.values() if one.get("item") == item)


def test_a_typed_cell_stands_in_the_workbook(asked: Wanted, tmp_path: Path) -> None:
    kept(asked, tmp_path)
    name = str(row(tmp_path)["id"])
    one = typed_row(name, {"round": "1"}, {"received": "2026-11-20", "by": "A. B.", "round": "1"}, "register")
    done = kept(asked, tmp_path, one)
    assert not done.register.conflicts and not done.notes
    found = row(tmp_path)
    assert (found["received"], found["by"], found["state"]) == (date(2026, 11, 20), "A. B.", "in review")
    assert kept(asked, tmp_path).number == done.number  # nothing new: no new state


def test_what_somebody_else_typed_meanwhile_stands_and_is_told(asked: Wanted, tmp_path: Path) -> None:
    kept(asked, tmp_path)
    first = row(tmp_path)
    typed_at(tmp_path, first, received=date(2026, 11, 18), remarks="by courier")
    mine = typed_row(
        str(first["id"]), {"round": "1", "received": "", "remarks": ""},
        {"round": "1", "received": "2026-11-20", "remarks": "two copies"}, "register",
    )  # fmt: skip
    done = kept(asked, tmp_path, mine)
    (conflict,) = done.register.conflicts
    assert (conflict.kept, conflict.other) == (date(2026, 11, 18), date(2026, 11, 20))
    assert row(tmp_path)["received"] == date(2026, 11, 18)
    assert row(tmp_path)["remarks"] == "by courier // two copies"


def test_what_is_typed_for_a_round_that_was_closed_meanwhile_goes_to_that_round(
    asked: Wanted, tmp_path: Path
) -> None:
    kept(asked, tmp_path)
    first = row(tmp_path)
    typed_at(tmp_path, first, result="R&R", returned=date(2026, 11, 27))
    late = typed_row(str(first["id"]), {"round": "1"}, {"round": "1", "received": "2026-11-20"}, "register")
    done = kept(asked, tmp_path, late)
    assert not done.register.conflicts
    (closed,) = [one for one in done.register.history if one["id"] == first["id"]]
    assert (closed["round"], closed["received"]) == ("1", date(2026, 11, 20))
    assert (row(tmp_path)["round"], row(tmp_path)["received"]) == ("2", None)


def test_a_row_that_is_gone_is_told(asked: Wanted, tmp_path: Path) -> None:
    kept(asked, tmp_path)
    done = kept(asked, tmp_path, TypedRow("no such row", {}, {"by": "A. B."}))
    assert done.notes == (
        "no row `no such row` in the register any more: what was typed for it is not entered",
    )


@pytest.mark.parametrize(
    ("cells", "words"),
    [
        ({"received": "soon"}, "`soon` is no date"),
        ({"result": "looks good"}, "`looks good` is no result"),
        ({"received": "2026-11-20", "returned": "2026-11-19"}, "before it was received"),
    ],
)
def test_a_cell_that_cannot_be_understood_is_refused(cells: dict[str, str], words: str) -> None:
    with pytest.raises(InputError, match=words):
        typed_row("one", {}, cells, "register")


def test_a_computed_cell_is_nobodys_to_type() -> None:
    assert typed_row("one", {}, {"late": "0", "state": "accepted"}, "register").now == {}


def test_looking_at_the_register_writes_nothing(asked: Wanted, tmp_path: Path) -> None:
    done = shown(Sources(tmp_path, STEM), asked.due, asked.dates, DAY)
    assert len(done.register.rows) == len(asked.due) and done.number == 0
    assert list(tmp_path.iterdir()) == []


def test_a_decision_is_entered_in_the_row_of_its_submittal_and_opens_the_next_round(
    asked: Wanted, tmp_path: Path
) -> None:
    sent(tmp_path, 1, (PERM, ""), (PULL, PULL.replace("42", "4")))
    out = tmp_path / "out"
    decision = Decided("07 27 00-01", 1, "revise and resubmit", "A. B.", date(2026, 11, 27))
    done = kept(asked, out, decided=(decision,))
    assert done.notes == ()
    (closed,) = done.register.history
    assert (closed["submittal"], closed["result"], closed["by"]) == (
        "07 27 00-01",
        "revise and resubmit",
        "A. B.",
    )
    assert row(out)["round"] == "2"
    again = kept(asked, out, decided=(decision,))
    assert "the decision is not entered" in again.notes[0] and len(again.register.history) == 1


def test_a_decision_never_goes_over_what_a_person_entered(asked: Wanted, tmp_path: Path) -> None:
    sent(tmp_path, 1)
    out = tmp_path / "out"
    kept(asked, out)
    typed_at(out, row(out), result="approved as noted", by="C. D.")
    done = kept(asked, out, decided=(Decided("07 27 00-01", 1, "rejected", "A. B.", date(2026, 11, 27)),))
    assert [note.split(": ")[1].split(" is ")[0] for note in done.notes] == ["`Result`", "`Reviewed by`"]
    assert (row(out)["result"], row(out)["by"]) == ("make corrections noted", "C. D.")
