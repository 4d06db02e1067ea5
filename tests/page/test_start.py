"""A project is started or opened on the page: ten facts, proposed walls, an example, a file, or what lies there."""

from __future__ import annotations

import io
import re
import time
from pathlib import Path
from typing import Any

import pytest

from specgen.files.yaml_reader import read_yaml
from specgen.intake.start import reasoned
from specgen.intake.start_sheet import start_sheet
from specgen.intake.worked import worked_examples
from specgen.page.desk import Desk
from specgen.page.views.start import known_examples
from specgen.practice.load import load_practice
from specgen.render.workbook import workbook_bytes
from specgen.work.starting import answered_text
from tests.chain.runs import contents, run
from tests.page.conftest import Open, Page
from tests.page.test_fields import Elements

PRACTICE = load_practice()
FACTS = {
    "name": "Mill Yard", "number": "0042", "units": "inch-pound", "backup-wall": "wood studs", "roof-membrane": "TPO",
    "code": "IBC 2021", "climate-zone": "4A", "parapet-height": "42 in", "height": "9.1 m", "wind-speed": "51 m/s",
    "exposure": "C", "inner-face": "roof membrane", "work": "new", "where": "here",
}  # fmt: skip
ANSWERS = {option: words for option, words in FACTS.items() if option != "where"}


def markup(text: str) -> list[tuple[str, dict[str, Any]]]:
    """The elements of the main part of a view, each closed in its turn, without script or style of its own."""
    found = Elements(re.search(r"<main.*</main>", text, re.S)[0]).found  # type: ignore[index]
    for _, attributes in found:
        assert not {key for key in attributes if key == "style" or key.startswith(("on", "hx-on"))}
    return found


def test_the_front_page_of_an_empty_folder_offers_each_way(opened: Open) -> None:
    page = opened("").get()
    assert page.status_code == 200
    links = {
        one["href"].rpartition("/start/")[2]
        for tag, one in markup(page.text)
        if tag == "a" and "/start/" in one["href"]
    }
    assert links == {"facts", "example", "walls.xlsx"}
    assert "Open a project of this folder" not in page.text


def test_each_fact_says_why_it_is_asked_and_what_hangs_on_it(opened: Open) -> None:
    text = opened("").get("start/facts").text
    markup(text)
    for one in reasoned(PRACTICE):
        assert one.why.replace("'", "&#39;") in text and one.hangs[1:] in text
        assert f'id="{one.question.option}"' in text
    assert text.index("Ten facts that come first") < text.index('id="backup-wall"') < text.index("<summary>")
    for option in ("height", "parapet-height", "wind-speed"):
        assert text.count(f'id="{option}-offered"') == 1


def test_facts_make_the_file_that_the_command_makes(opened: Open, tmp_path: Path) -> None:
    page = opened("")
    answer = page.post("start/facts", {**FACTS, "issue-date-open": "yes", "then": "wall"})
    assert page.post("start/facts", FACTS).status_code == 422  # sent twice: one project is started
    assert answer.status_code == 303 and answer.headers["location"].endswith(f"{page.door.token}/")
    assert page.desk.path.read_text("utf-8") == answered_text(ANSWERS, PRACTICE)
    words = [word for option, value in ANSWERS.items() for word in (f"--{option}", value)]
    assert run("new", tmp_path / "other", *words).status == 0
    theirs, ours = (contents(one) for one in (tmp_path / "other", page.desk.folder))
    assert {name: ours[name] for name in theirs} == theirs
    assert "Mill Yard" in page.get().text and "project.yaml was written" not in page.get().text


def test_bad_answers_are_told_at_once_at_their_fields_and_nothing_typed_is_lost(opened: Open) -> None:
    page = opened("")
    typed = {
        **FACTS,
        "name": "",
        "height": "tall",
        "wind-speed": "51 m/z",
        "place": 'a "bay" <shore>',
        "roof-slope": "2 %",
    }
    answer = page.post("start/facts", {**typed, "roof-slope-open": "yes", "then": "proposals"})
    assert answer.status_code == 422 and list(page.desk.root.iterdir()) == []
    found = markup(answer.text)
    values = {
        one["name"]: one["value"]
        for tag, one in found
        if tag == "input" and one.get("type") in ("text", "date")
    }
    chosen = {one["name"]: one["value"] for tag, one in found if tag == "input" and "checked" in one}
    for option, words in typed.items() - {("where", "here")}:
        kept = values.get(
            option, chosen.get(option, words if f'value="{words}" selected' in answer.text else None)
        )
        assert kept == words, option
    wrong = [one["href"] for tag, one in found if tag == "a" and one["href"].startswith("#")]
    assert set(wrong) == {"#name-value", "#height-value", "#wind-speed-value", "#roof-slope-value"}
    invalid = {one["id"] for _, one in found if one.get("aria-invalid") == "true"}
    assert invalid == {one.removeprefix("#") for one in wrong}
    assert "keep one of the two" in answer.text and "<shore>" not in answer.text


ECHOES = [
    ("height", "76 ft", "76 ft = 23.2 m"),
    ("height", "23.2 m", "23.2 m = 76 ft"),
    ("parapet-height", "3'-6\"", "3 ft 6 in = 1070 mm"),
    ("wind-speed", "185 km/h", "185 km/h = 115 mph"),
    ("height", "76", "write a length"),
    ("height", "76 mph", "is a speed"),
    ("height", "76 fet", "did you mean “ft”"),
    ("height", "3 mi", "cannot be"),
    ("drained-area", "4200 ft2", "4200 ft² = 390 m²"),
    ("place", "<script>x()</script>", ""),
    ("height", "", ""),
]


@pytest.mark.parametrize(("option", "typed", "says"), ECHOES)
def test_an_answer_is_echoed_as_it_was_understood(opened: Open, option: str, typed: str, says: str) -> None:
    page = opened("")
    answer = page.post("start/answer", {"asked": option, option: typed}, live=True)
    assert answer.status_code == 200 and "<script" not in answer.text
    assert says in answer.text
    assert answer.text.count("<output") == 1 and f'id="{option}-echo"' in answer.text
    assert ("problem" in answer.text) is any(word in says for word in ("write", "is a", "mean", "cannot"))


def test_what_is_not_asked_is_not_answered(opened: Open) -> None:
    assert opened("").post("start/answer", {"asked": "../x"}).status_code == 422


def test_a_folder_that_holds_something_takes_the_project_in_a_folder_below(opened: Open) -> None:
    page = opened("")
    (page.desk.root / "notes.txt").write_text("mine")
    assert 'name="folder"' in page.get("start/facts").text
    for name in ("../out", "/tmp/out", ".git", "a/b", "con"):
        answer = page.post("start/facts", {**ANSWERS, "folder": name})
        assert answer.status_code == 422 and f'value="{name}"' in answer.text
    assert [one.name for one in page.desk.root.iterdir()] == ["notes.txt"]
    page.post("start/facts", ANSWERS)
    assert page.desk.folder == page.desk.root / "mill-yard"
    again = page.post("start/facts", {**ANSWERS, "folder": "mill-yard"})
    assert again.status_code == 422 and "exists; it was left as it is" in again.text
    page.post("start/facts", ANSWERS)
    assert page.desk.folder == page.desk.root / "mill-yard-2"


def test_an_example_is_copied_under_a_name_of_its_own(opened: Open) -> None:
    page = opened("")
    text = page.get("start/example").text
    markup(text)
    assert {one.name for one in known_examples()} == set(worked_examples())
    assert all(len(one.about) > 20 and "specgen" not in one.about for one in known_examples())
    assert page.post("start/example", {"example": "marine-library"}).status_code == 422
    assert page.post("start/example", {"example": "../x", "name": "A"}).status_code == 422
    kept = page.post("start/example", {"example": "marine-library", "name": "A\x07", "number": '0"'})
    assert kept.status_code == 422 and "0&#34;" in kept.text and list(page.desk.root.iterdir()) == []
    done = page.post(
        "start/example",
        {"example": "marine-library", "name": "Our # library", "number": "0042", "where": "here"},
    )
    assert done.status_code == 303
    info = read_yaml(page.desk.path, want=dict)["project"]
    assert (info["name"], info["number"]) == ("Our # library", "0042")


def test_what_lies_below_the_folder_is_opened_and_nothing_else(opened: Open, tmp_path: Path) -> None:
    page = opened("")
    for place in ("a", "b/<i>c"):
        (page.desk.root / place).mkdir(parents=True)
        (page.desk.root / place / "project.yaml").write_bytes(
            worked_examples()["marine-library"].read_bytes()
        )
    (page.desk.root / "bad").mkdir()
    (page.desk.root / "bad" / "project.yaml").write_text("project: [")
    (tmp_path / "outside").mkdir()
    (tmp_path / "outside" / "project.yaml").write_text("project: {name: Out}\n")
    (page.desk.root / "link").symlink_to(tmp_path / "outside")
    text = page.get().text
    offered = [one["value"] for tag, one in markup(text) if tag == "button" and one.get("name") == "project"]
    assert offered == ["a", "b/<i>c", "bad"]
    for name in ("../outside", "link", "/etc", "a/../../outside", "c"):
        assert page.post("start/open", {"project": name}).status_code == 422
        assert not page.desk.is_open
    refused = page.post("start/open", {"project": "bad"})
    assert refused.status_code == 422 and "project.yaml:1" in refused.text
    assert page.post("start/open", {"project": "b/<i>c"}).status_code == 303
    assert page.desk.folder == page.desk.root / "b/<i>c"


def bring(page: Page, name: str, data: bytes, **more: str) -> Any:
    return page.post("start/bring", more, files={"file": (name, io.BytesIO(data))})


def test_a_project_file_is_brought_in_whole_or_not_at_all(opened: Open) -> None:
    page = opened("")
    data = worked_examples()["hot-humid-lowrise"].read_bytes()
    for name, content in (
        ("project.yaml", b"project: {nam: A}\n"),
        ("a.exe", data),
        ("project.yaml", b"\x00" * 10),
        ("walls.xlsx", b"PK\x03\x04junk"),
        ("project.yaml", b"a: &a [*a, *a]\n"),
        ("project.yaml", b"project: {name: A}\nsite: {weather: /etc/passwd}\n"),
    ):
        answer = bring(page, name, content)
        assert answer.status_code == 422 and "Nothing was written" in answer.text, name
        assert "Traceback" not in answer.text and list(page.desk.root.iterdir()) == []
    assert page.post("start/bring", {}).status_code == 422
    assert bring(page, "../../Lowrise.yml", data, where="here").status_code == 303
    assert page.desk.path == page.desk.root / "project.yaml" and page.desk.path.read_bytes() == data


def test_the_workbook_is_handed_out_and_a_filled_one_is_brought_in(opened: Open) -> None:
    from openpyxl import load_workbook

    page = opened("")
    blank = page.get("start/walls.xlsx")
    assert blank.content == workbook_bytes(start_sheet(PRACTICE))
    assert "attachment" in blank.headers["content-disposition"]
    book = load_workbook(io.BytesIO(blank.content))
    rows = {(row[0].value, row[1].value): row[4] for row in book["Project"].iter_rows()}
    rows["project", "name"].value = "From a sheet"
    sheet = book["Parapets"]
    head = next(row for row in sheet.iter_rows() if row[0].value == "name")[0].row
    sheet.cell(head + 1, 1).value = "P-1"
    filled = io.BytesIO()
    book.save(filled)
    assert bring(page, "walls.xlsx", filled.getvalue(), where="here").status_code == 303
    assert page.desk.assessment.project.info.word("name") == "From a sheet"


def test_the_overview_says_what_the_project_is_and_what_to_do_next(opened: Open) -> None:
    page = opened("faulty-parapet")
    text = page.get().text
    found = markup(text)
    for words in (
        "What to do next",
        "What stands against it",
        "What is open",
        "What it is",
        "115 mph",
    ):
        assert words in text
    assert [tag for tag, _ in found].count("svg") == 1
    ids = [one["id"] for _, one in found if "id" in one]
    assert len(ids) == len(set(ids))
    open_ = re.findall(r"facts#(field-[0-9a-f]{12})", text)
    facts = page.get("facts").text
    assert open_ and all(f'id="{one}"' in facts for one in open_)


def test_the_facts_stand_in_the_order_of_what_hangs_on_them(opened: Open) -> None:
    text = opened("faulty-parapet").get("facts").text
    markup(text)
    keys = re.findall(r'name="record" value="site">.*?name="key" value="([a-z_]+)"', text)
    assert keys[0] == "rain_exposure"  # a finding asks for it
    assert keys.index("code") < keys.index("wind_speed") < keys.index("rain_months")
    assert set(keys) == set(PRACTICE.vocabulary.records["site"].fields)
    for head in ("Site", "Building", "Project", "Quality requirements", "Parties and addresses"):
        assert f">{head}</h2>" in text


# Proposed walls


def test_what_is_needed_to_propose_is_asked_for_first(opened: Open) -> None:
    page = opened("")
    page.post("start/facts", {"name": "A", "roof-membrane": "unknown"})
    text = page.get("start/proposals").text
    assert "Roof membrane in the field of the roof is needed to propose a wall" in text
    assert "its backup wall is needed" in text
    assert page.post("start/proposals", {}).status_code == 422
    assert page.post("start/take", {"wall": "wall-1"}).status_code == 422


def wait(page: Page) -> str:
    for _ in range(300):
        text = page.get("start/proposals").text
        if "every 1s" not in text:
            return text
        time.sleep(0.5)
    raise AssertionError("the search did not end")


@pytest.mark.slow
def test_walls_are_proposed_beside_each_other_and_one_is_taken(opened: Open, tmp_path: Path) -> None:
    page = opened("")
    assert (
        page.post("start/facts", {**FACTS, "then": "proposals"})
        .headers["location"]
        .endswith("start/proposals")
    )
    before = page.desk.path.read_bytes()
    assert page.post("start/proposals", {}).status_code == 303
    text = wait(page)
    markup(text)
    walls = re.findall(r'name="wall" value="([a-z0-9-]+)"', text)
    assert walls and text.count("<svg") == len(walls)
    assert run("propose", page.desk.path, "-o", tmp_path / "out").status == 3
    written = {name: (tmp_path / "out" / name / "project.yaml").read_bytes() for name in walls}
    assert page.post("start/take", {"wall": "wall-99"}).status_code == 422
    assert page.desk.path.read_bytes() == before
    taken = page.post("start/take", {"wall": walls[-1]})
    assert taken.status_code == 303 and taken.headers["location"].endswith("wall/P-1")
    assert (
        page.desk.path.read_bytes() == written[walls[-1]]
    )  # facts, comments and reasons as the command writes them
    assert not [one for one in page.desk.assessment.findings if one.failed]
    assert (
        page.post("start/take", {"wall": walls[0]}).status_code == 422
    )  # proposed for what is no longer there
    page.desk.undo()
    assert page.desk.path.read_bytes() == before


@pytest.mark.slow
def test_a_search_is_stopped_and_the_facts_stay(opened: Open) -> None:
    page = opened("")
    page.post("start/facts", {**FACTS, "then": "proposals"})
    page.post("start/proposals", {})
    (number,) = re.findall(r"jobs/(\d+)/cancel", page.get("start/proposals").text)
    page.post(f"jobs/{number}/cancel", {})
    assert page.get("start/proposals", headers={"HX-Request": "true"}).headers["hx-redirect"]
    assert "Propose walls" in wait(page) and page.desk.path.exists()
    assert isinstance(page.desk, Desk)
