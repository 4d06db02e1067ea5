"""The wall on the page: a value changed in its field is written, and all that follows is shown again."""

from __future__ import annotations

import re
from html import unescape
from typing import Any

import httpx2
import pytest

from specgen.page.field_view import FieldAddress
from tests.page.conftest import Open, Page

SLOPE = FieldAddress("component", "slope", "P-1", "coping")


def sent(at: FieldAddress, was: str, value: str, **more: str) -> dict[str, str]:
    """A form of a field as the browser sends it."""
    own = {"record": at.record, "key": at.key, "parapet": at.parapet, "place": at.place}
    return {**own, "was": was, "was_way": "stated", "way": "stated", "value": value, **more}


def set_live(page: Page, at: FieldAddress, was: str, value: str, **more: str) -> httpx2.Response:
    where = f"http://127.0.0.1:49152/{page.door.token}/wall/{at.parapet}?part={at.place}"
    return page.post("change", sent(at, was, value, **more), live=True, headers={"HX-Current-URL": where})


def ids_apart(answer: httpx2.Response) -> set[str]:
    return set(re.findall(r'<(?:div|form) id="([^"]+)" hx-swap-oob="true"', answer.text))


def test_a_wall_shows_its_parts_its_fields_and_what_stands_against_it(opened: Open) -> None:
    page = opened("mixed-humid-midrise")
    words = unescape(page.get("wall/P-1?part=coping").text)
    for part in ("cement plaster", "drainage layer", "water-resistive and air barrier", "bridging tape"):
        assert part in words
    assert 'value="1/2 in/ft"' in words and "compatibility is not confirmed" in words
    assert "every street parapet (P-1, P-2, P-3)" in words


def test_a_live_change_writes_the_file_and_shows_what_follows(opened: Open) -> None:
    page = opened("mixed-humid-midrise")
    before = page.desk.path.read_text("utf-8")
    answer = set_live(page, SLOPE, "1/2 in/ft", "1/8 in/ft", scope="type")
    assert answer.status_code == 200
    assert page.desk.path.read_text("utf-8") == before.replace("slope: 1/2 in/ft", "slope: 1/8 in/ft")
    assert {"picture", "parts", "standing", "counts", "steps"} <= ids_apart(answer)
    assert f'id="{SLOPE.id}"' in answer.text and 'value="1/8 in/ft"' in answer.text
    assert "slope" in answer.text.lower() and "new" in answer.text
    assert any(one.code.startswith("CP") and one.failed for one in page.desk.assessment.findings)


def test_a_change_of_one_parapet_leaves_the_others_of_its_type(opened: Open) -> None:
    page = opened("mixed-humid-midrise")
    answer = set_live(page, SLOPE, "1/2 in/ft", "1/4 in/ft", scope="own")
    assert answer.status_code == 200
    slopes = {
        one.name: str(one.by_id("coping").values["slope"].text)
        for one in page.desk.assessment.project.parapets
    }
    assert slopes == {"P-1": "1/4 in/ft", "P-2": "1/2 in/ft", "P-3": "1/2 in/ft"}


@pytest.mark.parametrize(
    ("typed", "wanted"),
    [
        ("steep", "steep"),
        ("1/2 psf", "psf"),
        ("-1 in/ft", "-1"),
        ('"><script>x</script>', "script"),
    ],
)
def test_what_cannot_be_used_is_told_at_its_field_and_not_written(
    opened: Open, typed: str, wanted: str
) -> None:
    page = opened("mixed-humid-midrise")
    before = page.desk.path.read_bytes()
    answer = set_live(page, SLOPE, "1/2 in/ft", typed)
    assert answer.status_code == 422 and page.desk.path.read_bytes() == before
    assert 'aria-invalid="true"' in answer.text and "<script>" not in answer.text.replace("<script src", "")
    assert wanted in unescape(answer.text)


def test_a_value_that_was_changed_in_another_window_is_not_overwritten(opened: Open) -> None:
    page = opened("mixed-humid-midrise")
    set_live(page, SLOPE, "1/2 in/ft", "1/4 in/ft", scope="type")
    answer = set_live(page, SLOPE, "1/2 in/ft", "3/8 in/ft", scope="type")
    assert (
        answer.status_code == 422 and "another window" in answer.text and 'value="3/8 in/ft"' in answer.text
    )
    assert "slope: 1/4 in/ft" in page.desk.path.read_text("utf-8")


def test_a_file_changed_by_somebody_else_is_shown_as_a_difference(opened: Open) -> None:
    page = opened("mixed-humid-midrise")
    theirs = page.desk.path.read_text("utf-8").replace("height: 42 in", "height: 44 in")
    page.desk.path.write_text(theirs, "utf-8")
    answer = set_live(page, SLOPE, "1/2 in/ft", "1/4 in/ft")
    assert answer.status_code == 409 and answer.headers["hx-redirect"].endswith("/changed")
    assert page.desk.path.read_text("utf-8") == theirs
    shown = unescape(page.get("changed").text)
    assert "height: 42 in" in shown and "height: 44 in" in shown
    assert page.post("read-again").status_code == 303
    assert page.get("changed").history  # nothing differs any more
    assert set_live(page, SLOPE, "1/2 in/ft", "1/4 in/ft", scope="type").status_code == 200


def test_without_script_the_form_leads_back_to_its_field(opened: Open) -> None:
    page = opened("mixed-humid-midrise")
    where = f"http://127.0.0.1:49152/{page.door.token}/wall/P-1?part=coping&scope=type"
    answer = page.post(
        "change", sent(SLOPE, "1/2 in/ft", "1/4 in/ft", scope="type"), headers={"Referer": where}
    )
    assert answer.status_code == 303
    assert answer.headers["location"] == f"/{page.door.token}/wall/P-1?part=coping&scope=type#{SLOPE.id}"
    assert "1/4 in/ft" in page.get("wall/P-1?part=coping").text
    wrong = page.post("change", sent(SLOPE, "1/4 in/ft", "steep", scope="type"), headers={"Referer": where})
    assert wrong.status_code == 422 and 'value="steep"' in wrong.text and "<h1>Parapet P-1</h1>" in wrong.text


def test_the_four_ways_go_into_the_file_and_out_again(opened: Open) -> None:
    page = opened("mixed-humid-midrise")
    first = page.desk.path.read_bytes()
    own: dict[str, Any] = {"scope": "type"}
    assert set_live(page, SLOPE, "1/2 in/ft", "1/2 in/ft", way="left", **own).status_code == 200
    assert "slope: 1/2 in/ft" not in page.desk.path.read_text("utf-8")
    assert set_live(page, SLOPE, "", "", way="unknown", was_way="left", **own).status_code == 200
    assert any(one.open and one.layer == "coping" for one in page.desk.assessment.findings)
    reason = "The coping is level by the preservation board's order."
    assert (
        set_live(page, SLOPE, "", "", way="apart", was_way="unknown", reason=reason, **own).status_code == 200
    )
    assert reason in page.desk.path.read_text("utf-8")
    assert set_live(page, SLOPE, "", "", way="apart", was_way="apart", reason="", **own).status_code == 422
    assert set_live(page, SLOPE, "", "1/2 in/ft", way="stated", was_way="apart", **own).status_code == 200
    for _ in range(4):
        page.post("undo", {})
    assert page.desk.path.read_bytes() == first


def test_what_a_kind_is_said_to_break_is_what_it_breaks(opened: Open) -> None:
    page = opened("mixed-humid-midrise")
    words = unescape(page.get("kinds?parapet=P-1&part=barrier").text)
    choice = re.search(r'value="mechanically fastened".*?</label>', words, re.S)
    assert choice is not None and "would break: " in choice[0] and "barrier bonded" in choice[0]
    kind = FieldAddress("component", "kind", "P-1", "barrier")
    standing = {one.name for one in page.desk.assessment.findings if one.failed and one.parapet == "P-1"}
    answer = set_live(page, kind, "fluid-applied", "mechanically fastened", scope="type")
    assert answer.status_code == 200 and "fields" in ids_apart(answer)
    broken = {
        one.name for one in page.desk.assessment.findings if one.failed and one.parapet == "P-1"
    } - standing
    named = {name for name in broken if name in choice[0]}
    assert named and len(named) >= min(3, len(broken))


def test_parts_and_laps_go_in_and_out(opened: Open) -> None:
    page = opened("mixed-humid-midrise")
    own = {"parapet": "P-1", "scope": "type"}
    first = page.desk.path.read_bytes()
    assert page.post("layers/add", {**own, "what": "insulation / mineral wool"}).status_code == 303
    assert page.desk.assessment.project.parapets[0].part("insulation") is not None
    assert page.post("layers/move", {**own, "part": "insulation", "way": "before"}).status_code == 303
    assert (
        page.post(
            "layers/lap", {**own, "part": "barrier", "other": "insulation", "upper": "this"}
        ).status_code
        == 303
    )
    assert (
        page.post("layers/no-lap", {**own, "part": "barrier", "place": "barrier / insulation"}).status_code
        == 303
    )
    assert page.post("layers/take-out", {**own, "part": "insulation"}).status_code == 303
    assert page.desk.assessment.project.parapets[0].part("insulation") is None
    for _ in range(5):
        page.post("undo", {})
    assert page.desk.path.read_bytes() == first
    assert page.post("layers/take-out", {**own, "part": "no-such"}).status_code == 422


def test_hostile_names_are_text(opened: Open) -> None:
    page = opened("mixed-humid-midrise")
    bad = '"><img src=x onerror=alert(1)>'
    quoted = bad.replace('"', '\\"')
    text = page.desk.path.read_text("utf-8").replace("name: P-1", f'name: "{quoted}"')
    text = text.replace("role: sheathing, id: roof-side sheathing", f'role: sheathing, id: "{quoted}"')
    page.desk.path.write_text(text, "utf-8")
    page.desk.read_again()
    for where in ("wall", f"wall/{bad.replace('/', '%2F')}", f"wall/P-2?part={bad}", "steps"):
        found = page.get(where)
        assert "<img src=x" not in found.text and found.status_code in (200, 404), where
    assert page.get("wall/<script>").status_code == 404 and "<script>" not in page.get(
        "wall/<script>"
    ).text.replace("<script src", "")
