"""What the page has open: changes, steps, and files that somebody else changes."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from specgen.files.marks import InputError
from specgen.page.desk import ChangedError, Desk, NothingOpenError

PROJECTS = Path(__file__).parents[2] / "projects"


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """The desk with a copy of an example."""
    shutil.copytree(PROJECTS / "mixed-humid-midrise", tmp_path / "job")
    one = Desk(tmp_path, person="A. Writer")
    one.open(tmp_path / "job")
    return one


def flatter(text: str) -> str:
    return text.replace("slope: 1/2 in/ft,", "slope: 1/8 in/ft,")


def test_a_change_is_written_and_assessed_as_a_fresh_reading_is(desk: Desk) -> None:
    done = desk.change(flatter, "slope of the coping")
    assert "slope: 1/8 in/ft" in desk.path.read_text("utf-8")
    fresh = Desk(desk.root)
    fresh.open(desk.folder)
    assert desk.assessment.findings == fresh.assessment.findings
    assert done.before.findings != done.after.findings
    assert any(one.code.startswith("CP") and one.failed for one in done.after.findings)


def test_undo_and_redo_give_back_every_byte_also_after_a_restart(desk: Desk) -> None:
    first = desk.path.read_bytes()
    desk.change(flatter, "slope of the coping")
    second = desk.path.read_bytes()
    desk.change(lambda text: text.replace("115 mph", "120 mph"), "wind speed")
    desk.undo()
    assert desk.path.read_bytes() == second
    again = Desk(desk.root)
    again.open(desk.folder)
    again.undo()
    assert desk.path.read_bytes() == first
    again.redo()
    assert desk.path.read_bytes() == second
    steps, at = again.steps.all()
    assert [one.what for one in steps] == ["as it was found", "slope of the coping", "wind speed"]
    assert at == 1 and steps[1].by == "A. Writer"
    with pytest.raises(LookupError):
        Desk.undo(again) and Desk.undo(again)


def test_a_new_change_after_undo_drops_what_lay_ahead_but_loses_no_text(desk: Desk) -> None:
    desk.change(flatter, "slope")
    flat = desk.path.read_bytes()
    desk.undo()
    desk.change(lambda text: text.replace("115 mph", "120 mph"), "wind speed")
    steps, at = desk.steps.all()
    assert [one.what for one in steps] == ["as it was found", "wind speed"] and at == 1
    assert flat in [one.read_bytes() for one in desk.steps.folder.glob("*.yaml")]


def test_a_text_that_is_no_project_is_refused_and_nothing_is_written(desk: Desk) -> None:
    before = desk.path.read_bytes()
    with pytest.raises(InputError, match="slop_toward"):
        desk.change(lambda text: text.replace("slope_toward", "slop_toward", 1), "typo")
    assert desk.path.read_bytes() == before
    assert desk.steps.all() == ((), -1)
    assert not desk.found()


def test_a_file_that_somebody_else_changed_is_noticed_and_left(desk: Desk) -> None:
    theirs = desk.path.read_text("utf-8").replace("42 in", "44 in")
    desk.path.write_text(theirs, "utf-8")
    with pytest.raises(ChangedError) as caught:
        desk.change(flatter, "slope")
    assert caught.value.found == theirs
    assert desk.path.read_text("utf-8") == theirs
    desk.read_again()
    desk.change(flatter, "slope")
    assert "44 in" in desk.path.read_text("utf-8") and "1/8 in/ft" in desk.path.read_text("utf-8")
    steps, _ = desk.steps.all()
    assert [one.what for one in steps] == ["as it was found", "slope"]


def test_a_file_that_is_gone_is_not_made_anew(desk: Desk) -> None:
    desk.path.unlink()
    with pytest.raises(ChangedError):
        desk.change(flatter, "slope")
    assert not desk.path.exists()


def test_two_desks_on_one_project_lose_nothing(desk: Desk) -> None:
    other = Desk(desk.root)
    other.open(desk.folder)
    other.change(lambda text: text.replace("115 mph", "120 mph"), "wind speed")
    with pytest.raises(ChangedError):
        desk.change(flatter, "slope")
    desk.read_again()
    desk.change(flatter, "slope")
    assert {one.what for one in desk.steps.all()[0]} == {"as it was found", "wind speed", "slope"}
    desk.undo()
    desk.undo()
    assert "115 mph" in desk.path.read_text("utf-8")


def test_a_list_of_steps_that_is_spoilt_stops_nothing(desk: Desk) -> None:
    desk.change(flatter, "slope")
    (desk.steps.folder / "steps.json").write_text("[{", "utf-8")
    desk.change(lambda text: text.replace("115 mph", "120 mph"), "wind speed")
    assert [one.what for one in desk.steps.all()[0]] == ["as it was found", "wind speed"]


def test_line_ends_and_a_byte_order_mark_stay(desk: Desk) -> None:
    data = b"\xef\xbb\xbf" + desk.path.read_bytes().replace(b"\n", b"\r\n")
    desk.path.write_bytes(data)
    desk.read_again()
    desk.change(flatter, "slope")
    assert desk.path.read_bytes() == data.replace(b"slope: 1/2 in/ft,", b"slope: 1/8 in/ft,")


def test_only_what_lies_below_the_folder_is_opened(desk: Desk, tmp_path: Path) -> None:
    inner = Desk(tmp_path / "job")
    with pytest.raises(PermissionError):
        inner.open(PROJECTS / "faulty-parapet")
    (tmp_path / "job" / "link").symlink_to(PROJECTS / "faulty-parapet")
    with pytest.raises(PermissionError):
        inner.open(tmp_path / "job" / "link")
    with pytest.raises(NothingOpenError):
        inner.assessment  # noqa: B018
