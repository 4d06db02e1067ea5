"""A dozen parapets written by hand, each with something that a project file could not state before.

Each is checked without an error, finds what it must and nothing else, and is written; ``invented/must.yaml`` says what
its sections must print. All are written with ``SPECGEN_LONG=1``, some of them always.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import pytest

from specgen.assessment import Assessment, assess
from specgen.design.worksheet import STRAIGHT
from specgen.drawing.sheets import by_parapets
from specgen.intake.project import load_project
from specgen.model.document import numbered
from specgen.practice.load import load_practice
from specgen.specification import specify
from specgen.wall.order import stated_order
from tests import plain_yaml
from tests.chain.runs import run
from tests.conftest import LONG

FOLDER = Path(__file__).with_name("invented")
FILES = {path.stem: path for path in FOLDER.glob("*.yaml") if path.stem != "must"}
MUST: dict[str, dict[str, Any]] = plain_yaml.load((FOLDER / "must.yaml").read_text())
WRITTEN = sorted(FILES) if LONG else ["primed", "roofers-laps", "round-stair", "slip-sheet"]
PRACTICE = load_practice()


@cache
def assessed(name: str) -> Assessment:
    return assess(load_project(FILES[name], PRACTICE), PRACTICE)


def test_each_parapet_has_its_expectations() -> None:
    assert set(FILES) == set(MUST) and len(FILES) == 12


@pytest.mark.parametrize("name", sorted(FILES))
def test_it_is_checked_and_finds_what_it_must(name: str) -> None:
    findings, must = assessed(name).findings, MUST[name]
    failed = {one.code for one in findings if one.failed}
    assert failed == set(must.get("finds", ())), [one.message for one in findings if one.failed]
    assert set(must.get("asks", ())) <= {one.code for one in findings if one.open}
    counted = {one.code for one in findings if one.failed or one.open}
    assert not counted & set(must.get("quiet", ()))


@pytest.mark.parametrize("name", WRITTEN)
def test_it_is_written_and_its_sections_print_it(name: str) -> None:
    spec = specify(assessed(name))
    lines = {
        section.number: [one.para.text for one in numbered(section.document.blocks)]
        for section in spec.sections
    }
    for section, wanted in MUST[name].get("prints", {}).items():
        for words in wanted:
            assert any(words in line for line in lines[section]), (section, words)
    for section, unwanted in MUST[name].get("never", {}).items():
        assert not any(words in line for words in unwanted for line in lines[section])
    shown = "\n".join(line for found in lines.values() for line in found)
    assert "turn-up" not in shown  # a part is called as the trade calls it


def test_a_stated_order_of_work_is_kept_as_it_is_stated() -> None:
    (wall,) = assessed("roofers-laps").walls
    steps = [one.component for one in wall.order.steps]
    named = stated_order(wall.parapet)
    assert len(named) == 7 and [one for one in steps if one in named] == list(named)
    assert steps.index("weep screed") < steps.index("barrier")  # what is not named comes where it must


def test_the_sheets_show_the_curve_the_fasteners_and_who_makes_a_lap() -> None:
    names = ("round-stair", "roofers-laps", "screwed-cap")
    sheets = {
        (name, sheet.name.removeprefix("P-1 ")): " ".join(
            str(getattr(item, "words", "")) for item in sheet.items
        )
        for name in (names if LONG else names[:1])
        for sheet in by_parapets(specify(assessed(name)))["P-1"]
    }
    assert "Curved in plan, radius of the outer face 30 ft" in sheets["round-stair", "section"]
    assert "each end is mitered by half the turn of 5.7" in sheets["round-stair", "coping-blank"]
    assert "The face is curved in plan, radius 30 ft" in sheets["round-stair", "plaster-panels"]
    if LONG:
        assert "made by the roofer" in sheets["roofers-laps", "section"]
        assert "spacing of the fasteners through the top not more" in sheets["screwed-cap", "section"]
        assert "made by" not in sheets["screwed-cap", "section"]


def test_a_calculation_that_takes_the_wall_for_straight_says_so() -> None:
    made = assessed("round-stair").calculations["P-1"]
    curved = {name for name in STRAIGHT if any("curved in plan" in one for one in made[name].leaves_out)}
    assert curved == set(STRAIGHT) and set(STRAIGHT) <= set(made)
    straight = assessed("primed").calculations["P-1"]
    assert not any("curved in plan" in one for name in STRAIGHT for one in straight[name].leaves_out)


def test_a_primer_is_reviewed_as_a_product_of_its_own(tmp_path: Path) -> None:
    (tmp_path / "project.yaml").write_text(FILES["primed"].read_text())
    file = tmp_path / "primer.yaml"
    file.write_text(
        'format: 2\nsubmittal: {number: S-1, project: "2612", date: 2026-11-10}\nproducts:\n  - name: a primer\n'
        "    role: primer\n    evidence: label\n    kind: membrane primer\n"
        "    solvent: aromatic hydrocarbon\n    flash_off: 20 min\n"
    )
    done = run("review", tmp_path, file, "-o", tmp_path / "out")
    assert (done.status, "(1 not met)" in done.out) == (1, True), done.out + done.err
