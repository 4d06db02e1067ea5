"""Findings on the page: the list as the command prints it, each with its chain, remedies tried and applied."""

from __future__ import annotations

import html
import re

import httpx2
import pytest

from specgen.model.finding import Finding, Outcome
from specgen.model.folded import folded
from specgen.page.finding_rows import groups, names
from specgen.page.views.findings import named
from specgen.work.explained import explained
from tests.page.conftest import Open, Page

LIVE = {"HX-Request": "true"}


def words(text: str) -> str:
    """What a reader sees of a page, spaces as one."""
    apart = re.sub(r"</(?:t[dh]|li|p|d[td]|option|h\d)>", " ", text)
    return " ".join(html.unescape(re.sub(r"<[^>]+>", "", apart)).split())


def plain(page: Page, text: str) -> str:
    """Words of a rule as the page prints them."""
    return " ".join(page.desk.assessment.paper_words()(text).split())


def named_at(page: Page, code: str, parapet: str = "P-1") -> tuple[str, Finding]:
    return next(
        (name, one) for name, one in named(page.desk).items() if (one.code, one.parapet) == (code, parapet)
    )


@pytest.mark.parametrize("example", ["faulty-parapet", "existing-repair", "mixed-humid-midrise"])
def test_the_list_holds_what_check_prints(opened: Open, example: str) -> None:
    page = opened(example)
    shown = words(page.get("findings").text)
    standing = [one for one in page.desk.assessment.findings if one.shown]
    assert standing
    for one in folded(standing):
        assert plain(page, one.finding.message) in shown
        assert one.finding.code in shown and one.finding.name in shown
        assert all(plain(page, missing) in shown for missing in one.missing)
    assert shown.count("Openings planned") == (example == "existing-repair")


def test_unknown_and_queries_stand_apart(opened: Open) -> None:
    page = opened()
    every = page.desk.assessment.findings
    found = {group.title.partition(":")[0]: group.rows for group in groups(every, names(every))}
    assert all(row.finding.failed for row in found["Defects and risks"])
    assert all(row.finding.severity.value == "query" for row in found["Queries"])
    assert all(row.finding.open for row in found["Unknown"])
    assert sum(map(len, found.values())) == len(folded(one for one in every if one.shown))


def test_filters_show_a_part_and_name_what_is_strange(opened: Open) -> None:
    page = opened()
    part = words(page.get("findings?severity=risk&rule=&parapet=").text)
    every = page.desk.assessment.findings
    assert "A part is shown." in part and "A part is shown." not in words(page.get("findings").text)
    for one in folded(one for one in every if one.shown):
        assert (plain(page, one.finding.message) in part) == (one.finding.severity.value == "risk")
    assert "no rule `CP30`; " in words(page.get("findings?rule=CP30").text)
    assert "no parapet `P-77`" in words(page.get("findings?parapet=P-77").text)


def test_names_stay_while_a_finding_stands(opened: Open) -> None:
    page = opened()
    before = named(page.desk)
    page.desk.change(lambda text: "# a line more\n" + text, "a comment")
    after = named(page.desk)
    assert list(before) == list(after)
    assert len(set(before)) == sum(one.shown for one in page.desk.assessment.findings)


def test_every_finding_opens(opened: Open) -> None:
    page = opened()
    for name, one in named(page.desk).items():
        answer = page.get(f"findings/{name}")
        assert answer.status_code == 200
        shown = words(answer.text)
        assert plain(page, one.message)[1:] in shown and plain(page, one.reason) in shown


def test_a_finding_tells_its_chain(opened: Open) -> None:
    page = opened()
    name, one = named_at(page, "CP03")
    (wanted,) = explained(page.desk.specification(), [one])
    answer = page.get(f"findings/{name}")
    shown = words(answer.text)
    assert wanted.value is not None and wanted.limit is not None
    assert f"{wanted.value.path} is {wanted.value.value}" in shown
    assert wanted.value.quoted.strip() in shown and f"line {wanted.value.line}" in shown
    assert wanted.limit.limit in shown and wanted.limit.source in shown and wanted.limit.origin in shown
    section, _, number = wanted.limit.paragraph.rpartition(" ")
    assert f"Section {section}, {number}" in shown
    assert 'href="/' in answer.text and f"wall/P-1?part={one.layer}" in answer.text.replace("%20", " ")
    assert "Right:" in answer.text and "Wrong:" in answer.text
    assert "waivers/new?code=CP03&amp;parapet=P-1" in answer.text
    assert 'hx-trigger="load"' in answer.text and "Try the remedies" in shown


def test_remedies_are_those_of_check_explain(opened: Open) -> None:
    page = opened()
    for name, one in named(page.desk).items():
        if one.outcome is not Outcome.FAIL or one.parapet == "all":
            continue
        (wanted,) = explained(page.desk.specification(), [one])
        part = page.get(f"findings/{name}?part=remedies", headers=LIVE)
        shown = words(part.text)
        assert part.text.lstrip().startswith("<section") and "<html" not in part.text
        useful = [option for option in wanted.options if option.result != "leaves" or option.effect.closes]
        assert part.text.count("/apply") == len(useful)
        for option in useful:
            assert all(plain(page, edit.sentence) in shown for edit in option.edits)
            assert all(
                plain(page, broken.message) in shown for broken in option.effect.breaks if broken.failed
            )
        whole = page.get(f"findings/{name}")  # tried once: they stand in the view at once
        assert whole.text.count("/apply") == len(useful) and 'hx-trigger="load"' not in whole.text


def test_without_script_they_are_tried_on_a_whole_page(opened: Open) -> None:
    page = opened()
    name, _ = named_at(page, "CP03")
    answer = page.get(f"findings/{name}?tried=yes")
    assert "<html" in answer.text and "/apply" in answer.text


def test_a_finding_that_is_gone_is_told(opened: Open) -> None:
    answer = opened().get("findings/CP03-0000000000")
    assert answer.status_code == 422 and "does not stand any more" in answer.text


def failing(page: Page) -> list[tuple[str, Finding]]:
    return [
        each
        for each in named(page.desk).items()
        if each[1].outcome is Outcome.FAIL and each[1].parapet != "all"
    ]


def press(page: Page, name: str, number: int, **more: str) -> httpx2.Response:
    part = page.get(f"findings/{name}?part=remedies", headers=LIVE).text
    found = re.findall(r'name="option" value="(\d+)"><input type="hidden" name="digest" value="(\w+)"', part)
    digest = dict(found)[str(number)]
    return page.post(f"findings/{name}/apply", {"option": str(number), "digest": digest, **more})


def test_one_press_applies_a_remedy_and_undo_takes_it_back(opened: Open) -> None:
    page = opened()
    before, pressed = page.desk.path.read_bytes(), 0
    for name, one in failing(page):
        (wanted,) = explained(page.desk.specification(), [one])
        for number, option in enumerate(wanted.options[:2]):
            if option.result == "leaves" and not option.effect.closes:
                continue
            answer = press(page, name, number)
            assert answer.status_code == 303 and answer.headers["location"].endswith("/compare")
            standing = [each.message for each in page.desk.assessment.findings if each.counts]
            assert (one.message not in standing) == (option.result == "closes"), (one.message, option)
            shown = words(page.get("compare").text)
            for broken in option.effect.breaks:
                assert plain(page, broken.message) in shown
            assert "Take the step back" in shown
            page.post("undo", {"here": "findings"})
            assert page.desk.path.read_bytes() == before
            pressed += 1
    assert pressed > 5


def test_a_remedy_goes_to_one_parapet_or_to_its_type(opened: Open) -> None:
    page = opened("mixed-humid-midrise")
    name, one = failing(page)[0]
    part = words(page.get(f"findings/{name}?part=remedies", headers=LIVE).text)
    count = len(page.desk.assessment.project.parapets)
    assert f"Apply at all {count} parapets of its type" in part and "Apply at P-1 alone" in part
    same = [each.parapet for _, each in failing(page) if each.message == one.message]
    for scope, left in (("own", set(same) - {"P-1"}), ("type", set())):
        press(page, name, 0, scope=scope)
        assert {each.parapet for _, each in failing(page) if each.message == one.message} == left
        page.post("undo", {"here": "findings"})


def test_a_stale_press_is_refused(opened: Open) -> None:
    page = opened()
    before = page.desk.path.read_bytes()
    name, _ = failing(page)[0]
    for data in (
        {"option": "0", "digest": "0123456789abcdef"},
        {"option": "99", "digest": ""},
        {"option": "first", "digest": ""},
        {},
    ):
        answer = page.post(f"findings/{name}/apply", data)
        assert answer.status_code == 409 and "others by now" in answer.text
    assert page.post("findings/XX00-0/apply", {}).status_code == 422
    page.desk.path.write_bytes(before + b"# somebody else was here\n")
    assert press(page, name, 0).status_code == 409
    assert page.desk.path.read_bytes().endswith(b"was here\n")


def test_the_code_of_a_rule_leads_to_what_it_found(opened: Open) -> None:
    page = opened("mixed-humid-midrise")
    one = page.get("findings/TF03?parapet=P-1")
    assert one.status_code == 200 and "compatibility is not confirmed" in one.text
    every = page.get("findings/tf03")
    assert every.status_code == 200 and "rule=TF03" in str(every.url)
    assert page.get("findings/XX99").status_code == 422
