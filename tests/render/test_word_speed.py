"""The price of the writer against the cheapest way to the same words: XML strings put into a zip file."""

from __future__ import annotations

import io
import time
import zipfile
from collections.abc import Callable
from html import escape
from pathlib import Path

import pytest

from specgen.files.carried import carried
from specgen.model.document import Document, Style
from specgen.render.word import word_bytes
from tests.render import word_samples as samples

LIMIT = 5.0  # times
STYLES = [
    Style.PART,
    Style.ARTICLE,
    *[Style.PARAGRAPH, Style.SUBPARAGRAPH, Style.SUBPARAGRAPH, Style.ITEM] * 8,
]
OPEN = (
    '<w:document xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main" '
    'xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><w:body>'
)


def section(number: int) -> Document:
    """120 numbered paragraphs."""
    return samples.document(
        *(
            samples.line(
                STYLES[index % len(STYLES)],
                f"Paragraph {index} of section {number}: lap the upper sheet over the lower sheet 4 in., minimum.",
                key=f"section_{number}.paragraph_{index}",
            )
            for index in range(120)
        )
    )


def plain(document: Document, parts: dict[str, bytes]) -> bytes:
    """The same words and styles, with no check, no header, no properties."""
    paragraphs = [
        f'<w:p><w:pPr><w:pStyle w:val="{para.style.name}"/></w:pPr><w:r><w:t>{escape(para.text)}</w:t></w:r></w:p>'
        for para in document.paragraphs()
    ]
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in {
            **parts,
            "word/document.xml": "".join([OPEN, *paragraphs, "</w:body></w:document>"]),
        }.items():
            archive.writestr(name, content)
    return packed.getvalue()


def template(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()
    }


def cheapest(act: Callable[[], object]) -> float:
    times = []
    for _ in range(15):
        start = time.perf_counter()
        act()
        times.append(time.perf_counter() - start)
    return min(times)


@pytest.mark.long
def test_twelve_sections_cost_at_most_five_times_plain_strings() -> None:
    sections = [section(number) for number in range(12)]
    parts = template(carried("templates") / "word")
    word_bytes(sections[0])
    ours = cheapest(lambda: [word_bytes(tree) for tree in sections])
    theirs = cheapest(lambda: [plain(tree, parts) for tree in sections])
    print(f"writer {ours * 1e3:.1f} ms, plain strings {theirs * 1e3:.1f} ms, {ours / theirs:.2f} times")
    assert ours / theirs <= LIMIT
