"""Values that belong to another kind: set aside and asked about, by whatever way the kind was changed."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from specgen.assessment import Assessment, assess
from specgen.commands import main
from specgen.files.marks import InputError, Mark
from specgen.intake.project import load_project
from specgen.model.finding import Finding, Outcome
from specgen.model.project import Component, Record
from specgen.practice.load import load_practice
from specgen.practice.ranges import EXPECTED as RANGES
from specgen.practice.ranges import Range
from specgen.units.quantity import Quantity, parse
from specgen.wall.edit import with_value
from specgen.wall.plausible import FAMILIES, doubt

PRACTICE = load_practice()
SHEET, MESH = "kind: dimpled sheet", "kind: mesh"
STATED = "        vapor_permeance: 0.05 perm\n"


@pytest.fixture(scope="module")
def starter(tmp_path_factory: pytest.TempPathFactory) -> str:
    folder = tmp_path_factory.mktemp("starter") / "job"
    assert CliRunner().invoke(main, ["new", str(folder), "--from", "commented"]).exit_code == 0
    return (folder / "project.yaml").read_text(encoding="utf-8")


def written(folder: Path, text: str, *changes: tuple[str, str]) -> Path:
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    file = folder / "project.yaml"
    file.write_text(text, encoding="utf-8")
    return file


def assessed(file: Path) -> Assessment:
    return assess(load_project(file, PRACTICE), PRACTICE)


def of(assessment: Assessment, code: str) -> Finding:
    return next(one for one in assessment.findings if one.code == code and one.parapet == "P-1")


def test_a_kind_changed_by_hand_leaves_no_value_of_the_other(starter: str, tmp_path: Path) -> None:
    by_hand = assessed(written(tmp_path, starter, (SHEET, MESH)))
    asked = of(by_hand, "MV01")
    assert asked.outcome is Outcome.UNKNOWN
    assert "0.05 perm; expected of entangled-filament drainage mesh: 10 perms to 1000 perm" in asked.message
    assert "0.05 perm is that of dimpled polyethylene sheet" in asked.message
    assert str(asked.mark).split(":")[-2] == str(starter[: starter.index("0.05 perm")].count("\n") + 1)
    assert of(by_hand, "VD01").outcome is Outcome.FAIL
    limit = by_hand.requirements.at("drainage.vapor_permeance", "P-1")
    assert (
        limit is not None and limit.origin.kind == "practice"
    )  # the rule of thumb, and not what was left behind


def test_a_kind_tried_is_the_wall_that_the_file_would_describe(starter: str, tmp_path: Path) -> None:
    sheet = load_project(written(tmp_path, starter), PRACTICE)
    tried = assess(with_value(sheet, PRACTICE, "drainage layer.kind", "mesh"), PRACTICE)
    by_hand = assessed(written(tmp_path, starter, (SHEET, MESH)))
    for subject in ("vapor drive", "inward drive", "gap drainage", "plaster reservoir"):
        one, other = (found.calculations["P-1"][subject] for found in (tried, by_hand))
        assert one.results == other.results and one.done == other.done, subject
    at_vapor = [
        {(one.code, one.outcome) for one in found.findings if one.code[:2] == "VD"}
        for found in (tried, by_hand)
    ]
    assert at_vapor[0] == at_vapor[1]


def test_calc_tells_what_a_tried_kind_leaves_out(starter: str, tmp_path: Path) -> None:
    file = written(tmp_path, starter)
    words = ["calc", str(file), "--subject", "vapor drive", "--set", "drainage layer.kind=mesh"]
    printed = CliRunner().invoke(main, words).output
    assert "left out, as it belongs to the dimpled sheet: `vapor_permeance` 0.05 perm" in printed


def test_calc_tells_of_a_tried_value_that_the_kind_is_not_expected_to_have(
    starter: str, tmp_path: Path
) -> None:
    file = written(tmp_path, starter)
    words = [
        "calc",
        str(file),
        "--subject",
        "vapor drive",
        "--set",
        "drainage layer.vapor_permeance=1400 perm",
    ]
    printed = CliRunner().invoke(main, words).output
    assert (
        "calculated with as tried, expected of dimpled polyethylene sheet: 0.005 perm to 0.5 perm" in printed
    )


def test_a_value_that_is_meant_counts_and_its_reason_is_told(starter: str, tmp_path: Path) -> None:
    meant = STATED + "        meant: {vapor_permeance: a film is laminated to the mesh}\n"
    found = assessed(written(tmp_path, starter, (SHEET, MESH), (STATED, meant)))
    finding = of(found, "MV01")
    assert finding.outcome is Outcome.PASS
    assert finding.message.endswith("meant: a film is laminated to the mesh")
    assert of(found, "VD01").outcome is Outcome.PASS


def test_changes_of_a_parapet_are_sifted_and_a_reason_does_not_outlive_its_value(
    starter: str, tmp_path: Path
) -> None:
    type_line = "    length: 60 ft\n"
    change = type_line + "    changes: {drainage layer: {kind: mesh}}\n"
    found = assessed(written(tmp_path, starter, (type_line, change)))
    assert of(found, "MV01").outcome is Outcome.UNKNOWN
    meant = STATED + "        meant: {vapor_permeance: of the sheet}\n"
    again = assessed(written(tmp_path, starter, (STATED, meant), (type_line, change)))
    assert of(again, "MV01").outcome is Outcome.UNKNOWN


@pytest.mark.parametrize(
    ("meant", "expected"),
    [
        ("{vapour_permeance: x}", "unknown key `vapour_permeance`"),
        ("{drainage_efficiency: x}", "`meant` names `drainage_efficiency`, which is not stated here"),
        (
            "{vapor_permeance: yes}",
            "`meant`: a yes or no stands where the reason for `vapor_permeance` is wanted",
        ),
        (
            "{vapor_permeance: 14 perm}",
            "`meant`: `14 perm` stands where the reason for `vapor_permeance` is wanted",
        ),
        ("yes", "`meant`: a yes or no stands where reasons are wanted"),
    ],
)
def test_a_reason_that_confirms_nothing_is_an_error(
    meant: str, expected: str, starter: str, tmp_path: Path
) -> None:
    file = written(tmp_path, starter, (STATED, f"{STATED}        meant: {meant}\n"))
    with pytest.raises(InputError, match=expected):
        load_project(file, PRACTICE)


def test_every_range_names_what_the_vocabulary_knows_and_holds_what_the_materials_have() -> None:
    known = PRACTICE.vocabulary
    for row in PRACTICE.table(RANGES).rows:
        owners = [
            one for one in (known.roles.get(str(row["role"])), known.records.get(str(row["role"]))) if one
        ]
        zones = known.records["site"].fields["climate_zone"].choices
        kinds = zones if row["role"] == "site" else known.roles[str(row["role"])].kinds if row["kind"] else ()
        assert row["kind"] is None or row["kind"] in kinds
        field = next(one.fields[str(row["attribute"])] for one in owners if row["attribute"] in one.fields)
        assert row["least"] or row["most"]
        assert Range.of(row).fits(field.type)
        ends = [one.exact for one in (row["least"], row["most"]) if isinstance(one, Quantity)]
        assert ends == sorted(ends)
    for row in PRACTICE.table(FAMILIES).rows:
        assert (
            row["kind"] in known.roles[str(row["role"])].kinds
            and row["family"] in PRACTICE.vocabulary.families
        )


def test_the_table_of_materials_lies_inside_the_expected_ranges(starter: str, tmp_path: Path) -> None:
    wall = load_project(written(tmp_path, starter), PRACTICE)
    for row in PRACTICE.table("materials").rows:
        role, kind = str(row["role"]), str(row["kind"])
        part = wall.parapets[0].part(role)
        if part is not None and isinstance(row["permeance"], Quantity):
            one = with_value(wall, PRACTICE, f"{part.id}.kind", kind).parapets[0].by_id(part.id)
            assert one is not None
            assert not doubt(PRACTICE, one, "vapor_permeance", row["permeance"]), (role, kind)


def test_a_range_has_its_ends() -> None:
    """A value at an end is expected, in whatever unit it is written."""
    from specgen.files.marks import Mark
    from specgen.model.project import Component

    mesh = Component("drainage layer", {}, {}, Mark("f", 1, 1), "gap", "mesh")
    assert not doubt(PRACTICE, mesh, "vapor_permeance", parse("10 perm"))
    assert not doubt(PRACTICE, mesh, "vapor_permeance", parse("573 ng/(Pa·s·m2)"))
    assert doubt(PRACTICE, mesh, "vapor_permeance", parse("9.99 perm"))


def test_calc_tells_which_value_of_the_file_it_leaves_aside(starter: str, tmp_path: Path) -> None:
    file = written(tmp_path, starter, (SHEET, MESH))
    result = CliRunner().invoke(main, ["calc", str(file), "--subject", "vapor drive", "--parapet", "P-1"])
    assert (
        "vapor_permeance 0.05 perm of `drainage layer` is not calculated with: expected of entangled-filament"
        in result.stderr
    )


def test_a_value_that_both_kinds_may_have_is_kept_and_told_by_hand_and_by_calc(
    starter: str, tmp_path: Path
) -> None:
    sheet = written(tmp_path, starter)
    project = load_project(sheet, PRACTICE)
    tried = with_value(project, PRACTICE, "drainage layer.kind", "mesh", keep=True)
    words = ["calc", str(sheet), "--subject", "vapor drive", "--set", "drainage layer.kind=mesh"]
    printed = CliRunner().invoke(main, words).output
    by_hand = assessed(written(tmp_path, sheet.read_text(), (SHEET, MESH)))
    layers = [one.parapets[0].part("drainage layer") for one in (tried, by_hand.project)]
    assert layers[0] and layers[1]
    assert layers[0].values == layers[1].values
    assert layers[0].values["compressive_strength"] == parse("2000 psf")
    stays = "`compressive_strength` 2000 psf as stated"
    assert f"kept, as the file would keep it: {stays} of the dimpled sheet" in printed
    assert f"kept: {stays}" in of(by_hand, "MV01").message
    product = with_value(project, PRACTICE, "drainage layer.kind", "mesh").parapets[0].part("drainage layer")
    assert (
        product and "compressive_strength" not in product.values
    )  # a remedy or proposal brings a product of its own


@pytest.mark.parametrize(
    ("zone", "name", "inside", "outside"),
    [
        ("6A", "temp_winter", "-11 degF", "50 degF"),
        ("2A", "temp_winter", "36 degF", "-11 degF"),
        ("4C", "temp_summer", "84 degF", "112 degF"),
        ("7", "temp_summer", "82 degF", "108 degF"),
        ("2B", "design_rainfall", "2.4 in/h", "9 in/h"),
    ],
)
def test_the_climate_zone_decides_what_is_expected_of_the_site(
    zone: str, name: str, inside: str, outside: str
) -> None:
    def of_site(text: str) -> str:
        mark = Mark("project.yaml", 1, 1)
        site = Record("site", {"climate_zone": zone, name: parse(text)}, {}, mark)
        return doubt(PRACTICE, site, name, parse(text))

    assert of_site(inside) == ""
    assert of_site(outside).startswith(f"expected of climate zone {zone}: ")


def test_a_winter_of_another_zone_is_set_aside(starter: str, tmp_path: Path) -> None:
    found = assessed(written(tmp_path, starter, ("temp_winter: 17 degF", "temp_winter: 50 degF")))
    asked = next(one for one in found.findings if one.code == "MV01")
    assert asked.outcome is Outcome.UNKNOWN
    assert "50 degF; expected of climate zone 4A" in asked.message
    assert found.project.site.quantity("temp_winter") is None


def test_every_climate_zone_has_its_own_design_temperatures() -> None:
    zones = PRACTICE.vocabulary.records["site"].fields["climate_zone"].choices
    for name in ("temp_winter", "temp_summer"):
        kinds = [row["kind"] for row in PRACTICE.table(RANGES).where(role="site", attribute=name)]
        assert sorted(kinds, key=str) == sorted([None, *zones], key=str)


@pytest.mark.parametrize(("typed", "likely"), [("100 psi", "100 psf"), ("200 psi", "200 psf")])
def test_pounds_a_square_inch_for_a_square_foot_of_mesh_are_named(typed: str, likely: str) -> None:
    mark = Mark("project.yaml", 1, 1)
    part = Component("drainage layer", {}, {}, mark, id="gap", kind="mesh")
    assert f"did you mean {likely}" in doubt(PRACTICE, part, "compressive_strength", parse(typed))
    assert doubt(PRACTICE, part, "compressive_strength", parse(likely)) == ""
