"""Finding and running calculations, and printing them."""

from __future__ import annotations

import json
from pathlib import Path
from types import ModuleType

import pytest

from specgen.design import coping_wind
from specgen.design.run import add_subject, calculate_all, subjects
from specgen.design.sheet import WIDTH, sheet
from specgen.intake.project import load_project
from specgen.model.calculation import Calculation
from specgen.model.plain import plain
from specgen.practice.load import load_practice
from tests.design.projects import FILE, calculation


def all_of_the_project() -> tuple[Calculation, ...]:
    practice = load_practice()
    return calculate_all(load_project(FILE, practice), practice)


def test_subjects_are_found_and_say_what_they_set() -> None:
    found = subjects()
    assert {"coping movement", "coping wind", "vapor drive"} <= set(found)
    assert list(found) == sorted(found)
    for calc in all_of_the_project():
        if calc.done:
            assert set(calc.results) == set(found[calc.subject].SETS), calc.subject


def test_a_second_module_of_one_subject_is_an_error() -> None:
    other = ModuleType("specgen.design.other")
    other.SUBJECT = coping_wind.SUBJECT  # type: ignore[attr-defined]
    with pytest.raises(ValueError, match=r"'coping wind' is in specgen\.design\.coping_wind and in .*other"):
        add_subject({coping_wind.SUBJECT: coping_wind}, other)


def test_choice_of_subjects_and_parapets() -> None:
    practice = load_practice()
    project = load_project(FILE, practice)
    one = calculate_all(project, practice, ["coping wind"], ["P-1"])
    assert [(calc.subject, calc.parapet) for calc in one] == [("coping wind", "P-1")]
    with pytest.raises(KeyError, match="no calculation wind; known: "):
        calculate_all(project, practice, ["wind"])
    with pytest.raises(KeyError, match="no parapet P-9"):
        calculate_all(project, practice, parapets=["P-1", "P-9"])


@pytest.mark.parametrize("system", ["inch-pound", "SI", "both"])
def test_sheet_keeps_to_the_width_and_shows_every_line(system: str) -> None:
    for calc in all_of_the_project():
        text = sheet(calc, system)
        assert max(map(len, text.splitlines())) <= WIDTH
        joined = " ".join(text.split())
        for line in (*calc.inputs, *calc.steps, *calc.results.values()):
            assert line.formula in joined
            assert line.title.split()[0] in joined
        for printed in (*calc.leaves_out, *calc.sources, calc.validity):
            assert printed in joined
        for name in calc.results:
            assert f"[{name}]" in text


def test_sheet_of_an_unknown_calculation_names_what_is_missing(tmp_path: Path) -> None:
    calc = calculation(coping_wind, tmp_path, ("  exposure: C\n", ""))
    text = sheet(calc)
    assert "No result: unknown." in text
    assert "site.exposure: wind exposure category" in text
    assert "Results" not in text


def test_every_line_of_input_has_a_source() -> None:
    for calc in all_of_the_project():
        for line in calc.inputs:
            assert line.source, (calc.subject, line.title)


def test_plain_data_survives_json(tmp_path: Path) -> None:
    calc = calculation(coping_wind, tmp_path)
    back = json.loads(json.dumps(plain(calc)))
    assert back["done"] is True
    value = back["results"]["resistance_top"]["value"]
    found = calc.result("resistance_top")
    assert found is not None
    assert value["value"] == found.value
    assert (value["dimension"], value["unit"]) == ("pressure", "psf")
