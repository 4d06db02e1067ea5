"""A person decides on the page: values, verdicts, requests, register, waivers; each stands in files that are read."""

from __future__ import annotations

import re
import shutil
from datetime import date
from html import unescape
from pathlib import Path
from urllib.parse import quote

import pytest
from openpyxl import load_workbook

from specgen.files.withdrawn import REGISTER as STEM
from specgen.intake.accepted import load_accepted
from specgen.intake.project import load_project
from specgen.intake.submittal import load_submission
from specgen.practice.load import load_practice
from specgen.register.columns import REGISTER
from specgen.register.merge import Row
from specgen.work.register_run import read_copy
from tests.chain.runs import CONFORMING, run
from tests.commands.test_package import BARRIER, pdf
from tests.page.conftest import PROJECTS, Open, Page
from tests.register.test_results_of_offices import typed_at

PRACTICE = load_practice()
DAY = date.today().isoformat()
SHEET = pdf("Air and water barrier WB-1", (*BARRIER, ("Pull adhesion", "", "42 psi")))
CODE = re.compile(r"\sstyle=|<style|\son[a-z]+=|javascript:|hx-on")
NEW = "submittals/barrier-air-and-water-barrier-wb-1"
ITEM = "Product data for barrier, primers, and accessories"


@pytest.fixture
def mill(opened: Open) -> Page:
    page = opened("mixed-humid-midrise")
    for name in ("submittals", "substitutions"):
        shutil.copytree(CONFORMING / name, page.desk.folder / name, dirs_exist_ok=True)
    return page


def read(page: Page, where: str) -> str:
    answer = page.get(where)
    assert answer.status_code == 200, answer.text
    assert not CODE.search(answer.text)
    return unescape(answer.text)


def sent(page: Page, where: str, **data: str) -> str:
    """The view that a post leads to; its foot says what was done."""
    answer = page.post(where, data)
    assert answer.status_code == 303, unescape(answer.text)
    after = page.client.get(answer.headers["location"].partition("#")[0])
    assert after.status_code == 200, after.text
    return unescape(after.text)


def sheet(page: Page) -> Path:
    page.post("papers", files=[("files", ("wb.pdf", SHEET, "application/pdf"))])
    return page.desk.folder / f"{NEW}.yaml"


def hidden(text: str, id_: str) -> dict[str, str]:
    """What a form of the view sends with it, unseen."""
    form = text[text.index(f'<form id="{id_}"') :].partition("</form>")[0]
    return dict(re.findall(r'type="hidden" name="([^"]+)" value="([^"]*)"', form))


def workbook(page: Page) -> Path:
    return page.desk.folder / "review" / f"{STEM}.xlsx"


def row(page: Page, item: str = ITEM) -> Row:
    rows = read_copy(workbook(page)).register.rows
    return next(one for one in rows.values() if one.get("item") == item)


# values beside their places


def test_a_value_is_taken_as_read_with_name_and_day(mill: Page) -> None:
    path = sheet(mill)
    form = hidden(read(mill, f"{NEW}/values"), "v-0-pull_adhesion")
    text = sent(mill, f"{NEW}/values", **form, found="taken as read", value="", method="")
    assert "Pull adhesion to the substrate: taken as read, A. Reviewer." in text
    confirmed = load_submission(path, PRACTICE).products[0].confirmed["pull_adhesion"]
    assert (confirmed.word("by"), str(confirmed.values["date"])) == ("A. Reviewer", DAY)


def test_a_correction_is_answered_with_the_row_alone_where_the_script_asks(mill: Page) -> None:
    path = sheet(mill)
    form = hidden(read(mill, f"{NEW}/values"), "v-0-vapor_permeance")
    answer = mill.post(
        f"{NEW}/values",
        {**form, "found": "corrected", "value": "13 perm", "method": "ASTM E96 method B"},
        live=True,
    )
    text = answer.text
    assert answer.status_code == 200 and "<html" not in text and text.count('hx-swap-oob="true"') == 2
    assert 'id="v-0-vapor_permeance"' in text and "13 perm" in text and "left to confirm" in text
    assert load_submission(path, PRACTICE).products[0].claims["vapor_permeance"].method == "ASTM E96 method B"


def test_two_persons_on_one_value_the_second_is_told(mill: Page) -> None:
    path = sheet(mill)
    form = hidden(read(mill, f"{NEW}/values"), "v-0-vapor_permeance")
    sent(mill, f"{NEW}/values", **form, found="corrected", value="13 perm")
    before = path.read_bytes()
    late = mill.post(f"{NEW}/values", {**form, "found": "taken as read"})
    assert late.status_code == 422 and "changed by somebody else meanwhile" in late.text
    assert path.read_bytes() == before


@pytest.mark.parametrize(
    ("data", "words"),
    [
        ({"found": "corrected", "value": "nine"}, "nine"),
        ({"found": ""}, "nothing that can be found"),
        ({"found": "taken as read", "method": "ASTM D4541"}, "keeps neither"),
        ({"found": "not in the sheet", "value": "12 perm"}, "keeps neither"),
        ({"found": "taken as read", "product": "7"}, "no product 8"),
        ({"found": "taken as read", "product": "x"}, "no product"),
        ({"found": "taken as read", "key": "<script>"}, "nothing that a data sheet states"),
    ],
)
def test_what_cannot_be_recorded_is_told_and_nothing_is_written(
    mill: Page, data: dict[str, str], words: str
) -> None:
    path = sheet(mill)
    form = hidden(read(mill, f"{NEW}/values"), "v-0-vapor_permeance")
    before = path.read_bytes()
    answer = mill.post(f"{NEW}/values", {**form, **data})
    assert answer.status_code == 422 and words in answer.text and "<script>" not in answer.text
    assert path.read_bytes() == before


def test_without_a_name_nothing_is_signed(opened: Open) -> None:
    page = opened("mixed-humid-midrise", person="")
    sheet(page)
    text = read(page, f"{NEW}/values")
    assert 'name="by" required' in text
    form = hidden(text, "v-0-vapor_permeance")
    assert page.post(f"{NEW}/values", {**form, "found": "taken as read"}).status_code == 422
    assert "C. D." in sent(page, f"{NEW}/values", **form, found="taken as read", by="C. D.")


def test_the_head_is_set_and_the_rest_of_the_file_stays(mill: Page) -> None:
    path = sheet(mill)
    before = path.read_text(encoding="utf-8")
    was = {"was_number": "07 27 00-02", "was_project": "", "was_date": "", "was_from": "", "was_round": ""}
    now = {
        "number": "07 27 00-02",
        "project": "2601",
        "date": "2026-11-20",
        "from": "air barrier: installer",
        "round": "",
    }
    sent(mill, f"{NEW}/head", **was, **now)
    info = load_submission(path, PRACTICE).info
    assert (info.word("project"), info.word("from")) == ("2601", "air barrier: installer")
    assert set(before.splitlines()) <= set(path.read_text(encoding="utf-8").splitlines())
    assert (
        mill.post(f"{NEW}/head", {**was, **now, "date": "soon", "was_date": "2026-11-20"}).status_code == 422
    )


# verdict and decision


def test_the_verdict_says_row_by_row_what_the_command_says(mill: Page, tmp_path: Path) -> None:
    text = read(mill, "submittals/top-failing")
    done = run(
        "review",
        mill.desk.folder,
        mill.desk.folder / "submittals" / "top-failing.yaml",
        "-o",
        tmp_path / "out",
    )
    recommended = re.search(r": (revise and resubmit|rejected|make corrections noted) \(", done.out)
    assert recommended and recommended[1] in text
    assert "These are recommendations." in text and "A person decides and signs." in text
    assert '<span class="mark bad">fails</span>' in text and "In the wall" in text
    along = read(mill, "submittals/top-failing?together=yes")
    assert "Judged along with the other submittals" in along


def test_the_letter_is_the_letter_of_the_command(mill: Page, tmp_path: Path) -> None:
    before = set(mill.desk.folder.rglob("*"))
    answer = mill.get("submittals/barrier-conforming/letter")
    run(
        "review",
        mill.desk.folder,
        mill.desk.folder / "submittals" / "barrier-conforming.yaml",
        "-o",
        tmp_path / "out",
    )
    assert answer.content == (tmp_path / "out" / "review-07-27-00-01.docx").read_bytes()
    assert set(mill.desk.folder.rglob("*")) == before


def test_a_decision_is_entered_and_the_history_tells_it(mill: Page) -> None:
    text = sent(
        mill, "submittals/barrier-conforming/decide",
        result="no exceptions taken", by="A. B., architect", day="2026-11-30", note="color <b>as</b> approved",
    )  # fmt: skip
    assert "Entered in accepted.yaml and the register: no exceptions taken, A. B., architect." in text
    (one,) = load_accepted(mill.desk.folder / "accepted.yaml", PRACTICE)
    assert one.file == "submittals/barrier-conforming.yaml"
    assert row(mill)["result"] == "no exceptions taken" and row(mill)["remarks"] == "color <b>as</b> approved"
    history = mill.get("history").text
    assert "submittal accepted" in history and "A. B., architect" in history and "<b>as</b>" not in history
    assert "no exceptions taken, A. B., architect" in read(mill, "papers")
    again = mill.post(
        "submittals/barrier-conforming/decide", {"result": "approved", "by": "C", "day": "2026-11-30"}
    )
    assert again.status_code == 422 and "accepted twice" in again.text


def test_what_was_recommended_binds_nobody(mill: Page) -> None:
    text = sent(
        mill, "submittals/top-failing/decide", result="no exceptions taken", by="A. B.", day="2026-12-01"
    )
    assert "no exceptions taken" in text
    assert "rejected" in sent(
        mill, "submittals/barrier-conforming/decide", result="rejected", by="A. B.", day="2026-11-30"
    )
    assert len(load_accepted(mill.desk.folder / "accepted.yaml", PRACTICE)) == 1


def test_the_letters_are_drafted_with_their_numbers_and_saved(mill: Page) -> None:
    text = sent(mill, "papers/letters", day="2026-12-03")
    assert "request-for-information.docx" in text and "transmittal.docx" in text
    saved = mill.get("papers/letters/request-for-information.docx")
    assert saved.content == (mill.desk.folder / "review" / "request-for-information.docx").read_bytes()
    assert "RFI-001" in read(mill, "history")
    assert mill.post("papers/letters", {"day": "soon"}).status_code == 422
    assert mill.get("papers/letters/..%2f..%2fproject.yaml").status_code in (404, 422)


# requests


def test_a_request_is_written_weighed_and_decided(mill: Page) -> None:
    form = read(mill, "substitutions/new")
    assert 'value="S-' in form and "drainage layer.kind" in form
    data = {
        "number": "S-7",
        "date": "2026-11-30",
        "from": "plasterer",
        "reason": 'in stock: "now"',
        "cost": "",
        "time": "",
    }
    text = sent(
        mill,
        "substitutions",
        **data,
        **{"set-1": "drainage layer.kind", "to-1": "mesh", "set-2": "drainage layer.depth", "to-2": "1/4 in"},
    )
    assert "Substitution request S-7" in text and "This is a recommendation." in text and "mesh" in text
    assert (mill.desk.folder / "substitutions" / "S-7.yaml").is_file()
    done = run(
        "substitute",
        mill.desk.folder,
        mill.desk.folder / "substitutions" / "S-7.yaml",
        "-o",
        mill.desk.folder / "out",
    )
    recommended = re.search(r"    ([a-z ,]+) \(", done.out)
    assert recommended and recommended[1] in text
    text = sent(mill, "substitutions/S-7/decide", result="rejected", by="owner, O.", day="2026-12-01")
    assert "Entered in the register: rejected" in text
    assert any(
        one.get("item") == "Substitution request S-7"
        for one in read_copy(workbook(mill)).register.rows.values()
    )


def test_a_product_of_a_submittal_is_asked_for_point_by_point(mill: Page) -> None:
    data = {
        "number": "S-8",
        "date": "2026-11-30",
        "from": "roofer",
        "reason": "x",
        "product": "barrier-conforming",
    }
    text = sent(mill, "substitutions", **data)
    assert "Barrier A" in text and "Requirement by requirement" in text
    assert mill.get("substitutions/S-8/form").content.startswith(b"PK")


@pytest.mark.parametrize(
    ("data", "words"),
    [
        ({"set-1": "drainage layer.kind", "to-1": "paper"}, "paper"),
        ({"set-1": "nothing.kind", "to-1": "mesh"}, "nothing"),
        ({}, "proposes nothing"),
        ({"number": "S-2", "set-1": "drainage layer.kind", "to-1": "mesh"}, "given twice"),
        ({"date": "soon", "set-1": "drainage layer.kind", "to-1": "mesh"}, "no date"),
        ({"number": "../x", "set-1": "drainage layer.kind", "to-1": "}{[\n- x"}, "}{["),
    ],
)
def test_a_request_that_does_not_fit_is_not_written(mill: Page, data: dict[str, str], words: str) -> None:
    before = sorted(path.name for path in mill.desk.folder.rglob("*"))
    base = {"number": "S-9", "date": "2026-11-30", "from": "plasterer", "reason": "x"}
    answer = mill.post("substitutions", {**base, **data})
    assert answer.status_code == 422 and words in unescape(answer.text)
    assert sorted(path.name for path in mill.desk.folder.rglob("*")) == before


def test_requests_that_break_the_wall_only_together_are_told(mill: Page) -> None:
    assert "Weighed along with the other" in read(mill, "substitutions/mesh?together=yes")


# register


def entry(page: Page, item: str = ITEM) -> dict[str, str]:
    """What the form of a row sends as it was shown."""
    rows = dict(
        re.findall(
            r'href="/[^/]+/(register[?]row=[^"#]+)[^"]*" aria-label="Enter for ([^"]+)"',
            page.get("register").text,
        )
    )
    where = next(where for where, name in rows.items() if name == item)
    text = page.get(where).text
    form = text[text.index('<form class="cells"') :].partition("</form>")[0]
    data = dict(re.findall(r'type="hidden" name="([^"]+)" value="([^"]*)"', form))
    return {**{key.removeprefix("was_"): value for key, value in data.items()}, **data}


def test_the_register_shows_dates_and_writes_nothing_by_being_looked_at(mill: Page) -> None:
    text = read(mill, "register")
    assert "63 submittals" in text and ITEM in text and re.search(r"<td>20\d\d-\d\d-\d\d</td>", text)
    assert not workbook(mill).exists()
    assert "No row." in read(mill, "register?only=entered")


def test_a_row_is_entered_and_the_command_reads_it(mill: Page) -> None:
    data = {**entry(mill), "received": "2026-11-20", "by": "A. B.", "remarks": "two copies"}
    assert f"Entered: {ITEM}." in sent(mill, "register", **data)
    found = row(mill)
    assert (found["received"], found["by"], found["remarks"]) == (date(2026, 11, 20), "A. B.", "two copies")
    out = mill.desk.folder / "review"
    done = run("register", mill.desk.folder, "-o", out, "--schedule", mill.desk.folder / "schedule.yaml")
    assert done.status == 0, done.err
    assert row(mill)["remarks"] == "two copies"
    assert mill.get("register/file").content == workbook(mill).read_bytes()


def test_what_a_spreadsheet_saved_meanwhile_stands_and_is_told(mill: Page) -> None:
    sent(mill, "register/keep")
    shown = entry(mill)
    typed_at(workbook(mill).parent, row(mill), received=date(2026, 11, 18))
    text = sent(mill, "register", **{**shown, "received": "2026-11-20", "by": "A. B."})
    assert "Somebody else filled Received" in text and "2026-11-18 stands" in text
    assert (row(mill)["received"], row(mill)["by"]) == (date(2026, 11, 18), "A. B.")


def test_a_result_that_asks_again_opens_the_next_round(mill: Page) -> None:
    data = {
        **entry(mill),
        "received": "2026-11-20",
        "returned": "2026-11-27",
        "result": "revise and resubmit",
    }
    assert "Closed rounds" in sent(mill, "register", **data)
    assert row(mill)["round"] == "2"


@pytest.mark.parametrize(
    ("cells", "words"),
    [
        ({"received": "soon"}, "no date"),
        ({"received": "2026-11-20", "returned": "2026-11-01"}, "before it was received"),
    ],
)
def test_an_entry_that_cannot_be_is_refused(mill: Page, cells: dict[str, str], words: str) -> None:
    answer = mill.post("register", {**entry(mill), **cells})
    assert answer.status_code == 422 and words in answer.text and not workbook(mill).exists()


def test_a_copy_of_another_person_is_merged(mill: Page) -> None:
    sent(mill, "register/keep")
    copy = mill.desk.folder.parent / "copy"
    copy.mkdir()
    shutil.copy(workbook(mill), copy / f"{STEM}.xlsx")
    typed_at(copy, row(mill), by="C. D.")
    data = (copy / f"{STEM}.xlsx").read_bytes()
    answer = mill.post("register/merge", files=[("copies", ("../theirs.xlsx", data, ""))])
    assert answer.status_code == 303 and row(mill)["by"] == "C. D."
    for bad in (b"", b"PK\x03\x04junk", SHEET):
        assert mill.post("register/merge", files=[("copies", ("x.xlsx", bad, ""))]).status_code == 422
    assert load_workbook(workbook(mill))[REGISTER].max_row > 60


# waivers and answers


def test_a_waiver_is_added_ended_and_taken_out_as_steps(opened: Open) -> None:
    page = opened("faulty-parapet")
    failing = next(
        one for one in page.desk.assessment.findings if one.failed and one.parapet and not one.limit
    )
    text = read(page, f"waivers/new?code={failing.code}&parapet={quote(failing.parapet)}")
    assert failing.code in text and "Waive it" in text
    data = {
        "what": "waiver",
        "rule": failing.code,
        "parapet": failing.parapet,
        "date": DAY,
        "reason": 'built: "so"',
        "by": "A. B.",
    }
    assert page.post("waivers", data).status_code == 422
    text = sent(page, "waivers", **data, until="2099-01-01")
    assert "in force" in text and "2099-01-01" in text and 'built: "so"' in text
    assert load_project(page.desk.folder, PRACTICE).waivers[-1].word("by") == "A. B."
    place = {"what": "waiver", "number": "0", "rule": failing.code}
    assert "2020-01-01" in sent(page, "waivers/change", **place, act="end", until="2020-01-01")
    assert "ended" in read(page, "waivers") and "waiver" in read(page, "history")
    assert page.post("waivers/change", {**place, "rule": "XX99", "act": "remove"}).status_code == 422
    sent(page, "waivers/change", **place, act="remove")
    assert load_project(page.desk.folder, PRACTICE).waivers == ()
    assert page.post("undo").status_code == 303
    assert len(load_project(page.desk.folder, PRACTICE).waivers) == 1


def test_a_waiver_on_a_file_that_somebody_changed_is_not_written(opened: Open) -> None:
    page = opened("faulty-parapet")
    path = page.desk.path
    path.write_text(path.read_text(encoding="utf-8") + "\n# theirs\n", encoding="utf-8")
    data = {"what": "waiver", "rule": "CP01", "date": DAY, "reason": "x", "by": "A. B.", "endless": "yes"}
    answer = page.post("waivers", data)
    assert answer.status_code == 409 and path.read_text(encoding="utf-8").endswith("# theirs\n")


@pytest.mark.parametrize(
    "view", ["papers", "register", "waivers", "waivers/new", "history", "substitutions/new"]
)
def test_each_view_has_a_heading_a_title_and_labels(mill: Page, view: str) -> None:
    text = read(mill, view)
    assert text.count("<h1") == 1 and "<title>" in text
    ids = re.findall(r'\sid="([^"]+)"', text)
    assert len(ids) == len(set(ids))
    wanted = re.findall(r'<(?:input|select|textarea)(?![^>]*type="hidden")[^>]*id="([^"]+)"', text)
    labels = set(re.findall(r'<label[^>]* for="([^"]+)"', text))
    assert set(wanted) <= labels


@pytest.mark.parametrize("example", sorted(path.name for path in PROJECTS.iterdir() if path.is_dir()))
def test_every_example_is_shown_by_every_view(opened: Open, example: str) -> None:
    page = opened(example)
    for view in ("papers", "register", "waivers", "waivers/new?code=CP05", "history", "substitutions/new"):
        read(page, view)
    for path in (page.desk.folder / "submittals").glob("*.yaml"):
        read(page, f"submittals/{path.stem}")
        read(page, f"submittals/{path.stem}/values")
    for path in (page.desk.folder / "substitutions").glob("*.yaml"):
        read(page, f"substitutions/{path.stem}")


def test_views_without_a_project_lead_to_the_start(opened: Open) -> None:
    page = opened("")
    for view in (
        "papers",
        "register",
        "waivers",
        "history",
        "substitutions/new",
        "submittals/x",
        "submittals/x/values",
    ):
        assert page.get(view, follow_redirects=False).status_code == 303
