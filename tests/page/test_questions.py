"""Questions on the page: those of `specgen check --questions`, in their order, each with its field or its place."""

from __future__ import annotations

import re

from specgen.explain.unknowns import unknowns
from specgen.page.jobs import DONE
from specgen.page.views.questions import FEW
from specgen.work.questions import question_words, questions_of
from tests.page.conftest import Open, Page
from tests.page.test_findings import words
from tests.page.test_jobs import ended
from tests.page.test_sheets import jobs_of

OPEN = ("wind_speed", "exposure", "temp_winter", "temp_summer", "temp_install", "roof_slope")


def in_order(page: Page) -> list[int]:
    """Where each question of the command stands in the view."""
    shown = words(page.get("questions").text)
    return [shown.find(one.question) for one in questions_of(page.desk.assessment).questions]


def test_few_questions_stand_at_once_in_their_order(opened: Open) -> None:
    page = opened()
    assert 0 < len(unknowns(page.desk.assessment)) <= FEW
    places = in_order(page)
    assert places == sorted(places) and -1 not in places
    shown = words(page.get("questions").text)
    for one in questions_of(page.desk.assessment).questions:
        assert one.decides in shown and one.who in shown and one.answers in shown
    assert not jobs_of(page).every


def test_a_question_is_answered_at_once(opened: Open) -> None:
    page = opened()
    before = questions_of(page.desk.assessment).questions
    one = next(one for one in before if one.key == "site.rain_exposure")
    text = page.get("questions").text
    assert one.question in words(text) and 'name="key" value="rain_exposure"' in text
    form = {"record": "site", "key": "rain_exposure", "value": "moderate", "way": "stated"}
    answer = page.post("change", {**form, "was": "", "was_way": "left"})
    assert answer.status_code in (200, 303), words(answer.text)
    assert "rain_exposure: moderate" in page.desk.text
    assert one.question not in [each.question for each in questions_of(page.desk.assessment).questions]
    assert one.question not in words(page.get("questions").text)


def test_many_are_put_in_order_by_a_job(opened: Open) -> None:
    page = opened()

    def forgotten(text: str) -> str:
        for key in OPEN:
            text, count = re.subn(rf"\b{key}: [^,}}\n]+", f"{key}: unknown", text, count=1)
            assert count == 1, key
        return text

    page.desk.change(forgotten, "values that nobody knows")
    assert len(unknowns(page.desk.assessment)) > FEW
    shown = words(page.get("questions").text)
    assert "in the order of the file" in shown and "Put them in the order" in shown
    for one in unknowns(page.desk.assessment):
        assert question_words(one, page.desk.assessment.practice) in shown
    assert page.post("questions/weigh").status_code == 303
    (job,) = jobs_of(page).every
    assert "Cancel" in words(page.get("questions").text)
    assert ended(job).state == DONE, job.words
    places = in_order(page)
    assert places == sorted(places) and -1 not in places and len(places) >= len(OPEN)
    part = page.post("questions/weigh", live=True).text
    assert part.lstrip().startswith("<section") and "It was started." in part
    jobs_of(page).close()
    page.desk.change(lambda before: before + "# another state\n", "a line")
    assert "in the order of the file" in words(page.get("questions").text)


def test_where_nothing_is_open(opened: Open) -> None:
    page = opened("mixed-humid-midrise")
    if not questions_of(page.desk.assessment).questions:
        assert "Nothing is open that a check asks for." in words(page.get("questions").text)
