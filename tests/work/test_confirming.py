"""A person compares values with their sheet: what is found is written with name and day, and nothing else changes."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from specgen.files.marks import InputError
from specgen.intake.datasheet.read import load_sheets, read_product
from specgen.intake.submittal import load_submission
from specgen.practice.load import load_practice
from specgen.work.confirming import (
    BLANK,
    CORRECTED,
    FOUND,
    NOT_THERE,
    OPEN,
    STATED,
    TAKEN,
    Confirmation,
    SubmittedValue,
    confirm,
    fill_blanks,
    products_of,
    text_of,
)
from specgen.work.evidence_places import picture_of, place_of
from specgen.work.filed import papers_of
from specgen.work.uploads import Dropped, take_in
from tests.chain.runs import CONFORMING, run
from tests.commands.test_package import BARRIER, pdf

PRACTICE = load_practice()
DAY = date(2026, 12, 1)
ROWS = (*BARRIER, ("Pull adhesion", "", "42 psi"))


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return Path(shutil.copytree(CONFORMING, tmp_path / "mill"))


@pytest.fixture
def path(folder: Path) -> Path:
    sheet = pdf("Air and water barrier WB-1", ROWS)
    return take_in(folder, [Dropped("wb.pdf", sheet)], PRACTICE, None).products[0].file


def value(path: Path, key: str) -> SubmittedValue:
    (product,) = products_of(text_of(path), path, PRACTICE)
    return next(one for one in product.values if one.key == key)


def found(path: Path, key: str, what: str, new: str = "", method: str = "") -> str:
    return confirm(
        path, PRACTICE, 0, key, Confirmation(what, "A. B.", DAY, new, method), value(path, key).state
    )


def changed_lines(before: str, after: str) -> Iterator[str]:
    return (line for line in after.splitlines() if line not in before.splitlines())


def test_each_value_says_how_it_stands(path: Path) -> None:
    assert value(path, "vapor_permeance").standing == STATED
    assert value(path, "pull_adhesion").standing == OPEN and value(path, "pull_adhesion").why
    assert value(path, "air_permeance").standing == BLANK
    assert value(path, "air_permeance").wanted == "ASTM E2178 at 75 Pa"
    assert value(path, "vapor_permeance").evidence[0].startswith("wb.pdf, page 1, box ")


def test_taken_as_read_counts_from_then_on(path: Path) -> None:
    before = text_of(path)
    assert "pull_adhesion" in load_submission(path, PRACTICE).products[0].unconfirmed
    found(path, "pull_adhesion", TAKEN)
    (product,) = load_submission(path, PRACTICE).products
    assert product.claims["pull_adhesion"].evidence.startswith("wb.pdf, page 1")
    assert product.confirmed["pull_adhesion"].word("by") == "A. B."
    assert [*changed_lines(before, text_of(path))] == [
        "      confirmed: {as: taken as read, by: A. B., date: 2026-12-01}"
    ]
    now = value(path, "pull_adhesion")
    assert (now.standing, now.by, now.day, now.why) == (TAKEN, "A. B.", "2026-12-01", "")


def test_a_correction_keeps_the_evidence(path: Path) -> None:
    evidence = value(path, "vapor_permeance").evidence
    found(path, "vapor_permeance", CORRECTED, "13 perm", "ASTM E96 method B")
    now = value(path, "vapor_permeance")
    assert (now.value, now.method, now.evidence) == ("13 perm", "ASTM E96 method B", evidence)


def test_a_value_that_was_not_found_can_be_typed(path: Path) -> None:
    found(path, "air_permeance", CORRECTED, "0.001 cfm/ft2 @ 75 Pa", "ASTM E2178")
    claim = load_submission(path, PRACTICE).products[0].claims["air_permeance"]
    assert claim.method == "ASTM E2178"


def test_not_in_the_sheet_is_not_stated(path: Path) -> None:
    found(path, "vapor_permeance", NOT_THERE)
    (product,) = load_submission(path, PRACTICE).products
    assert "vapor_permeance" not in product.claims and value(path, "vapor_permeance").standing == NOT_THERE


def test_what_was_confirmed_can_be_left_to_confirm_again(path: Path) -> None:
    found(path, "vapor_permeance", TAKEN)
    found(path, "vapor_permeance", OPEN)
    assert value(path, "vapor_permeance").why == "left to confirm by A. B., 2026-12-01"
    before = text_of(path)
    found(path, "vapor_permeance", OPEN)
    assert text_of(path) == before


@pytest.mark.parametrize("key", ["kind", "vapor_permeance", "layers", "pull_adhesion"])
def test_any_finding_may_follow_any_other(path: Path, key: str) -> None:
    typed = {"kind": "fluid-applied", "layers": "2", "vapor_permeance": "9 perm", "pull_adhesion": "40 psi"}
    for first in FOUND:
        for second in FOUND:
            for what in (first, second):
                if what in (TAKEN, OPEN) and not value(path, key).value:
                    found(path, key, CORRECTED, typed[key])
                found(path, key, what, typed[key] if what == CORRECTED else "")
                assert value(path, key).standing == what
                load_submission(path, PRACTICE)


def test_a_file_written_by_hand_keeps_its_comments(folder: Path) -> None:
    path = folder / "submittals" / "barrier-conforming.yaml"
    before = text_of(path)
    found(path, "service_temperature", CORRECTED, "240 degF")
    after = text_of(path)
    assert after.startswith(before[: before.index("    service_temperature")])
    assert after.endswith(before[before.index("    thickness: ") :])
    assert len([*changed_lines(before, after)]) <= 3


@pytest.mark.parametrize(
    ("key", "what", "new", "words"),
    [
        ("vapor_permeance", CORRECTED, "nine", "nine"),
        ("vapor_permeance", CORRECTED, "9 psi", "9 psi"),
        ("vapor_permeance", CORRECTED, "", "blank"),
        ("kind", CORRECTED, "paint", "paint"),
        ("air_permeance", TAKEN, "", "no value to take"),
        ("vapor_permeance", "looks good", "", "nothing that can be found"),
        ("colour", TAKEN, "", "nothing that a data sheet states"),
        ("vapor_permeance", CORRECTED, "9" * 400, "longer than"),
    ],
)
def test_what_cannot_stand_is_refused_and_nothing_is_written(
    path: Path, key: str, what: str, new: str, words: str
) -> None:
    before = path.read_bytes()
    with pytest.raises(InputError, match=words):
        confirm(path, PRACTICE, 0, key, Confirmation(what, "A. B.", DAY, new))
    assert path.read_bytes() == before


def test_nobody_confirms_without_a_name(path: Path) -> None:
    with pytest.raises(InputError, match="nobody signs"):
        confirm(path, PRACTICE, 0, "vapor_permeance", Confirmation(TAKEN, " ", DAY))


@pytest.mark.parametrize(
    "typed", ['"; drop', "{{ 7*7 }}", "a: b", "- [", "&a *a", "!!python/x y", "# no", "'"]
)
def test_whatever_is_typed_stays_a_text(path: Path, typed: str) -> None:
    confirm(path, PRACTICE, 0, "vapor_permeance", Confirmation(CORRECTED, typed, DAY, "9 perm", typed))
    (product,) = load_submission(path, PRACTICE).products
    assert product.confirmed["vapor_permeance"].word("by") == typed
    assert product.claims["vapor_permeance"].method == typed


def test_a_value_that_somebody_changed_meanwhile_is_left_as_it_is(path: Path) -> None:
    seen = value(path, "vapor_permeance").state
    found(path, "vapor_permeance", CORRECTED, "13 perm")
    with pytest.raises(InputError, match="changed by somebody else meanwhile: it is 13 perm now"):
        confirm(path, PRACTICE, 0, "vapor_permeance", Confirmation(TAKEN, "C. D.", DAY), seen)
    confirm(path, PRACTICE, 0, "thickness", Confirmation(TAKEN, "C. D.", DAY), value(path, "thickness").state)


def test_a_second_reading_fills_blanks_and_nothing_else(path: Path, tmp_path: Path) -> None:
    found(path, "vapor_permeance", CORRECTED, "13 perm", "ASTM E96 method B")
    found(path, "thickness", NOT_THERE)
    before = text_of(path)
    report = tmp_path / "report.pdf"
    rows = (("Vapor permeance", "ASTM E96 Procedure B", "15 perms"), ("Dry film thickness", "", "41 mils"))
    report.write_bytes(
        pdf("Air and water barrier WB-1", (*rows, ("Air permeance", "ASTM E2178", "0.002 cfm/ft2 @ 75 Pa")))
    )
    reading = read_product(load_sheets([report])[0], "barrier", PRACTICE)
    filled, differing = fill_blanks(path, PRACTICE, 0, reading)
    assert filled == ("air permeance",)
    assert "vapor permeance: 13 perm stands, the papers say 15 perms" in differing
    assert (
        value(path, "vapor_permeance").value == "13 perm" and value(path, "thickness").standing == NOT_THERE
    )
    kept = [line for line in before.splitlines() if not line.startswith("    air_permeance:")]
    assert [line for line in text_of(path).splitlines() if line in kept] == kept
    assert value(path, "air_permeance").evidence[0].startswith("report.pdf, page 1")


def test_the_picture_of_a_place_is_cut_out_of_the_paper(folder: Path, path: Path) -> None:
    places = [
        place for one in ("vapor_permeance", "thickness") if (place := place_of(value(path, one).evidence[0]))
    ]
    pictures = [picture_of(folder, place, places) for place in places]
    assert all(one and one.startswith(b"\x89PNG") for one in pictures) and pictures[0] != pictures[1]


def test_without_the_paper_there_is_no_picture(folder: Path, path: Path) -> None:
    place = place_of(value(path, "vapor_permeance").evidence[0])
    assert place is not None
    papers_of(folder)[0].unlink()
    assert picture_of(folder, place) is None
    outside = place_of("../../secret.pdf, page 1, box 1 1 9 9: x")
    assert outside is not None and picture_of(folder, outside) is None


def test_the_review_reads_what_a_person_found(folder: Path, path: Path, tmp_path: Path) -> None:
    found(path, "kind", CORRECTED, "fluid-applied")
    found(path, "pull_adhesion", TAKEN)
    found(path, "vapor_permeance", CORRECTED, "0.1 perm", "ASTM E96 method B")
    done = run("review", folder, path, "-o", tmp_path / "out")
    assert done.status == 1, done.err
