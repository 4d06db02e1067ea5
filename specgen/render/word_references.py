"""Live references to paragraph numbers: which paragraphs need a bookmark, and the fields that point at them.

A full number such as ``2.2.A.3`` is written as one field a level, with the full stops between them as
text. Word's own full-context switch would drop the stop after the article (``2.2A.3``).
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from specgen.model.document import Block, CrossRef, Numbered, Para, Table, list_level, numbered
from specgen.render.word_xml import field, run

_NAME_LENGTH = 40  # Word's limit for a bookmark's name
_PREFIX = "_Ref_"  # the leading underscore keeps it out of Word's bookmark list
_PLAIN = re.compile("[a-z0-9_]+")
_MARKED = re.compile("_[0-9a-f]{8}$")
_ARTICLE = 1
Spot = tuple[int, int]  # which document of the file, which block of it


@dataclass(frozen=True, slots=True)
class ReferencePlace:
    """A numbered paragraph: where it stands among the blocks, and the last step of its number."""

    spot: Spot
    number: str
    step: str
    bookmark: str


@dataclass(frozen=True, slots=True)
class References:
    """What a file needs to point at its own paragraphs."""

    trails: Mapping[str, tuple[ReferencePlace, ...]]  # key → the places whose steps make up its full number
    bookmarks: Mapping[Spot, str]


def find_references(documents: tuple[tuple[Block, ...], ...]) -> References:
    """Number the blocks of each document and resolve every :class:`CrossRef` and linked cell in them.

    Raises:
        ValueError: a key used twice, a reference to no numbered paragraph, a reference whose text is not
            the number of its paragraph, or a skipped level.
    """
    blocks = [block for document in documents for block in document]
    _refuse_twins(blocks)
    lines = [numbered(document) for document in documents]
    references = tuple(_cross_references(blocks))
    if not references:
        return References({}, {})
    wanted = frozenset(reference.key for reference in references)
    trails: dict[str, tuple[ReferencePlace, ...]] = {}
    for index, document in enumerate(documents):
        trails.update(_trails(index, document, lines[index], wanted))
    for reference in references:
        _refuse_stale(reference, trails)
    return References(trails, {place.spot: place.bookmark for trail in trails.values() for place in trail})


def _cross_references(blocks: Iterable[Block]) -> Iterator[CrossRef]:
    for block in blocks:
        if isinstance(block, Para):
            for part in block.content:
                if isinstance(part, CrossRef):
                    yield part
        elif isinstance(block, Table):
            for link in block.links:
                yield CrossRef(link.key, block.rows[link.row][link.column])


def _trails(
    document: int, blocks: tuple[Block, ...], lines: tuple[Numbered, ...], wanted: frozenset[str]
) -> dict[str, tuple[ReferencePlace, ...]]:
    where = [
        (index, level)
        for index, block in enumerate(blocks)
        if isinstance(block, Para) and (level := list_level(block.style)) is not None
    ]
    stack: list[ReferencePlace] = []
    trails = {}
    for (index, level), line in zip(where, lines, strict=True):
        step = line.number if level <= _ARTICLE else line.number.rpartition(".")[2]
        name = line.para.key or f"number {document} {line.number}"
        stack = [*stack[:level], ReferencePlace((document, index), line.number, step, bookmark_name(name))]
        if line.para.key in wanted:
            trails[line.para.key] = tuple(stack[_ARTICLE:] or stack)
    return trails


def _refuse_twins(blocks: Iterable[Block]) -> None:
    seen: set[str] = set()
    for block in blocks:
        if isinstance(block, Para) and block.key:
            if block.key in seen:
                raise ValueError(f"two paragraphs have the key {block.key!r}: give each its own")
            seen.add(block.key)


def _refuse_stale(reference: CrossRef, trails: Mapping[str, tuple[ReferencePlace, ...]]) -> None:
    printed, key = reference.text, reference.key
    if key not in trails:
        raise ValueError(f"reference {printed!r} names {key!r}: no numbered paragraph has that key")
    number = trails[key][-1].number
    if printed != number:
        raise ValueError(f"reference to {key!r} says {printed!r}, but the paragraph is {number!r}")


def bookmark_name(key: str) -> str:
    """A valid bookmark name for a key, at most 40 characters, different for every key.

    >>> bookmark_name("flashing_width")
    '_Ref_flashing_width'
    >>> bookmark_name("coping.metal-thickness")
    '_Ref_coping_metal_thickness_283183fd'
    """
    # Word compares names without regard to case, so only lower-case keys may stand for themselves; and a
    # key that looks like one with a mark gets a mark of its own.
    if _PLAIN.fullmatch(key) and len(_PREFIX + key) <= _NAME_LENGTH and not _MARKED.search(key):
        return _PREFIX + key
    mark = "_" + hashlib.sha256(key.encode()).hexdigest()[:8]
    return (_PREFIX + re.sub(r"[^A-Za-z0-9_]", "_", key))[: _NAME_LENGTH - len(mark)] + mark


def reference_runs(trail: tuple[ReferencePlace, ...]) -> str:
    """The fields that show the full number of the last place of a trail."""
    return run(".").join(field(rf"REF {place.bookmark} \n \h", place.step) for place in trail)


def bookmarked(runs: str, name: str) -> str:
    """Runs between the two ends of a bookmark; its number is made of its name, which is unique in a file."""
    number = int.from_bytes(hashlib.sha256(name.lower().encode()).digest()[:4]) >> 1
    return f'<w:bookmarkStart w:id="{number}" w:name="{name}"/>{runs}<w:bookmarkEnd w:id="{number}"/>'
