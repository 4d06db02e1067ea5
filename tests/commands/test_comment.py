"""specgen comment: lists, enters, answers; the papers of an issue show it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.chain.runs import FAULTY, copied, run


@pytest.fixture
def job(tmp_path: Path) -> Path:
    return copied(FAULTY, tmp_path / "job")


def listed(job: Path, *more: str) -> list[dict[str, object]]:
    done = run("comment", job, "--format", "json", *more)
    assert done.status == 0, done
    return json.loads(done.out)["comments"]


def test_a_comment_is_entered_answered_marked_and_listed(job: Path) -> None:
    assert "0 comments, 0 open" in run("comment", job).out
    done = run(
        "comment", job, "--add", "Why?", "--by", "A. B.", "--section", "07 71 00", "--paragraph", "2.2.A"
    )
    assert done.status == 0 and "Section 07 71 00, 2.2.A" in done.out, done
    run("comment", job, "--add", "Who?", "--by", "A. B.", "--value", "wind_speed", "--of", "site")
    first, second = listed(job)
    assert (first["text"], first["answered"], second["text"]) == ("Why?", False, "Who?")
    assert "Top of the parapet" in str(first["now"])
    assert run("comment", job, "--answer", str(first["key"]), "So.", "--by", "C").status == 0
    assert run("comment", job, "--answered", str(first["key"])).status == 0
    (waiting,) = listed(job, "--open")
    assert waiting["text"] == "Who?"
    assert [one["text"] for one in listed(job)[1]["answers"]] == ["So."]
    assert run("comment", job, "--reopen", str(first["key"])).status == 0
    assert len(listed(job, "--open")) == 2
    assert "answer of C" in run("comment", job).out


def test_an_issue_shows_comments_in_the_basis_report(job: Path, tmp_path: Path) -> None:
    run("comment", job, "--add", "Why this wind?", "--by", "A. B.", "--value", "wind_speed", "--of", "site")
    run("write", job, "-o", tmp_path / "out")
    assert "Why this wind?" in (tmp_path / "out" / "basis-of-design.html").read_text("utf-8")


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("--add", "x", "--finding", "CP02"), "--by"),
        (("--add", "x", "--by", "A"), "--add needs one"),
        (("--add", "x", "--by", "A", "--finding", "CP02", "--value", "y"), "--add needs one"),
        (("--add", "x", "--by", "A", "--finding", "XX99"), "no rule finds this"),
        (("--add", "", "--by", "A", "--value", "wind_speed", "--of", "site"), "`text`"),
        (("--answer", "abc", "x", "--by", "A"), "no comment `abc`"),
        (("--answered", "abc"), "no comment `abc`"),
        (("--answered", "abc", "--reopen", "abc"), "at a time"),
    ],
)
def test_what_cannot_be_entered_is_told_and_nothing_written(
    job: Path, words: tuple[str, ...], message: str
) -> None:
    done = run("comment", job, *words)
    assert done.status == 2 and message in done.err, done
    assert not (job / "comments.yaml").exists()


def test_a_file_that_cannot_be_read_stops_the_list_and_the_issue(job: Path, tmp_path: Path) -> None:
    (job / "comments.yaml").write_text("comments: [x]\n", "utf-8")
    for words in (("comment", job), ("write", job, "-o", tmp_path / "out")):
        done = run(*words)
        assert done.status == 2 and "comments.yaml:1:12" in done.err, done
    assert not (tmp_path / "out").exists()
