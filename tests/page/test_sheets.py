"""Calculations on the page: the list, each sheet as the basis report prints it, long ones as jobs, values tried."""

from __future__ import annotations

import html
import re
import time
from pathlib import Path
from urllib.parse import quote

import pytest

from specgen.basis import content
from specgen.design.run import everyday
from specgen.intake.hourly import load_hourly
from specgen.page import job_kinds
from specgen.page.jobs import DONE, Jobs
from specgen.page.sheet_view import HOURS, SLOW, quoting, shown_subjects, tried_slides
from specgen.render.basis import basis_bytes
from specgen.work.hourly_file import keep
from specgen.work.sensitivity import slides, tried_values
from tests.conftest import LONG
from tests.hourly_results import result_of
from tests.intake.weather_files import MIXED_HUMID
from tests.page.conftest import Open, Page
from tests.page.test_findings import LIVE, plain, words
from tests.page.test_jobs import ended


def jobs_of(page: Page) -> Jobs:
    jobs: Jobs = page.client.app.state.jobs  # type: ignore[attr-defined]
    return jobs


def sheet(page: Page, subject: str, asked: str = "", **more: dict[str, str]) -> str:
    answer = page.get(f"calculations/P-1/{quote(subject)}{asked}", **more)
    assert answer.status_code == 200, words(answer.text)
    return answer.text


def test_the_list_says_done_or_what_is_missing(opened: Open) -> None:
    page = opened()
    shown = words(page.get("calculations").text)
    made = page.desk.assessment.calculations["P-1"]
    assert {made[name].done for name in everyday(page.desk.assessment.project.parapets)} == {True, False}
    for name in everyday(page.desk.assessment.project.parapets):
        one = made[name]
        assert one.title in shown
        for missing in one.missing:
            assert missing in shown
        for line in list(one.results.values())[:2]:
            assert f"{line.title}: {content.line_cells(line, page.desk.assessment)[2]}" in shown
    assert shown.count("on request") == len(SLOW)


@pytest.mark.parametrize("example", ["faulty-parapet", "cold-continental-school"])
def test_a_sheet_is_that_of_the_basis_report(opened: Open, example: str) -> None:
    page = opened(example)
    assessment = page.desk.assessment
    names = everyday(assessment.project.parapets)
    report = basis_bytes(page.desk.specification(), names).decode()
    parapet = assessment.project.parapets[0].name
    for name in names:
        answer = page.get(f"calculations/{quote(parapet)}/{quote(name)}").text
        one = assessment.calculations[parapet][name]
        assert one.validity in words(answer)
        for table in re.findall(r"<tbody>.*?</tbody>", answer, flags=re.DOTALL):
            if "as tried" not in table:
                plain_table = re.sub(r'<a href="[^"]*">(.*?)</a>', r"\1", table)
                assert plain_table in report


def test_inputs_lead_to_their_places(opened: Open) -> None:
    page = opened()
    text = sheet(page, "coping wind")
    base = f"/{page.door.token}/"
    assert f'href="{base}wall/P-1#field-' in text and f'href="{base}facts#field-' in text


def test_requirements_that_quote_a_result_are_named(opened: Open) -> None:
    page = opened("mixed-humid-midrise")
    found = 0
    for name in shown_subjects(page.desk):
        quoted = quoting(page.desk, "P-1", name)
        if quoted and page.desk.assessment.calculations["P-1"][name].done:
            shown = words(sheet(page, name))
            found += len(quoted)
            for one in quoted:
                ref = page.desk.specification().paragraphs[one.id]
                assert one.title in shown and f"Section {ref.section}, {ref.number}" in shown
    assert found > 0


def test_a_drawing_of_a_result_stands_in_the_sheet(opened: Open) -> None:
    page = opened("mixed-humid-midrise")
    assert sheet(page, "coping geometry").count("<svg ") == 1
    assert sheet(page, "coping wind").count("<svg ") == 0


def test_a_plot_is_a_picture_of_its_own(opened: Open) -> None:
    page = opened("mixed-humid-midrise")
    (where,) = re.findall(r'src="/[^/]+/(calculations/[^"]+)"', sheet(page, "vapor drive"))
    answer = page.get(html.unescape(where))
    assert answer.headers["content-type"] == "image/svg+xml" and answer.text.lstrip().startswith("<?xml")
    assert page.get(where.replace("plot-0", "plot-1")).status_code == 422


def test_what_is_not_there_is_told(opened: Open) -> None:
    page = opened()
    for where in ("calculations/P-9/coping wind", "calculations/P-1/nothing", "calculations?parapet=P-9"):
        answer = page.get(where)
        assert answer.status_code == 422 and "There is no" in words(answer.text)


def test_a_slow_one_runs_beside_the_page_and_stands_with_its_state(opened: Open) -> None:
    page = opened("mixed-humid-midrise")
    text = sheet(page, "uncertainty")
    assert "Run it for P-1" in words(text) and "<table>" not in text
    assert page.post("calculations/P-1/uncertainty/run").status_code == 303
    (job,) = jobs_of(page).every
    assert "Cancel" in words(sheet(page, "uncertainty"))
    assert ended(job).state == DONE, job.words
    text = sheet(page, "uncertainty")
    assert text.count("<table>") >= 2 and "Run it for P-1" not in words(text)
    page.desk.change(lambda before: before + "# another state\n", "a line")
    text = sheet(page, "uncertainty")
    assert "The project has changed since this was started." in text and "Run it for P-1" in words(text)
    part = page.post("calculations/P-1/uncertainty/run", live=True).text
    assert part.lstrip().startswith("<section") and 'hx-trigger="every 1s"' in part
    jobs_of(page).close()


def test_hours_are_not_run_stale_or_kept(opened: Open) -> None:
    page = opened("mixed-humid-midrise")
    shown = words(sheet(page, HOURS))
    assert "No run is kept for this parapet." in shown
    keep(page.desk.folder, [result_of("P-1")])
    shown = words(sheet(page, HOURS))  # read again, for the file is as it was
    assert page.desk.assessment.project.hourly == load_hourly(page.desk.folder)
    assert "the wall or the weather has changed since" in shown
    assert "stale" in words(page.get("calculations").text)


def test_hours_that_lack_something_are_not_run(opened: Open) -> None:
    page = opened("faulty-parapet")
    answer = page.post(f"calculations/P-1/{quote(HOURS)}/run")
    if "cannot be run yet" in words(sheet(page, HOURS)):
        assert answer.status_code == 422 and not jobs_of(page).every
    else:
        assert answer.status_code == 303 and jobs_of(page).latest(
            job_kinds.HOURS, jobs_of(page).every[0].title
        )
    jobs_of(page).close()


@pytest.mark.skipif(not LONG, reason="ten years of hours of three cuts: tried by make test-long")
def test_hours_are_run_beside_the_page_and_their_charts_shown(opened: Open) -> None:
    page = opened("mixed-humid-midrise")
    file = page.desk.path
    stated = (Path("tests/stated/mixed-humid-midrise") / "project.yaml").read_text("utf-8")
    file.write_text(stated.replace("site:\n", "site:\n  weather: year.csv\n"), "utf-8")
    (page.desk.folder / "year.csv").write_bytes(MIXED_HUMID.read_bytes())
    page.desk.read_again()
    assert page.post(f"calculations/P-1/{quote(HOURS)}/run").status_code == 303
    (job,) = jobs_of(page).every
    shares = set()
    while not job.over:
        shares.add(job.percent)
        time.sleep(0.1)
    assert job.state == DONE, job.words
    assert len(shares) > 2 and job.words.startswith("P-1: ")
    text = sheet(page, HOURS)
    assert "of the wall as it is described now" in words(text) and text.count("<svg ") > 2
    assert "Run it for P-1" not in words(text) and "kept" in words(page.get("calculations").text)


def test_values_are_tried_and_nothing_is_written(opened: Open) -> None:
    page = opened()
    before = page.desk.path.read_bytes()
    one = page.desk.assessment.calculations["P-1"]["coping wind"]
    found = slides(page.desk.assessment, one)
    number = next(number for number, each in enumerate(found) if each.path == "P-1.height")
    wanted = tried_values(page.desk.assessment, one, {"P-1.height": "48 in"})
    shown = words(sheet(page, "coping wind", f"?was-{number}=36&try-{number}=48&slide-{number}=36"))
    assert "With height above the finished roof 48 in" in shown
    for each in wanted.results:
        assert f"{each.title} {each.before} {each.after}" in shown
    for change in wanted.findings:
        one_of_two = change.after or change.before
        assert one_of_two is not None and plain(page, one_of_two.message) in shown
    assert page.desk.path.read_bytes() == before


def test_what_moved_since_the_form_was_shown_decides(opened: Open) -> None:
    page = opened()
    found = slides(page.desk.assessment, page.desk.assessment.calculations["P-1"]["coping wind"])
    at = next(number for number, each in enumerate(found) if each.path == "P-1.height")
    for asked, wanted in (
        ({f"was-{at}": "36", f"try-{at}": "36", f"slide-{at}": "38.2871"}, "38.29"),
        ({f"was-{at}": "38.29", f"try-{at}": "33", f"slide-{at}": "38.29"}, "33"),
        ({f"was-{at}": "36", f"try-{at}": "3 ft", f"slide-{at}": "36"}, "3 ft"),
        ({f"was-{at}": "36", f"try-{at}": "", f"slide-{at}": "36"}, "36"),
        ({}, "36"),
    ):
        one = tried_slides(found, asked)[at]  # type: ignore[arg-type]
        assert one.typed == wanted and not one.problem
    assert not tried_slides(found, {f"try-{at}": "3 ft"})[at].moved  # type: ignore[arg-type]
    wrong = tried_slides(found, {f"try-{at}": "tall"})[at]  # type: ignore[arg-type]
    assert wrong.problem == "tall is no height above the finished roof"


def test_a_live_trial_sends_what_follows_and_the_other_field(opened: Open) -> None:
    page = opened()
    found = slides(page.desk.assessment, page.desk.assessment.calculations["P-1"]["coping wind"])
    at = next(number for number, each in enumerate(found) if each.path == "P-1.height")
    slid = sheet(page, "coping wind", f"?was-{at}=36&try-{at}=36&slide-{at}=39", headers=LIVE)
    assert "<html" not in slid and f'id="try-{at}"' in slid and f'id="slide-{at}"' not in slid
    assert re.search(r'id="says".*result', slid, re.DOTALL)
    typed = sheet(page, "coping wind", f"?was-{at}=36&try-{at}=33&slide-{at}=36", headers=LIVE)
    assert f'id="slide-{at}"' in typed and f'id="try-{at}"' not in typed
    wrong = sheet(page, "coping wind", f"?was-{at}=36&try-{at}=tall&slide-{at}=36", headers=LIVE)
    assert "is no height above the finished roof" in html.unescape(wrong) and "<table>" not in wrong


def test_a_tried_value_is_written_where_it_is_asked_for(opened: Open) -> None:
    page = opened()
    found = slides(page.desk.assessment, page.desk.assessment.calculations["P-1"]["coping wind"])
    at = next(number for number, each in enumerate(found) if each.path == "P-1.height")
    text = sheet(page, "coping wind", f"?was-{at}=36&try-{at}=33&slide-{at}=36")
    form = dict(re.findall(r'type="hidden" name="(path|was|value)" value="([^"]*)"', html.unescape(text)))
    assert form == {"path": "P-1.height", "was": found[at].stated.text, "value": "33 in"}
    answer = page.post("calculations/P-1/coping wind/write", form)
    assert answer.status_code == 303 and answer.headers["location"].endswith("/compare")
    (height,) = {one.values["height"].text for one in page.desk.assessment.project.parapets}  # type: ignore[union-attr]
    assert height == "33 in" and "height: 33 in" in page.desk.text
    assert (
        page.post("calculations/P-1/coping wind/write", form).status_code == 409
    )  # it stands otherwise by now
    for path, was in (("practice.wind.effective_area", "10 ft2"), ("P-1.nothing", ""), ("", "")):
        data = {"path": path, "was": was, "value": "20 ft2"}
        assert page.post("calculations/P-1/coping wind/write", data).status_code == 409


def test_a_value_that_cannot_stand_there_is_not_written(opened: Open) -> None:
    page = opened()
    before = page.desk.path.read_bytes()
    form = {"path": "P-1.height", "was": "36 in", "value": "36 mph"}
    answer = page.post("calculations/P-1/coping wind/write", form)
    assert answer.status_code == 422 and page.desk.path.read_bytes() == before
