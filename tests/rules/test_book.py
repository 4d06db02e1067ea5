"""The book refuses rules that cannot say why, crashes aloud, and applies waivers."""

from __future__ import annotations

import importlib.util
import re
import sys
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

import specgen.rules as room
from specgen.model.finding import Outcome, Severity
from specgen.model.folded import folded
from specgen.model.plain import plain
from specgen.model.requirement import RequirementSet
from specgen.practice.load import load_practice
from specgen.rules.book import RuleBookError, RuleCrash, book_of, load_book, run_book
from specgen.rules.catalogue import finding_lines, rule_page, rule_sheet
from specgen.rules.hold import hold
from specgen.rules.remedy import AddPart, FitKind, Known, MovePart, SetKind, SetLap, SetValue, Stated, TapeLap
from specgen.rules.rule import Option, Rule, RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall, walls_of
from specgen.units.quantity import quantity
from tests import plain_yaml

_spec = importlib.util.spec_from_file_location("rule_cases_of_book", Path(__file__).with_name("cases.py"))
assert _spec and _spec.loader
cases = importlib.util.module_from_spec(_spec)
sys.modules["rule_cases_of_book"] = cases
_spec.loader.exec_module(cases)

PRACTICE = load_practice()
RULE = Rule(
    code="XX01",
    name="a rule of the test",
    title="A rule of the test",
    severity=Severity.RISK,
    applies_to="parapet",
    reason="To try the book.",
    basis=("coping.required",),
    remedy="None.",
)


def module(
    rule: object = RULE, check: object = lambda wall: iter([ok("right")]), doc: str = "XX01: a page."
) -> ModuleType:
    made = ModuleType("test_rule", doc)
    made.RULE, made.check = rule, check  # type: ignore[attr-defined]
    return made


def run_one(check, tmp_path: Path, change=None):
    project = cases.load(change or {}, tmp_path)
    walls = walls_of(
        project, {parapet.name: {} for parapet in project.parapets}, RequirementSet({}), PRACTICE
    )
    return run_book(book_of([module(check=check)], PRACTICE), walls, project, PRACTICE)


# Loading


def test_the_book_is_sorted_and_complete() -> None:
    codes = [entry.rule.code for entry in load_book(PRACTICE)]
    assert codes == sorted(codes)
    modules = Path(room.__file__).parent.glob("*/[a-z][a-z][0-9][0-9]_*.py")
    assert codes == sorted(path.stem[:4].upper() for path in modules)


def test_a_code_taken_twice_is_refused() -> None:
    with pytest.raises(RuleBookError, match="`XX01` is already taken by test_rule"):
        book_of([module(), module(replace(RULE, name="another"))], PRACTICE)


def test_a_name_taken_twice_is_refused() -> None:
    with pytest.raises(RuleBookError, match="`a rule of the test` is already taken"):
        book_of([module(), module(replace(RULE, code="XX02"))], PRACTICE)


def test_the_code_of_idle_waivers_is_taken() -> None:
    with pytest.raises(RuleBookError, match="WV01"):
        book_of([module(replace(RULE, code="WV01"))], PRACTICE)


@pytest.mark.parametrize("name", ["reason", "remedy", "basis", "applies_to"])
def test_a_rule_without_it_does_not_load(name: str) -> None:
    empty = () if name == "basis" else ""
    with pytest.raises(RuleBookError, match=f"test_rule: rule XX01 has no {name}"):
        book_of([module(replace(RULE, **{name: empty}))], PRACTICE)


def test_a_basis_that_does_not_exist_is_refused() -> None:
    with pytest.raises(RuleBookError, match=r"test_rule: rule XX01: no practice entry 'no\.such'"):
        book_of([module(replace(RULE, basis=("no.such",)))], PRACTICE)


@pytest.mark.parametrize(
    ("change", "wrong"),
    [
        (SetKind("copng", "formed metal"), "no role `copng`"),
        (SetKind("coping", "formd metal"), "no kind `formd metal` of coping"),
        (SetKind("coping", Known("no.such")), "no practice entry `no.such`"),
        (SetValue("coping", "slop", "1 in/ft"), "no `slop` in coping"),
        (SetValue("copng", "slope", "1 in/ft"), "no role `copng`"),
        (SetValue("site", "place", Stated("coping", "slop")), "no `slop` in coping"),
        (SetValue("building", "heigth", "8 m"), "no `heigth` in building"),
        (AddPart("cleat", "loose"), "no kind `loose` of cleat"),
        (AddPart("cleat", "continuous", (("metl", "copper"),)), "no `metl` in cleat"),
        (AddPart("cleat", "continuous", (("metal", Known("no.such")),)), "no practice entry `no.such`"),
        (AddPart("cleat", "continuous", before=("copng",)), "no role `copng`"),
        (SetLap("top flashing", "bariere"), "no role `bariere`"),
        (SetLap("top flashing", "barrier", Known("no.such")), "no practice entry `no.such`"),
        (FitKind("top flashing", "roof"), "no role `roof`"),
        (MovePart("insulation", "clading"), "no role `clading`"),
        (TapeLap("flashing", "barrier"), "no role `flashing`"),
    ],
)
def test_a_remedy_that_names_what_does_not_exist_is_refused(change: Any, wrong: str) -> None:
    made = module()
    made.REMEDIES = ((change,),)
    with pytest.raises(RuleBookError, match=f"test_rule: rule XX01: remedy: {re.escape(wrong)}"):
        book_of([made], PRACTICE)


def test_an_option_without_a_practice_entry_is_refused() -> None:
    option = Option("depth", "no.such", "words")
    with pytest.raises(RuleBookError, match=r"no\.such"):
        book_of([module(replace(RULE, options=(option,)))], PRACTICE)


def test_code_and_title_are_the_first_line_of_the_page_and_the_name_is_the_module_s() -> None:
    made = module(
        replace(RULE, code="", name="", title=""), doc="XX03: no tape lies loose.\n\nLooks at tapes."
    )
    made.__name__ = "office.tapes.xx03_loose_tape"
    (entry,) = book_of([made], PRACTICE)
    assert (entry.rule.code, entry.rule.name, entry.rule.title) == (
        "XX03",
        "loose tape",
        "No tape lies loose",
    )


@pytest.mark.parametrize("doc", ["XX03", "A page without a code."])
def test_a_page_without_code_and_title_is_refused(doc: str) -> None:
    with pytest.raises(RuleBookError, match="has no title"):
        book_of([module(replace(RULE, code="", title=""), doc=doc)], PRACTICE)


def test_a_module_without_a_manual_page_is_refused() -> None:
    with pytest.raises(RuleBookError, match="no manual page"):
        book_of([module(doc="")], PRACTICE)


def test_a_module_without_rule_or_check_is_refused() -> None:
    for wrong in (module(rule=None), module(check=None)):
        with pytest.raises(RuleBookError, match="RULE and check"):
            book_of([wrong], PRACTICE)


def test_a_code_of_another_form_is_refused() -> None:
    with pytest.raises(RuleBookError, match="`X1` is no code"):
        book_of([module(replace(RULE, code="X1"))], PRACTICE)


def test_an_import_error_is_loud(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("specgen.rules.book._modules", lambda: iter(["specgen.rules.no_such_module"]))
    with pytest.raises(
        RuleBookError, match=r"specgen\.rules\.no_such_module does not import: ModuleNotFoundError"
    ):
        load_book(replace(PRACTICE))


def test_the_book_is_made_once_for_a_practice() -> None:
    other = replace(PRACTICE)
    assert load_book(PRACTICE) is load_book(PRACTICE)
    assert load_book(other) is not load_book(PRACTICE)
    assert load_book(other) == load_book(PRACTICE)


def test_options_quote_a_value_of_their_type() -> None:
    for entry in load_book(PRACTICE):
        for option, printed in zip(entry.rule.options, rule_page(entry, PRACTICE).options, strict=True):
            known = PRACTICE.entry(option.default_key)
            if printed.type == "words":
                assert known.words()
            else:
                assert known.quantity().dimension == printed.type, entry.rule.code


# Running


def test_a_rule_that_raises_is_loud(tmp_path: Path) -> None:
    def check(wall: Wall) -> Iterator[RuleResult]:
        raise ZeroDivisionError("planted")

    with pytest.raises(RuleCrash, match=r"rule XX01 .* at parapet P-1: ZeroDivisionError: planted") as caught:
        run_one(check, tmp_path)
    assert isinstance(caught.value.__cause__, ZeroDivisionError)


def test_a_rule_that_says_nothing_is_a_crash(tmp_path: Path) -> None:
    with pytest.raises(RuleCrash, match="the check said nothing"):
        run_one(lambda wall: iter(()), tmp_path)


def test_a_check_cites_only_what_its_rule_names(tmp_path: Path) -> None:
    with pytest.raises(RuleCrash, match=r"cites \['coping\.drip'\]"):
        run_one(lambda wall: iter([fail("wrong", basis=("coping.drip",))]), tmp_path)


def test_a_finding_carries_the_rule_and_the_place(tmp_path: Path) -> None:
    found = run_one(
        lambda wall: iter([fail("wrong", severity=Severity.QUERY, because=("a fact",))]), tmp_path
    )
    assert [(one.code, one.outcome, one.severity) for one in found] == [
        ("XX01", Outcome.FAIL, Severity.QUERY)
    ]
    assert found[0].reason == RULE.reason
    assert [str(source) for source in found[0].sources] == [
        "common practice, parapet tops [P: common practice]"
    ]


def test_findings_stand_in_the_order_of_the_file(tmp_path: Path) -> None:
    findings = cases.findings_of(cases.load({}, tmp_path))
    keys = [(one.mark, one.code) for one in findings]
    assert keys == sorted(keys)


# Waivers

WAIVER = {"rule": "DL04", "by": "J. Doe, owner", "date": date(2026, 10, 1), "reason": "mock-up drained"}
BROKEN = {"parts": {"gap": {"continuous": False}}}


def of_waiver(tmp_path: Path, change=BROKEN, **values):
    project = cases.load({**change, "waivers": [{**WAIVER, **values}]}, tmp_path)
    return cases.findings_of(project)


def test_a_waived_finding_says_who_when_and_why(tmp_path: Path) -> None:
    found = [one for one in of_waiver(tmp_path) if one.code in ("DL04", "WV01")]
    assert [one.outcome for one in found] == [Outcome.WAIVED]
    assert found[0].waiver == "J. Doe, owner, 2026-10-01: mock-up drained"
    assert not found[0].counts
    assert "waiver: J. Doe, owner, 2026-10-01: mock-up drained" in finding_lines(*folded(found))
    assert ": waived DL04 the drainage layer" in finding_lines(*folded(found))


@pytest.mark.parametrize(
    ("change", "values", "message"),
    [
        (BROKEN, {"rule": "DL0004"}, "waiver of an unknown rule `DL0004`; did you mean `DL04`?"),
        ({}, {}, "waiver of DL04, which does not fail at any parapet"),
        ({}, {"parapet": "P-1"}, "waiver of DL04, which does not fail at parapet P-1"),
    ],
)
def test_a_waiver_that_fits_nothing_is_a_query(tmp_path: Path, change, values, message: str) -> None:
    found = [one for one in of_waiver(tmp_path, change, **values) if one.code == "WV01"]
    assert [(one.message, one.severity, one.outcome) for one in found] == [
        (message, Severity.QUERY, Outcome.FAIL)
    ]


def test_an_unknown_finding_cannot_be_waived(tmp_path: Path) -> None:
    found = of_waiver(tmp_path, {"parts": {"gap": {"continuous": "unknown"}}})
    assert {one.outcome for one in found if one.code == "DL04"} == {Outcome.UNKNOWN}
    assert [one.code for one in found if one.outcome is Outcome.FAIL] == ["WV01"]


# Print


def test_finding_lines_in_the_form_of_the_house(tmp_path: Path) -> None:
    project = cases.load({"parts": {"wrb": {"kind": "mechanically fastened"}}}, tmp_path)
    found = next(one for one in cases.findings_of(project) if one.code == "WB01")
    assert finding_lines(*folded([found])).splitlines() == [
        f"{tmp_path}/project.yaml:{found.mark.line}:11: defect WB01 wall barrier is mechanically fastened "
        "(parapet P-1, layer wrb)",
        "    reason: Behind a loose or fastened sheet a leak at the top runs down the whole wall.",
        "    source: common practice, parapet walls [P: common practice]",
        "    remedy: Use a self-adhered or fluid-applied barrier, bonded over its full face.",
    ]


def test_an_unknown_finding_names_what_is_missing(tmp_path: Path) -> None:
    project = cases.load({"parts": {"wrb": {"air_permeance": "unknown"}}}, tmp_path)
    findings = cases.findings_of(project)
    found = next(one for one in findings if one.code == "WB02" and one.outcome is Outcome.UNKNOWN)
    first, second, *_ = finding_lines(*folded([found])).splitlines()
    assert first.endswith("unknown WB02 air permeance of the barrier is not known (parapet P-1, layer wrb)")
    assert second == "    missing: layer `wrb`: find out `air_permeance`"
    assert plain(*folded([found]))["outcome"] == "unknown"


def test_a_rule_sheet_prints_options_and_sources_with_status() -> None:
    entry = next(entry for entry in load_book(PRACTICE) if entry.rule.code == "DL02")
    sheet = rule_sheet(entry, PRACTICE)
    assert "option: depth (length), default 3/16 in: least depth of the drainage space" in sheet
    assert "source: IBC 2021, 2510.6.2 [C: model code] (drainage.depth)" in sheet
    assert "Right:\n\n    - role: drainage layer" in sheet
    assert rule_page(entry, PRACTICE).options[0].key == "drainage.depth"


# One requirement, many readings


@given(sixteenths=st.integers(min_value=0, max_value=64))
def test_a_value_fails_exactly_where_its_requirement_says(sixteenths: int, tmp_path_factory) -> None:
    stated = quantity(sixteenths / 16, "in")
    folder = tmp_path_factory.mktemp("held")
    project = cases.load({"parts": {"gap": {"depth": stated.text}}}, folder)
    found = [one for one in cases.findings_of(project) if one.code == "DL02"]
    short = stated.value < PRACTICE.quantity("drainage.depth").value
    assert {one.outcome for one in found} == {Outcome.FAIL if short else Outcome.PASS}


def test_a_value_in_a_project_of_the_other_units(tmp_path: Path) -> None:
    content = cases.changed({"parts": {"gap": {"depth": "4 mm"}}})
    content["project"]["units"] = "SI"
    path = tmp_path / "project.yaml"
    path.write_text(plain_yaml.dump(content))
    project = cases.load_project(path, PRACTICE)
    found = next(one for one in cases.findings_of(project) if one.code == "DL02")
    assert (
        found.message == "drainage depth of the drainage layer is 4 mm; asked for: at least 4.8 mm (3/16 in)"
    )


def test_holding_a_value_without_requirement_does_not_apply(tmp_path: Path) -> None:
    project = cases.load({}, tmp_path)
    wall = walls_of(project, {one.name: {} for one in project.parapets}, RequirementSet({}), PRACTICE)[0]
    part = wall.part("barrier")
    assert part is not None
    assert hold(wall, "barrier.air_permeance", part) == not_applicable(
        "`barrier.air_permeance` does not apply here"
    )
