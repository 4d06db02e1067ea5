"""A document as tagged PDF (PDF/UA): its HTML on the paper of its Word file, through weasyprint, the extra `pdf`."""

from __future__ import annotations

from base64 import b64encode
from functools import cache
from html import escape
from importlib import import_module

from specgen.model.document import Document, Picture
from specgen.render.document_css import document_css
from specgen.render.document_html import Links, Shown, document_html
from specgen.render.pdf_fonts import FILES, FONTS
from specgen.render.word_template import Template

# Header and footer stand in the margins of the page.
_STYLE = """
body{margin:0}.doc{--inch:1in}.doc-head,.doc-foot{display:none}.doc p,.doc table{margin-top:0}
.doc .label{display:inline-block;white-space:pre}a{color:inherit;text-decoration:none}
h1,h2,h3,h4,h5,h6{break-after:avoid}table{border-collapse:collapse;width:100%;table-layout:fixed}
th{text-align:left;vertical-align:bottom}td,th{padding:2.5pt 4pt;border-bottom:.5pt solid #bfbfbf;overflow-wrap:anywhere}
tr,img{break-inside:avoid}caption{text-align:left;font-size:8pt;color:#404040}
"""


def unready() -> str:
    """Why no document can be written as PDF although the extra is installed; "" where it can.

    The extra draws with libraries that are no Python packages: on Windows they are installed beside it.
    """
    try:
        import_module("weasyprint")
    except OSError as error:
        return (
            f"missing for documents as PDF: Pango and its libraries ({str(error).splitlines()[0]}); install them as "
            "the installation page of weasyprint says, or print the Word files as PDF"
        )
    return ""


def document_pdf(document: Document, template: Template | None = None) -> bytes:
    """A document as PDF with language, title, bookmarks, headings and tables tagged, the same bytes for the same tree.

    Args:
        document: the tree that is also written as a Word file.
        template: that of the Word file; the one of specgen if not given.

    Raises:
        ValueError: as :func:`specgen.render.document_html.document_html`.
        ModuleNotFoundError: weasyprint is not installed; commands ask for the extra first.
    """
    from weasyprint import CSS, HTML
    from weasyprint.text.fonts import FontConfiguration
    from weasyprint.urls import URLFetcher

    about = document.properties
    pictures = [block for block in document.blocks if isinstance(block, Picture)]
    links = Links(picture=lambda number: _address("image/png", pictures[int(number) - 1].png))
    page = (
        f'<!doctype html><html lang="{escape(about.language)}"><head><meta charset="utf-8">'
        f'<title>{escape(about.title)}</title><meta name="author" content="{escape(about.author)}">'
        f'<meta name="generator" content="specgen"></head>'
        f"<body>{document_html(document, Shown(links=links, level=1))}</body></html>"
    )
    inside = URLFetcher(allowed_protocols=["data"])  # nothing is fetched, from a disk or a net
    fonts = FontConfiguration()
    style = CSS(
        string=_faces() + document_css(document, template) + _STYLE, font_config=fonts, url_fetcher=inside
    )
    made = HTML(string=page, url_fetcher=inside)
    written: bytes = made.write_pdf(stylesheets=[style], font_config=fonts, pdf_variant="pdf/ua-1")
    return written


@cache
def _faces() -> str:
    """The typeface that our template names, as the one that every PDF of ours carries: its letters are as wide."""
    return "".join(
        f'@font-face{{font-family:"Arial";font-weight:{"bold" if bold else "normal"};'
        f'src:url("{_address("font/ttf", (FONTS / name).read_bytes())}")}}'
        for bold, name in FILES.items()
    )


def _address(kind: str, data: bytes) -> str:
    """Bytes as an address that holds them."""
    return f"data:{kind};base64,{b64encode(data).decode()}"
