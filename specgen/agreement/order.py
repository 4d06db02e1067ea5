"""What is done before what, by whom, and what is inspected in between: tables, drawings, and sentences."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from specgen.agreement.issue import SECTION, Issue, parapets_in, quote, roles_of, section_lines, tables_with
from specgen.agreement.page import Page, PrintedLine
from specgen.agreement.sheets import notes_of
from specgen.agreement.statement import Contradiction, Statement

# The parts as the sections call them, by the names of their roles.
_CALLED: Mapping[str, tuple[str, ...]] = {
    "roof turn-up": ("roof membrane base flashing", "roof turn-up", "base flashing"),
    "weep screed": ("weep screed",),
    "drainage layer": ("drainage layer",),
    "top flashing": ("top flashing", "flashing membrane", "flashing"),
    "barrier": ("wall barrier", "barrier"),
    "sheathing": ("sheathing",),
    "blocking": ("blocking",),
    "lath": ("lath",),
    "plaster": ("plaster",),
    "cleat": ("cleat",),
    "coping": ("coping",),
}
_ROLE = {name: role for role, names in _CALLED.items() for name in names}
_PART = "|".join(sorted(_ROLE, key=len, reverse=True))
_DONE = re.compile(
    rf"(?:Set|Install|Place|Anchor|Fasten|Apply|Lay) (?:the )?({_PART})\b([^:;]*?) (before|after) ([^.;:]+)"
)
_START = re.compile(rf"Start after (?:the )?({_PART})\b(?: on [a-z ]+)? has (?:passed|been)\b.*")
_HOLD = re.compile(rf"Hold point: (?:finished )?({_PART})\b.*?, before ([^.;:]+?) (?:covers?|laps?|is)\b.*")
_UNTIL = re.compile(rf"The ({_PART}) has passed\b.*")
_SUBJECT = re.compile(rf"(?<![\w-])({_PART})(?![\w-])")
_CLAUSE_END = re.compile(r", so that|, except| where | when | at | on | of ")
_AGENDA_PART = re.compile(r"([^>()]+?) \(([^()]+)\)")
_INSPECTED = re.compile(r"(?:^inspect |; )([^:;]+): ([^:;]+)")
_LAP = re.compile(r"([a-z][\w -]*?) over ([a-z][\w -]*)(?:, lap ((?:\d+ ft )?[\d ./]+ (?:in|mm|ft|m))\b)?")
_AT_APPLICATION = re.compile(rf"\bat application: [^;]*; ({SECTION}), ([\d.A-Z]+)\)")


@dataclass(frozen=True)
class Before:
    """A sentence that puts one part before another."""

    first: str
    second: str
    sentence: Statement


def steps(issue: Issue) -> Iterator[Statement]:
    """The step and the trade of each part at each parapet, wherever an order of work is printed."""
    for page, table in tables_with(issue, "Step", "Part", "Trade"):
        for row in table.records():
            for parapet in parapets_in(table.heading):
                yield from _step(page, table.heading, parapet, row["Part"], row["Step"], row["Trade"])
                for what, words in _INSPECTED.findall(row.get("Hold point before this step", "")):
                    yield _hold(page, table.heading, parapet, row["Part"], what, words)
    for page, table in tables_with(issue, "Step", "Before this work", "Inspect"):
        for row in table.records():
            for parapet in parapets_in(table.heading):
                place = f"{table.heading}, step {row['Step']}"
                about = f"step of {row['Before this work']} at parapet {parapet}"
                yield quote(page, place, about, row["Step"], f"{row['Step']} {row['Before this work']}")
                yield _hold(page, place, parapet, row["Before this work"], row["Inspect"], row["Look for"])
    every = _parapets(issue)
    for page, table in tables_with(issue, "Item", "What to settle"):
        for row in table.records():
            if row["Item"].startswith("Order of work"):
                order = _AGENDA_PART.findall(row["What to settle"].partition(". ")[0])
                for parapet in parapets_in(row["Item"]) or every:
                    for n, (part, trade) in enumerate(order, 1):
                        yield from _step(page, row["Item"], parapet, part.strip(" >"), str(n), trade)
    for page in issue.pages:
        for sheet in page.sheets if page.file.endswith(".svg") else ():
            if sheet.title == "Order of work":
                for key, text in notes_of(sheet):
                    part, _, rest = text.partition(": ")
                    trade, _, hold = rest.partition(" before it, ")
                    if key.isdecimal():
                        yield from _step(page, sheet.place, sheet.parapet, part, key, trade)
                        for what, words in _INSPECTED.findall(hold):
                            yield _hold(page, sheet.place, sheet.parapet, part, what, words)


def _step(page: Page, place: str, parapet: str, part: str, step: str, trade: str) -> Iterator[Statement]:
    text = f"{step} {part}: {trade}"
    yield quote(page, place, f"step of {part} at parapet {parapet}", step, text)
    yield quote(page, place, f"trade of {part} at parapet {parapet}", trade, text)


def _hold(page: Page, place: str, parapet: str, work: str, what: str, words: str) -> Statement:
    about = f"hold point before {work} at parapet {parapet}: {what}"
    return quote(page, place, about, words, f"before {work}, inspect {what}: {words}")


def owners(issue: Issue) -> Iterator[Statement]:
    """The one owner of each joint; a joint of the same name at another parapet may have its own."""
    for page, table in tables_with(issue, "Joint"):
        for row in table.records():
            owner = row.get("Owner") or row.get("Owner: makes it and answers for it", "")
            for parapet in parapets_in(table.heading):
                about = (
                    f"owner of {_SUBJECT.sub(lambda part: _ROLE[part[1]], row['Joint'])} at parapet {parapet}"
                )
                yield quote(page, table.heading, about, owner, f"{row['Joint']}: {owner}", many=True)


def laps(issue: Issue) -> Iterator[Statement]:
    """Which part lies over which, and how far: joints, laps of the agenda, notes of the drawings."""
    for page, table in tables_with(issue, "Joint"):
        for row in table.records():
            for parapet in parapets_in(table.heading):
                yield from _lap(page, table.heading, parapet, row["Joint"])
    every = _parapets(issue)
    for page, table in tables_with(issue, "Item", "What to settle"):
        for row in table.records():
            shared = row["What to settle"].partition(". ")[0].partition("; at parapet")[0]
            for words in shared.split("; ") if row["Item"] == "Laps" else ():
                for parapet in every:
                    yield from _lap(page, row["Item"], parapet, words)
    for page in issue.pages:
        for sheet in page.sheets if page.file.endswith((".svg", ".html")) else ():
            for key, text in notes_of(sheet):
                if key.isalpha() and not text.endswith("lies on top is assumed"):
                    yield from _lap(page, sheet.place, sheet.parapet, text)


def _lap(page: Page, place: str, parapet: str, words: str) -> Iterator[Statement]:
    if found := _LAP.match(words):
        pair = " and ".join(sorted((found[1], found[2])))
        yield quote(page, place, f"lap of {pair} at parapet {parapet}", f"{found[1]} over {found[2]}", words)
        if found[3]:
            yield quote(page, place, f"length of the lap of {pair} at parapet {parapet}", found[3], words)


def _parapets(issue: Issue) -> tuple[str, ...]:
    return tuple({sheet.parapet: "" for page in issue.pages for sheet in page.sheets if sheet.parapet})


def sentences(issue: Issue, roles: Mapping[str, str]) -> Iterator[Before]:
    """The sentences of the sections that put one part before another, by the roles of the parts."""
    own: dict[str, list[str]] = defaultdict(list)
    for _, table in tables_with(issue, "Step", "Part", "Section"):
        for row in table.records():
            role = roles.get(row["Part"], row["Part"])
            if role not in own[row["Section"]]:
                own[row["Section"]].append(role)
    for page, line in section_lines(issue):
        sentence = quote(page, line.place, line.place, line.text)
        for first, second in _pairs(line, own):
            if first != second:
                yield Before(first, second, sentence)


def _pairs(line: PrintedLine, own: Mapping[str, list[str]]) -> Iterator[tuple[str, str]]:
    text = re.sub(r"^At parapets? [^:]+: ", "", line.text)
    if found := _DONE.match(text):
        for other in _SUBJECT.findall(_CLAUSE_END.split(found[4])[0]):
            pair = _ROLE[found[1]], _ROLE[other]
            yield pair if found[3] == "before" else pair[::-1]
    elif (found := _START.match(text)) or (found := _UNTIL.match(text)):
        yield from ((_ROLE[found[1]], part) for part in own.get(line.section, ()))
    elif found := _HOLD.match(text):
        for other in _SUBJECT.findall(found[2]):
            yield _ROLE[found[1]], _ROLE[other]


def out_of_order(issue: Issue, statements: list[Statement]) -> Iterator[Contradiction]:
    """Sentences against the printed order of work, sentences against each other, and inspections that come too late."""
    at: dict[str, dict[str, Statement]] = defaultdict(dict)
    roles = roles_of(issue)
    for step in statements:
        if step.about.startswith("step of "):
            part, _, parapet = step.about.removeprefix("step of ").partition(" at parapet ")
            at[parapet].setdefault(roles.get(part, part), step)
    found = list(sentences(issue, roles))
    for one in found:
        for steps_there in at.values():
            first, second = steps_there.get(one.first), steps_there.get(one.second)
            if first and second and int(first.value) >= int(second.value):
                yield Contradiction("order", f"{one.first} before {one.second}", one.sentence, second)
                break
    for n, one in enumerate(found):
        for other in found[n + 1 :]:
            if (one.first, one.second) == (other.second, other.first):
                yield Contradiction("order", f"{one.first} and {one.second}", one.sentence, other.sentence)
    yield from _too_late(issue, at, roles)


def _too_late(
    issue: Issue, at: Mapping[str, Mapping[str, Statement]], roles: Mapping[str, str]
) -> Iterator[Contradiction]:
    """What holds at the application of a part, measured after the part is applied."""
    for page, table in tables_with(issue, "Step", "Inspect", "Measured; limit"):
        for row in table.records():
            late = _AT_APPLICATION.search(row["Measured; limit"])
            for asked in issue.rows_at(late[1], late[2]) if late and row["Step"].isdecimal() else ():
                role = roles.get(asked.part, asked.part)
                work = row.get("Before this work", "")
                if roles.get(work, work) == role:
                    continue  # as this very part is applied: another of its role may have its own step before
                for parapet in parapets_in(table.heading):
                    placed = at[parapet].get(role)
                    if late and placed and int(placed.value) < int(row["Step"]):
                        place = f"{table.heading}, step {row['Step']}"
                        measured = quote(page, place, "", late[0].strip())
                        yield Contradiction("order", f"application of {role}", placed, measured)
