"""The record of an issue in its folder, and what follows when an earlier issue lies there: addendum, marked copies."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from specgen.files.faults import OutputError
from specgen.files.foreign import foreign_bytes, present_bytes
from specgen.files.json_text import json_text
from specgen.files.marks import InputError
from specgen.files.package import WORD, PackageError
from specgen.files.withdrawn import MOST_OF_RECORD, RECORD, Owner
from specgen.files.writing import OutputFolder, Written
from specgen.model.document import Document
from specgen.model.plain import FORMAT_NUMBER, plain
from specgen.model.project import Project
from specgen.render.word import fitting, word_bytes
from specgen.render.word_marked import AUTHOR, marked_bytes
from specgen.render.word_notes import NotedParagraph, noted_paragraphs
from specgen.render.word_template import Template
from specgen.render.word_text import HandEdit, hand_edits
from specgen.sections.addendum import Addendum, NotFollowed, addendum_document, compare
from specgen.sections.inputs import ACCEPTED, inputs
from specgen.sections.issue import FORMAT, Issue, document_from, document_json, issue_from, issue_json

_NUMBER = "project: number"  # among the recorded values
_ADDENDA = ("addendum-", "marked-")  # names of what an addendum is made of


@dataclass(frozen=True)
class Record:
    """What lies in a folder: the issue written last, the one before it, and our text of files edited by hand."""

    current: Issue | None = None
    previous: Issue | None = None
    edited: Mapping[str, Document] | None = None
    addenda: tuple[
        str, ...
    ] = ()  # every one that was issued, by the word that tells it from others, in order
    last: str = ""  # that of the issue written last, if it has one
    withdrawn: Mapping[str, str] | None = None  # papers not of the issue: when each was withdrawn

    def base(self, new: Issue) -> Issue | None:
        """The issue that a new one is compared with.

        An issue bears a date and a state. While those stay, a run writes the same issue again and is compared with
        the one before it; an issue that is written anew without a change is compared with what it was compared with.
        """
        if self.current is None:
            return None
        if self.current.name == new.name and self.previous is not None:
            return self.previous
        same = issue_json(self.current) == issue_json(replace(new, findings=self.current.findings))
        return self.previous if same else self.current

    def addendum_word(self, new: Issue) -> str:
        """By what the addendum of an issue is told from those issued before: its date, with a number on the same day."""
        if self.current and self.current.name == new.name and self.last:
            return self.last
        word, number = new.date, 1
        while word in self.addenda:
            number += 1
            word = f"{new.date}-{number}"
        return word

    def ours(self, name: str) -> Document | None:
        """Our text of a file, as it was before somebody edited it."""
        if self.edited and name in self.edited:
            return self.edited[name]
        return self.current.documents.get(name) if self.current else None


def project_folder(
    folder: Path, project: Project, record: Record | None = None, *, other_project: bool
) -> OutputFolder:
    """The folder as one of a project.

    A project is told from others by its number; under one number its name may change. Where the number alone of all
    recorded values has changed, the file is the one that was issued, with its number corrected.

    Args:
        folder: made if absent.
        project: whose papers are to be written.
        record: what lies in the folder, where the run issues.
        other_project: whether it may be of another project, whose papers are withdrawn.
    """
    number, formerly = project.info.word("number") or "", ""
    if record and record.current:
        before, now = (
            {one.name: one.value for one in each if not one.name.startswith(ACCEPTED)}
            for each in (record.current.inputs, inputs(project))
        )
        formerly = before.pop(_NUMBER, "")
        now.pop(_NUMBER, None)
        if before != now:
            formerly = ""
    return OutputFolder(
        folder, Owner(number, project.info.word("name") or "", formerly), other_project=other_project
    )


def read_record(folder: Path) -> Record:
    """The record of a folder; an empty one where no issue lies.

    Raises:
        InputError: it is no file, or too large.
        OutputError: it is no record.
    """
    path = folder / RECORD
    held = present_bytes(path, MOST_OF_RECORD, "a record of an issue")
    if held is None:
        return Record()
    try:
        data = json.loads(held)
        if data["format"] != FORMAT:
            raise ValueError(f"format {data['format']}")
        return Record(
            issue_from(data["current"]),
            issue_from(data["previous"]) if data["previous"] else None,
            {str(name): document_from(one) for name, one in data["edited"].items()},
            tuple(str(word) for word in data.get("addenda", ())),
            str(data.get("addendum", "")),
            {str(name): str(date) for name, date in data.get("withdrawn", {}).items()},
        )
    except (ValueError, KeyError, TypeError, AttributeError, IndexError, RecursionError):
        raise OutputError(
            f"{path} is not a record of an issue; move it away to write without a list of changes"
        ) from None


def add_record(
    folder: OutputFolder,
    record: Record,
    new: Issue,
    template: Template | None = None,
    absent: Mapping[str, str] | None = None,
    not_followed: tuple[NotFollowed, ...] = (),
) -> Addendum | None:
    """Add the record of an issue, and with an earlier one in the folder the addendum and the marked copies.

    What an earlier run wrote and this issue does not hold is withdrawn; the addenda and marked copies of earlier issues
    are records and stay.

    Args:
        folder: with the papers of the issue.
        record: what lies in the folder.
        new: the issue.
        template: the office's own look.
        absent: by number of a section that the project does not have, why.
        not_followed: what of accepted substitutions the project file does not say.

    Returns:
        What changed; None where there is no earlier issue or nothing changed.
    """
    base, word = record.base(new), record.addendum_word(new)
    former = record.withdrawn or {}
    addendum = compare(base, new, absent, former) if base else None
    addendum = replace(addendum, not_followed=not_followed, word=word) if addendum else None
    issued = tuple(one for one in record.addenda if one != word)
    if base and addendum:
        issued += (word,)
        worked_on = folder.edited()
        folder.add(f"addendum-{word}.docx", _word(addendum_document(addendum, new.about), template))
        folder.add(f"addendum-{word}.json", _bytes({"format": FORMAT_NUMBER, **plain(addendum)}))
        for name in addendum.paragraphs:
            now = new.documents[name]
            now = replace(now, properties=fitting(now.properties))
            noted = _noted(folder, name) if name in worked_on else ()
            marked = marked_bytes(base.documents[name], now, template, noted)
            folder.add(f"marked-{word}/{name}", marked)
    edited = {name: ours for name in folder.edited() if (ours := record.ours(name))}
    lay = (record.current.documents, record.current.drawings) if record.current else ()
    gone = {**dict.fromkeys([name for names in lay for name in names], new.date), **former}
    # What comes back by this issue is known as withdrawn while the issue is written again.
    back = {name for name in former if base and name not in {**base.documents, **base.drawings}}
    content = {
        "format": FORMAT,
        "current": issue_json(new),
        "previous": issue_json(base) if base else None,
        "edited": {name: document_json(one) for name, one in edited.items()},
        "addenda": issued,
        "addendum": word if addendum else "",
        "withdrawn": {
            name: date for name, date in gone.items() if name in back or name not in folder.contents
        },
    }
    folder.add(RECORD, _bytes(content))
    own = (f"addendum-{word}.", f"marked-{word}/")
    folder.whole_issue(new.date, lambda name: name.startswith(_ADDENDA) and not name.startswith(own))
    return addendum or None


def _noted(folder: OutputFolder, name: str) -> tuple[NotedParagraph, ...]:
    """What somebody wrote beside the words of a paper in the folder; nothing where it is no Word file any more."""
    try:
        return noted_paragraphs(foreign_bytes(folder.folder / name, WORD.file), AUTHOR)
    except (PackageError, InputError):  # told with what was edited by hand
        return ()


def drawing_hashes(drawn: Mapping[str, bytes], project: Project) -> dict[str, str]:
    """A hash of each sheet's SVG without the date and the state of the issue, which are new each time."""
    out = {}
    passing = [project.issued, project.state.lower()]
    for name, content in drawn.items():
        if name.endswith(".svg"):
            words = content.decode()
            for one in filter(None, (*passing, passing[1].capitalize(), passing[1].upper())):
                words = words.replace(one, "")
            out[name] = hashlib.sha256(words.encode()).hexdigest()
    return out


def _word(document: Document, template: Template | None = None) -> bytes:
    return word_bytes(replace(document, properties=fitting(document.properties)), template)


def _bytes(content: Mapping[str, Any]) -> bytes:
    return f"{json_text(content, 1)}\n".encode()


def edits_by_hand(written: Written, record: Record) -> dict[str, tuple[HandEdit, ...]]:
    """By file that somebody edited, kept in its place or withdrawn, the paragraphs changed: as they were, as they are.

    Where our own earlier text is not recorded, the new text stands for it.
    """
    kept = [(name, name, aside) for name, aside in written.beside]
    kept += [(one.name, one.place, "") for one in written.withdrawn if one.edited]
    out = {}
    for name, place, aside in kept:
        ours = record.ours(name)
        if not name.endswith(".docx") or not (ours or aside):
            continue
        try:
            before = _word(ours) if ours else foreign_bytes(written.folder / aside, WORD.file)
            out[name] = hand_edits(foreign_bytes(written.folder / place, WORD.file), before)
        except (PackageError, InputError):
            out[name] = (HandEdit("", "(the file is no Word file any more)"),)
    return out
