"""The words of a Word file, to show what somebody changed in it by hand."""

from __future__ import annotations

from collections.abc import Iterator
from difflib import SequenceMatcher

from specgen.render.word_package import read_package, relations, xml_part
from specgen.render.word_xml import qualified

_WORDS = {
    qualified("t"): None,
    qualified("tab"): "\t",
    qualified("br"): "\n",
    qualified("noBreakHyphen"): "-",
}


def paragraph_texts(data: bytes) -> list[str]:
    """Each paragraph with words, cells of tables too; what is marked as deleted is left out.

    Raises:
        PackageError: not a Word file.
    """
    parts = read_package(data)
    main = next((one.target for one in relations(parts, "") if one.kind == "officeDocument"), "")
    paragraphs = xml_part(parts, main).iter(qualified("p"))
    texts = ("".join(_pieces(paragraph)) for paragraph in paragraphs)
    return [text for text in texts if text.strip()]


def _pieces(paragraph: object) -> Iterator[str]:
    for run in paragraph.iter(qualified("r")):  # type: ignore[attr-defined]
        for node in run:
            if node.tag in _WORDS:
                yield _WORDS[node.tag] or node.text or ""


def hand_edits(edited: bytes, ours: bytes) -> tuple[tuple[str, str], ...]:
    """The paragraphs that differ between an edited file and ours, each as it was and as it is now.

    Raises:
        PackageError: the edited file is no Word file any more.
    """
    was, now = paragraph_texts(ours), paragraph_texts(edited)
    out: list[tuple[str, str]] = []
    for tag, old_from, old_to, new_from, new_to in SequenceMatcher(
        None, was, now, autojunk=False
    ).get_opcodes():
        if tag == "equal":
            continue
        old, new = was[old_from:old_to], now[new_from:new_to]
        for index in range(max(len(old), len(new))):
            out.append((old[index] if index < len(old) else "", new[index] if index < len(new) else ""))
    return tuple(out)
