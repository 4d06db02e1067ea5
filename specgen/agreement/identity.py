"""Whose issue it is, of which day, in which state, by which code: said on every sheet, and the same on each."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from specgen.agreement.issue import SECTION, Issue, quote
from specgen.agreement.page import Page
from specgen.agreement.statement import Statement

_ISSUE = re.compile(r"(\d{4}-\d\d-\d\d) \| ([A-Za-z ]+?)(?: \| .*)?")
_MARGIN = re.compile(r"(.+?) (\d{4}-\d\d-\d\d \| [A-Za-z ]+)")
_NAMED = re.compile(r"Submittal (?:Checklist|Register): (.+)")
_DAY = re.compile(r"\d{4}-\d\d-\d\d")
# In the contents of a volume the page follows, which bears the number of its section.
_TITLED = re.compile(
    rf"(?:Tests of )?Section ({SECTION})(?:,| –|) ([A-Z][^:.(]*?)"
    r"(?:[:.]?|[,;:] .*|, (?:Article|Paragraph) .*| \1-\d+)"
)
_FOOT = re.compile(rf"(.+) ({SECTION})-\d+")
_ENTRY = re.compile(rf"(Section {SECTION} – (.+)) ({SECTION})-\d+")  # of the contents, with its page
_CODE = re.compile(r"Adopted building code: (.+?)\.?")
_OPEN = "with open points "
_FIELDS = ("issue date", "state of issue", "adopted building code")


def identity(issue: Issue) -> Iterator[Statement]:
    """What each file says of itself: project, day and state of the issue, adopted code, titles of sections.

    An office's own words may stand before the project in a margin.
    """
    found = list(_statements(issue))
    titles = Counter(one.value for one in found if one.about == "project" and one.place != "margin")
    title = next(iter(titles.most_common(1)), ("", 0))[0]
    for one in found:
        named = one.about == "project" and title.casefold() in one.value.casefold()
        yield replace(one, value=title) if named and one.place == "margin" else one


def _statements(issue: Issue) -> Iterator[Statement]:
    for page in issue.pages:
        for place, text in _all_words(page):
            yield from _of_words(page, place, text)
        yield from _of_titles(page)
        for sheet in page.sheets:
            words = [one.text for one in sheet.words[2:8]]
            for n, text in enumerate(words):
                if text.startswith("project ") and n:
                    title = f"{text.removeprefix('project ')} {words[n - 1]}"
                    yield quote(page, sheet.place, "project", title)
                if day := _ISSUE.fullmatch(text):
                    yield quote(page, sheet.place, "issue date", day[1], text)
                    yield from _state(page, sheet.place, day[2], text)
        for table in page.tables:
            rows = (
                {row["Item"]: row["As stated"] for row in table.records()}
                if table.has("Item", "As stated")
                else {}
            )
            if {"project name", "project number"} <= set(rows):
                yield quote(
                    page, table.heading, "project", f"{rows['project number']} {rows['project name']}"
                )
            yield from (quote(page, table.heading, name, rows[name]) for name in _FIELDS if name in rows)


def _state(page: Page, place: str, state: str, text: str) -> Iterator[Statement]:
    """The state of the issue, and whether the page bears the mark of an issue with open points."""
    yield quote(page, place, "state of issue", state.replace(_OPEN, ""), text)
    yield quote(page, place, "mark of open points", "marked" if _OPEN in state else "not marked", text)


def _of_titles(page: Page) -> Iterator[Statement]:
    """The project over the first lines of a page, and day and state on the cover of a volume."""
    texts = [line.text for line in page.lines[:12]]
    for n, text in enumerate(texts):
        if named := _NAMED.fullmatch(text):
            yield quote(page, "title", "project", named[1], text)
        elif n and _ISSUE.fullmatch(text) and not _NAMED.fullmatch(texts[n - 1]):
            yield quote(page, "title", "project", texts[n - 1])
        elif _DAY.fullmatch(text) and n + 1 < len(texts):
            yield quote(page, "cover", "project", texts[0])
            yield quote(page, "cover", "issue date", text)
            yield from _state(page, "cover", texts[n + 1], texts[n + 1])
    if page.file.endswith(".json") and texts:
        yield quote(page, "project", "project", texts[0])


def _all_words(page: Page) -> Iterator[tuple[str, str]]:
    yield from (("margin", text) for text in page.margins)
    yield from ((line.place, line.text) for line in page.lines)
    for table in page.tables:
        yield table.heading, table.heading
        yield from ((table.heading, cell) for row in table.rows for cell in row)


def _of_words(page: Page, place: str, text: str) -> Iterator[Statement]:
    if margin := _MARGIN.fullmatch(text):
        yield quote(page, place, "project", margin[1], text)
        text = margin[2]
    if day := _ISSUE.fullmatch(text):
        yield quote(page, place, "issue date", day[1], text)
        yield from _state(page, place, day[2], text)
    if entry := _ENTRY.fullmatch(text):  # the page is of the section that is named
        yield quote(page, place, f"title of Section {entry[3]}", entry[2], text)
        text = entry[1]
    if titled := _TITLED.fullmatch(text):
        yield quote(page, place, f"title of Section {titled[1]}", titled[2].strip(), text)
    if foot := _FOOT.fullmatch(text):
        yield quote(page, place, f"title of Section {foot[2]}", foot[1], text)
    if code := _CODE.fullmatch(text):
        yield quote(page, place, "adopted building code", code[1], text)
