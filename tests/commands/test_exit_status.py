"""The exit status: what failed outranks what is unknown, unusable input is 2, a fault is 70 and never a traceback."""

from __future__ import annotations

import json
import signal
from dataclasses import dataclass
from itertools import product
from pathlib import Path

import pytest
from click.testing import CliRunner

from specgen.commands import COMMANDS, main
from specgen.commands.common import CLEAN, FAILED, FAULT, OPEN, status
from specgen.files.marks import Mark
from specgen.model.finding import QUIET, Finding, Outcome, Severity
from specgen.model.submission import Product, ProductReview, Recommendation, WallPoint
from tests.chain.runs import CONFORMING, FAULTY, changed, contents, copied, run

WIND = (
    "  wind_speed: 115 mph           # basic wind speed for the building's risk category\n  exposure: B\n",
    "",
)
ENDING_RULE = '''
"""ZZ01: it ends the program.

Right::

    nothing

Wrong::

    nothing
"""
from specgen.model.finding import Severity
from specgen.rules.rule import Rule
RULE = Rule(code="ZZ01", name="it ends", title="It ends", severity=Severity.RISK, applies_to="coping",
    reason="None.", basis=("coping.piece_length",), remedy="None.")
def check(wall):
    {body}
    yield
'''


@dataclass(frozen=True)
class Given:
    """Something judged, as the status asks it."""

    failed: bool
    open: bool


def finding(outcome: Outcome, severity: Severity, answer: str = "") -> Finding:
    """A finding of one outcome."""
    mark = Mark("project.yaml", 1, 1)
    return Finding(
        "ZZ01", "name", severity, outcome, "words", mark, "P-1", "", "reason", "remedy", (), answer=answer
    )


@pytest.mark.parametrize("failed", [False, True])
def test_what_failed_outranks_what_is_unknown(failed: bool) -> None:
    for first, second in product(product((False, True), repeat=2), repeat=2):
        judged = [Given(*first), Given(*second)]
        wanted = FAILED if failed or first[0] or second[0] else OPEN if first[1] or second[1] else CLEAN
        assert status(judged, failed=failed) == wanted
    assert status([]) == CLEAN


@pytest.mark.parametrize("severity", Severity)
@pytest.mark.parametrize("outcome", Outcome)
def test_the_status_of_every_outcome(outcome: Outcome, severity: Severity) -> None:
    one = finding(outcome, severity)
    wanted = CLEAN
    if outcome is Outcome.FAIL and severity is not Severity.QUERY:
        wanted = FAILED
    elif outcome in (Outcome.UNKNOWN, Outcome.NOT_COVERED):
        wanted = OPEN
    assert status([one]) == wanted
    assert one.counts is (outcome in (Outcome.FAIL, Outcome.UNKNOWN, Outcome.NOT_COVERED))
    assert not (one.counts and outcome in QUIET)


def test_what_a_person_has_answered_is_not_open() -> None:
    assert (
        status([finding(Outcome.NOT_COVERED, Severity.DEFECT, "the architect, 2026-11-02: local code")])
        == CLEAN
    )
    assert (
        status([finding(Outcome.UNKNOWN, Severity.DEFECT, "an answer does not make a missing value known")])
        == OPEN
    )


def test_the_starter_file_without_wind_speed_and_exposure_ends_with_3(tmp_path: Path) -> None:
    assert run("new", tmp_path / "new", "--from", "commented").status == CLEAN
    assert run("check", tmp_path / "new").status == CLEAN
    changed(tmp_path / "new" / "project.yaml", WIND)
    for words in (("check", tmp_path / "new"), ("write", tmp_path / "new", "-o", tmp_path / "out")):
        done = run(*words)
        assert done.status == OPEN and "unknown" in done.out
    assert run("check", tmp_path / "new", "--explain").status == OPEN
    assert run("check", tmp_path / "new", "--format", "json").status == OPEN
    (tmp_path / "all" / "one").mkdir(parents=True)
    (tmp_path / "new" / "project.yaml").rename(tmp_path / "all" / "one" / "project.yaml")
    assert run("audit", tmp_path / "all", "-o", tmp_path / "audit", "--jobs", "1").status == OPEN


def test_what_the_filters_leave_decides(tmp_path: Path) -> None:
    assert run("check", FAULTY).status == FAILED
    assert run("check", FAULTY, "--severity", "query").status == CLEAN


def test_a_comparison_ends_with_what_comes(tmp_path: Path) -> None:
    run("new", tmp_path / "one", "--from", "commented")
    run("new", tmp_path / "other", "--from", "commented")
    changed(tmp_path / "other" / "project.yaml", WIND)
    one, other = tmp_path / "one", tmp_path / "other"
    assert run("compare", one, other).status == OPEN
    assert run("compare", other, one).status == CLEAN


@pytest.mark.parametrize("recommendation", Recommendation)
@pytest.mark.parametrize("outcome", [Outcome.FAIL, Outcome.UNKNOWN])
def test_a_product_ends_with_what_is_recommended_and_what_the_wall_leaves_unknown(
    recommendation: Recommendation, outcome: Outcome
) -> None:
    product = Product("barrier", "B", "self-adhered", {}, Mark("s.yaml", 1, 1))
    point = WallPoint(finding(outcome, Severity.QUERY), ("P-1",))
    review = ProductReview(product, (), recommendation, "why", "why", (point,))
    again = recommendation in (Recommendation.RESUBMIT, Recommendation.REJECTED)
    assert status([review]) == (FAILED if again else OPEN if outcome is Outcome.UNKNOWN else CLEAN)


@pytest.mark.parametrize("name", COMMANDS)
def test_the_help_of_every_command_names_its_statuses(name: str) -> None:
    printed = " ".join(run(name, "--help").out.split())
    assert (
        "Exit status: 0" in printed
        and printed.partition("Exit status:")[2].count("70 a fault of the program.") == 1
    )


@pytest.mark.parametrize(
    ("body", "words"),
    [
        ("raise SystemExit(0)", "rule ZZ01 (it ends) failed to run at parapet P-1: SystemExit: 0"),
        ("return {}['x']", "rule ZZ01 (it ends) failed to run at parapet P-1: KeyError: 'x'"),
        ("return", "rule ZZ01 (it ends) failed to run at parapet P-1: ValueError: the check said nothing"),
        *(
            (f"raise {name}('x')", f"rule ZZ01 (it ends) failed to run at parapet P-1: {name}: x")
            for name in (
                "KeyboardInterrupt",
                "GeneratorExit",
                "MemoryError",
                "BrokenPipeError",
                "BaseException",
            )
        ),
        (
            "f = lambda: f()\n    f()",
            "rule ZZ01 (it ends) failed to run at parapet P-1: RecursionError: maximum",
        ),
    ],
)
@pytest.mark.parametrize("form", ["text", "json"])
def test_a_rule_of_an_office_that_fails_is_a_fault(tmp_path: Path, body: str, words: str, form: str) -> None:
    project = copied(CONFORMING, tmp_path / "project")
    rules = project / "own"
    rules.mkdir()
    (rules / "zz01_it_ends.py").write_text(ENDING_RULE.replace("{body}", body).lstrip())
    office = '{name: Office, document: Standards, edition: "1"}'
    (project / "office.yaml").write_text(f"office: {office}\nrules: own\n")
    words_given = [
        "write",
        str(project),
        "--allow-office-code",
        "--format",
        form,
        "-o",
        str(tmp_path / "out"),
    ]
    done = CliRunner().invoke(main, words_given)
    assert done.exit_code == FAULT
    if form == "json":
        (one,) = json.loads(done.stdout)["errors"]
        assert one["message"] == done.stderr.rstrip("\n")
    else:
        assert done.stdout == ""
    (line,) = done.stderr.splitlines()
    assert words in line and "please report" in line
    assert not (tmp_path / "out").exists()


def test_an_interruption_by_a_person_stops_the_run_and_is_no_fault(tmp_path: Path) -> None:
    project = copied(CONFORMING, tmp_path / "project")
    (project / "own").mkdir()
    body = "import os, signal\n    os.kill(os.getpid(), signal.SIGINT)\n    while True: pass"
    (project / "own" / "zz01_it_ends.py").write_text(ENDING_RULE.replace("{body}", body).lstrip())
    office = '{name: Office, document: Standards, edition: "1"}'
    (project / "office.yaml").write_text(f"office: {office}\nrules: own\n")
    words = ["write", str(project), "--allow-office-code", "-o", str(tmp_path / "out")]
    before = signal.signal(
        signal.SIGINT, signal.default_int_handler
    )  # ignored where tests run in the background
    try:
        done = CliRunner().invoke(main, words)
    finally:
        signal.signal(signal.SIGINT, before)
    assert (done.exit_code, done.stdout, done.stderr.strip()) == (FAILED, "", "Aborted!")
    assert not (tmp_path / "out").exists()


def test_an_office_rule_that_stops_the_run_when_it_is_loaded_is_a_fault(tmp_path: Path) -> None:
    project = copied(CONFORMING, tmp_path / "project")
    (project / "own").mkdir()
    (project / "own" / "zz01_it_ends.py").write_text("raise KeyboardInterrupt\n")
    office = '{name: Office, document: Standards, edition: "1"}'
    (project / "office.yaml").write_text(f"office: {office}\nrules: own\n")
    done = CliRunner().invoke(main, ["check", str(project), "--allow-office-code"])
    assert done.exit_code == FAULT and "does not import: KeyboardInterrupt" in done.stderr, done.stderr


def test_an_unexpected_exception_is_one_line_with_its_place(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    def broken(*_: object) -> None:
        raise KeyError("two\nlines")

    monkeypatch.setattr("specgen.work.issue.add_issue", broken)
    before = contents(tmp_path)
    done = CliRunner().invoke(main, ["write", str(CONFORMING), "-o", str(tmp_path)])
    assert done.exit_code == FAULT
    (line,) = done.stderr.splitlines()
    assert line.startswith("fault: test_exit_status.py:") and "KeyError" in line and "please report" in line
    assert contents(tmp_path) == before


def test_a_fault_inside_the_package_names_its_file(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("specgen.commands.check.folded", None)
    done = CliRunner().invoke(main, ["check", str(CONFORMING)])
    assert done.exit_code == FAULT
    assert done.stderr.startswith("fault: specgen/commands/check.py:")
