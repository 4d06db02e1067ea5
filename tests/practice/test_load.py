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
from specgen.units.show import show

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


NOMINAL = {key: entry.quantity() for key, entry in NUMBERS.items() if entry.quantity().nominal}


@pytest.mark.parametrize("key", NOMINAL)
def test_a_nominal_value_is_near(key: str) -> None:
    """Trade and standards write 100 mm for 4 in and 6 mm for 1/4 in. 6 % is the distance of 6 mm from 1/4 in."""
    for twin in NOMINAL[key].nominal:
        assert twin.value == pytest.approx(
            NOMINAL[key].value, rel=0.06, abs=0.5 if twin.unit == "degC" else None
        )


def test_a_code_has_only_the_nominal_value_it_prints_itself() -> None:
    assert len(NOMINAL) > 40
    of_code = {key: value for key, value in NOMINAL.items() if PRACTICE.entry(key).source.of_code}
    assert set(of_code) == {
        "barrier.air_permeance",
        "barrier.assembly_air_leakage",
        "barrier.water_pressure",
        "drainage.depth",
        "field.lath_fastener",
        "fire.treated_front",
        "guard.height",
        "outlet.metal",
    }
    for value in of_code.values():
        (own,) = value.nominal
        assert own.value == pytest.approx(value.value, rel=0.02)
    assert not PRACTICE.quantity("outlet.above_earth").nominal


def test_a_nominal_value_is_printed_in_the_other_language() -> None:
    lap = PRACTICE.quantity("flashing.lap_barrier")
    assert [show(lap, system) for system in ("inch-pound", "SI", "both")] == [
        "4 in",
        "100 mm",
        "4 in (100 mm)",
    ]


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
            assert bool(field.choices) == (field.type in ("word", "words")), f"{part.name}.{field.name}"
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
