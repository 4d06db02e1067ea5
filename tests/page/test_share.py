"""Comments on the page: what is typed stands in the file, nobody's words are lost, hostile words are words."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from specgen.intake.comments import comments_beside
from specgen.model.comment import About
from specgen.page.comments import about_field, counts_of, new_place
from specgen.page.field_view import FieldAddress
from tests.chain.runs import run
from tests.page.conftest import Open, Page
from tests.render.html_reading import Element, read_html
from tests.render.test_document_html import HOSTILE

DRIP = {"section": "07 71 00", "paragraph": "coping_kind"}
WIND = {"value": "wind_speed", "of": "site"}


def tree(page: Page, where: str, status: int = 200) -> Element:
    answer = page.get(where)
    assert answer.status_code == status, answer.text[:2000]
    return read_html(answer.text)


def held(page: Page) -> tuple:
    return comments_beside(page.desk.path, page.desk.inputs.practice)


def commented_on(page: Page, about: dict[str, str], text: str = "Why?", name: str = "A. B."):
    """Add a comment by the form of its view."""
    view = tree(page, new_place(About(**about)))
    (form,) = [one for one in view.all("form") if one.attributes["action"].endswith("/comments")]
    fields = {one.attributes["name"]: one.attributes.get("value", "") for one in form.all("input")}
    assert {key: words for key, words in fields.items() if key != "name"} == about
    return page.post("comments", {**fields, "name": name, "text": text})


def test_a_comment_is_added_answered_and_marked(opened: Open) -> None:
    page = opened("faulty-parapet")
    answer = commented_on(page, WIND)
    assert answer.status_code == 303
    where = answer.headers["location"]
    (one,) = held(page)
    assert (one.about, one.name, one.text) == (About(**WIND), "A. B.", "Why?")
    assert where.endswith(f"#c-{one.key}")
    view = tree(page, new_place(one.about))
    assert "115 mph" in view.all("main")[0].text and "Why?" in view.text
    done = page.post(
        f"comments/{one.key}/answer", {"text": "So.", "name": "C", "seen": one.state, "answered": "yes"}
    )
    assert done.status_code == 303
    (one,) = held(page)
    assert one.answered and one.answers[0].text == "So." and one.answers[0].name == "C"
    assert page.post(f"comments/{one.key}/mark", {"answered": "no", "seen": one.state}).status_code == 303
    assert not held(page)[0].answered
    run("comment", page.desk.folder, "--answered", one.key)
    assert "answered" in tree(page, "comments?show=answered").all("article", "thread")[0].text


def test_the_list_lets_through_what_the_filters_ask(opened: Open) -> None:
    page = opened("faulty-parapet")
    finding = next(one for one in page.desk.assessment.findings if one.counts and one.parapet == "P-1")
    commented_on(page, {"finding": finding.code, "parapet": "P-1"}, "on a finding", "Ann")
    commented_on(page, DRIP, "on a paragraph", "Ben")
    commented_on(page, WIND, "on a value", "Ben")
    page.post(f"comments/{held(page)[2].key}/mark", {"answered": "yes"})

    def texts(asked: str) -> list[str]:
        found = tree(page, f"comments?{asked}").all("article", "thread")
        return [one.all("blockquote", "typed")[0].all("p")[0].text for one in found]

    assert texts("") == ["on a finding", "on a paragraph"]
    assert texts("show=answered") == ["on a value"]
    assert texts("show=all") == ["on a finding", "on a paragraph", "on a value"]
    assert texts("show=all&kind=value") == ["on a value"]
    assert texts("parapet=P-1") == ["on a finding"]
    assert texts("show=all&by=Ben") == ["on a paragraph", "on a value"]
    assert texts("show=nonsense&kind=nonsense") == []
    places = [
        one.attributes["href"] for each in tree(page, "comments?show=all").all("h2") for one in each.all("a")
    ]
    assert len(places) == 3
    for one in places:
        answer = page.client.get(one.partition("#")[0])
        assert answer.status_code == 200, one
        anchor = one.partition("#")[2]
        assert not anchor or f'id="{anchor}"' in answer.text, one


def test_paragraphs_findings_and_values_lead_to_their_comments(opened: Open) -> None:
    page = opened("faulty-parapet")
    commented_on(page, DRIP)
    commented_on(page, WIND)
    base = f"/{page.door.token}/"
    section = tree(page, "sections/07-71-00")
    links = {one.attributes["href"]: one.text for one in section.all("a", "comments")}
    assert links[f"{base}{new_place(About(**DRIP))}"] == "1 open comment on 2.2.A"
    facts = tree(page, "facts")
    found = {one.attributes["href"]: one.text for one in facts.all("a", "comments-link")}
    (wind,) = [text for where, text in found.items() if "wind_speed" in where and "of=site" in where]
    assert wind.startswith("1 open comment")
    for where in list(found)[:3]:
        assert page.client.get(where).status_code == 200
    name = next(iter(re.findall(r'href="[^"]*findings/([^"?]+)"', page.get("findings").text)))
    finding = tree(page, f"findings/{name}")
    (link,) = finding.all("a", "comments-link")
    assert page.client.get(link.attributes["href"]).status_code == 200
    assert counts_of(page.desk)[about_field(FieldAddress("site", "wind_speed"))] == 1


def test_a_comment_whose_object_is_gone_stays_and_says_so(opened: Open) -> None:
    page = opened("faulty-parapet")
    run(
        "comment",
        page.desk.folder,
        "--add",
        "x",
        "--by",
        "A",
        "--value",
        "slope",
        "--of",
        "coping",
        "--parapet",
        "P-1",
    )
    path = page.desk.folder / "comments.yaml"
    path.write_text(path.read_text("utf-8").replace("of: coping", "of: roof garden"), "utf-8")
    for where in ("comments", new_place(held(page)[0].about)):
        assert "has no such part any more" in tree(page, where).all("main")[0].text
    answer = page.post("comments", {**held(page)[0].about.named, "name": "A", "text": "again"})
    assert answer.status_code == 422 and len(held(page)) == 1


def test_what_somebody_else_answered_meanwhile_is_shown_and_nothing_typed_is_lost(opened: Open) -> None:
    page = opened("faulty-parapet")
    commented_on(page, WIND)
    (one,) = held(page)
    run("comment", page.desk.folder, "--answer", one.key, "theirs", "--by", "B")
    before = (page.desk.folder / "comments.yaml").read_bytes()
    answer = page.post(
        f"comments/{one.key}/answer", {"text": "my long words", "name": "C", "seen": one.state}
    )
    assert answer.status_code == 422
    assert (page.desk.folder / "comments.yaml").read_bytes() == before
    words = read_html(answer.text).all("main")[0].text
    assert "meanwhile" in words and "my long words" in words and "theirs" in words


@pytest.mark.parametrize("words", [HOSTILE, "a\nb\n- c: {", "{{ 7*7 }}{% raw %}"])
def test_hostile_words_are_words(opened: Open, words: str) -> None:
    page = opened("faulty-parapet")
    name = " ".join(words.split())[:60]
    assert commented_on(page, DRIP, words, name).status_code == 303
    (one,) = held(page)
    assert (one.text, one.name) == (words.strip(), name)
    for where in ("comments", new_place(About(**DRIP)), "sections/07-71-00"):
        view = tree(page, where)
        assert len(view.all("script")) == 2 and not view.all("style")
        assert not any(
            key == "style" or key.startswith("on") for each in view.all() for key in each.attributes
        )
    assert words.strip() in tree(page, "comments").all("blockquote", "typed")[0].text
    assert page.get("comments?kind=<script>&by=%22%3E<img>").status_code == 200


@pytest.mark.parametrize(
    "where",
    [
        "comments/new",
        "comments/new?finding=CP02&value=slope",
        "comments/new?paragraph=drip",
        "comments/new?of=site",
    ],
)
def test_an_address_that_names_nothing_is_refused(opened: Open, where: str) -> None:
    page = opened("faulty-parapet")
    assert page.get(where).status_code == 422


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"name": ""}, "name"),
        ({"text": "  "}, "text"),
        ({"text": "x" * 4001}, "4,000"),
        ({"text": "a\x07"}, "U+0007"),
        ({"text": "\u202etxt.exe"}, "U+202E"),
        ({"name": "n" * 121}, "120"),
    ],
)
def test_what_cannot_stand_in_the_file_is_refused_and_given_back(
    opened: Open, changes: dict[str, str], message: str
) -> None:
    page = opened("faulty-parapet")
    answer = page.post("comments", {**WIND, "name": "A", "text": "long words", **changes})
    assert answer.status_code == 422 and message in answer.text
    assert not (page.desk.folder / "comments.yaml").exists()
    if "text" not in changes:
        assert "long words" in answer.text


def test_a_file_that_cannot_be_read_is_told_and_stops_nothing_else(opened: Open) -> None:
    page = opened("faulty-parapet")
    path: Path = page.desk.folder / "comments.yaml"
    path.write_text("comments: [x]\n", "utf-8")
    answer = page.get("comments")
    assert answer.status_code == 422 and "comments.yaml:1:12" in answer.text
    for where in ("facts", "sections/07-71-00", "findings"):
        assert page.get(where).status_code == 200
    assert page.post("comments", {**WIND, "name": "A", "text": "x"}).status_code == 422
    assert path.read_text("utf-8") == "comments: [x]\n"


def test_what_somebody_else_changed_in_the_project_is_shown_on_both_sides_until_it_is_read_again(
    opened: Open,
) -> None:
    page = opened("faulty-parapet")
    path = page.desk.path
    theirs = (
        path.read_text("utf-8")
        .replace("height: 30 ft", "height: 31 ft")
        .replace("Quarry Lane Clinic", "'<script>x</script> & Lane'")
    )
    path.write_text(theirs, "utf-8")
    answer = page.post("undo")
    assert answer.status_code in (409, 422)
    change = {"record": "site", "key": "wind_speed", "way": "stated", "was_way": "stated", "was": "115 mph"}
    answer = page.post("change", {**change, "value": "120 mph", "parapet": "", "place": ""})
    assert answer.status_code == 409 and path.read_text("utf-8") == theirs
    for view in (read_html(answer.text), tree(page, "changed")):
        rows = [[cell.text for cell in row.all("td")] for row in view.all("tr", "changed")]
        assert len(rows) == 2 and all(row[1] == row[3] for row in rows)
        assert "height: 30 ft" in rows[1][2] and "height: 31 ft" in rows[1][4]
        assert "<script>x</script>" in rows[0][4] and len(view.all("script")) == 2
    assert page.post("read-again").status_code == 303
    assert page.desk.assessment.project.building.values["height"].text == "31 ft"
    assert page.get("changed", follow_redirects=False).status_code == 303
