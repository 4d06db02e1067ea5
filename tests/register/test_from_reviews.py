"""One record: a review fills its row of the register, round by round; what a person entered stands."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from specgen.files.withdrawn import REGISTER as STEM
from specgen.register.merge import Row
from specgen.work.register_run import read_copy
from tests.chain.runs import CONFORMING, Done, run
from tests.register.test_results_of_offices import typed_at
from tests.review.test_rounds import PERM, PULL, sent


def entered(folder: Path, day: str = "2026-12-01") -> Done:
    return run("register", CONFORMING, "-o", folder / "out", "--reviews", folder / "out", "--as-of", day)


def row(folder: Path, item: str = "Product data for barrier, primers, and accessories") -> Row:
    rows = read_copy(folder / "out" / f"{STEM}.xlsx").register.rows
    (found,) = [one for one in rows.values() if one.get("item") == item]
    return found


def test_a_product_through_three_rounds_is_never_typed_twice(tmp_path: Path) -> None:
    """Returned, answered, accepted: the register is right at each step, and a person enters only the decision."""
    sent(tmp_path, 1, (PERM, ""), (PULL, PULL.replace("42", "4")))
    done = entered(tmp_path)
    assert done.status == 0 and "to decide: 07 27 00-01" in done.out
    first = row(tmp_path)
    assert (first["submittal"], first["received"], first["round"]) == (
        "07 27 00-01",
        date(2026, 11, 16),
        "1",
    )
    assert (first["recommended"], first["open_comments"]) == ("revise and resubmit", 2)
    assert first["result"] is None and first["state"] == "in review" and first["waiting"] == "reviewer"

    typed_at(tmp_path / "out", first, result="R&R", returned=date(2026, 11, 27))
    sent(tmp_path, 2, (PULL, PULL.replace("42", "5")))
    assert entered(tmp_path).status == 0
    second = row(tmp_path)
    assert (second["round"], second["submittal"], second["open_comments"]) == ("2", "07 27 00-01", 1)

    typed_at(tmp_path / "out", second, result="revise & resubmit", returned=date(2026, 11, 30))
    sent(tmp_path, 3)
    entered(tmp_path)
    third = row(tmp_path)
    assert (third["round"], third["recommended"]) == ("3", "no exceptions taken")
    assert third["open_comments"] == 0

    typed_at(tmp_path / "out", third, result="approved")
    assert "to return: 07 27 00-01 (specgen letters)" in entered(tmp_path).out
    typed_at(tmp_path / "out", third, returned=date(2026, 12, 1))
    entered(tmp_path)
    last = row(tmp_path)
    assert (last["state"], last["waiting"], last["result"]) == ("accepted", None, "no exceptions taken")
    history = read_copy(tmp_path / "out" / f"{STEM}.xlsx").register.history
    assert [(one["round"], one["result"]) for one in history] == [
        ("1", "revise and resubmit"),
        ("2", "revise and resubmit"),
    ]


def test_what_a_person_entered_stands_and_the_difference_is_told(tmp_path: Path) -> None:
    sent(tmp_path, 1, (PERM, ""))
    entered(tmp_path)
    typed_at(tmp_path / "out", row(tmp_path), received=date(2026, 11, 18), remarks="by courier")
    done = entered(tmp_path)
    found = row(tmp_path)
    assert found["received"] == date(2026, 11, 18) and found["remarks"] == "by courier"
    assert "`Received` is 2026-11-18 in the register and 2026-11-16 in the submittal" in done.out


def test_a_later_round_waits_for_the_result_of_the_one_before(tmp_path: Path) -> None:
    sent(tmp_path, 1, (PERM, ""))
    sent(tmp_path, 2)
    done = entered(tmp_path)
    assert "round 2 is not entered: its row is in round 1" in done.out
    assert row(tmp_path)["round"] == "1"


def test_a_second_submittal_for_the_same_row_gets_a_row_of_its_own(tmp_path: Path) -> None:
    sent(tmp_path, 1, (PERM, ""))
    sent(tmp_path, 1, (PERM, ""), ('"07 27 00-01"', '"07 27 00-02"'))
    entered(tmp_path)
    rows = read_copy(tmp_path / "out" / f"{STEM}.xlsx").register.rows
    held = sorted((str(one["submittal"]), str(one["item"])) for one in rows.values() if one.get("submittal"))
    assert [number for number, _ in held] == ["07 27 00-01", "07 27 00-02"]
    again = entered(tmp_path)
    assert len(read_copy(tmp_path / "out" / f"{STEM}.xlsx").register.rows) == len(rows), again.out


@pytest.mark.parametrize("content", [None, "{}", "[1]", '{"submittal": "1"}', "torn"])
def test_a_folder_without_reviews_or_with_a_spoiled_one_is_refused(
    tmp_path: Path, content: str | None
) -> None:
    (tmp_path / "out").mkdir()
    if content is not None:
        (tmp_path / "out" / "review-1.json").write_text(content, encoding="utf-8")
    done = entered(tmp_path)
    assert done.status == 2 and ("holds no review" in done.err or "not the data of a review" in done.err)
    assert not (tmp_path / "out" / f"{STEM}.xlsx").exists()
