"""A person decides: the decision stands in files that the commands read, and the history tells who, what and when."""

from __future__ import annotations

import shutil
from concurrent.futures import ThreadPoolExecutor
from datetime import date
from pathlib import Path

import pytest

from specgen.files.faults import OutputError
from specgen.files.marks import InputError
from specgen.intake.accepted import load_accepted
from specgen.intake.project import load_project, project_of
from specgen.practice.load import load_practice
from specgen.specification import Specification, specify
from specgen.work import deciding, registering
from specgen.work.accepting import accept
from specgen.work.confirming import TAKEN, Confirmation, confirm
from specgen.work.deciding import decide_request, decide_submittal, decision_of
from specgen.work.editing_decisions import ended, with_decision, without_decision
from specgen.work.history import history
from specgen.work.inputs import Inputs, read_inputs
from specgen.work.register_run import read_copy
from specgen.work.replying import judged, weighed
from tests.chain.runs import CONFORMING, contents, run

PRACTICE = load_practice()
TODAY = date(2026, 12, 8)
Made = tuple[Inputs, Specification]


@pytest.fixture(scope="module")
def made() -> Made:
    inputs = read_inputs(CONFORMING, None, False)
    return inputs, specify(inputs.assessed())


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return Path(shutil.copytree(CONFORMING, tmp_path / "mill"))


@pytest.fixture
def inputs(folder: Path) -> Inputs:
    return read_inputs(folder, None, False)


def decide(
    folder: Path, inputs: Inputs, made: Made, result: str, day: str = "2026-12-03"
) -> deciding.Recorded:
    paper = folder / "submittals" / "barrier-conforming.yaml"
    decision = decision_of(paper, result, "A. B., architect", day, "color as approved")
    return decide_submittal(decision, judged([paper], inputs, made[1]), inputs, made[1], TODAY)


def test_an_accepted_submittal_stands_where_every_command_looks(
    folder: Path, inputs: Inputs, made: Made
) -> None:
    done = decide(folder, inputs, made, "approved as noted")
    assert done.notes == () and done.paper.is_file() and done.record == folder / "accepted.yaml"
    (one,) = load_accepted(folder / "accepted.yaml", PRACTICE)
    assert (one.file, one.word("result"), one.word("by")) == (
        "submittals/barrier-conforming.yaml", "make corrections noted", "A. B., architect",
    )  # fmt: skip
    rows = read_copy(done.register).register.rows.values()
    (row,) = [row for row in rows if row.get("submittal") == "07 27 00-01"]
    assert (row["result"], row["by"], row["returned"], row["state"], row["remarks"]) == (
        "make corrections noted", "A. B., architect", date(2026, 12, 3), "accepted as noted", "color as approved",
    )  # fmt: skip
    out = ("-o", folder / "review", "--reviews", folder / "review", "--as-of", "2026-12-08")
    again = run("register", folder, *out, "--schedule", folder / "schedule.yaml")
    assert again.status == 0, again.err
    assert "state 1" in again.out  # the command finds nothing new in what the page wrote


def test_a_rejected_submittal_is_entered_in_the_register_alone(
    folder: Path, inputs: Inputs, made: Made
) -> None:
    done = decide(folder, inputs, made, "R&R")
    assert done.record is None and not (folder / "accepted.yaml").exists()
    (closed,) = read_copy(done.register).register.history
    assert closed["result"] == "revise and resubmit"


@pytest.mark.parametrize(("result", "item"), [("approved", "accepted"), ("rejected", "to be resubmitted")])
def test_a_request_gets_a_row_of_its_own(
    folder: Path, inputs: Inputs, made: Made, result: str, item: str
) -> None:
    paper = folder / "substitutions" / "mesh.yaml"
    (found,) = weighed([paper], inputs, made[1])
    done = decide_request(decision_of(paper, result, "A. B.", "2026-12-04"), found, inputs, made[1], TODAY)
    assert done.paper.name == "substitution-s-2.docx" and (done.record is None) == (result == "rejected")
    register = read_copy(done.register).register
    (row,) = [one for one in register.rows.values() if one["id"] == "request S-2"]
    results = {one.get("result") for one in (row, *register.history)}
    assert row["item"] == "Substitution request S-2" and results & {"no exceptions taken", "rejected"}


@pytest.mark.parametrize(
    ("result", "by", "day", "words"),
    [
        ("looks good", "A. B.", "2026-12-03", "no result"),
        ("approved", " ", "2026-12-03", "nobody signs"),
        ("approved", "A. B.", "soon", "no date"),
    ],
)
def test_a_decision_that_cannot_be_is_refused(result: str, by: str, day: str, words: str) -> None:
    with pytest.raises(InputError, match=words):
        decision_of(Path("x.yaml"), result, by, day)


def test_what_is_refused_leaves_nothing_behind(folder: Path, inputs: Inputs, made: Made) -> None:
    before = contents(folder)
    with pytest.raises(InputError, match="before it was received"):
        decide(folder, inputs, made, "approved", "2026-11-01")
    assert contents(folder) == before
    decide(folder, inputs, made, "approved")
    after = contents(folder)
    with pytest.raises(InputError, match="accepted twice"):
        decide(folder, inputs, made, "approved")
    assert contents(folder) == after


def test_where_the_register_cannot_be_written_it_is_told_what_was(
    folder: Path, inputs: Inputs, made: Made, monkeypatch: pytest.MonkeyPatch
) -> None:
    def busy(*_args: object, **_more: object) -> None:
        raise OutputError("the workbook is open elsewhere")

    monkeypatch.setattr(registering, "brought_on", busy)
    with pytest.raises(OutputError, match=r"accepted.yaml holds the decision; .* open elsewhere"):
        decide(folder, inputs, made, "approved")
    assert (folder / "accepted.yaml").is_file()


def test_two_decisions_at_once_are_both_kept(folder: Path, inputs: Inputs) -> None:
    papers = sorted((folder / "substitutions").glob("*.yaml")) + sorted(
        (folder / "submittals").glob("*.yaml")
    )

    def one(paper: Path) -> Path:
        return accept(inputs.project, PRACTICE, decision_of(paper, "approved", "A. B.", "2026-12-04"))

    with ThreadPoolExecutor(len(papers)) as pool:
        list(pool.map(one, papers))
    assert len(load_accepted(folder / "accepted.yaml", PRACTICE)) == len(papers) > 2


WAIVER = {
    "rule": "CP05",
    "parapet": "P-1",
    "by": "A. B.",
    "date": "2026-11-20",
    "reason": 'as "built": yes',
    "until": "2027-03-01",
}


def test_a_waiver_is_written_as_by_hand_and_taken_out_again(folder: Path) -> None:
    path = folder / "project.yaml"
    text = path.read_text(encoding="utf-8")
    new = with_decision(text, PRACTICE, "waiver", WAIVER)
    assert new.startswith(text.rstrip("\n")[:200]) and set(text.splitlines()) <= set(new.splitlines())
    project = project_of(new, path, PRACTICE)
    one = project.waivers[-1]
    assert (one.rule, one.parapet, one.word("reason"), one.values["until"]) == (
        "CP05", "P-1", 'as "built": yes', date(2027, 3, 1),
    )  # fmt: skip
    later = ended(new, len(project.waivers) - 1, "CP05", "2027-06-01")
    assert project_of(later, path, PRACTICE).waivers[-1].values["until"] == date(2027, 6, 1)
    gone = without_decision(later, "waiver", len(project.waivers) - 1, "CP05")
    assert project_of(gone, path, PRACTICE).waivers == load_project(path, PRACTICE).waivers


def test_an_answer_is_written_as_well(folder: Path) -> None:
    path = folder / "project.yaml"
    values = {
        "rule": "EX01",
        "by": "A. B.",
        "date": "2026-11-20",
        "answer": "the code asks for: x",
        "reference": "code, 1",
    }
    new = with_decision(path.read_text(encoding="utf-8"), PRACTICE, "answer", {**values, "parapet": "all"})
    assert project_of(new, path, PRACTICE).answers[-1].parapet == "all"


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"reason": ""}, "does not say: why"),
        ({"date": "today"}, "no date"),
        ({"until": "x"}, "no date"),
        ({"by": "x" * 3000}, "longer"),
    ],
)
def test_a_waiver_that_says_too_little_is_refused(values: dict[str, str], words: str) -> None:
    with pytest.raises(InputError, match=words):
        with_decision("parapets: []\n", PRACTICE, "waiver", {**WAIVER, **values})


def test_another_list_than_was_shown_is_left_as_it_is() -> None:
    text = "waivers:\n  - rule: CP01\n    by: A\n"
    with pytest.raises(InputError, match="another waiver stands"):
        without_decision(text, "waiver", 0, "CP02")
    with pytest.raises(InputError, match="another waiver stands"):
        ended(text, 1, "CP01", "2027-01-01")


def test_the_history_tells_who_decided_what_and_when(folder: Path, inputs: Inputs, made: Made) -> None:
    decide(folder, inputs, made, "approved")
    paper = folder / "submittals" / "barrier-conforming.yaml"
    for key in ("thickness", "vapor_permeance"):
        confirm(paper, PRACTICE, 0, key, Confirmation(TAKEN, "C. D.", date(2026, 12, 5)))
    path = folder / "project.yaml"
    path.write_text(
        with_decision(path.read_text(encoding="utf-8"), PRACTICE, "waiver", WAIVER), encoding="utf-8"
    )
    run("letters", folder, "-o", folder / "review", "--date", "2026-12-06")
    events, problems = history(load_project(folder, PRACTICE), PRACTICE)
    assert not problems
    at = {(str(one.day), one.what, one.by): one for one in events}
    assert at["2026-12-03", "submittal accepted", "A. B., architect"].file == "accepted.yaml"
    assert at["2026-12-03", "result of a submittal", "A. B., architect"].result == "no exceptions taken"
    assert at["2026-12-05", "compared with sheets", "C. D."].result == "2 values taken as read"
    assert at["2026-11-20", "waiver", "A. B."].result == "until 2027-03-01"
    assert [one for one in events if one.what == "letter sent" and one.result.startswith("RFI-001")]
    assert [one.day for one in events] == sorted((one.day for one in events), reverse=True)  # type: ignore[type-var]


def test_a_file_that_cannot_be_read_hides_nothing_else(folder: Path) -> None:
    (folder / "accepted.yaml").write_text("accepted: 7\n", encoding="utf-8")
    path = folder / "project.yaml"
    path.write_text(
        with_decision(path.read_text(encoding="utf-8"), PRACTICE, "waiver", WAIVER), encoding="utf-8"
    )
    events, problems = history(load_project(folder, PRACTICE), PRACTICE)
    assert [one.what for one in events] == ["waiver"] and "accepted" in problems[0].message
