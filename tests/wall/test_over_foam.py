"""Lath through foam plastic against the code's table: cell by cell, each layer that a fastener crosses counted."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from specgen.intake.project import load_project
from specgen.model.finding import Outcome
from specgen.practice.load import load_practice
from specgen.requirements.derive import derive
from specgen.requirements.lookups import lath_embedment, lath_spacing_over_foam
from specgen.units.quantity import Quantity
from specgen.wall.over_foam import crossed, lath_spacing
from specgen.wall.place import Place
from tests import plain_yaml
from tests.rules import cases

MakePlace = Callable[..., Place]
LATH = "kind: self-furred expanded metal lath, over_insulation: fasteners through the insulation"
PLASTER = "kind: portland cement plaster, thickness: 7/8 in"  # 10 psf: the column of 11
STEEL = "kind: cold-formed steel studs, steel_thickness:"


def wall(
    place: MakePlace,
    foam: str,
    fastener: str,
    apart: str = "16 in",
    framing: str = "kind: wood studs",
    **more: str,
) -> Place:
    lath = f"{LATH}, fastener: {fastener}, support_spacing: {apart}{more.pop('lath', '')}"
    return place(
        {
            "plaster": PLASTER,
            "lath": lath,
            "insulation": f"kind: extruded polystyrene, thickness: {foam}",
            "barrier": "kind: fluid-applied",
            **more,
            "framing": framing,
        }
    )


@pytest.mark.parametrize(
    ("foam", "fastener", "apart", "spacing"),
    [
        ("0.55 in", "0.113 in nail", "16 in", "12 in"),
        ("0.56 in", "0.113 in nail", "16 in", "8 in"),
        ("1.45 in", "0.113 in nail", "16 in", "6 in"),
        ("1.46 in", "0.113 in nail", "16 in", None),  # to be designed
        ("0.85 in", "0.113 in nail", "24 in", "6 in"),
        ("0.50 in", "0.131 in nail", "24 in", "12 in"),
        ("1.60 in", "0.162 in nail", "16 in", "12 in"),
        ("40.64 mm", "0.162 in nail", "16 in", "12 in"),  # the same in millimeters
        ("1.60 in", "0.162 in nail", "16.1 in", "8 in"),  # the column of 24 in
        ("3.55 in", "0.162 in nail", "16 in", "6 in"),
        ("2.25 in", "0.162 in nail", "24.1 in", None),  # beyond the table
        ("1 in", "No. 10 screw", "16 in", None),  # the table has nails alone for wood
        ("1 in", "another fastener", "16 in", None),
    ],
)
def test_nails_into_wood(foam: str, fastener: str, apart: str, spacing: str | None, place: MakePlace) -> None:
    found = lath_spacing(wall(place, foam, fastener, apart))
    assert (found and found.text) == spacing


@pytest.mark.parametrize(
    ("code", "stud", "fastener", "foam", "spacing"),
    [
        ("IBC 2021", "33 mil", "No. 8 screw", "1.80 in", "12 in"),
        ("IBC 2021", "33 mil", "No. 8 screw", "2.95 in", "6 in"),
        ("IBC 2021", "43 mil", "No. 8 screw", "2.96 in", None),
        ("IBC 2021", "42 mil", "No. 10 screw", "3.50 in", "6 in"),  # not yet 43 mil
        ("IBC 2021", "43 mil", "No. 10 screw", "3.50 in", "12 in"),
        ("IBC 2024", "43 mil", "No. 10 screw", "3.50 in", "12 in"),
        ("IBC 2021", "32 mil", "No. 10 screw", "1 in", None),
        ("IBC 2018", "43 mil", "No. 10 screw", "1 in", None),  # not read
        ("IBC 2015", "43 mil", "No. 10 screw", "1 in", None),
    ],
)
def test_screws_into_steel(
    code: str, stud: str, fastener: str, foam: str, spacing: str | None, place: MakePlace
) -> None:
    there = wall(place, foam, fastener, framing=f"{STEEL} {stud}")
    site = replace(there.project.site, values={**there.project.site.values, "code": code})
    found = lath_spacing(replace(there, project=replace(there.project, site=site)))
    assert (found and found.text) == spacing


def test_each_layer_that_a_fastener_crosses_counts(place: MakePlace) -> None:
    board = "kind: glass-mat gypsum, thickness: 1/2 in"
    there = wall(place, "1.10 in", "0.162 in nail", sheathing=board)
    assert [part.role for part in crossed(there.parapet)] == ["insulation", "sheathing"]
    found = lath_spacing(there)
    assert found is not None and found.text == "12 in"
    thicker = lath_spacing(wall(place, "1.11 in", "0.162 in nail", sheathing=board))
    assert thicker is not None and thicker.text == "8 in"
    plywood = lath_spacing(
        wall(place, "1.11 in", "0.162 in nail", sheathing="kind: plywood, thickness: 1/2 in")
    )
    assert plywood is not None and plywood.text == "12 in"  # it holds the fastener
    assert lath_spacing(wall(place, "1 in", "0.162 in nail", sheathing="kind: glass-mat gypsum")) is None


def test_an_engineer_stands_in_for_the_table(place: MakePlace) -> None:
    found = lath_spacing_over_foam(wall(place, "2 in", "0.162 in nail"))
    assert found is not None and found[1] == "table lath_over_foam"
    named = wall(
        place, "2 in", "0.162 in nail", lath=", fasteners_designed_by: structural engineer of record"
    )
    assert lath_spacing_over_foam(named) is None


def test_nails_through_foam_reach_as_far_as_the_table_has_them(place: MakePlace) -> None:
    found = lath_embedment(wall(place, "1 in", "0.162 in nail"))
    assert found is not None and isinstance(found[0], Quantity)
    assert (found[0].text, found[1]) == ("1 1/4 in", "table lath_over_foam")
    other = lath_embedment(wall(place, "1 in", "another fastener"))
    assert other is not None and other[1] == "lath.embedment_wood"


def test_the_stricter_of_table_and_rule_governs(place: MakePlace) -> None:
    """Foam of 1.45 in on nails of 0.113 in: 6 in by the table, where the rule has 7 in."""
    for foam, key, spacing in (
        ("1.45 in", "table lath_over_foam", "6 in"),
        ("1 in", "field.lath_fastener", "7 in"),
    ):
        there = wall(place, foam, "0.113 in nail")
        found = derive(there.project, (), there.practice).at("lath.fastener_spacing", there.parapet.name)
        assert found is not None and isinstance(found.limit.value, Quantity)
        assert (found.origin.key, found.limit.value.text) == (key, spacing)


def test_a_wider_spacing_is_told_where_no_requirement_holds_it(tmp_path: Path) -> None:
    """Fastening by performance sets no spacing: the table still asks who answers for more than its own."""
    nails = "fastener: 0.162 in nail, fastener_diameter: 0.162 in, fastener_yield: 130000 psi, fastener_pull_out: 500 lbf"
    lath = f"{{over_insulation: fasteners through the insulation, support_spacing: 16 in, {nails}}}"
    foam = "{role: insulation, kind: extruded polystyrene, thickness: 1 in, before: wrb}"
    content = plain_yaml.load(f"parts: {{foam: {foam}, lath: {lath}}}")
    outcomes = {}
    for spacing in ("12 in", "13 in"):
        project = cases.changed(content)
        project["project"]["method_fastening"] = "performance"
        (wall,) = project["parapets"]
        next(part for part in wall["build_up"] if part["role"] == "lath")["fastener_spacing"] = spacing
        (path := tmp_path / "project.yaml").write_text(plain_yaml.dump(project))
        found = cases.findings_of(load_project(path, load_practice()))
        (outcomes[spacing],) = (one for one in found if one.code == "PL20")
    assert outcomes["12 in"].outcome is Outcome.PASS
    assert outcomes["13 in"].outcome is Outcome.FAIL
    assert "stand wider apart than the code's table" in outcomes["13 in"].message
