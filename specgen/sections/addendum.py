"""What changed from one issue to the next: input lines, paragraphs, checklist rows, drawings, and why."""

from __future__ import annotations

import re
from collections.abc import Container, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Literal

from specgen.model.document import (
    Block,
    CrossRef,
    Document,
    Numbered,
    Para,
    Properties,
    Style,
    Table,
    framed,
    numbered,
    text,
)
from specgen.sections.inputs import ACCEPTED, InputValue
from specgen.sections.issue import Issue, IssueName

Kind = Literal["added", "deleted", "changed"]
_OF_EACH_ISSUE = ("project: issue_date", "project: state")
_ENDS = re.compile("[@:]")  # of the name of a requirement or clause in an id or key
RENUMBERED = "what it refers to has another number"
NOT_FOLLOWED = (
    "The sections of this issue still specify what was specified before. Change the project file at these lines, and "
    "write the issue again: specgen write PROJECT -o FOLDER."
)
_NOT_FOLLOWED = (0.24, 0.16, 0.28, 0.16, 0.16)
NO_LINE = "no input line is recorded for this text"


_NOBODY = Properties("", "", "", "", "")


@dataclass(frozen=True, slots=True)
class InputChange:
    """One changed value; several names where parapets share the line."""

    names: tuple[str, ...]
    was: str  # "" if it is new
    now: str  # "" if it is gone
    place: str  # in the file of the issue that has it last


@dataclass(frozen=True, slots=True)
class IssueChange:
    """One paragraph, checklist row or drawing that changed, and the input lines behind it."""

    where: str  # "07 71 00 2.2.A.3"
    kind: Kind
    was: str
    now: str
    because: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PaperChange:
    """A paper that only one of two issues holds."""

    file: str
    title: str
    kind: Literal["issued", "issued again", "withdrawn"]
    because: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class NotFollowed:
    """One value that an accepted substitution changes and the project file, and with it the sections, does not say."""

    paper: str  # the file of the request
    value: str  # "drainage layer, kind (P-1, P-2)"
    place: str  # "project.yaml:102:20"
    now: str  # as the file states it; "" if it does not
    accepted: str


@dataclass(frozen=True)
class Addendum:
    """Everything that changed between two issues."""

    project: str
    old: IssueName
    new: IssueName
    titles: Mapping[str, str]  # of the documents that changed, by file
    inputs: tuple[InputChange, ...]
    papers: tuple[PaperChange, ...]
    paragraphs: Mapping[str, tuple[IssueChange, ...]]  # by file, of papers that both issues hold
    rows: tuple[IssueChange, ...]
    drawings: tuple[IssueChange, ...]
    not_followed: tuple[NotFollowed, ...] = ()
    word: str = (
        ""  # by which its files are told from those of others: the date, with a number on the same day
    )

    def __bool__(self) -> bool:
        return bool(self.inputs or self.papers or self.paragraphs or self.rows or self.drawings)


def compare(
    old: Issue, new: Issue, absent: Mapping[str, str] | None = None, withdrawn: Container[str] = ()
) -> Addendum:
    """What changed between two issues.

    A paragraph is the same one while it keeps its key, or, where it has none, its words. The reason is the changed
    input values on which the requirements of the paragraph rest, as either issue recorded them.

    Args:
        old: the earlier issue.
        new: the later one.
        absent: by number of a section that the project does not have, why.
        withdrawn: papers that were withdrawn before, by file.
    """
    inputs = tuple(_input_changes(old.inputs, new.inputs))
    why = _Why(old, new, inputs)
    papers = tuple(_paper_changes(old, new, why, absent or {}, withdrawn))
    why.papers = {_number_of(one.file, old, new): one for one in papers}
    paragraphs = {}
    for name, document in new.documents.items():
        before = old.documents.get(name)
        if before and (changes := tuple(_paragraph_changes(before, document, why))):
            paragraphs[name] = tuple(_with_citing(one, changes) for one in changes)
    rows = tuple(
        IssueChange(number, _kind(was, now), was, now, _why_row(number, was, now, why))
        for number, was, now in _differing(old.rows, new.rows)
    )
    drawings = tuple(
        IssueChange(name, _kind(was, now), "", "", why.of((), "", "", name))
        for name, was, now in _differing(old.drawings, new.drawings)
    )
    titles = {name: new.documents[name].properties.title for name in paragraphs}
    return Addendum(new.project, old.name, new.name, titles, inputs, papers, paragraphs, rows, drawings)


def _paper_changes(
    old: Issue, new: Issue, why: _Why, absent: Mapping[str, str], withdrawn: Container[str]
) -> Iterator[PaperChange]:
    for name in sorted(old.documents.keys() ^ new.documents.keys()):
        gone = name not in new.documents
        document = old.documents[name] if gone else new.documents[name]
        reason = absent.get(document.page_prefix) or _renumbered(document, old if not gone else new)
        # What decides whether a section is written comes before the words that came or went with it.
        because = (reason,) if reason else why.of((), "", "", document.page_prefix)
        if because == (NO_LINE,):
            paras = tuple(document.paragraphs())
            words = "\n".join(one.text for one in paras)
            ids = [name for one in paras for name in one.requirements]
            because = why.of(ids, words if gone else "", "" if gone else words, document.page_prefix)
        again: Literal["issued", "issued again"] = "issued again" if name in withdrawn else "issued"
        yield PaperChange(name, document.properties.title, "withdrawn" if gone else again, because)


def _renumbered(document: Document, other: Issue) -> str:
    """That a section has another number in the other issue, told by a requirement that both state; "" if not."""
    stated = {_ENDS.split(name)[0] for one in document.paragraphs() for name in one.requirements}
    for one in other.documents.values() if stated else ():
        if one.page_prefix != document.page_prefix and stated & {
            _ENDS.split(name)[0] for para in one.paragraphs() for name in para.requirements
        }:
            return f"{one.properties.title} has the same requirements: the office has changed the number"
    return ""


def _why_row(number: str, was: str, now: str, why: _Why) -> tuple[str, ...]:
    if was and now and was.partition(": ")[2] == now.partition(": ")[2]:  # the place before it differs
        return (RENUMBERED,)
    return why.of((number,), was, now, number)


def _number_of(file: str, old: Issue, new: Issue) -> str:
    return (new.documents.get(file) or old.documents[file]).page_prefix


def _differing(old: Mapping[str, str], new: Mapping[str, str]) -> Iterator[tuple[str, str, str]]:
    for name in dict.fromkeys([*old, *new]):
        was, now = old.get(name, ""), new.get(name, "")
        if was != now:
            yield name, was, now


def _kind(was: str, now: str) -> Kind:
    return "added" if not was else "deleted" if not now else "changed"


def _input_changes(old: Iterable[InputValue], new: Iterable[InputValue]) -> Iterator[InputChange]:
    """Changed values, those of one line together."""
    before, after = {one.name: one for one in old}, {one.name: one for one in new}
    grouped: dict[tuple[str, str, str], list[str]] = {}
    for name in dict.fromkeys([*before, *after]):
        was, now = before.get(name), after.get(name)
        if name in _OF_EACH_ISSUE:
            continue
        if was is None or now is None or was.value != now.value:
            last = now or was
            if last is not None:
                key = (was.value if was else "", now.value if now else "", last.place)
                grouped.setdefault(key, []).append(name)
    for (value_was, value_now, place), names in grouped.items():
        yield InputChange(tuple(names), value_was, value_now, place)


class _Why:
    """Finds the changed input lines behind a text."""

    def __init__(self, old: Issue, new: Issue, inputs: tuple[InputChange, ...]) -> None:
        self._issues = (old, new)
        self._inputs = inputs
        self.papers: Mapping[str, PaperChange] = {}  # of one issue only, by number of the section

    def of(self, requirements: Iterable[str], was: str, now: str, key: str = "") -> tuple[str, ...]:
        """The changes on which the requirements rest; else those whose words came or went with the text; else those
        on which it rests whether a requirement is made, or whether what ``key`` names, a section, clause or drawing,
        stands there.
        """
        ids = tuple(requirements)
        found = self._behind(
            name for issue in self._issues for one in ids for name in issue.requirements.get(one, ("", ()))[1]
        )
        if not found:
            found = [one for one in self._inputs if _spoken(one.now, now, was) or _spoken(one.was, was, now)]
        if not found:
            keys = (key, *(f"requirement {_ENDS.split(one)[0]}" for one in ids))
            found = self._behind(
                name for issue in self._issues for one in keys for name in issue.conditions.get(one, ())
            )
        if not found:
            named = [one for number, one in self.papers.items() if _names(was, number) != _names(now, number)]
            return tuple(f"{one.title}: {one.kind}: {'; '.join(one.because)}" for one in named) or (NO_LINE,)
        return tuple(change_words(one) for one in found)

    def _behind(self, names: Iterable[str]) -> list[InputChange]:
        rests = set(names)
        return [one for one in self._inputs if not rests.isdisjoint(one.names)]


def _names(words: str, number: str) -> bool:
    """Whether a text names the section of a number."""
    return bool(number) and number in words.replace("\N{NO-BREAK SPACE}", " ")


def _spoken(value: str, here: str, there: str) -> bool:
    """Whether a value's words stand in one text and not in the other; one word of a letter or two says nothing."""
    return len(value) > 2 and value in here and value not in there


def change_words(change: InputChange) -> str:
    """``project.yaml:102:20 thickness: 0.040 in, was 0.032 in (parapet P-1, coping)``."""
    owners = [name.rpartition(": ")[0] for name in change.names]
    name = change.names[0].rpartition(": ")[2]
    now, was = change.now or "taken out", f", was {change.was}" if change.was else ", new"
    return f"{change.place} {name}: {now}{was} ({'; '.join(owners)})"


def _lines(document: Document) -> dict[str, tuple[str, Para]]:
    """Paragraphs by key, or by their words; with the number they bear."""
    numbers: dict[int, Numbered] = {id(one.para): one for one in numbered(document.blocks)}
    out: dict[str, tuple[str, Para]] = {}
    for para in document.paragraphs():
        line = numbers.get(id(para))
        out[para.key or para.text] = (line.number if line else "", para)
    return out


def _unnumbered(para: Para) -> list[str]:
    """Its words, with the key of a paragraph that it refers to in place of the number."""
    return [one.key if isinstance(one, CrossRef) else one.text for one in para.content]


def _paragraph_changes(old: Document, new: Document, why: _Why) -> Iterator[IssueChange]:
    before, after = _lines(old), _lines(new)
    prefix = f"{new.page_prefix} " if new.page_prefix else ""
    for key in dict.fromkeys([*after, *before]):
        was, now = before.get(key), after.get(key)
        old_words, new_words = was[1].text if was else "", now[1].text if now else ""
        if old_words == new_words:
            continue
        where = (now or was or ("", None))[0]
        if was and now and _unnumbered(was[1]) == _unnumbered(now[1]):
            yield IssueChange((prefix + where).strip(), "changed", old_words, new_words, (RENUMBERED,))
            continue
        clause, _, listed = key.partition(":")
        ids = [*(was[1].requirements if was else ()), *(now[1].requirements if now else ()), listed]
        yield IssueChange(
            (prefix + where).strip(), _kind(old_words, new_words), old_words, new_words,
            why.of(ids, old_words, new_words, f"{new.page_prefix} {_ENDS.split(clause)[0]}"),
        )  # fmt: skip


def _with_citing(change: IssueChange, others: Iterable[IssueChange]) -> IssueChange:
    """A line of the list of standards comes and goes with the paragraphs that cite the standard."""
    named = (change.was or change.now).partition(",")[0]
    if change.because != (NO_LINE,) or not named:
        return change
    citing = (one.because for one in others if one is not change and named in f"{one.was} {one.now}")
    because = dict.fromkeys(line for lines in citing for line in lines if line != NO_LINE)
    return replace(change, because=tuple(because) or change.because)


def addendum_document(addendum: Addendum, issued: Properties = _NOBODY) -> Document:
    """The list of changes as a landscape document.

    Args:
        addendum: what changed.
        issued: of a document that is issued with it: whose the issue is, and on what paper.
    """
    old, new = addendum.old, addendum.new
    title, subject = f"Addendum of {new.date}", "Changes since an earlier issue"
    blocks = (
        Para(Style.TITLE, text(title)),
        Para(Style.SUBTITLE, text(f"Changes since the issue of {old.date}, {old.state}")),
        *_tables(addendum),
    )
    properties = replace(
        issued, title=title, subject=subject, project=addendum.project, issue_date=new.date,
        state=new.state.capitalize(), keywords="",
    )  # fmt: skip
    return framed(properties, blocks, landscape=True)


def _tables(addendum: Addendum) -> Iterator[Block]:
    accepted = tuple(one for one in addendum.inputs if one.names[0].startswith(ACCEPTED))
    if accepted:
        title = "Submittals and substitutions accepted"
        yield Para(Style.HEADING, text(title))
        papers = tuple(("; ".join(one.names), one.was or "–", one.now or "–") for one in accepted)
        yield Table(("Paper", "Was", "Is"), papers, (0.4, 0.2, 0.4), title)
    if addendum.not_followed:
        yield from _not_followed(addendum.not_followed)
    lines = tuple(one for one in addendum.inputs if one not in accepted)
    if lines:
        yield Para(Style.HEADING, text("Changed lines of the project file"))
        rows = tuple((one.place, "; ".join(one.names), one.was or "–", one.now or "–") for one in lines)
        yield Table(("Line", "Value", "Was", "Is"), rows, (0.18, 0.46, 0.18, 0.18), "Changed lines")
    if addendum.papers:
        yield Para(Style.HEADING, text("Papers issued and withdrawn"))
        files = tuple((one.title, one.file, one.kind, "; ".join(one.because)) for one in addendum.papers)
        columns = ("Paper", "File", "Change", "Because")
        yield Table(columns, files, (0.26, 0.26, 0.12, 0.36), "Papers issued and withdrawn")
    for name, changes in addendum.paragraphs.items():
        yield Para(Style.HEADING, text(addendum.titles[name]))
        yield _changes("Paragraph", changes, addendum.titles[name])
    if addendum.rows:
        yield Para(Style.HEADING, text("Submittal checklist"))
        yield _changes("Row", addendum.rows, "Changed rows of the submittal checklist")
    if addendum.drawings:
        yield Para(Style.HEADING, text("Drawings"))
        sheets = tuple((one.where, str(one.kind), "; ".join(one.because)) for one in addendum.drawings)
        yield Table(("File", "Change", "Because"), sheets, (0.3, 0.1, 0.6), "Changed drawings")


def _not_followed(found: Iterable[NotFollowed]) -> Iterator[Block]:
    title = "Accepted substitutions that the sections do not show yet"
    yield Para(Style.HEADING, text(title))
    yield Para(Style.BODY, text(NOT_FOLLOWED))
    rows = tuple((one.paper, one.place, one.value, one.now or "–", one.accepted or "–") for one in found)
    yield Table(("Substitution", "Line", "Value", "Specified", "Accepted"), rows, _NOT_FOLLOWED, title)


def _changes(what: str, changes: tuple[IssueChange, ...], caption: str) -> Table:
    rows = tuple(
        (one.where or "–", one.kind, one.was or "–", one.now or "–", "; ".join(one.because))
        for one in changes
    )
    return Table((what, "Change", "Was", "Is", "Because"), rows, (0.12, 0.08, 0.28, 0.28, 0.24), caption)
