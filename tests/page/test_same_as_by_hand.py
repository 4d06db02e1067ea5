"""A value set on the page is the same as one typed into the file: bytes, findings, and every paper of the issue."""

from __future__ import annotations

import filecmp
import random
import shutil
from pathlib import Path

import pytest

from specgen import api
from specgen.page.field_view import FieldAddress
from specgen.page.views.wall import field_at
from tests.conftest import LONG, SEED, sampled
from tests.page.conftest import Open, Page
from tests.work.test_editing_by_hand import EXAMPLES, LONGEST, Found, other, typed, values

PLACES = 20
PAPERS = 5 if LONG else 1  # places whose papers are written as well


@pytest.mark.parametrize("example", [one.parent.name for one in EXAMPLES])
def test_random_places_on_the_page_are_as_typed_by_hand(opened: Open, example: str, tmp_path: Path) -> None:
    page = opened(example)
    chance = random.Random(f"{SEED} page {example}")
    text = page.desk.text
    found = values(text)
    places = sampled("places set on the page", chance.sample(found, min(len(found), 3 * PLACES)), example)
    done = written = 0
    for number, one in enumerate(places):
        words = other(one.words, one.address, chance)
        wanted = text[: one.start] + typed(words, one.words) + text[one.end :]
        before = text.splitlines()
        if wanted == text or any(len(line) > LONGEST for line in wanted.splitlines() if line not in before):
            continue  # a line that grows too long is broken, and not as a person would
        by_hand = tmp_path / f"hand-{number}" / "project.yaml"
        shutil.copytree(page.desk.folder, by_hand.parent, ignore=shutil.ignore_patterns(".specgen-steps"))
        by_hand.write_text(wanted, "utf-8")
        answer = set_on_page(page, one, words)
        if answer is None:
            continue
        try:
            read = api.load(by_hand.parent)
        except api.InputError:
            assert answer == 422 and page.desk.text == text, one
            continue
        assert answer == 303, one
        assert page.desk.path.read_bytes() == by_hand.read_bytes(), one
        assessment = api.assess(read)
        assert [_stands(each) for each in page.desk.assessment.findings] == [
            _stands(each) for each in assessment.findings
        ], one
        if written < PAPERS and done % 3 == 0:
            written += same_papers(page, assessment, tmp_path / f"papers-{done}")
        done += 1
        page.post("undo", {})
        assert page.desk.text == text
        if done == PLACES:
            break
    assert done >= (PLACES / 2 if LONG else 1)


def set_on_page(page: Page, one: Found, words: str) -> int | None:
    """The status of the answer; None where the page has no field for it."""
    at = one.address
    field = field_at(page.desk, FieldAddress(at.record, at.key, at.parapet, at.place))
    if field is None:
        return None
    form = {"record": at.record, "key": at.key, "parapet": at.parapet, "place": at.place, "scope": one.scope}
    value: object = [part.strip() for part in words.split(",")] if field.input == "several" else words
    stands = {"was": field.was, "was_way": field.was_way, "reason": field.reason}
    return page.post("change", {**form, **stands, "way": "stated", "value": value}).status_code


def _stands(one: api.Finding) -> tuple[object, ...]:
    return one.code, one.parapet, one.layer, one.message, one.outcome, one.mark.line, one.mark.column


def same_papers(page: Page, assessment: api.Assessment, folder: Path) -> int:
    """Whether every paper is the same; 0 where none can be written."""
    try:
        for name, one in (("page", page.desk.assessment), ("hand", assessment)):
            api.write(api.specify(one), folder / name, with_open_points=True)
    except api.InputError:
        return 0
    names = sorted(one.name for one in (folder / "hand").iterdir() if one.is_file())
    assert names == sorted(one.name for one in (folder / "page").iterdir() if one.is_file())
    _, differ, wrong = filecmp.cmpfiles(folder / "page", folder / "hand", names, shallow=False)
    assert differ == [] and wrong == []
    return 1
