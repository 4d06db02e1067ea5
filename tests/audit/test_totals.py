"""The lines taken together: bad products by name and by attribute, months, people, groups."""

from __future__ import annotations

from datetime import date

import pytest

from specgen.audit.totals import MOST_EMPTY_MONTHS, audit_of
from specgen.model.bad import BadProduct, token
from specgen.units.quantity import parse


def finding(code: str, severity: str = "defect", message: str = "m") -> dict:
    row = {"code": code, "name": code.lower(), "severity": severity, "layer": "x", "message": message}
    return {**row, "missing": "", "place": "p/project.yaml:1:1", "parapets": ["P-1"]}


def paper(
    day: str,
    by: str = "architect, A.A.",
    file: str = "a.yaml",
    brings: list[dict] | None = None,
    against: int = 0,
):
    return {
        "paper": "substitution",
        "file": file,
        "number": "S-1",
        "date": day,
        "by": by,
        "result": "no exceptions taken",
        "note": "",
        "products": [{"role": "barrier", "kind": "", "name": "Wrap W"}],
        "changes": [],
        "against": [{"product": "Wrap W", "title": f"t{n}", "reason": "r"} for n in range(against)],
        "unproven": 0,
        "brings": brings or [],
        "closes": [],
    }


def line(path: str, designed=(), accepted=(), papers=(), parts=(), climate: str = "4A", use: str = "offices"):
    return {
        "path": path,
        "status": 0,
        "problems": [],
        "number": path,
        "name": "n",
        "climate": climate,
        "use": use,
        "designed": list(designed),
        "accepted": None if accepted is None else list(accepted),
        "papers": list(papers),
        "parts": list(parts),
    }


def part(role: str, kind: str, product: str = "", file: str = "", **values: str) -> dict:
    return {
        "role": role,
        "kind": kind,
        "product": product,
        "file": file,
        "values": values,
        "parapets": ["P-1", "P-2"],
    }


def bad(name: str = "", role: str = "", kind: str = "", *values: tuple[str, str]) -> BadProduct:
    return BadProduct(name, role, kind, values, "words", "reason")


def test_a_bad_product_is_found_by_name_with_who_accepted_it():
    lines = [
        line("a", papers=[paper("2026-03-01")], parts=[part("barrier", "x", "Wrap  W", "a.yaml")]),
        line("b", parts=[part("barrier", "x", "Wrap WW", "a.yaml")]),
    ]
    (row,) = audit_of("f", lines, [bad("wrap w")]).bad
    assert (row.path, row.by, row.date, row.parapets) == (
        "a",
        "architect, A.A.",
        date(2026, 3, 1),
        "P-1, P-2",
    )


THIN = token(parse("0.040 in", {"length"}))


@pytest.mark.parametrize(
    ("sought", "found"),
    [
        (bad("", "barrier"), ["a", "b"]),
        (bad("", "barrier", "wrap"), ["b"]),
        (bad("", "coping", "", ("thickness", token(parse("1.016 mm", {"length"})))), ["a"]),
        (bad("", "coping", "", ("thickness", token(parse("0.041 in", {"length"})))), []),
        (bad("Wrap W", "coping"), []),
    ],
)
def test_a_bad_product_is_found_by_its_attributes_in_any_unit(sought, found):
    lines = [
        line("a", parts=[part("barrier", "fluid", "Wrap W"), part("coping", "metal", thickness=THIN)]),
        line("b", parts=[part("barrier", "wrap")]),
    ]
    assert [row.path for row in audit_of("f", lines, [sought]).bad] == found


def test_the_trend_counts_by_month_with_the_empty_months_between():
    lines = [
        line("a", papers=[paper("2026-11-30", brings=[finding("X1"), finding("X2", "risk")], against=2)]),
        line("b", papers=[paper("2027-02-01"), paper("2026-11-01", file="b.yaml", brings=[finding("X1")])]),
    ]
    months = audit_of("f", lines).months
    assert [one.month for one in months] == ["2026-11", "2026-12", "2027-01", "2027-02"]
    assert [one.substitutions for one in months] == [2, 0, 0, 1]
    assert months[0].projects == 2 and months[0].against == 2
    assert months[0].brought == {"defect": 2, "risk": 1, "query": 0, "unknown": 0, "not covered": 0}


def test_the_ends_of_the_trend_are_days_that_count():
    papers = [paper(day, file=day) for day in ("2026-01-31", "2026-02-01", "2026-03-31", "2026-04-01")]
    audit = audit_of("f", [line("a", papers=papers)], (), date(2026, 2, 1), date(2026, 3, 31))
    assert [(one.month, one.substitutions) for one in audit.months] == [("2026-02", 1), ("2026-03", 1)]


def test_a_date_of_another_age_makes_no_list_of_every_month():
    papers = [paper("0203-01-01"), paper("9999-12-31", file="b.yaml")]
    months = audit_of("f", [line("a", papers=papers)]).months
    assert [one.month for one in months] == ["0203-01", "9999-12"]
    within = audit_of("f", [], (), date(2000, 1, 1), date(2000 + MOST_EMPTY_MONTHS // 12, 1, 1))
    assert within.months == ()


def test_projects_are_grouped_by_rule_severity_climate_and_use():
    lines = [
        line("a", [finding("X1")], [finding("X1"), finding("X2")]),
        line("b", [finding("X1"), finding("X1", message="twice")], []),
        line("c", [finding("X1")], None, climate="6A"),
    ]
    audit = audit_of("f", lines)
    rows = [(one.code, one.climate, one.designed, one.accepted) for one in audit.groups]
    assert rows == [("X1", "4A", 2, 1), ("X1", "6A", 1, 0), ("X2", "4A", 0, 1)]
    assert [one.accepted for one in audit.findings if one.path == "c"] == [None]
    assert audit.counted("designed")["defect"] == 4 and audit.counted("accepted")["defect"] == 2


def test_people_are_told_with_what_they_accepted():
    lines = [
        line("a", papers=[paper("2026-01-01", "b", against=1), paper("2026-01-02", "a", file="c")]),
        line("b", papers=[paper("2026-01-01", "b", brings=[finding("X1")])]),
    ]
    rows = [(one.by, one.papers, one.against, one.brought) for one in audit_of("f", lines).people]
    assert rows == [("a", 1, 0, 0), ("b", 2, 1, 1)]
