"""What nobody knows yet is told, and what people write in its place is no answer."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.chain.runs import REPO, copied, run

REPAIR = REPO / "tests" / "stated" / "existing-repair"
WAIVER = """waivers:
  - {{rule: DL04, by: {by}, date: 2026-10-01, reason: a mock-up drained}}
"""


def check(tmp_path: Path, *changes: tuple[str, str], more: str = "") -> tuple[int, str]:
    project = copied(REPAIR, tmp_path / "job", *changes)
    path = project / "project.yaml"
    path.write_text(path.read_text("utf-8") + more, "utf-8")
    done = run("check", project)
    return done.status, done.out + done.err


SURVEY = "surveyed_by: accredited inspector, report H-2619"


@pytest.mark.parametrize("words", ["tbd", "T.B.D.", '"?"', "...", "xxx", "to be determined", "not yet known"])
def test_what_stands_for_an_answer_is_refused_at_its_place(words: str, tmp_path: Path) -> None:
    status, printed = check(tmp_path, (SURVEY, f"surveyed_by: {words}"))
    assert status == 2 and "`surveyed_by`" in printed and "is no answer" in printed
    assert "fix: write `unknown`, or delete the line" in printed


def test_a_standing_wall_says_what_nobody_knows(tmp_path: Path) -> None:
    status, printed = check(tmp_path, (SURVEY, "surveyed_by: unknown"))
    assert (
        status == 3 and " unknown MV04 " in printed and "of the parapet as it stands is not known" in printed
    )


@pytest.mark.parametrize("by", ["unknown", "tbd"])
def test_nobody_in_particular_waives(by: str, tmp_path: Path) -> None:
    status, printed = check(tmp_path, more=WAIVER.format(by=by))
    assert status == 2 and f"`by`: `{by}` is no answer" in printed and "fix: state it" in printed


def test_what_must_be_stated_is_not_put_off(tmp_path: Path) -> None:
    status, printed = check(tmp_path, ("what: soft sheathing", "what: unknown"))
    assert status == 2 and "`what`" in printed


def test_a_place_that_nobody_knows_yet_is_a_question(tmp_path: Path) -> None:
    status, printed = check(tmp_path, ("place: a river town", "place: unknown"))
    assert status == 3 and "place of the site is not known" in printed


def test_a_name_is_a_name_whatever_it_is(tmp_path: Path) -> None:
    status, _ = check(tmp_path, ("name: Millrace Row Apartments", "name: Unknown"))
    assert status == 0
