"""The words of a Word file, to show what somebody changed in it by hand."""

from __future__ import annotations

from dataclasses import dataclass
from difflib import SequenceMatcher
from typing import TYPE_CHECKING

from specgen.files.package import read_package
from specgen.render.word_package import main_part
from specgen.render.word_xml import qualified

if TYPE_CHECKING:
    from lxml import etree

_SIGNS = {qualified(name): sign for name, sign in (("tab", "\t"), ("br", "\n"), ("cr", "\n"))}


def paragraph_texts(data: bytes) -> list[str]:
    """Each paragraph with words, cells of tables too; what is marked as deleted is left out.

    Raises:
        PackageError: not a Word file.
    """
    texts = (
        "".join(_words(child) for run in paragraph.iter(qualified("r")) for child in run)
        for paragraph in main_part(read_package(data))[1].iter(qualified("p"))
    )
    return [text for text in texts if text.strip()]


def _words(child: etree._Element) -> str:
    """The words of one child of a run."""
    return (child.text or "") if child.tag == qualified("t") else _SIGNS.get(str(child.tag), "")


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
