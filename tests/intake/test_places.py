"""Places of a parapet and manufacturers' letters in the project file."""

from __future__ import annotations

from datetime import date

import pytest

from specgen.files.marks import InputError
from specgen.intake.project import load_project
from specgen.practice.load import load_practice
from tests.paths.walls import DEMO, load_text

TEXT = (DEMO / "project.yaml").read_text(encoding="utf-8")


def with_place(lines: str) -> str:
    return TEXT.replace("    length: 120 ft\n", "    length: 120 ft\n" + lines)


def test_files_without_places_load_as_before() -> None:
    project = load_project(DEMO, load_practice())
    assert project.letters == ()
    assert all(not (p.corners or p.ends or p.scuppers or p.penetrations) for p in project.parapets)


def test_a_place_is_read_with_its_marks() -> None:
    corner = "    corners:\n      - name: C-1\n        turn: inside\n        coping: welded\n"
    text = with_place(corner)
    (found,) = load_text(text).parapets[0].corners
    assert found.word("turn") == "inside"
    assert text.splitlines()[found.at("coping").line - 1] == "        coping: welded"


def test_places_of_a_type_are_inherited_and_replaced() -> None:
    text = TEXT.replace("    transitions:\n", "    ends:\n      - name: E-1\n    transitions:\n")
    own = text.replace("    length: 120 ft\n", "    length: 120 ft\n    ends:\n      - name: E-9\n")
    names = [[end.word("name") for end in parapet.ends] for parapet in load_text(own).parapets]
    assert names == [["E-9"], ["E-1"], ["E-1"]]


@pytest.mark.parametrize(
    ("lines", "words"),
    [
        ("    corners:\n      - name: C-1\n        turn: sideways\n", "sideways"),
        ("    corners:\n      - turn: inside\n", "`name` is missing"),
        ("    ends:\n      - name: E\n      - name: E\n", "end `E` is described twice"),
        (
            "    penetrations:\n      - {name: R, what: cable, through: bariier}\n",
            "did you mean `barrier`?",
        ),
        ("    scuppers:\n      - {name: S, use: overflow, hieght: 4 in}\n", "did you mean `height`?"),
    ],
)
def test_bad_places_are_told_with_a_fix(lines: str, words: str) -> None:
    with pytest.raises(InputError) as error:
        load_text(with_place(lines))
    assert words in str(error.value)


LETTER = "maker_letters:\n  - one: TPO\n    other: barrier\n    makes: barrier\n    date: 2026-10-01\n    allows: yes\n"


def test_a_letter_names_families_or_components() -> None:
    (letter,) = load_text(TEXT + LETTER).letters
    assert (letter.one, letter.other, letter.makes) == ("TPO", "barrier", "barrier")
    assert letter.flag("allows") is True and letter.values["date"] == date(2026, 10, 1)


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("one: TPO", "one: TPOO", "did you mean `TPO`?"),
        ("makes: barrier", "makes: PVC", "`makes: PVC` is not one of the two"),
        ("    allows: yes\n", "", "`allows` is missing"),
    ],
)
def test_bad_letters_are_told_with_a_fix(old: str, new: str, words: str) -> None:
    with pytest.raises(InputError) as error:
        load_text(TEXT + LETTER.replace(old, new))
    assert words in str(error.value)
