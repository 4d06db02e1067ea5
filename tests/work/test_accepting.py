"""One command enters what was accepted; audit weighs it, and the addendum of the next issue lists it."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from specgen.intake.accepted import load_accepted
from specgen.practice.load import load_practice
from tests.chain.runs import CONFORMING, Done, run

PRACTICE = load_practice()


@pytest.fixture
def project(tmp_path: Path) -> Path:
    return Path(shutil.copytree(CONFORMING, tmp_path / "mill"))


def accepted(project: Path, paper: str, *more: str, result: str = "Approved as noted") -> Done:
    words = ("--by", "architect, A. B.", "--date", "2026-12-03", "--result", result, *more)
    return run("accept", project, project / paper, *words)


def test_a_decision_is_entered_as_it_would_be_written_by_hand(project: Path) -> None:
    done = accepted(project, "substitutions/mesh.yaml", "--note", "at the north wall: first")
    assert done.status == 0, done.err
    accepted(project, "submittals/barrier-conforming.yaml", result="NET")
    one, two = sorted(load_accepted(project / "accepted.yaml", PRACTICE), key=lambda each: each.paper)
    assert (one.paper, one.file) == ("submittal", "submittals/barrier-conforming.yaml")
    assert (two.paper, two.file) == ("substitution", "substitutions/mesh.yaml")
    assert one.word("result") == "no exceptions taken" and two.word("result") == "make corrections noted"
    assert two.word("note") == "at the north wall: first" and two.word("by") == "architect, A. B."


def test_what_a_person_wrote_into_the_record_stays(project: Path) -> None:
    path = project / "accepted.yaml"
    by_hand = (
        "# ours\nformat: 2\naccepted:\n- submittal: submittals/barrier-conforming.yaml  # the barrier\n"
        "  date: 2026-11-30\n  by: owner, O.\n  result: no exceptions taken"
    )
    path.write_text(by_hand, encoding="utf-8")
    assert accepted(project, "substitutions/mesh.yaml").status == 0
    assert path.read_text(encoding="utf-8").startswith(by_hand + "\n- substitution: ")
    assert len(load_accepted(path, PRACTICE)) == 2


@pytest.mark.parametrize(
    ("result", "words"),
    [
        ("looks good", "`looks good` is no result; choose: no exceptions taken"),
        ("R&R", "was not accepted"),
        ("rejected", "was not accepted"),
    ],
)
def test_what_was_not_accepted_is_not_entered(project: Path, result: str, words: str) -> None:
    done = accepted(project, "substitutions/mesh.yaml", result=result)
    assert done.status == 2 and words in " ".join(done.err.split())
    assert not (project / "accepted.yaml").exists()


def test_a_paper_that_is_none_elsewhere_or_accepted_before_is_refused(project: Path, tmp_path: Path) -> None:
    other = tmp_path / "mesh.yaml"
    shutil.copy(project / "substitutions" / "mesh.yaml", other)
    outside = run("accept", project, other, "--by", "a", "--date", "2026-12-03", "--result", "approved")
    assert outside.status == 2 and "does not lie in the project's folder" in outside.err
    assert accepted(project, "project.yaml").status == 2
    assert accepted(project, "substitutions/mesh.yaml").status == 0
    before = (project / "accepted.yaml").read_bytes()
    again = accepted(project, "substitutions/mesh.yaml")
    assert again.status == 2 and "is accepted twice" in again.err
    assert (project / "accepted.yaml").read_bytes() == before


def test_a_paper_of_another_project_is_refused(project: Path) -> None:
    path = project / "substitutions" / "mesh.yaml"
    path.write_text(path.read_text().replace('"2601"', '"2699"'), encoding="utf-8")
    done = accepted(project, "substitutions/mesh.yaml")
    assert done.status == 2 and "the paper is for project `2699`" in done.err


@pytest.mark.parametrize("text", ["accepted: []\nformat: 2\n", "format: 2\naccepted: [{a: b}]\n"])
def test_a_record_that_cannot_be_continued_is_left_alone(project: Path, text: str) -> None:
    (project / "accepted.yaml").write_text(text, encoding="utf-8")
    done = accepted(project, "substitutions/mesh.yaml")
    assert done.status == 2 and "another entry cannot be put at its end" in done.err
    assert (project / "accepted.yaml").read_text(encoding="utf-8") == text


def test_the_addendum_of_the_next_issue_lists_what_was_accepted(project: Path, tmp_path: Path) -> None:
    import docx

    out = tmp_path / "out"
    assert run("write", project, "-o", out).status == 0
    accepted(project, "substitutions/mesh.yaml")
    path = project / "project.yaml"
    path.write_text(path.read_text().replace("2026-11-02", "2026-12-10", 1), encoding="utf-8")
    done = run("write", project, "-o", out)
    assert done.status == 0, done.err
    document = docx.Document(str(out / "addendum-2026-12-10.docx"))
    assert "Submittals and substitutions accepted" in [para.text for para in document.paragraphs]
    rows = [[cell.text for cell in row.cells] for row in document.tables[0].rows]
    assert rows[1][0] == "accepted substitution: substitutions/mesh.yaml"
    assert rows[1][2] == "2026-12-03, make corrections noted, architect, A. B."


def test_who_accepted_is_an_answer_and_a_day_to_come_is_told(project: Path) -> None:
    words = ("--result", "approved", "--date", "2098-01-05", "--by")
    refused = run("accept", project, project / "substitutions/mesh.yaml", *words, "tbd")
    assert refused.status == 2 and "`tbd` is no answer" in refused.err
    assert not (project / "accepted.yaml").exists()
    done = run("accept", project, project / "substitutions/mesh.yaml", *words, "architect, A. B.")
    assert done.status == 0 and "2098-01-05 is still to come" in done.err


def test_a_record_in_another_encoding_is_told(tmp_path: Path) -> None:
    job = Path(shutil.copytree(CONFORMING, tmp_path / "job"))
    (job / "accepted.yaml").write_bytes("format: 2\naccepted: # für\n".encode("cp1252"))
    paper = job / "submittals" / "barrier-conforming.yaml"
    done = run("accept", job, paper, "--by", "A. B.", "--date", "2026-12-03", "--result", "approved")
    assert done.status == 2 and "not in UTF-8" in done.err
