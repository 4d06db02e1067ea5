"""Local amendments: where and from when they hold, and which of two governs."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from specgen.files.marks import Mark
from specgen.model.project import Project, Record
from specgen.model.source import Source, Status
from specgen.practice.amendments import Amendment, amended, in_edition, shipped
from specgen.practice.load import load_practice
from specgen.units.quantity import parse

PRACTICE = load_practice()
KEY = "scupper.overflow_inlet_most"
MARK = Mark("project.yaml", 1, 1)
TOWN = Amendment(
    "Sample County",
    KEY,
    parse("3 in"),
    Source("county code", "2024", "15.2", Status.CODE),
    "2024-01-01",
    "2025-12-31",
)


def project(jurisdiction: str | None, day: date) -> Project:
    site = {"place": "a town", **({"jurisdiction": jurisdiction} if jurisdiction else {})}
    info = {"name": "Case", "number": "1", "issue_date": day}
    return Project(
        Record("project", info, {}, MARK),
        Record("site", site, {}, MARK),
        Record("building", {}, {}, MARK),
        (),
        "",
    )


@pytest.mark.parametrize(
    ("place", "day", "holds"),
    [
        ("Sample County", date(2023, 12, 31), False),
        ("Sample County", date(2024, 1, 1), True),
        ("sample county", date(2025, 12, 31), True),
        ("Sample County", date(2026, 1, 1), False),
        ("another county", date(2025, 1, 1), False),
        (None, date(2025, 1, 1), False),
    ],
)
def test_it_holds_in_its_place_and_in_its_days(place: str | None, day: date, holds: bool) -> None:
    practice = amended(PRACTICE, (TOWN,), project(place, day))
    entry = practice.entry(KEY)
    assert (entry.value == TOWN.value and entry.source == TOWN.source) is holds
    assert holds or practice is PRACTICE


def test_the_last_to_begin_governs_and_names_what_it_replaces() -> None:
    earlier = replace(TOWN, key="scupper.opening", value=parse("5 in"), since="2024-01-01", until="")
    later = replace(earlier, value=parse("6 in"), since="2025-01-01")
    entry = amended(PRACTICE, (later, earlier), project("Sample County", date(2025, 6, 1))).entry(
        "scupper.opening"
    )
    assert entry.value == parse("6 in")
    assert entry.source.instead_of is not None


def test_each_that_ships_changes_a_known_limit_from_a_real_day() -> None:
    for one in shipped(PRACTICE):
        assert one.key in PRACTICE.entries
        assert date.fromisoformat(one.since)
        assert one.source.of_code


def test_a_source_names_the_edition_that_the_project_adopts() -> None:
    for code, place in {"IBC 2015": "1403.5", "IBC 2021": "1402.5", "IBC 2024": "1402.6"}.items():
        source = in_edition(PRACTICE, code).source("fire.combustible_barrier")
        assert (source.document, source.edition, source.place) == ("IBC", code[-4:], place)
    for code in ("IBC 2018", "none stated", ""):  # not read: the edition that was read is named
        assert in_edition(PRACTICE, code).source("fire.combustible_barrier").edition == "2021"


def test_a_standard_has_the_title_of_its_edition() -> None:
    def titles(code: str) -> list[object]:
        rows = in_edition(PRACTICE, code).table("standards").where(designation="ANSI/SPRI/FM 4435/ES-1")
        return [row["title"] for row in rows][:1]

    use = "for Edge Systems Used with Low Slope Roofing Systems"
    assert titles("IBC 2015") == [f"Wind Design Standard {use}"]
    assert titles("IBC 2021") == titles("") == [f"Test Standard {use}"]


def test_a_row_of_editions_cites_a_code() -> None:
    rows = PRACTICE.table("code_places").rows
    assert len(rows) > 10
    assert all(PRACTICE.source(str(row["key"])).document == "IBC" for row in rows)
