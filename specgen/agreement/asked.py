"""What is asked for, wherever it is said: checklist rows, the paragraphs they name, limits cited elsewhere."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace

from specgen.agreement.issue import (
    SECTION,
    AskedRow,
    Issue,
    asked_rows,
    quote,
    section_lines,
    tables_with,
    where_key,
)
from specgen.agreement.page import Page
from specgen.agreement.sheets import notes_of
from specgen.agreement.statement import Contradiction, Statement, same_words
from specgen.agreement.values import Printed, agree, printed_values, rounds_to

_NUMBER = r"\d+\.\d+(?:\.[A-Z]+(?:\.\d+)?(?:\.[a-z])?)?"
_CITED = re.compile(rf"(?:({SECTION}),? )?(?<![\w.§])({_NUMBER})(?![\w]|\.\w)")
_NAMED = re.compile(rf"(?:Section ({SECTION}), [^,;:()]+?, )?(?:Paragraph|Article) ({_NUMBER})(?![\w]|\.\w)")
_LISTED = re.compile(rf"(.+?, .+?): Paragraph ({_NUMBER})\.?")
_PLACE_OF = re.compile(r" at parapets? (.+)")
_ASKS = re.compile(rf"^ ?asks for (.+?)(?=; |: {SECTION}, |$)")
_ORIGIN = re.compile(r"(.+?) from (?:choice|practice|calculation|nothing)\b")
_NOT = re.compile(r"\b(?:not|no|without|none|never|nothing|keep|free|neither)\b", re.IGNORECASE)
_IN_FILE = re.compile(r"(?:choice )?([\w.-]+\.ya?ml:\d+:\d+)")


def row_statements(issue: Issue) -> Iterator[Statement]:
    """Each column of each row, wherever a table repeats the checklist."""
    for page in issue.pages:
        for row in asked_rows(page):
            yield from _row(page, row)
    for page, table in tables_with(issue, "Requirement", "Limit"):
        for record in table.records():
            section, _, number = record.get("Section, paragraph", "").partition(", ")
            section, number = section or record.get("Section", ""), number or record.get("Paragraph", "")
            if not number:
                continue  # no paragraph prints it, so nobody says the same of it
            item = re.sub(r" [a-z_]+\.[\w@ .-]+$", "", record["Requirement"])
            about = f"{section} {item}".casefold()
            place = f"{table.heading}, {item}"
            yield quote(page, place, f"{about}: required", record["Limit"], many=True)
            yield quote(page, place, f"{about}: paragraph", number, f"{item}: {number}", many=True)


def _row(page: Page, row: AskedRow) -> Iterator[Statement]:
    about, place = f"{row.section} {row.item}".casefold(), row.statement.place
    columns = {"required": row.required, "paragraph": row.paragraph, "method": row.method}
    columns |= {name: row.record.get(name.capitalize(), "") for name in ("type", "trade", "evidence wanted")}
    if row.required == "document":
        columns.pop("required")
        if "as listed in" not in columns["evidence wanted"]:
            yield quote(page, place, f"{row.section}, {row.paragraph}", columns["evidence wanted"])
    for name, value in columns.items():
        if value:
            yield quote(page, place, f"{about}: {name}", value, f"{row.item}: {value}", many=True)
    if "Where" in row.record:
        about = f"{about} by {row.paragraph}: where"
        yield quote(page, place, about, where_key(row.where), f"{row.item}: {row.where}", many=True)


def paragraph_statements(issue: Issue) -> Iterator[Statement]:
    """The words of each paragraph: in its section, in the manual, in the test plan."""
    for (section, number), same in issue.paragraphs.items():
        for one in same:
            yield Statement(f"{section}, {number}", one.value, one.file, one.place, one.text)
    for page, table in tables_with(issue, "Paragraph", "Test, frequency, and criterion"):
        headed = re.search(SECTION, table.heading)
        for row in table.records():
            place = f"{headed[0] if headed else ''}, {row['Paragraph']}"
            yield quote(page, place, place, row["Test, frequency, and criterion"])


def values_in_file(issue: Issue) -> Iterator[Statement]:
    """The values of the project file, wherever the report says at which place they stand."""
    stated: dict[str, str] = {}
    for page, table in tables_with(issue, "As stated", "Place in the file"):
        for row in table.records():
            if found := _IN_FILE.fullmatch(row["Place in the file"]):
                stated[found[1]] = row["As stated"]
                yield quote(page, f"{table.heading}, {row['Item']}", found[1], row["As stated"])
    for page, table in tables_with(issue, "Value", "Source"):
        for row in table.records():
            if found := _IN_FILE.fullmatch(row["Source"]):
                value, read = row["Value"], stated.get(found[1], "")
                shown = (
                    read if read and rounds_to(value, read) else value
                )  # inputs have the digits to calculate with
                yield quote(page, f"{table.heading}, {row['What']}", found[1], shown, value)


def held_to_paragraphs(issue: Issue) -> Iterator[Contradiction]:
    """Each row against the paragraph it names, each number against the paragraph it is said to stand in."""
    for row in issue.rows:
        for one in issue.paragraphs.get((row.section, row.paragraph), ()):
            asks = row.required == "document" or _states(one.value, row.required)
            if not asks or row.method.casefold() not in one.value.casefold():
                yield Contradiction("value", f"{row.section}, {row.paragraph}", row.statement, one)
    for page, table in tables_with(issue, "Section, paragraph", "Numbers and their origin"):
        for record in table.records():
            section, number = record["Section, paragraph"][:8], record["Section, paragraph"][9:]
            for part in record["Numbers and their origin"].split("; "):
                named = _ORIGIN.match(part)
                for one in issue.paragraphs.get((section, number), ()) if named else ():
                    assert named is not None
                    if not _has_value(one.value, named[1]):
                        mine = quote(page, table.heading, "", named[1], f"{section}, {number}: {named[1]}")
                        yield Contradiction("value", f"{section}, {number}", mine, one)


def _states(text: str, required: str) -> bool:
    """Whether a paragraph asks for what a row asks for."""
    if required in ("yes", "no"):
        return required == "yes" or bool(_NOT.search(text))
    return _has_words(text, required) or _has_value(text, required)


def _has_words(text: str, words: str) -> bool:
    return bool(re.search(rf"(?<![\w/]){re.escape(words.casefold())}(?![\w/]|[.,]\d)", text.casefold()))


def _has_value(text: str, words: str) -> bool:
    """Whether a text prints each value that the words print."""
    wanted = list(printed_values(words))
    if not wanted:
        return _has_words(text, words)
    found = list(printed_values(text))
    if any(one.sign != "=" for one in wanted):
        return all(any(agree(one, two) for two in found) for one in wanted)
    bare = [part for two in found for part in _parts(two)]
    return all(any(agree(one, two) for two in bare) for one in wanted)


def _parts(one: Printed) -> Iterator[Printed]:
    """A value and the condition it holds at, each without its bound."""
    for quantity in (one.quantity, one.quantity.condition, one.twin):
        if quantity is not None:
            yield Printed("=", replace(quantity, condition=None), one.text, one.start)


def citations(issue: Issue) -> Iterator[tuple[Statement, str, str]]:
    """Words that cite a paragraph outside the sections: the words, the section, the number."""
    for page in issue.pages:
        for sheet in page.sheets if page.file.endswith((".svg", ".html")) else ():
            for key, text in notes_of(sheet):
                yield from _cited(page, f"{sheet.place}, note {key}" if key else sheet.place, text)
    for page, table in tables_with(issue, "Step", "Measured; limit"):
        for row in table.records():
            place = f"{table.heading}, step {row['Step']}, {row['Inspect']}"
            yield from _cited(page, place, row["Measured; limit"].replace("______", ""))
    for page, table in tables_with(issue, "Item", "What to settle"):
        for row in table.records():
            yield from _cited(page, row["Item"], row["What to settle"])
    for page, table in tables_with(issue, "Title", "Limit"):
        for row in table.records():
            words = f"{row['Title']}: {row['Limit']}"
            place = f"requirement, {row['Title']}"
            yield quote(page, place, "", words), row["Section"], row["Paragraph"]


def _cited(page: Page, place: str, text: str) -> Iterator[tuple[Statement, str, str]]:
    section, start = "", 0
    for found in _CITED.finditer(text):
        section = found[1] or section
        if not section or not (found[1] or "." in found[2].strip("0123456789")[1:]):
            continue
        asks = _ASKS.match(text[found.end() :])
        words = asks[1] if asks else text[start : found.start()].strip(" :;,(.)")
        start = (
            start if asks else found.end()
        )  # what is asked for stands inside the words that cite the next one
        shown = text[max(0, found.start() - 90) : found.end() + (len(asks[0]) if asks else 0)]
        yield quote(page, place, "", words, shown.strip()), section, found[2]


def held_to_citations(issue: Issue) -> Iterator[Contradiction]:
    """Each cited paragraph exists, asks for what is cited from it, and is the paragraph of that attribute."""
    attributes = sorted({row.attribute for row in issue.rows if row.attribute}, key=len, reverse=True)
    for citation, section, number in citations(issue):
        if section not in issue.sections:
            continue
        found = issue.paragraphs.get((section, number), ())
        if not found:
            yield _nowhere(citation, section, number)
            continue
        rows = [row for row in issue.rows_at(section, number) if row.attribute]
        if rows:
            if not any(_cites(citation.value, row, attributes) for row in rows):
                yield Contradiction("value", f"{section}, {number}", rows[0].statement, citation)
        elif any(one.sign != "=" for one in printed_values(citation.value)) and not any(
            _bounds_in(one.value, citation.value) for one in found
        ):
            yield Contradiction("value", f"{section}, {number}", found[0], citation)


def _nowhere(citation: Statement, section: str, number: str) -> Contradiction:
    absent = Statement("", "", f"Section {section}", number, "no such paragraph")
    return Contradiction("place", f"{section}, {number}", absent, citation)


def _bounds_in(text: str, words: str) -> bool:
    found = list(printed_values(text))
    return all(any(agree(one, two) for two in found) for one in printed_values(words) if one.sign != "=")


def _cites(words: str, row: AskedRow, attributes: Iterable[str]) -> bool:
    """Whether words that name a paragraph say of it what the row of that paragraph says."""
    bounds = [one for one in printed_values(words) if one.sign != "="]
    named = next((name for name in attributes if _has_words(words, name)), None)
    if row.attribute == "generic kind":
        return _has_words(words, row.required)
    if named and not _has_words(words, row.attribute):
        return False
    if bounds:
        return _bounds_in(row.required, words)
    if words.endswith((": yes", ": no")):
        return words.endswith(f": {row.required}")
    if named and ": " in words:
        return same_words(words.rpartition(": ")[2], row.required)
    return True


def held_to_references(issue: Issue) -> Iterator[Contradiction]:
    """References of the sections to paragraphs: each exists, and the lists of submittals name the right one."""
    for page, line in section_lines(issue):
        for found in _NAMED.finditer(line.text):
            section = found[1] or line.section
            if section in issue.sections and (section, found[2]) not in issue.paragraphs:
                yield _nowhere(quote(page, line.place, "", line.text), section, found[2])
        listed = _LISTED.fullmatch(line.text)
        if listed is None:
            continue
        place = _PLACE_OF.search(listed[1])
        name = listed[1][: place.start()] if place else listed[1]
        where = where_key(place[1]) if place else ""
        rows = [
            row
            for row in issue.rows
            if row.section == line.section
            and row.item.replace(": ", ", ").casefold() == name.casefold()
            and (not where or where_key(row.where) == where)
        ]
        if rows and not any(row.paragraph == listed[2] for row in rows):
            citation = quote(page, line.place, "", line.text)
            yield Contradiction("place", f"{line.section} {name}", rows[0].statement, citation)
