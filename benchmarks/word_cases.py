"""Word files: sections with references, bookmarks, header and footer against the text alone, and other ways to them.

Run by itself it prints the peak of memory too: ``python benchmarks/word_cases.py``.
"""

from __future__ import annotations

import importlib.util
import io
import tracemalloc
import zipfile
from functools import lru_cache
from xml.sax.saxutils import escape

import docx

from specgen.files.carried import carried
from specgen.model.document import CrossRef, Document, Para, Properties, Span, Style, Volume, numbered, text
from specgen.render.word import volume_bytes, word_bytes

SECTIONS, PARAGRAPHS, PROJECTS, EVERY = 12, 120, 100, 5
_BODY = (
    '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>'
    '<w:document xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main"><w:body>{}</w:body></w:document>'
)


def _words(section: int, index: int) -> str:
    return f"Paragraph {index} of section {section}: lap the upper sheet over the lower & roll the lap."


@lru_cache(maxsize=1)
def documents() -> tuple[Document, ...]:
    """Sections in which one paragraph of five refers to the one five before it."""
    out = []
    for section in range(SECTIONS):
        blocks = [
            Para(Style.SECTION_TITLE, text(f"Section {section}")),
            Para(Style.PART, text("GENERAL")),
            Para(Style.ARTICLE, text("INSTALLATION")),
        ]
        for index in range(PARAGRAPHS):
            style = (Style.PARAGRAPH, Style.SUBPARAGRAPH)[index % 4 > 0]
            blocks.append(Para(style, text(_words(section, index)), f"{section} {index}"))
        numbers = {one.para.key: one.number for one in numbered(tuple(blocks))}
        for index in range(EVERY, PARAGRAPHS, EVERY):
            para = blocks[3 + index]
            key = f"{section} {index - EVERY}"
            content = (*para.content, Span(" See "), CrossRef(key, numbers[key]), Span("."))
            blocks[3 + index] = Para(para.style, content, para.key)
        properties = Properties("Section", "Section", "0000 Project", "2026-01-01", "Draft")
        out.append(Document(properties, "0000", "Draft", "Project", f"07 00 {section:02}", tuple(blocks)))
    return tuple(out)


def ours() -> int:
    """Twelve files by the Word writer."""
    return sum(len(word_bytes(document)) for document in documents())


@lru_cache(maxsize=1)
def _static_parts() -> dict[str, bytes]:
    folder = carried("templates") / "word"
    files = (path for path in sorted(folder.rglob("*")) if path.is_file())
    parts = {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}
    parts.pop("word/document.xml")
    return parts


def text_floor(document: Document) -> int:
    body = "".join(
        '<w:p><w:pPr><w:pStyle w:val="x"/></w:pPr><w:r><w:t xml:space="preserve">'
        f"{escape(para.text)}</w:t></w:r></w:p>"
        for para in document.paragraphs()
    )
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("word/document.xml", _BODY.format(body))
        for name, data in _static_parts().items():
            archive.writestr(name, data)
    return len(buffer.getvalue())


def floor() -> int:
    """The same text as XML strings in a zip with the static parts: no numbers, references, header or checks."""
    return sum(text_floor(document) for document in documents())


def by_python_docx() -> int:
    """The same paragraphs by python-docx's ordinary calls: no numbers, references or bookmarks."""
    total = 0
    for document in documents():
        word = docx.Document()
        word.sections[0].header.paragraphs[0].text = document.header_left
        for para in document.paragraphs():
            word.add_paragraph(para.text, style="List Number")
        buffer = io.BytesIO()
        word.save(buffer)
        total += len(buffer.getvalue())
    return total


def with_pandoc() -> bool:
    """Whether pandoc is here, as the package pypandoc-binary brings it."""
    return importlib.util.find_spec("pypandoc") is not None


def by_pandoc(folder: str) -> None:
    """The same paragraphs as Markdown through pandoc, one process a file."""
    import pypandoc

    for index, document in enumerate(documents()):
        source = "\n\n".join(para.text for para in document.paragraphs())
        pypandoc.convert_text(source, "docx", format="markdown", outputfile=f"{folder}/{index}.docx")


def _volume() -> Volume:
    front = documents()[0]
    cover = Document(front.properties, "", "", "", "", (Para(Style.COVER_TITLE, text("0000 Project")),))
    heads = (Para(Style.TITLE, text("Contents")), Para(Style.NOTE, text("By section.")))
    contents = Document(front.properties, "0000", "Draft", "Project", "Contents", heads)
    return Volume(front.properties, cover, contents, documents()[:4])


def manuals() -> int:
    """A hundred project manuals of four sections."""
    volume = _volume()
    return sum(len(volume_bytes(volume)) for _ in range(PROJECTS))


def manuals_floor() -> int:
    """The text of a hundred manuals, a file a section."""
    return sum(text_floor(document) for _ in range(PROJECTS) for document in documents()[:4])


def peak() -> tuple[float, float]:
    """Peak of memory while one manual is written, and the size of its body unpacked [MB]."""
    volume = _volume()
    with zipfile.ZipFile(io.BytesIO(volume_bytes(volume))) as archive:
        size = len(archive.read("word/document.xml"))
    tracemalloc.start()
    volume_bytes(volume)
    top = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return top / 1e6, size / 1e6


if __name__ == "__main__":
    top, size = peak()
    print(f"one manual of four sections: peak {top:.1f} MB over a body of {size:.2f} MB unpacked")
    print(
        "pandoc: measured by run.py"
        if with_pandoc()
        else "pandoc not measured: pypandoc-binary is not installed"
    )
