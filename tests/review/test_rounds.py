"""Three rounds of one product: what the letter says is closed, still open, and new at each step."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import docx

from tests.chain.runs import CONFORMING, Done, run

GOOD = (CONFORMING / "submittals" / "barrier-conforming.yaml").read_text(encoding="utf-8")
HEAD = '  number: "07 27 00-01"\n'
PERM = '    vapor_permeance: {value: 14 perm, method: ASTM E96 method B, evidence: "data sheet, page 2"}\n'
PULL = '    pull_adhesion: {value: 42 psi, method: ASTM D4541, evidence: "data sheet, page 2"}\n'
NAIL = '    nail_sealability: {value: passes, method: ASTM D1970, evidence: "test report, page 11"}\n'


def sent(folder: Path, round_: int, *changes: tuple[str, str], answers: str = "") -> Done:
    text = GOOD.replace(HEAD, f"{HEAD}  round: {round_}\n")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    path = folder / f"round-{round_}.yaml"
    path.write_text(text + answers, encoding="utf-8")
    return run("review", CONFORMING, path, "-o", folder / "out")


def data(folder: Path, round_: int) -> dict[str, Any]:
    name = "review-07-27-00-01" + (f"-round-{round_}" if round_ > 1 else "")
    found: dict[str, Any] = json.loads((folder / "out" / f"{name}.json").read_text(encoding="utf-8"))
    return found


def standings(folder: Path, round_: int) -> dict[int, str]:
    return {one["number"]: one["standing"] for one in data(folder, round_)["comments"]}


def words(folder: Path, round_: int) -> str:
    name = "review-07-27-00-01" + (f"-round-{round_}" if round_ > 1 else "")
    document = docx.Document(str(folder / "out" / f"{name}.docx"))
    cells = [cell.text for table in document.tables for row in table.rows for cell in row.cells]
    return "\n".join([*(para.text for para in document.paragraphs), *cells])


def test_a_product_is_returned_answered_and_accepted(tmp_path: Path) -> None:
    assert sent(tmp_path, 1, (PERM, ""), (PULL, PULL.replace("42", "4"))).status == 1
    assert standings(tmp_path, 1) == {1: "new", 2: "new"}
    assert "Changes since" not in words(tmp_path, 1)

    answers = "answers:\n  - {comment: 1, answer: data sheet of March attached}\n"
    assert sent(tmp_path, 2, (PULL, PULL.replace("42", "5")), (NAIL, ""), answers=answers).status == 1
    assert standings(tmp_path, 2) == {1: "closed", 2: "still open", 3: "new"}
    letter = words(tmp_path, 2)
    assert "Changes since round 1" in letter and "1 closed, 1 still open, 1 new." in letter
    assert "data sheet of March attached" in letter

    assert sent(tmp_path, 3).status == 0
    assert standings(tmp_path, 3) == {2: "closed", 3: "closed"}
    last = words(tmp_path, 3)
    assert "2 closed, 0 still open, 0 new." in last and "There is no comment." in last
    assert data(tmp_path, 3)["products"][0]["recommendation"] == "no exceptions taken"
    assert {path.name for path in (tmp_path / "out").glob("*.docx")} == {
        "review-07-27-00-01.docx",
        "review-07-27-00-01-round-2.docx",
        "review-07-27-00-01-round-3.docx",
    }


def test_a_round_whose_former_one_is_not_on_file_says_so(tmp_path: Path) -> None:
    sent(tmp_path, 2, (PERM, ""))
    assert "The comments of round 1 are not on file here" in words(tmp_path, 2)
    assert standings(tmp_path, 2) == {1: "new"}


def test_a_record_of_the_former_round_that_was_spoiled_stops_the_run(tmp_path: Path) -> None:
    sent(tmp_path, 1, (PERM, ""))
    (tmp_path / "out" / "review-07-27-00-01.json").write_text("{}", encoding="utf-8")
    done = sent(tmp_path, 2)
    assert done.status == 2 and "it is not the data of a review" in done.err
    assert not (tmp_path / "out" / "review-07-27-00-01-round-2.docx").exists()


def test_what_is_printed_as_data_is_what_is_written(tmp_path: Path) -> None:
    sent(tmp_path, 1, (PERM, ""))
    path = tmp_path / "round-1.yaml"
    done = run("review", CONFORMING, path, "-o", tmp_path / "out", "--format", "json")
    (printed,) = json.loads(done.out)["reviews"]
    assert printed["comments"] == data(tmp_path, 1)["comments"] and printed["round"] == 1
    assert printed["received"] == "2026-11-16" and printed["returned"] is None


def test_a_value_that_misses_by_nearly_all_of_the_limit_is_not_called_all_of_it(tmp_path: Path) -> None:
    sent(tmp_path, 1, (PULL, PULL.replace("42 psi", "0.05 psi")))
    letter = words(tmp_path, 1)
    assert "more than 99 % below the limit" in letter and "100 %" not in letter
