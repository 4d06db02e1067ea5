"""Bounds and ranges of a submitted value: what is read, what is refused, and that the schema knows them.

And two files an architect hands in: one whose kind is left blank, and a data sheet.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from specgen.files.marks import InputError
from specgen.intake.bounds import bound_pattern, stated
from specgen.intake.quantity_pattern import quantity_pattern
from specgen.intake.submittal import load_submission
from specgen.intake.values import UnusableValueError
from specgen.model.submission import Claim, Product
from specgen.practice.load import load_practice

PRACTICE = load_practice()
FIELDS = PRACTICE.vocabulary.roles["barrier"].fields


@pytest.mark.parametrize(
    ("name", "written", "sense", "low", "high"),
    [
        ("vapor_permeance", ">= 14 perm", "at least", "14 perm", ""),
        ("vapor_permeance", "≥14 perms", "at least", "14 perms", ""),
        ("vapor_permeance", "at least 14 perm", "at least", "14 perm", ""),
        ("vapor_permeance", "Min. 14 perm", "at least", "14 perm", ""),
        ("vapor_permeance", "minimum of 14 perm", "at least", "14 perm", ""),
        ("vapor_permeance", "14 perm min.", "at least", "14 perm", ""),
        ("vapor_permeance", "14 perm or more", "at least", "14 perm", ""),
        ("vapor_permeance", "> 14 perm", "more than", "14 perm", ""),
        ("vapor_permeance", "<0.1 perm", "less than", "0.1 perm", ""),
        ("vapor_permeance", "≤ 0.1 perm", "at most", "0.1 perm", ""),
        ("vapor_permeance", "not more than 0.1 perm", "at most", "0.1 perm", ""),
        ("vapor_permeance", "0.1 perm (max.)", "at most", "0.1 perm", ""),
        ("vapor_permeance", "10 to 14 perm", "to", "10 perm", "14 perm"),
        ("vapor_permeance", "10–14 perm", "to", "10 perm", "14 perm"),
        ("vapor_permeance", "10 perm - 14 perm", "to", "10 perm", "14 perm"),
        ("vapor_permeance", "14 perm", "", "14 perm", ""),
        ("air_permeance", "< 0.004 cfm/ft2 @ 75 Pa", "less than", "0.004 cfm/ft2 @ 75 Pa", ""),
        # What is itself the end of a range is exact with a bound of that kind; a minute is no minimum.
        ("exposure_limit", "up to 180 days", "", "180 days", ""),
        ("exposure_limit", "min. 180 days", "at least", "180 days", ""),
        ("exposure_limit", "30 min", "", "30 min", ""),
        ("service_temperature", "-20 to 240 degF", "", "240 degF", ""),
        ("application_temperature", "40 degF min.", "", "40 degF", ""),
        ("thickness", "1-1/2 in", "", "1-1/2 in", ""),
    ],
)
def test_what_is_read(name: str, written: str, sense: str, low: str, high: str) -> None:
    found: Any = stated(FIELDS[name], written, PRACTICE.vocabulary)
    assert (found.sense, found.value.text, found.upper.text if found.upper else "") == (sense, low, high)
    field = FIELDS[name]
    pattern = quantity_pattern(frozenset({field.type}), field.signed, "pressure" if field.at else "")
    assert re.search(pattern, written) or re.search(bound_pattern(pattern), written)


@pytest.mark.parametrize(
    ("written", "expected"),
    [
        ("about 14 perm", "does not start with a number"),
        ("≥ 14", "has no unit"),
        ("≥ 14 psf", "is a pressure"),
        ("14 to 10 perm", "runs downward"),
        ("≥ ≤ 3 perm", "does not start with a number"),
        ("min. perm", "does not start with a number"),
    ],
)
def test_what_is_refused(written: str, expected: str) -> None:
    with pytest.raises(UnusableValueError) as error:
        stated(FIELDS["vapor_permeance"], written, PRACTICE.vocabulary)
    assert expected in error.value.message


def test_a_word_has_no_bound() -> None:
    with pytest.raises(UnusableValueError):
        stated(FIELDS["nail_sealability"], "at least passes", PRACTICE.vocabulary)


def sent(folder: Path, role: str, lines: str) -> Product:
    path = folder / "s.yaml"
    path.write_text(f'submittal: {{number: "1"}}\nproducts:\n  - role: {role}\n    name: a\n{lines}')
    return load_submission(path, PRACTICE).products[0]


def claim(folder: Path, role: str, lines: str, attribute: str) -> Claim:
    return sent(folder, role, lines).claims[attribute]


@pytest.mark.parametrize(
    ("ends", "sense"),
    [
        ("at least: 10 perm", "at least"),
        ("at most: 10 perm", "at most"),
        ("at least: 10 perm, at most: 14 perm", "to"),
    ],
)
def test_ends_as_keys(tmp_path: Path, ends: str, sense: str) -> None:
    lines = f"    vapor_permeance: {{{ends}, method: ASTM E96 method B}}\n"
    found = claim(tmp_path, "barrier", lines, "vapor_permeance")
    assert (
        found.sense == sense
        and found.method == "ASTM E96 method B"
        and (found.upper is not None) is (sense == "to")
    )


@pytest.mark.parametrize(
    ("role", "lines", "expected"),
    [
        ("barrier", "    vapor_permeance: {at least: 10 perm, value: 12 perm}\n", "a value and a bound"),
        ("barrier", "    vapor_permeance: {at least: 14 perm, at most: 10 perm}\n", "runs downward"),
        ("barrier", "    nail_sealability: {at least: passes}\n", "is no quantity"),
        ("coping", "    metal: galvanized steel\n    thickness: '>= 24 ga'\n", "can be read both ways"),
        ("coping", "    metal: copper\n    thickness: 16 oz/ft2 to 20 oz/ft2\n", "can be read both ways"),
    ],
)
def test_files_that_say_too_much(tmp_path: Path, role: str, lines: str, expected: str) -> None:
    (given,) = sent(tmp_path, role, lines).unreadable.values()
    assert expected in given.why


def test_a_blank_kind_is_not_stated(tmp_path: Path) -> None:
    path = tmp_path / "s.yaml"
    path.write_text('submittal: {number: "1"}\nproducts:\n  - role: barrier\n    name: a\n    kind:\n')
    (product,) = load_submission(path, PRACTICE).products
    assert product.kind == "" and product.claims == {}


@pytest.mark.parametrize("suffix", [".csv", ".xlsx", ".PDF"])
def test_a_data_sheet_is_not_taken_for_a_submittal(tmp_path: Path, suffix: str) -> None:
    path = tmp_path / f"sheet{suffix}"
    path.write_text("product,perm\n")
    with pytest.raises(InputError, match="specgen read FILE"):
        load_submission(path, PRACTICE)
