"""Every rule against its cases: through the loader, the calculations, the requirements and the book."""

from __future__ import annotations

import importlib.util
import random
import sys
from pathlib import Path

import pytest

from specgen.intake.project import PARAPET_KEYS
from specgen.intake.records import REASONS
from specgen.model.finding import Finding, Outcome
from specgen.practice.load import load_practice
from specgen.rules.book import BookEntry, load_book
from tests import plain_yaml
from tests.conftest import LONG, SEED

_spec = importlib.util.spec_from_file_location("rule_cases", Path(__file__).with_name("cases.py"))
assert _spec and _spec.loader
cases = importlib.util.module_from_spec(_spec)
sys.modules["rule_cases"] = cases
_spec.loader.exec_module(cases)

CASES = cases.read_cases()


def tried() -> list[cases.Case]:
    """What must fail always; of the others one of each sort of each rule, drawn by the seed, all in `make test-long`."""
    by_sort: dict[tuple[str, str], list[cases.Case]] = {}
    for one in CASES:
        by_sort.setdefault((one.code, one.sort), []).append(one)
    chance = random.Random(SEED)
    return [
        one
        for (_, sort), same in by_sort.items()
        for one in (same if LONG or sort == "failing" else [chance.choice(same)])
    ]


TRIED = tried()
SECTIONS = ("project", "site", "building")
ASKING = (  # what is wrong by the manual page leaves something unknown: whether a value is meant, who answers
    *("BK03", "CL07", "EX09", "EX12", "FR01", "HM01", "MV01", "MV04", "MV05", "SF02", "SF04", "SF05"),
)
HOURS = {  # what the hours did in the wall that a manual page calls wrong
    "HM02": {"place": {"mold": [2.0, 4.0]}},
    "HM03": {"place": {"hours_28": 900, "moisture_peak": 0.31}},
    "HM04": {"cut": {"forgiven": 0.002}},
}
BOOK = load_book(load_practice())
BOOK_WIDE = ("MV07",)  # rules that look at the findings of others


@pytest.mark.parametrize("case", TRIED, ids=lambda case: f"{case.code}: {case.sort}: {case.name}")
def test_case(case, tmp_path: Path) -> None:
    project = cases.load(case.content, tmp_path)
    # The other rules run as well with SPECGEN_LONG=1: none may crash on what this case makes of the wall.
    found = cases.findings_of(project, "" if LONG or case.code in BOOK_WIDE else case.code)
    findings = [one for one in found if one.code == case.code]
    lines = (tmp_path / "project.yaml").read_text().splitlines()
    wanted = [one for one in findings if one.outcome.value == case.outcome and says(one, case, lines)]
    assert wanted, "\n".join(
        f"{one.mark.line} {one.severity} {one.outcome} {one.message} {one.missing}" for one in findings
    )
    if case.outcome == "pass":
        assert {one.outcome for one in findings} <= {Outcome.PASS, Outcome.SPECIFIED}


def says(finding: Finding, case, lines: list[str]) -> bool:
    content = case.content
    line = lines[finding.mark.line - 1].strip()
    return (
        content.get("message", "") in finding.message
        and content.get("missing", "") in finding.missing
        and content.get("line", line) == line
        and content.get("severity", finding.severity.value) == finding.severity.value
        and (content.get("because") is None or content["because"] in finding.because)
    )


def test_every_rule_has_all_three_sorts() -> None:
    codes = [entry.rule.code for entry in BOOK]
    assert cases.lacking_sorts(codes, TRIED) == []
    assert cases.lacking_sorts(codes, CASES) == []
    assert {case.code for case in CASES} <= set(codes), "cases of a rule that is not in the book"


@pytest.mark.parametrize(
    ("rows", "expected"),
    [
        ([{"parts": {}}], "tests/rules/CP99.yml, row 1: add `passing`, `failing` or `boundary`"),
        (
            [{"passing": "a"}, {"failing": "b", "line": "x", "message": "y"}],
            "CP99.yml, row 2 (failing: b): add `severity`: defect, risk or query",
        ),
        (
            [{"failing": "b", "severity": "risk", "line": "x"}],
            "add `message`: a part of what the finding says",
        ),
        (
            [{"boundary": "b"}],
            "row 1 (boundary: b): add `outcome`: pass, specified, fail, unknown or not applicable",
        ),
        ([{"passing": "a", "part": {}}], "row 1: ['part'] is none of"),
        ([{"passing": "a"}, {"base": {}}], "`base` is the first row, and this is row 2"),
    ],
)
def test_a_case_that_lacks_a_key_says_what_to_add(rows: list[dict[str, object]], expected: str) -> None:
    with pytest.raises(AssertionError) as caught:
        cases.cases_of("CP99", rows)
    assert expected in str(caught.value)


def test_a_rule_that_lacks_a_case_says_which() -> None:
    there = cases.cases_of("CP99", [{"base": {}}, {"passing": "a"}, {"boundary": "b", "outcome": "pass"}])
    assert cases.lacking_sorts(["CP99"], there) == ["tests/rules/CP99.yml: add a case `failing`: its name"]


def test_what_a_rule_asks_of_the_base_is_there_for_all(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "CP99.yml"
    file.write_text("- base: {parts: {coping: {joint_gap: 3/8 in}}}\n- passing: as it stands\n")
    monkeypatch.setattr(cases, "FILES", [*cases.FILES, file])
    cases.base.cache_clear()
    (coping,) = (part for part in cases.changed({})["parapets"][0]["top"] if part["role"] == "coping")
    cases.base.cache_clear()
    assert coping["joint_gap"] == "3/8 in"


def test_the_base_has_nothing_to_act_on(tmp_path: Path) -> None:
    findings = cases.findings_of(cases.load({}, tmp_path))
    add = "add what is wanted as the first row of the rule's cases, `- base: {parts: {ID: {KEY: VALUE}}}`"
    assert [f"tests/rules/{one.code}.yml: {one.message}" for one in findings if one.counts] == [], add
    assert {one.code for one in findings if one.outcome is Outcome.PASS} >= {"WB01", "DL02", "CP05", "PL01"}


def fragments(entry: BookEntry) -> dict[str, object]:
    """The YAML under ``Right::`` and ``Wrong::`` of a manual page."""
    _, right, rest = entry.manual.partition("Right::\n")
    assert right, f"{entry.module} shows nothing right"
    good, wrong, bad = rest.partition("Wrong::\n")
    assert wrong, f"{entry.module} shows nothing wrong"
    return {"right": plain_yaml.load(good), "wrong": plain_yaml.load(bad)}


@pytest.mark.parametrize("entry", BOOK, ids=lambda entry: entry.rule.code)
def test_the_fragments_of_a_manual_page_use_the_vocabulary(entry: BookEntry) -> None:
    vocabulary = load_practice().vocabulary
    for fragment in fragments(entry).values():
        parts = fragment
        if isinstance(fragment, dict):
            assert set(fragment) <= {*vocabulary.records["parapet"].fields, *PARAPET_KEYS, *SECTIONS}
            for section in SECTIONS:
                assert set(fragment.get(section, {})) <= set(vocabulary.records[section].fields)
            parts = fragment.get("build_up", [])
        assert isinstance(parts, list)
        for part in parts:
            if "between" in part:
                assert set(part) - {"between"} <= set(vocabulary.records["transition"].fields)
            else:
                role = vocabulary.roles[part["role"]]
                assert part["kind"] in {*role.kinds, "none"}
                assert set(part) - {"role", "kind", "id", *REASONS} <= set(role.fields)
                assert set(part.get("meant", {})) <= set(part)


@pytest.mark.parametrize("entry", BOOK, ids=lambda entry: entry.rule.code)
def test_what_a_manual_page_calls_wrong_fails(entry: BookEntry, tmp_path: Path) -> None:
    """Each wrong fragment laid over the base makes its rule fail."""
    change: dict[str, object] = {"parts": {}, "laps": {}}
    names = {
        "drainage layer": "gap",
        "weep screed": "screed",
        "barrier": "wrb",
        "roof turn-up": "base flashing",
    }
    names |= {"top flashing": "flashing", "bridging tape": "tape"}
    fragment = fragments(entry)["wrong"]
    parts = fragment
    if isinstance(fragment, dict):
        change |= {section: fragment.pop(section, {}) for section in SECTIONS}
        parts = fragment.pop("build_up", [])
        change["parapet"] = fragment
    assert isinstance(parts, list)
    for part in parts:
        if "between" in part:
            ends = [names.get(end, end) for end in part["between"]]
            change["laps"][" / ".join(ends)] = {**part, "between": ends, "upper": names[part["upper"]]}
        elif "id" in part or part["kind"] == "none":
            change["parts"][part.get("id", part["role"])] = part
        else:
            change["parts"][names.get(part["role"], part["role"])] = {
                key: value for key, value in part.items() if key != "role"
            }
    if entry.rule.code in ("DL01", "CL01", "CL03", "WB18"):
        change["parts"]["gap"] = None
    if entry.rule.code == "PL20":
        foam = {"role": "insulation", "kind": "extruded polystyrene", "thickness": "2 in", "before": "wrb"}
        change["parts"]["foam"] = foam
    change |= {"hourly": HOURS[entry.rule.code]} if entry.rule.code in HOURS else {}
    if entry.rule.code == "MV06":
        change["parts"]["wrb"]["because"] = None
    if entry.rule.code == "MV07":
        change["parts"]["coping"]["color"] = None
    if entry.rule.code == "TF02":
        change["laps"]["flashing / base flashing"] = {"tape": None}
    code = entry.rule.code
    findings = cases.findings_of(cases.load(change, tmp_path), "" if LONG or code in BOOK_WIDE else code)
    asks = entry.rule.code in ASKING
    wrong = Outcome.UNKNOWN if asks else Outcome.FAIL
    assert any(one.code == entry.rule.code and one.outcome is wrong for one in findings)
