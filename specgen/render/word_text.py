"""The words of a Word file, to show what somebody changed in it by hand."""

from __future__ import annotations

import io
from dataclasses import dataclass
from difflib import SequenceMatcher

from specgen.files.package import PackageError, read_package
from specgen.render.word_package import main_part


def paragraph_texts(data: bytes) -> list[str]:
    """Each paragraph with words, cells of tables too; what is marked as deleted or moved away is left out.

    The package is held against the limits for files of other people first; then python-docx reads it.

    Raises:
        PackageError: not a Word file.
    """
    from docx import Document
    from docx.oxml.ns import qn

    main_part(read_package(data))
    try:
        body = Document(io.BytesIO(data)).element.body
    except (
        KeyError,
        ValueError,
        AttributeError,
    ) as error:  # how python-docx says that a part is missing or is none
        raise PackageError(f"no Word document: {error}", "save it as .docx") from None
    texts = (
        "".join(run.text for run in paragraph.iter(qn("w:r")) if run.getparent().tag != qn("w:moveFrom"))
        for paragraph in body.iter(qn("w:p"))
    )
    return [text for text in texts if text.strip()]


@dataclass(frozen=True)
class HandEdit:
    """A paragraph that somebody changed in our file."""

    was: str
    now: str


def hand_edits(edited: bytes, ours: bytes) -> tuple[HandEdit, ...]:
    """The paragraphs that differ between an edited file and ours, each as it was and as it is now.

    Raises:
        PackageError: the edited file is no Word file any more.
    """
    was, now = paragraph_texts(ours), paragraph_texts(edited)
    out: list[HandEdit] = []
    for tag, old_from, old_to, new_from, new_to in SequenceMatcher(
        None, was, now, autojunk=False
    ).get_opcodes():
        if tag == "equal":
            continue
        old, new = was[old_from:old_to], now[new_from:new_to]
        for index in range(max(len(old), len(new))):
            out.append(HandEdit(*(each[index] if index < len(each) else "" for each in (old, new))))
    return tuple(out)
