"""Documents for people on the job: names of the project file become the trade's words."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace

from specgen.model.document import Block, CrossRef, Document, Inline, Para, Table, Volume
from specgen.practice.entries import Vocabulary

_NAMED = re.compile(r"`([^`]*)`")  # how messages of rules mark a name of the project file


def in_plain_words(document: Document, vocabulary: Vocabulary, own: tuple[str, ...] = ()) -> Document:
    """A document without the names by which a project file calls its fields.

    A rule's message says "state `nail_sealability`": a designer finds that word in the file. A contractor reads the
    field's title instead, and a name that is no field without its marks.

    Args:
        document: what is to be printed.
        vocabulary: holds the titles of the fields.
        own: texts of people that stay as they are written.

    Returns:
        The document; the same one where it names none.
    """
    plain = _plain(vocabulary, own)
    blocks = tuple(_block(block, plain) for block in document.blocks)
    return document if blocks == document.blocks else replace(document, blocks=blocks)


def volume_in_plain_words(volume: Volume, vocabulary: Vocabulary, own: tuple[str, ...]) -> Volume:
    """A volume, each of its parts in plain words."""
    return replace(volume, parts=tuple(in_plain_words(part, vocabulary, own) for part in volume.parts))


def _plain(vocabulary: Vocabulary, own: tuple[str, ...]) -> Callable[[str], str]:
    """Words without marked names; a field that has several titles, or is called like a part, is called by its name."""
    titles: dict[str, set[str]] = {}
    holders = [one.fields for one in vocabulary.roles.values()]
    holders += [one.fields for one in vocabulary.records.values()]
    for fields in holders:
        for field in fields.values():
            titles.setdefault(field.name, set()).add(field.title)

    def named(found: re.Match[str]) -> str:
        name = found.group(1)
        known = titles.get(name, set()) if name not in vocabulary.roles else set()
        return next(iter(known)) if len(known) == 1 else name.replace("_", " ")

    return lambda words: vocabulary.on_paper(_NAMED.sub(named, words) if "`" in words else words, own)


def _block(block: Block, plain: Callable[[str], str]) -> Block:
    match block:
        case Para():
            content = tuple(_inline(part, plain) for part in block.content)
            return block if content == block.content else replace(block, content=content)
        case Table():
            rows = tuple(tuple(plain(cell) for cell in row) for row in block.rows)
            return block if rows == block.rows else replace(block, rows=rows)
        case _:
            return block


def _inline(part: Inline, plain: Callable[[str], str]) -> Inline:
    return part if isinstance(part, CrossRef) else replace(part, text=plain(part.text))
