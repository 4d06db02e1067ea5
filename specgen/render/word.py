"""The document tree as a Word file.

The base template (``templates/word``, unzipped so that a change to it can be read) carries every look:
styles, list numbering, page, header and footer. This module adds words to it and no formatting of its own,
so an office restyles its files by editing the template's styles.
"""

from __future__ import annotations

from specgen.model.document import Document
from specgen.render.word_blocks import write_blocks
from specgen.render.word_template import fill_margins, fill_properties, open_template, save, setting_of, turn_page


def word_bytes(document: Document) -> bytes:
    """Write a document as a .docx file.

    Numbers are Word's own multi-level list, linked to the six paragraph styles; a reference to a paragraph
    is a field that follows the number when the file is edited and its fields are updated.

    Parameters:
        document: the tree; list paragraphs may not skip a level.

    Returns:
        bytes of the file: the same document gives the same bytes.

    Raises:
        ValueError: text that XML cannot hold, an empty paragraph, a table whose parts do not fit together,
            a reference to no paragraph or with another number than its paragraph, a bad issue date.
    """
    word = open_template()
    if document.landscape:
        turn_page(word)
    setting = setting_of(word, document)
    body = word.element.body
    page = body.sectPr
    body.remove(page)
    write_blocks(body, document.blocks, setting)
    body.append(page)  # the page's properties close the body
    fill_margins(word, document)
    fill_properties(word, document.properties)
    return save(word)
