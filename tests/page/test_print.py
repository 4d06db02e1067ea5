"""Sections on screen, each paper by itself, the issue as an archive and in a folder: what the commands write, no more."""

from __future__ import annotations

import io
import re
import shutil
import time
import zipfile
from pathlib import Path

import pytest

from specgen.page.views.issue import folder_name
from specgen.specification import specify
from specgen.work.inputs import read_inputs
from specgen.work.issue import write_issue
from tests.chain.runs import contents, run
from tests.page.conftest import Open, Page
from tests.render.html_reading import Element, read_html
from tests.render.test_document_html import HOSTILE
from tests.render.word_reading import opened as opened_word

LONG = 120.0  # s, for a machine that does much else


def tree(page: Page, where: str, status: int = 200) -> Element:
    """A view as a tree, every attribute and element in order."""
    answer = page.get(where)
    assert answer.status_code == status, answer.text[:2000]
    return read_html(answer.text)


def links(element: Element, page: Page) -> list[str]:
    """The addresses below the base that an element leads to."""
    base = f"/{page.door.token}/"
    found = [one.attributes.get("href", one.attributes.get("src", "")) for one in element.all()]
    return [one.removeprefix(base) for one in found if one.startswith(base)]


def finished(page: Page) -> None:
    """Wait until every job is over."""
    end = time.monotonic() + LONG
    while any(not one.over for one in page.client.app.state.jobs.every):
        assert time.monotonic() < end
        time.sleep(0.05)


def written(folder: Path, out: Path) -> dict[str, bytes]:
    """The issue as the command writes it."""
    assert run("write", folder, "-o", out).status in (0, 1, 3)
    return contents(out)


def test_the_list_leads_to_everything_that_the_command_writes(opened: Open, tmp_path: Path) -> None:
    page = opened("mixed-humid-midrise")
    found = set(links(tree(page, "sections").all("main")[0], page))
    made = written(page.desk.folder, tmp_path / "out")
    drawn = {name for name in made if name.startswith("drawings/")}
    missing = {name for name in made if f"issue/{name}" not in found}
    assert missing == {"manifest.json", "issue.json", *drawn}
    for name in made.keys() - {"manifest.json", "issue.json"}:
        answer = page.get(f"issue/{name}")
        assert answer.status_code == 200 and answer.content == made[name], name
        assert answer.headers["content-disposition"].startswith("attachment")
    for where in sorted(one for one in found if one.startswith("sections/")):
        assert page.get(where).status_code == 200, where
    taken = set()
    for where in sorted(one for one in found if one.startswith("drawings?")):
        view = tree(page, where).all("main")[0]
        assert {
            page.get(one).headers["content-type"] for one in links(view, page) if one.endswith(".svg")
        } == {"image/svg+xml"}
        for one in (one for one in links(view, page) if one.endswith((".dxf", "?download"))):
            answer = page.get(one)
            name = f"drawings/{answer.headers['content-disposition'].split(chr(34))[1]}"
            assert answer.content == made[name]
            taken.add(name)
    assert taken == drawn


def test_a_section_shows_its_numbers_and_where_they_come_from(opened: Open) -> None:
    page = opened("mixed-humid-midrise")
    shown = tree(page, "sections/07-71-00")
    (sheet,) = shown.all("article", "doc")
    ids = [one.attributes["id"] for one in shown.all() if "id" in one.attributes]
    assert len(ids) == len(set(ids))
    for link in sheet.all("a", "from"):
        assert link.attributes["href"].removeprefix("#") in ids
    lines = [one for one in links(sheet, page) if one.startswith("file#")]
    file = {one.attributes.get("id") for one in tree(page, "file").all("tr")}
    assert lines and {one.partition("#")[2] for one in lines} <= file
    sections = {one for one in links(sheet, page) if one.startswith("sections/")}
    assert sections and all(page.get(one).status_code == 200 for one in sections)
    assert page.get("sections/07 71 00").status_code == 200
    style = page.get("sections/07-71-00.css")
    assert style.headers["content-type"].startswith("text/css") and '\\2d " counter(page)' in style.text
    word = page.get("sections/07-71-00.docx")
    assert word.content == page.get("issue/07-71-00-copings.docx").content
    other = tree(page, "sections/field/hold-point-checklist")
    assert other.all("table", "quiet-table")


@pytest.mark.parametrize(
    "where",
    [
        "sections/99-99-99",
        "sections/nothing.docx",
        "sections/nothing.css",
        "issue/../project.yaml",
        "issue/project.yaml",
        "issue/%2e%2e/project.yaml",
        "drawings/nothing.svg",
        "drawings?parapet=nowhere",
        "drawings/P-1/99.svg",
        "drawings/P-1/1.exe",
        "drawings/nowhere/1.svg",
        "drawings/..%2f..%2fproject.svg",
        "issued/..%2f..",
        "issued/.specgen-steps",
        "archive/..%2fproject.yaml",
        "archive/nothing.zip?job=99",
    ],
)
def test_what_is_not_there_is_told_and_nothing_else_is_handed_out(where: str, opened: Open) -> None:
    page = opened("faulty-parapet")
    answer = page.get(where, follow_redirects=False)
    assert answer.status_code in (303, 404, 422), answer.status_code
    assert "parapets:" not in answer.text


def test_what_stands_open_is_told_and_a_final_issue_refused(opened: Open) -> None:
    page = opened("faulty-parapet")
    page.desk.change(lambda text: text.replace("state: draft", "state: issued for bid"), "state")
    assert page.desk.assessment.project.final
    shown = tree(page, "sections")
    points = shown.all("ul", "points")[0].all("li")
    assert points
    for answer in (page.post("issue", {"folder": "out"}), page.get("issue.zip")):
        assert answer.status_code == 422
        assert len(read_html(answer.text).all("ul", "points")[0].all("li")) == len(points)
    assert not (page.desk.folder / "out").exists()
    marked = page.get("sections/07-71-00").text
    assert "open" in read_html(marked).all("p", "doc-head")[0].text.lower()


def test_the_archive_holds_what_the_command_writes_and_leaves_nothing_behind(
    opened: Open, tmp_path: Path
) -> None:
    page = opened("faulty-parapet")
    before = contents(page.desk.folder)
    answer = page.get("issue.zip")
    finished(page)
    if answer.headers["content-type"] != "application/zip":
        (job,) = page.client.app.state.jobs.every
        answer = page.get(job.link)
    assert answer.headers["content-type"] == "application/zip", answer.text[:2000]
    with zipfile.ZipFile(io.BytesIO(answer.content)) as archive:
        held = {name: archive.read(name) for name in archive.namelist()}
    assert contents(page.desk.folder) == before
    assert held == written(page.desk.folder, tmp_path / "out")
    again = page.get("issue.zip")
    finished(page)
    assert page.get(page.client.app.state.jobs.every[0].link).content == answer.content or again.content
    scratch = page.client.app.state.scratch
    assert [path.suffix for path in scratch.iterdir()] == [".zip"]


def test_an_issue_is_written_as_by_the_command_and_the_next_shows_what_changed(
    opened: Open, tmp_path: Path
) -> None:
    page = opened("faulty-parapet")
    answer = page.post("issue", {"folder": "out/first"})
    assert answer.status_code == 303 and answer.headers["location"].endswith("issued/out/first")
    finished(page)
    shown = tree(page, "issued/out/first")
    assert "written" in shown.all("main")[0].text
    folder = page.desk.folder / "out" / "first"
    ours = contents(folder)
    assert ours == written(page.desk.folder, tmp_path / "out")
    edited = sorted(folder.glob("07-71-00*.docx"))[0]
    word = opened_word(edited.read_bytes())
    word.add_paragraph("Set by hand.")
    word.save(str(edited))
    kept = edited.read_bytes()
    page.desk.change(lambda text: text.replace("issue_date: 2026", "issue_date: 2027"), "date")
    page.desk.change(lambda text: text.replace("thickness: 11 in", "thickness: 12 in", 1), "height")
    page.post("issue", {"folder": "out/first"})
    finished(page)
    assert edited.read_bytes() == kept
    shown = tree(page, "issued/out/first")
    words = shown.all("main")[0].text
    assert "Edited by hand and kept" in words and "stays as it is; the new text is in" in words
    (addendum,) = shown.all("article", "doc")
    assert "Changes since the issue of" in addendum.text
    assert page.get("issued/out/first.css").status_code == 200
    assert "out/first" in tree(page, "sections").all("main")[0].text
    spec = specify(read_inputs(page.desk.folder, None, False).assessed())
    other = tmp_path / "second"
    shutil.copytree(tmp_path / "out", other)
    done = write_issue(spec, other)
    assert done.addendum is not None
    name = f"addendum-{done.addendum.word}.docx"
    assert (folder / name).read_bytes() == (other / name).read_bytes()


def test_a_strict_issue_with_remarks_writes_nothing_and_says_why(opened: Open) -> None:
    page = opened("faulty-parapet")
    folder = page.desk.folder
    (folder / "clauses").mkdir()
    (folder / "office.yaml").write_text(
        "format: 2\noffice: {name: An Office, document: Standards, edition: A}\n", "utf-8"
    )
    words = "Provide and install suitable membrane as required."
    (folder / "clauses" / "07-27-00.yaml").write_text(
        f'section: 07 27 00\nadd: [{{after: barrier, key: own_words, text: "{words}"}}]\n', "utf-8"
    )
    page.desk.read_again()
    assert words in page.get("sections/07-27-00").text
    page.post("issue", {"folder": "out", "strict": "yes"})
    finished(page)
    assert not (folder / "out").exists()
    view = tree(page, "issued/out").all("main")[0]
    assert "Nothing was written" in view.text
    remarks = [one.text for one in view.all("ul", "problems")[0].all("li")]
    assert len(remarks) == 2 and all("07-27-00.yaml, line 2" in one for one in remarks), remarks
    page.post("issue", {"folder": "out"})
    finished(page)
    assert "Remarks on the text" in tree(page, "issued/out").all("main")[0].text
    assert (folder / "out" / "issue.json").is_file()


def test_a_file_changed_meanwhile_is_not_issued(opened: Open) -> None:
    page = opened("faulty-parapet")
    path = page.desk.path
    path.write_text(path.read_text("utf-8") + "# mine\n", "utf-8")
    page.post("issue", {"folder": "out"})
    finished(page)
    assert "was changed meanwhile" in tree(page, "issued/out").all("main")[0].text
    assert not (page.desk.folder / "out").exists()


def test_values_that_papers_bear_are_asked_for(opened: Open) -> None:
    page = opened("faulty-parapet")
    page.desk.change(lambda text: text.replace(" issue_date: 2026-11-02,", ""), "no date")
    field = '<input type="hidden" name="key" value="issue_date">'
    assert field in page.get("sections").text and field in page.get("sections/07-71-00").text
    for answer in (
        page.post("issue", {"folder": "out"}),
        page.get("issue/trace.json"),
        page.get("issue.zip"),
    ):
        assert answer.status_code == 422 and "issue_date" in answer.text
    assert page.get("sections/07-71-00").status_code == 200


@pytest.mark.parametrize("name", ["", "..", "/etc", "a/../b", ".git", "con", "a:b", "x\0y"])
def test_a_folder_that_no_system_takes_is_refused(name: str, opened: Open) -> None:
    page = opened("faulty-parapet")
    assert page.post("issue", {"folder": name}).status_code == 422
    assert not page.client.app.state.jobs.every


def test_a_sound_folder_is_taken() -> None:
    assert folder_name(" out/bid set/ ") == "out/bid set"


def test_hostile_words_of_the_project_are_words(opened: Open) -> None:
    page = opened("faulty-parapet")
    words = " ".join(re.sub(r"['\"\\]", "", HOSTILE).split())
    page.desk.change(lambda text: text.replace("Quarry Lane Clinic", f"'{words}'"), "name")
    for where in ("sections", "sections/07-71-00", "sections/submittal-checklist", "file"):
        shown = tree(page, where)
        assert words in " ".join(shown.text.split()), where
        assert len(shown.all("script")) == 2 and not shown.all("style")
        assert not any(
            name == "style" or name.startswith("on") for one in shown.all() for name in one.attributes
        )
