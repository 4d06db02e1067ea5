"""The practice folder: every number has a unit, a source and a status; a broken folder does not load."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from specgen.model.source import Status
from specgen.practice import load
from specgen.practice.entries import Practice, PracticeError, cell
from specgen.practice.table_file import ANY
from specgen.units.quantity import Quantity, dimensions

PRACTICE = load.load_practice()
NUMBERS = {key: entry for key, entry in PRACTICE.entries.items() if isinstance(entry.value, Quantity)}
ALLOWED = {Status.CODE, Status.STANDARD, Status.PRACTICE, Status.MEMORY}


@pytest.mark.parametrize("key", PRACTICE.entries)
def test_an_entry_has_title_source_and_status(key: str) -> None:
    entry = PRACTICE.entry(key)
    assert entry.key == key and entry.title.strip() and not entry.title.endswith(".")
    assert entry.source.document.strip() and entry.source.status in ALLOWED
    assert PRACTICE.source(key) == entry.source


@pytest.mark.parametrize("key", PRACTICE.entries)
def test_a_code_or_standard_is_cited_with_its_place(key: str) -> None:
    source = PRACTICE.entry(key).source
    if source.status in (Status.CODE, Status.STANDARD):
        assert source.place, "a code or a standard is cited by section, table or heading"
    if source.status is Status.CODE:
        assert source.edition, "a code is cited with its edition"


@pytest.mark.parametrize("name", PRACTICE.tables)
def test_a_table_has_rows_whose_cells_are_of_their_column(name: str) -> None:
    table = PRACTICE.table(name)
    assert table.title and table.source.document and table.source.status in ALLOWED
    assert table.rows
    for row in table.rows:
        for column, kind in table.columns.items():
            value = row[column]
            if value is None:
                continue
            if kind == "word":
                assert isinstance(value, str), f"{name}.{column}: {value!r} is no text; put it in quotes"
            else:
                assert isinstance(value, Quantity) and (kind == ANY or value.dimension == kind)
    assert len({repr(sorted(row.items(), key=str)) for row in table.rows}) == len(table.rows), "a row twice"
    assert PRACTICE.source(f"table {name}") == table.source


NOMINAL = {key: entry for key, entry in PRACTICE.entries.items() if entry.si is not None}


@pytest.mark.parametrize("key", NOMINAL)
def test_a_nominal_si_value_is_near_and_never_that_of_a_code(key: str) -> None:
    """Trade and standards write 100 mm for 4 in and 6 mm for 1/4 in; a minimum of a code is converted to the strict
    side instead, and never softened. 6 % is the distance of 6 mm from 1/4 in."""
    entry = PRACTICE.entry(key)
    assert entry.si is not None and not entry.source.of_code
    assert entry.si.value == pytest.approx(entry.quantity().value, rel=0.06)


def test_nominal_values_stand_in_si_projects_alone() -> None:
    assert len(NOMINAL) > 40
    assert PRACTICE.in_units("SI").quantity("flashing.lap_barrier").text == "100 mm"
    assert PRACTICE.in_units("SI").quantity("outlet.above_earth").text == "4 in"  # of a code
    for system in ("inch-pound", "both"):
        assert PRACTICE.in_units(system).quantity("flashing.lap_barrier").text == "4 in"


def test_every_number_has_a_unit_or_is_a_plain_number() -> None:
    assert {entry.quantity().dimension for entry in NUMBERS.values()} <= set(dimensions())
    assert len(NUMBERS) > 30


def test_the_vocabulary_holds_what_it_names() -> None:
    vocabulary = PRACTICE.vocabulary
    parts = [*vocabulary.records.values(), *vocabulary.roles.values()]
    for part in parts:
        assert part.title
        for field in part.fields.values():
            assert field.title, f"{part.name}.{field.name} has no title"
            assert bool(field.choices) == (field.type == "word"), f"{part.name}.{field.name}"
            assert not (field.methods_accepted and not field.method)
            if field.method and field.methods_accepted:
                assert field.method in field.methods_accepted
    for role in vocabulary.roles.values():
        assert role.where in ("build-up", "top", "place") and role.trade and role.kinds
        assert len(role.section) == 8 and role.section.replace(" ", "").isdigit()
        for kind in role.kinds.values():
            assert kind.family in ("", *vocabulary.families)
    assert len(set(vocabulary.families)) == len(vocabulary.families)


def test_what_is_not_there_is_refused_by_name() -> None:
    with pytest.raises(PracticeError, match=r"no practice entry 'x\.y'"):
        PRACTICE.entry("x.y")
    with pytest.raises(PracticeError, match="no practice table 'x'"):
        PRACTICE.source("table x")
    with pytest.raises(PracticeError, match="has no quantity"):
        PRACTICE.quantity("flashing.shingle")
    with pytest.raises(PracticeError, match="has no words"):
        PRACTICE.entry("coping.slope").words()
    with pytest.raises(PracticeError, match="has no column"):
        PRACTICE.table("gauges").where(metl="copper")
    with pytest.raises(PracticeError, match="has no quantity"):
        cell(PRACTICE.table("gauges").rows[0], "metal")
    assert PRACTICE.entry("cleat.continuous").words() == ("continuous",)
    assert PRACTICE.entry("turnup.attachment").words() == ("fully adhered", "fluid-applied")


@pytest.fixture
def broken(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[str, str, str], Practice]:
    """A copy of the practice folder with one text replaced in one file, loaded."""

    def change(name: str, old: str, new: str) -> Practice:
        folder = tmp_path / "practice"
        for part in ("values", "tables", "vocabulary"):
            shutil.copytree(load.FOLDER / part, folder / part)
        file = folder / name
        text = file.read_text()
        assert old in text
        file.write_text(text.replace(old, new, 1))
        monkeypatch.setattr(load, "FOLDER", folder)
        return load.load_practice.__wrapped__()

    return change


WALL, TOP, ROLES = "values/wall.yaml", "values/top.yaml", "vocabulary/roles.yaml"


@pytest.mark.parametrize(
    ("file", "old", "new", "message"),
    [
        (WALL, "value: 3/16 in", "value: 3/16 inn", r"wall.yaml: drainage.depth: .* unit `inn` is not known"),
        (WALL, "value: 3/16 in", "vlaue: 3/16 in", "drainage.depth: unknown key vlaue"),
        (WALL, "value: 3/16 in", "value:", "drainage.depth: 'value' is empty"),
        (WALL, "  title: depth of the drainage", "  titel: depth of the drainage", "drainage.depth: 'title' is missing"),
        (WALL, "place: 2510.6.2, status: C", "place: 2510.6.2, status: X", "status 'X' is not C, S, P or M"),
        (WALL, "place: 2510.6.2, status: C", "place: 2510.6.2", "status None is not C, S, P or M"),
        (WALL, "{document: IBC", "{documnt: IBC", "no source"),
        (WALL, "turnup.height:", "coping.slope:", "practice entry 'coping.slope' is defined twice"),
        (WALL, "turnup.height:", "outlet.open:", "key 'outlet.open' is here twice"),
        (TOP, "flashing.full_width:", "flashing.full_width: [", "top.yaml"),
        ("tables/gauges.yaml", "gauge: 16,", "gage: 16,", r"unknown column \['gage'\]"),
        ("tables/gauges.yaml", "0.0635 in", "0.0635 psf", "thickness: `0.0635 psf` is a pressure"),
        ("tables/gauges.yaml", "is: length", "is: lenght", "column thickness is of unknown type 'lenght'"),
        ("tables/gauges.yaml", "is: length", "si: length", "column thickness: 'is' is missing"),
        ("tables/gauges.yaml", "rows:", "rws:", "'rows' is missing"),
        ("tables/gauges.yaml", "source:", "sources:", "gauges.yaml: no source"),
        (ROLES, "is: sheet thickness", "is: sheet", "'thickness' is of unknown type 'sheet'"),
        (ROLES, "at: 75 Pa", "at: 75 Paa", "'air_permeance': `75 Paa`"),
        (ROLES, "at: 75 Pa", "att: 75 Pa", "'air_permeance': .*unexpected keyword argument 'att'"),
        (ROLES, "is: word, choices: [empty,", "is: word, choicess: [empty,", "unexpected keyword"),
        (ROLES, "where: top", "where: tpo", "stands 'tpo', not one of"),
        (ROLES, "family: cement}", "family: cemnt}", "is of unknown family 'cemnt'"),
        (ROLES, "family: cement}", "famly: cement}", "unexpected keyword argument 'famly'"),
        (ROLES, "  trade: plasterer\n", "", "plaster: 'trade' is missing"),
        ("vocabulary/records.yaml", "default: draft", "default: daft", "default 'daft' of 'state' is no choice"),
    ],
)  # fmt: skip
def test_a_broken_folder_is_refused(
    file: str, old: str, new: str, message: str, broken: Callable[[str, str, str], Practice]
) -> None:
    with pytest.raises(PracticeError, match=message):
        broken(file, old, new)


def test_an_unchanged_copy_loads(broken: Callable[[str, str, str], Practice]) -> None:
    assert broken(WALL, "# The", "# The").entries == PRACTICE.entries
