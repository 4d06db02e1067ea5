"""An office's standards through the whole pipeline: requirement, paragraph, verdict, finding, severity, own rules."""

from __future__ import annotations

from collections.abc import Callable
from copy import deepcopy
from datetime import date
from pathlib import Path

import pytest

from specgen.assessment import Assessment, assess
from specgen.files.marks import Mark
from specgen.intake.office import load_office
from specgen.intake.project import load_project
from specgen.model.finding import Finding, Outcome, Severity
from specgen.model.project import Record
from specgen.model.submission import Claim, Product, Result, Submission
from specgen.practice.load import load_practice
from specgen.review.judge import review
from specgen.rules.book import RuleBookError, book_of, load_book
from specgen.rules.office import changeable, office_modules
from specgen.specification import specify
from specgen.units.quantity import parse
from tests import plain_yaml

PRACTICE = load_practice()
CHANGEABLE = changeable(PRACTICE)
BASE = plain_yaml.load((Path(__file__).parent / "base.yaml").read_text())
HEAD = 'office: {name: Sample Office, document: Wall Standards, edition: "2026"}\n'

Run = Callable[..., Assessment]


@pytest.fixture
def run(tmp_path: Path) -> Run:
    def of(office: str, waivers: object = (), change: Callable[[dict], None] | None = None) -> Assessment:
        content = deepcopy(BASE) | {"waivers": list(waivers)}
        if change:
            change(content)
        (tmp_path / "project.yaml").write_text(plain_yaml.dump(content))
        (tmp_path / "office.yaml").write_text(HEAD + office)
        standards = load_office(tmp_path / "office.yaml", PRACTICE, CHANGEABLE)
        return assess(load_project(tmp_path, PRACTICE), PRACTICE, standards)

    return of


def part(content: dict, role: str) -> dict:
    parapet = content["parapets"][0]
    return next(one for one in (*parapet["build_up"], *parapet["top"]) if one["role"] == role)


def set_depth(text: str) -> Callable[[dict], None]:
    return lambda content: part(content, "drainage layer").update(depth=text)


def of_code(found: Assessment, code: str, *outcomes: Outcome) -> list[Finding]:
    wanted = outcomes or (Outcome.FAIL,)
    return [one for one in found.findings if one.code == code and one.outcome in wanted]


DEEPER = "limits:\n  drainage.depth: {value: 1/2 in, place: item 4}\n"


def test_a_stronger_limit_flows_into_requirement_and_finding(run: Run) -> None:
    found = run(DEEPER, change=set_depth("7/16 in"))
    requirement = found.requirements.at("drainage.depth", "P-1")
    assert requirement is not None and requirement.limit.value.text == "1/2 in"
    assert "in place of IBC 2021" in str(requirement.origin.source)
    (finding,) = of_code(found, "DL02")
    assert any("Wall Standards 2026" in str(source) for source in finding.sources)
    assert of_code(found, "OF01") == []


def test_a_stronger_limit_flows_into_the_paragraph(run: Run) -> None:
    def texts(assessment: Assessment) -> str:
        return repr(specify(assessment).sections)

    found = run("limits: {coping.piece_length: 7 ft}\n")
    assert " 7 ft" in texts(found) and " 7 ft" not in texts(assess(found.project, PRACTICE))


def test_a_stronger_limit_flows_into_the_verdict(run: Run) -> None:
    mark = Mark("submittal.yaml", 1, 1)
    sheet = Product(
        "drainage layer",
        "Sheet D",
        "dimpled sheet",
        {"depth": Claim(parse("7/16 in"), "", "drawing 2", mark)},
        mark,
        (),
    )
    submission = Submission(Record("submittal", {"number": "1"}, {}, mark), (sheet,), "submittal.yaml")

    def verdict(found: Assessment) -> Result:
        (one,) = review(submission, found.requirements, {}, found.practice, "inch-pound")
        return next(v.result for v in one.verdicts if v.requirement.name == "drainage.depth")

    loose = set_depth("1/4 in")
    strict, plain = run(DEEPER, change=loose), run("", change=loose)
    assert verdict(plain) is Result.MEETS
    assert verdict(strict) is Result.FAILS


WEAKER = "limits:\n  drainage.depth: 1/8 in\n"
WAIVER = {
    "rule": "OF01",
    "by": "the owner",
    "date": date(2026, 10, 1),
    "reason": "tested",
}


def test_a_limit_below_the_code_is_a_defect_and_the_code_stands(run: Run) -> None:
    found = run(WEAKER, change=set_depth("1/8 in"))
    (finding,) = of_code(found, "OF01")
    assert finding.severity is Severity.DEFECT
    assert "1/8 in" in finding.message and "3/16 in" in finding.message
    assert (Path(finding.mark.file).name, finding.mark.line, finding.mark.column) == ("office.yaml", 3, 19)
    assert found.practice.quantity("drainage.depth").text == "3/16 in"
    assert of_code(found, "DL02")


def test_the_project_may_waive_one_limit_below_the_code(run: Run) -> None:
    found = run(WEAKER, [WAIVER | {"limit": "drainage.depth"}], set_depth("1/8 in"))
    assert of_code(found, "OF01", Outcome.WAIVED) and not of_code(found, "OF01")
    assert found.practice.quantity("drainage.depth").text == "1/8 in"
    assert not of_code(found, "DL02")
    assert [one.rule for one in found.waivers_in_force] == ["OF01"]


@pytest.mark.parametrize("limit", [{}, {"limit": "outlet.flange"}])
def test_a_waiver_names_the_limit_it_accepts(run: Run, limit: dict[str, str]) -> None:
    found = run(WEAKER, [WAIVER | limit])
    assert of_code(found, "OF01") and found.practice.quantity("drainage.depth").text == "3/16 in"
    (idle,) = of_code(found, "WV01")
    assert "limit: drainage.depth" in idle.message
    assert found.waivers_in_force == ()


def test_an_expired_waiver_lets_nothing_below_the_code(run: Run) -> None:
    late = WAIVER | {"limit": "drainage.depth", "until": WAIVER["date"]}
    found = run(WEAKER, [late])
    assert of_code(found, "OF01") and of_code(found, "WV02")
    assert found.practice.quantity("drainage.depth").text == "3/16 in"


def test_a_severity_is_raised_and_says_by_whom(run: Run) -> None:
    def short(content: dict) -> None:
        part(content, "coping")["outer_leg"] = "1 in"

    plain, strict = run("", change=short), run("severity: {CP04: defect}\n", change=short)
    assert of_code(plain, "CP04")[0].severity is Severity.RISK
    assert of_code(strict, "CP04")[0].severity is Severity.DEFECT
    assert "defect by decision of Sample Office" in of_code(strict, "CP04")[0].because


def test_a_defect_by_the_code_stays_one_where_the_rule_is_lowered(run: Run) -> None:
    """CP05 is a risk by its table and a defect below the code's floor: only the risk follows the office."""

    def thin(text: str) -> Callable[[dict], None]:
        return lambda content: part(content, "coping").update(
            metal="aluminum", thickness=text, outer_face_height="6 in"
        )

    lower = "severity: {CP05: query}\n"
    assert of_code(run(lower, change=thin("0.010 in")), "CP05")[0].severity is Severity.DEFECT
    assert of_code(run(lower, change=thin("0.030 in")), "CP05")[0].severity is Severity.QUERY


def test_every_limit_of_the_catalogue_that_has_a_direction_may_change() -> None:
    assert {"drainage.depth", "coping.leg_8m", "plaster.panel_area", "turnup.attachment"} <= set(
        CHANGEABLE.directions
    )
    assert CHANGEABLE.directions["plaster.panel_area"] == "at most"
    assert set(CHANGEABLE.directions) <= set(PRACTICE.entries)
    assert set(CHANGEABLE.rules) == {entry.rule.code for entry in load_book(PRACTICE)}


OWN_RULE = '''"""AB01: the wall is described.

Right::

    - name: P-1
"""

from specgen.model.finding import Severity
from specgen.rules.rule import Rule, fail

RULE = Rule(
    code="AB01", name="own rule", title="An own rule", severity=Severity.RISK, applies_to="parapet",
    reason="To try it.", basis=("office.thing",), remedy="None.",
)


def check(wall):
    yield fail("seen")
'''


def test_rules_of_the_office_run_and_cite_its_values(run: Run, tmp_path: Path) -> None:
    folder = tmp_path / "own_rules"
    folder.mkdir()
    (folder / "ab01_own.py").write_text(OWN_RULE)
    source = "{document: Wall Standards, edition: '2026', place: item 9, status: office}"
    found = run(f"values: {{office.thing: {{title: a thing, source: {source}}}}}\n")
    again = assess(
        found.project,
        PRACTICE,
        found.office,
        book_of(office_modules(folder), found.practice, load_book(PRACTICE)),
    )
    (finding,) = of_code(again, "AB01")
    assert "item 9" in str(finding.sources[0])
    assert sorted(path.name for path in folder.iterdir()) == ["ab01_own.py"]  # nothing is written beside it


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("1/0\n", "does not import: ZeroDivisionError"),
        (OWN_RULE.replace("AB01", "DL02").replace("office.thing", "coping.drip"), "`DL02` is already taken"),
        (OWN_RULE.replace("AB01", "OF01").replace("office.thing", "coping.drip"), "`OF01` is already taken"),
        (OWN_RULE.replace("To try it.", ""), "has no reason"),
        (OWN_RULE, "no practice entry 'office.thing'"),
    ],
)
def test_a_module_that_cannot_be_used_is_loud(tmp_path: Path, text: str, message: str) -> None:
    (tmp_path / "ab01_own.py").write_text(text)
    with pytest.raises(RuleBookError, match=message):
        book_of(office_modules(tmp_path), PRACTICE, load_book(PRACTICE))


def test_a_folder_without_rule_modules_is_loud(tmp_path: Path) -> None:
    (tmp_path / "helper.py").write_text("")
    with pytest.raises(RuleBookError, match="holds no rule modules"):
        book_of(office_modules(tmp_path), PRACTICE, load_book(PRACTICE))
