"""Documents for people on the job: names of the project file become the trade's words."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from specgen.model.document import Block, CrossRef, Document, Inline, Para, Table, Volume


def in_plain_words(document: Document, plain: Callable[[str], str]) -> Document:
    """A document as people read it who have never seen the project file.

    A rule's message says "state `nail_sealability`": a designer finds that word in the file. A contractor reads the
    field's title instead, and a name that is no field without its marks.

    Args:
        document: what is to be printed.
        plain: how words are printed, as :func:`specgen.wall.paper_words.paper_words` reads them.

    Returns:
        The document; the same one where nothing is to be reworded.
    """
    blocks = tuple(_block(block, plain) for block in document.blocks)
    return document if blocks == document.blocks else replace(document, blocks=blocks)


def volume_in_plain_words(volume: Volume, plain: Callable[[str], str]) -> Volume:
    """A volume, each of its parts in plain words."""
    return replace(volume, parts=tuple(in_plain_words(part, plain) for part in volume.parts))


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
