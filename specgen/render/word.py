"""The document tree as a Word file.

The base template (``templates/word``, unzipped so that a change to it can be read) carries every look:
styles, list numbering, page, header and footer. This module adds words, so an office restyles its files by
editing the template's styles.
"""

from __future__ import annotations

from specgen.model.document import Document
from specgen.render import word_template as template
from specgen.render.word_blocks import blocks_xml
from specgen.render.word_references import find_references
from specgen.render.word_xml import parsed


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
    word = template.open_template()
    if document.landscape:
        template.turn_page(word)
    references = find_references(document.blocks)
    width = template.text_width(word)
    # The page's properties close the body; the blocks go before them.
    body, page = word.element.body, word.element.body.sectPr
    body[:] = [*parsed(blocks_xml(document.blocks, template.template_look(), references, width)), page]
    template.fill_margins(word, document)
    template.fill_properties(word, document.properties)
    return template.save(word)
