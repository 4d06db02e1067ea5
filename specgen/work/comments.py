"""Comments written beside a project: what stands in the file stays byte for byte, whoever writes into it meanwhile."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from specgen.explain.commented import object_of
from specgen.files.atomic import write_together
from specgen.files.faults import OutputError
from specgen.files.foreign import in_utf8, present_bytes
from specgen.files.lock import locked
from specgen.files.marks import InputError, of_file
from specgen.files.yaml_edit import insert_item, set_value
from specgen.files.yaml_scalars import text_as_written
from specgen.intake.comments import FILE_NAME, LARGEST, comments_beside, comments_in
from specgen.intake.formats import FORMAT, current
from specgen.model.comment import About, Comment
from specgen.model.document import numbered
from specgen.practice.entries import Practice
from specgen.specification import Specification

_AT = "comments"


@dataclass(frozen=True)
class Beside:
    """The file of comments beside a project, and by whom it is written."""

    project: Path  # the project file
    practice: Practice

    @property
    def path(self) -> Path:
        """The file."""
        return self.project.parent / FILE_NAME


def meant(spec: Specification, about: About) -> About:
    """What a person means who names a finding, a paragraph or a value, by the names under which it stands now.

    Args:
        spec: the project as written.
        about: as it was named; a paragraph may be named by its number.

    Raises:
        InputError: there is no such thing.
    """
    if about.kind == "paragraph":
        keys = {
            one.number: one.para.key
            for section in spec.sections
            if section.number == about.section
            for one in numbered(section.document.blocks)
        }
        about = replace(about, paragraph=keys.get(about.paragraph, about.paragraph))
    found = object_of(spec, about)
    if found.gone:
        fix = "look for its name in what `check`, `write` or the page show of the project as it stands"
        raise InputError([of_file(spec.assessment.project.path, f"{about.words}: {found.gone}", fix)])
    return about


def add(beside: Beside, about: About, name: str, text: str, now: datetime) -> Comment:
    """Add a comment at the end of the file, which is made if it is not there.

    Args:
        beside: where.
        about: the finding, paragraph or value.
        name: who writes.
        text: the words.
        now: with its time zone.

    Returns:
        The comment as it stands now.

    Raises:
        InputError: the words, or the file as it is, cannot be used; nothing was written.
        OutputError: the file was changed at the same moment, or cannot be written.
    """
    words = [f"about: {_in_braces(about)}", *_signed(name, now, text)]

    def edit(before: str, known: tuple[Comment, ...]) -> str:
        return insert_item(before, (_AT,), len(known), "\n".join(words), FILE_NAME)

    return _edited(beside, edit)[-1]


def answer(beside: Beside, key: str, name: str, text: str, now: datetime, seen: str = "") -> Comment:
    """Add an answer to a comment.

    Args:
        beside: where.
        key: of the comment.
        name: who answers.
        text: the words.
        now: with its time zone.
        seen: the state of the comment as the person saw it; "" for whatever it is.

    Raises:
        LookupError: the file has no such comment any more.
        InputError, OutputError: as :func:`add`; also where the comment changed since it was seen.
    """

    def edit(before: str, known: tuple[Comment, ...]) -> str:
        at, one = _found(known, key, seen)
        path = (_AT, at, "answers")
        return insert_item(before, path, len(one.answers), "\n".join(_signed(name, now, text)), FILE_NAME)

    return _named(_edited(beside, edit), key)


def mark_answered(beside: Beside, key: str, answered: bool, seen: str = "") -> Comment:
    """Mark a comment as answered, or open it again; raises as :func:`answer` does."""

    def edit(before: str, known: tuple[Comment, ...]) -> str:
        at, one = _found(known, key, seen)
        if one.answered == answered:
            return before
        return set_value(before, (_AT, at, "answered"), "yes" if answered else "no", FILE_NAME)

    return _named(_edited(beside, edit), key)


def _edited(beside: Beside, edit: Callable[[str, tuple[Comment, ...]], str]) -> tuple[Comment, ...]:
    """Change the file under its lock; the text is read, and judged as it will stand, before anything is written."""
    path = beside.path
    with locked(path.parent):
        before = present_bytes(path, LARGEST)
        known = comments_beside(beside.project, beside.practice)
        text = f"{FORMAT}: {current('comments')}\n{_AT}:\n" if before is None else in_utf8(before, path)
        after = edit(text, known)
        found = comments_in(after, path, beside.practice)
        if present_bytes(path, LARGEST) != before:  # by a program that asks for no lock
            raise OutputError(f"{path} was changed at the same moment; nothing was written; do it once more")
        if after != text or before is None:
            write_together({path: after.encode("utf-8")})
    return found


def _found(known: tuple[Comment, ...], key: str, seen: str) -> tuple[int, Comment]:
    one = _named(known, key)
    if seen and one.state != seen:
        raise OutputError(
            "the comment was answered or marked by somebody else meanwhile; nothing was written; read it again"
        )
    return known.index(one), one


def _named(known: tuple[Comment, ...], key: str) -> Comment:
    found = next((one for one in known if one.key == key), None)
    if found is None:
        raise LookupError(f"no comment `{key}` stands in {FILE_NAME}; read the list again")
    return found


def _in_braces(about: About) -> str:
    return "{" + ", ".join(f"{key}: {text_as_written(words)}" for key, words in about.named.items()) + "}"


def _signed(name: str, now: datetime, text: str) -> list[str]:
    time = now.isoformat(timespec="seconds")
    return [
        f"name: {text_as_written(' '.join(name.split()))}",
        f'time: "{time}"',
        f"text: {text_as_written(text.strip())}",
    ]
