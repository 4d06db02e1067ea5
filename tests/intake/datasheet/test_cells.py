"""Cells as manufacturers write them: what is taken, and everything that must be left to a person."""

from __future__ import annotations

import pytest

from specgen.intake.datasheet.candidates import candidates
from specgen.intake.datasheet.combine import combined
from specgen.intake.datasheet.labels import Labels
from specgen.intake.datasheet.owners import Owners
from specgen.model.datasheet import Cell, DataSheet, Grid, Page, ReadValue, Standing
from specgen.practice.datasheet_names import load_datasheet_names
from specgen.practice.load import load_practice

PRACTICE, NAMES = load_practice(), load_datasheet_names()
B = "ASTM E96 Procedure B"
HEAD = ["Property", "Value", "Method"]


def read(attribute: str, rows: list[list[str]], *lines: str, role: str = "barrier") -> ReadValue:
    """What is made of one attribute of a page with this table and these lines below it."""
    width = max(len(row) for row in rows)
    grid = Grid(tuple(tuple(Cell(text) for text in [*row, *[""] * (width - len(row))]) for row in rows), True)
    page = Page(
        "page 1",
        1,
        612,
        792,
        (grid,),
        tuple(Cell(line, (0, 9 * n, 99, 9 * n + 8)) for n, line in enumerate(lines)),
    )
    found = candidates(
        Owners(DataSheet("s.pdf", (page,)), Labels(role, NAMES, PRACTICE.vocabulary)), PRACTICE.vocabulary
    )
    own = [one for one in found if one.attribute == attribute]
    return combined(PRACTICE.vocabulary.roles[role].fields[attribute], own, NAMES.least_confidence)


@pytest.mark.parametrize(
    ("attribute", "rows", "value", "method"),
    [
        ("vapor_permeance", [["Vapor permeance", "14 perms", B]], "14 perms", B),
        ("vapor_permeance", [["Vapor permeance", "14 perms (800 ng/Pa·s·m²)", B]], "14 perms", B),
        ("vapor_permeance", [["Water Vapour Permeance", "not less than 14 perms", B]], "14 perms", B),
        ("vapor_permeance", [["Vapor permeance", "10 to 14 perms", B]], "10 perms", B),
        ("vapor_permeance", [["Vapor permeance", "12 ± 2 perms", B]], "10 perms", B),
        ("vapor_permeance", [["Vapor permeance", "14 perms min.", B]], "14 perms", B),
        ("vapor_permeance", [["Vapor permeance (ASTM E96, Procedure B), perms", "≥ 14"]], "14 perms", B),
        ("vapor_permeance", [["Vapor permeance", "14 perms", "ASTM E96/E96M-22, Procedure B (wet cup)"]], "14 perms",
         "ASTM E96/E96M-22 Procedure B"),
        ("vapor_permeance", [["Property", "Unit", "Value", "Method"], ["Vapor permeance", "perms", "14", B]],
         "14 perms", B),
        ("vapor_permeance", [["Property", "Imperial", "Metric", "Method"],
                             ["Vapor permeance", "14 perms", "800 ng/Pa·s·m²", B]], "14 perms", B),
        ("air_permeance", [["Air permeance", "≤ 0.004 cfm/ft² @ 1.57 psf (75 Pa)", "ASTM E2178-21"]],
         "0.004 cfm/ft2 @ 75 Pa", "ASTM E2178-21"),
        ("air_permeance", [["Property", "Value (cfm/ft² @ 75 Pa)", "Method"], ["Air permeance", "0.004", "ASTM E2178"]],
         "0.004 cfm/ft2 @ 75 Pa", "ASTM E2178"),
        ("thickness", [["Dry film thickness", "40 mils (1.0 mm)"]], "40 mils", ""),
        ("service_temperature", [["Service temperature", "-20 °F to 180 °F (-29 to 82 °C)"]], "180 °F", ""),
        ("exposure_limit", [["Maximum UV exposure", "up to 180 days"]], "180 days", ""),
        ("nail_sealability", [["Nail sealability", "Pass", "ASTM D1970"]], "passes", "ASTM D1970"),
        ("pull_adhesion", [["Pull-off adhesion", "1,100 psi", "ASTM D4541"]], "1100 psi", "ASTM D4541"),
    ],
)  # fmt: skip
def test_taken(attribute: str, rows: list[list[str]], value: str, method: str) -> None:
    found = read(attribute, rows)
    assert (found.standing, found.value, found.method, found.confirm) == (Standing.READ, value, method, "")
    assert found.evidence


PERMEANCE = (
    "14 perm-in", "14 perm inch", "14 perms at 60 mils", "14 perms after aging", "14 perms □", "□14 perms", "£ 14 perms",
    "14 perms (aged)", "14 perms, 7 dry", "about 14 perms", "nominal 14 perms", "≤ 14 perms", "14 - 16", "14",
    "14,5 perms", "1 000 perms", "14 perms / 800", "14 perms (500 ng/Pa·s·m²)", "14 perms*", "14 perms{^9}", "14 perms¹",
    "Class III", "14 perms at 100 °F", "14 perms typ.", "14 perms (BW)", "14 or 16 perms", "14 perms (16 perms)", "N/A",
    "-14 perms", "0 perms", "14 perms @ 75 Pa", "14 grains/h·ft²", "14 perms x 2", "14 perms if primed",
    "14 perms, minimum 10 perms", "minimum 14 perms maximum 20 perms", "14/16 perms", "=14 perms+1", "14 {{ perms }}",
)  # fmt: skip


@pytest.mark.parametrize("cell", PERMEANCE)
def test_left_to_a_person(cell: str) -> None:
    found = read("vapor_permeance", [["Vapor permeance", cell, B]])
    assert found.standing is Standing.CONFIRM
    assert found.confirm


@pytest.mark.parametrize(
    ("attribute", "rows", "why"),
    [
        ("vapor_permeance", [["Vapor permeance", "14 perms"]], "without its test method"),
        ("vapor_permeance", [["Vapor permeance", "14 perms", "ASTM E96 Procedure A"]], "measured by ASTM E96"),
        ("vapor_permeance", [["Vapor permeance", "14 perms", "ASTM E96"]], "measured by ASTM E96"),
        ("vapor_permeance", [["Vapor permeance", "14 perms", f"{B}, ASTM F1249"]], "several methods"),
        ("air_permeance", [["Air permeance", "0.004 cfm/ft²", "ASTM E2178"]], "without its test condition"),
        ("air_permeance", [["Air permeance", "0.004 cfm/ft² @ 300 Pa", "ASTM E2178"]], "stated at 300 Pa"),
        ("air_permeance", [["Air permeance", "0.004 cfm/ft² at 75–300 Pa", "ASTM E2178"]], "at 75 Pa to 300 Pa"),
        ("air_permeance", [["Air permeance", "≥ 0.004 cfm/ft² @ 75 Pa", "ASTM E2178"]], "only a bound"),
        ("vapor_permeance", [["Vapor permeance of membrane, aged", "14 perms", B]], "the label reads"),
        ("vapor_permeance", [HEAD, ["After weathering", "", ""], ["Vapor permeance", "14 perms", B]], "under the"),
        ("vapor_permeance", [["Property", "Value (aged)", "Method"], ["Vapor permeance", "14 perms", B]], "aged"),
        ("vapor_permeance", [["Property", "Aged value", "Method"], ["Vapor permeance", "14 perms", B]], "headed"),
        ("vapor_permeance", [[*HEAD, "Notes"], ["Vapor permeance", "14 perms", B, "60 mil sample"]], "in the row"),
        ("vapor_permeance", [HEAD, ["Vapor permeance", "14 perms", B], ["Vapor permeance", "12 perms", B]], "several"),
        ("vapor_permeance", [["Property", "Grade A", "Grade B"], ["Vapor permeance", "14 perms", "16 perms"]], "Grade B"),
        ("vapor_permeance", [["Sheet", "Vapor permeance", "Thickness"], ["A", "14 perms", "40 mil"],
                             ["B", "10 perms", "60 mil"]], "for B"),
        ("vapor_permeance", [["Vapor permeance", "", "14 perms", B], ["", "aged", "10 perms", B]], "several values"),
        ("thickness", [["Thickness", "40 mils wet"]], "wet"),
        ("thickness", [["Thickness", "40/60 mils"]], "without a unit"),
        ("exposure_limit", [["UV exposure limit", "6 months"]], "months"),
        ("nail_sealability", [["Nail sealability", "Pass (with sealant)", "ASTM D1970"]], "none of the words"),
    ],
)  # fmt: skip
def test_the_reason_is_said(attribute: str, rows: list[list[str]], why: str) -> None:
    found = read(attribute, rows)
    assert found.standing is Standing.CONFIRM
    assert why in found.confirm


@pytest.mark.parametrize("label", ["Wet film thickness", "Release liner thickness"])
def test_another_property_is_passed_over(label: str) -> None:
    assert read("thickness", [[label, "70 mils"]]).standing is Standing.NOT_FOUND


def test_a_requirement_is_no_value() -> None:
    rows = [["Property", "Requirement", "Result", "Method"], ["Vapor permeance", "10 perms", "14 perms", B]]
    assert read("vapor_permeance", rows).value == "14 perms"
    assert read("vapor_permeance", [row[:2] for row in rows]).standing is Standing.NOT_FOUND


def test_a_footnote_gives_method_and_condition() -> None:
    found = read(
        "air_permeance", [["Air permeance", "0.004 cfm/ft²{^1}"]], "{^1} Tested by ASTM E2178 at 75 Pa."
    )
    assert (found.standing, found.value, found.method) == (
        Standing.READ,
        "0.004 cfm/ft2 @ 75 Pa",
        "ASTM E2178",
    )


@pytest.mark.parametrize(
    ("note", "why"),
    [
        ("{^1} Tested by ASTM E2178 at 75 Pa on primed board.", "its note says"),
        ("{^2} Tested by ASTM E2178 at 75 Pa.", "is not found"),
        ("{^1} Tested by ASTM E2178 at 300 Pa.", "stated at 300 Pa"),
    ],
)
def test_a_footnote_that_limits_a_value_is_said(note: str, why: str) -> None:
    found = read("air_permeance", [["Air permeance", "0.004 cfm/ft²{^1}"]], note)
    assert found.standing is Standing.CONFIRM
    assert why in found.confirm


def test_a_note_goes_on_in_the_next_line() -> None:
    notes = ("{^1} Tested by ASTM E2178 at 75 Pa", "after 500 hours of weathering.")
    found = read("air_permeance", [["Air permeance", "0.004 cfm/ft²{^1}"]], *notes)
    assert "weathering" in found.confirm


def test_running_text_is_shown_and_not_taken() -> None:
    found = read("vapor_permeance", [["a", "b"]], f"The vapor permeance is 14 perms by {B}.")
    assert (found.standing, found.value) == (Standing.CONFIRM, "14 perms")
    assert "running text" in found.confirm


def test_running_text_that_claims_less_does_not_contradict_the_table() -> None:
    found = read(
        "vapor_permeance",
        [["Vapor permeance", "14 perms", B]],
        "With a vapor permeance above 10 perms it dries.",
    )
    assert found.standing is Standing.READ
    other = read("vapor_permeance", [["Vapor permeance", "14 perms", B]], "The vapor permeance is 10 perms.")
    assert "several values" in other.confirm


def test_text_that_is_not_drawn_is_left_to_a_person() -> None:
    page = Page(
        "page 1", 1, 612, 792, (Grid(((Cell("Thickness"), Cell("40 mils", None, faint=True)),), True),)
    )
    found = candidates(
        Owners(DataSheet("s", (page,)), Labels("barrier", NAMES, PRACTICE.vocabulary)), PRACTICE.vocabulary
    )
    assert found[0].doubts == ("a part of it is not visible on the page",)


def test_a_row_that_the_page_cuts_is_left_to_a_person() -> None:
    box = (10.0, 700.0, 90.0, 712.0)
    row = (Cell("Vapor permeance", box), Cell("14 perms", box), Cell(B, box))
    for label, standing in (("", 1), ("Thickness", 0)):
        rest = (Cell(label), Cell("after weathering", (10.0, 20.0, 90.0, 32.0)), Cell(""))
        pages = tuple(
            Page(f"page {number}", number, 612, 792, (Grid((cells,), True),))
            for number, cells in ((1, row), (2, rest))
        )
        found = candidates(
            Owners(DataSheet("s", pages), Labels("barrier", NAMES, PRACTICE.vocabulary)), PRACTICE.vocabulary
        )
        own = next(one for one in found if one.attribute == "vapor_permeance")
        assert len(own.doubts) == standing


def test_every_end_agrees_with_the_catalogue_of_requirements() -> None:
    """The end of a range that counts is the one that speaks against the product, by the requirements themselves."""
    from specgen.requirements.catalogue_file import load_catalogue

    against = {"at least": "low", "at most": "high"}
    checked = 0
    for one in load_catalogue():
        names = {names.attribute: names for names in NAMES.of_role(one.role, PRACTICE.vocabulary)}.get(
            one.attribute
        )
        wanted = against.get(one.comparison)
        if names is None or wanted is None or names.bound:
            continue
        checked += 1
        assert names.end == wanted, f"{one.role}.{one.attribute}"
    assert checked >= 15


def test_no_name_means_two_attributes_of_a_role() -> None:
    for role in PRACTICE.vocabulary.roles:
        every = [name for one in NAMES.of_role(role, PRACTICE.vocabulary) for name in one.names]
        assert sorted(every) == sorted(set(every)), role


def test_the_table_of_names_speaks_of_the_vocabulary() -> None:
    roles = PRACTICE.vocabulary.roles
    for key, names in NAMES.attributes.items():
        role, _, attribute = key.rpartition(".")
        fields = [
            one.fields[attribute]
            for one in ([roles[role]] if role else roles.values())
            if attribute in one.fields
        ]
        assert fields, key
        assert all(set(names.words) <= {*field.choices, "yes", "no"} for field in fields), key
    assert set(NAMES.roles) | set(NAMES.kinds) <= set(roles)
    assert all(set(kinds) <= set(roles[role].kinds) for role, kinds in NAMES.kinds.items())


@pytest.mark.parametrize(
    ("attribute", "cell", "value", "why"),
    [
        ("air_permeance", "7.1×10⁻⁴ L/s·m² @ 75 Pa", "7.1e-4 L/s·m2 @ 75 Pa", ""),
        ("air_permeance", "7.1 x 10{^-4} L/s·m² @ 75 Pa", "7.1e-4 L/s·m2 @ 75 Pa", ""),
        ("air_permeance", "0,0009 cfm/ft² @ 75 Pa", "0.0009 cfm/ft2 @ 75 Pa", "decimal comma"),
        ("vapor_permeance", "11,5 perms", "11.5 perms", "decimal comma"),
        ("pull_adhesion", "1 200 kPa", "1200 kPa", "a space"),
        ("pull_adhesion", "1,200 kPa", "1200 kPa", ""),
        ("thickness", "60 wet mils at 50 % solids (30 dry)", "", "wet film"),
        ("thickness", "4 x 100 mil", "100 mil", "not understood"),
    ],
)  # fmt: skip
def test_numbers_as_makers_write_them(attribute: str, cell: str, value: str, why: str) -> None:
    """Source: common practice; a spelling that could be meant otherwise is shown and left to a person."""
    methods = {"air_permeance": "ASTM E2178", "vapor_permeance": B, "pull_adhesion": "ASTM D4541"}
    labels = {"thickness": "Thickness", "water_resistance": "Water penetration resistance"}
    label = labels.get(attribute, attribute.replace("_", " ").capitalize())
    found = read(attribute, [[label, cell, methods.get(attribute, "")]])
    assert found.value == value
    assert (why in found.confirm) if why else found.standing is Standing.READ


@pytest.mark.parametrize(
    ("attribute", "label"),
    [
        ("assembly_air_leakage", "Air leakage of wall assembly"), ("vapor_permeance", "Permeance"),
        ("exposure_limit", "Exposure"), ("service_temperature", "Service temp."), ("exposure_limit", "Max. UV exposure"),
        ("thickness", "Dry film thickness (DFT)"), ("service_temperature", "Service temperature, max."),
    ],
)  # fmt: skip
def test_everyday_names(attribute: str, label: str) -> None:
    values = {
        "assembly_air_leakage": "0.04 cfm/ft² @ 75 Pa",
        "vapor_permeance": "14 perms",
        "exposure_limit": "180 days",
    }
    values |= {"service_temperature": "180 °F", "thickness": "40 mils"}
    methods = {"assembly_air_leakage": "ASTM E2357", "vapor_permeance": B}
    found = read(attribute, [[label, values[attribute], methods.get(attribute, "")]])
    assert (found.value, found.standing) == (values[attribute].replace("²", "2"), Standing.READ), (
        found.confirm
    )


def test_a_sentence_that_names_no_attribute_is_told_by_its_unit() -> None:
    found = read("vapor_permeance", [["The membrane offers 11 perms by ASTM E96 procedure B and stays put."]])
    assert (found.value, found.standing) == ("11 perms", Standing.CONFIRM)
    assert "its unit alone" in found.confirm
    again = read(
        "vapor_permeance",
        [["Vapor permeance", "14 perms", B], ["The membrane offers 11 perms in all tests made."]],
    )
    assert again.standing is Standing.CONFIRM and again.value == ""
