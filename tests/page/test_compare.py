"""Two states of a project on the page: what `specgen compare` tells of them."""

from __future__ import annotations

import json
import re
import shutil

from click.testing import CliRunner

from specgen.commands import main
from tests.page.conftest import Open, Page
from tests.page.test_findings import plain, words


def change(page: Page) -> None:
    def edit(before: str) -> str:
        after = re.sub(r"wind_speed: [0-9]+ mph", "wind_speed: 150 mph", before, count=1)
        after = after.replace("exposed_fasteners: no}", "exposed_fasteners: yes}")
        assert after != before
        return after

    page.desk.change(edit, "wind speed is 150 mph")


def test_nothing_to_hold_it_against(opened: Open) -> None:
    assert "Nothing was changed on this page yet" in words(opened().get("compare").text)


def test_against_the_step_before(opened: Open) -> None:
    page = opened("mixed-humid-midrise")
    before = page.desk.folder / "before"
    before.mkdir()
    shutil.copy(page.desk.path, before)
    change(page)
    answer = page.get("compare")
    shown = words(answer.text)
    assert "the file before the last step" in shown and "Take the step back" in shown
    arguments = ["compare", str(before), str(page.desk.folder), "--format", "json"]
    found = json.loads(CliRunner().invoke(main, arguments).stdout)
    assert found["findings"] and found["results"]
    for one in found["findings"]:
        assert plain(page, (one["after"] or one["before"])["message"]) in shown
    for one in (*found["paragraphs"], *found["submittals"], *found["order"]):
        assert " ".join(one["place"].split()) in shown and " ".join(one["after"].split()) in shown
    for one in found["results"]:
        assert f"{one['title']} {one['before']} {one['after']}" in shown
    assert page.get("compare?folder=before").text.count("<tr>") == answer.text.count("<tr>")


def test_the_state_before_is_named_and_a_step_back_ends_it(opened: Open) -> None:
    page = opened("mixed-humid-midrise")
    change(page)
    assert page.post("undo", {"here": "findings"}).status_code == 303
    assert "Nothing differs." in words(page.get("compare").text)
    assert "Nothing differs." not in words(page.get("compare?step=1").text)


def test_what_is_not_there_is_told(opened: Open) -> None:
    page = opened()
    change(page)
    for where in ("compare?step=7", "compare?step=x", "compare?folder=..", "compare?folder=nowhere"):
        answer = page.get(where)
        assert answer.status_code == 422 and "Traceback" not in answer.text
