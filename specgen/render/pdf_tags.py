"""The tags of a PDF of drawings: what a reader who hears it is given, in order, each drawing as one figure."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from html import escape
from typing import TYPE_CHECKING, Any

from specgen.drawing.lettering import printable
from specgen.drawing.shapes import Bubble, Drawing, Item, Point, Text, bounds, moved

if TYPE_CHECKING:
    Canvas = Any  # reportlab has no types

LANGUAGE = "en-US"
_PAGE_ENTRIES = ["StructParents", "Tabs"]
_XMP = """<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/">
<dc:title><rdf:Alt><rdf:li xml:lang="x-default">{title}</rdf:li></rdf:Alt></dc:title>{creator}
<dc:language><rdf:Bag><rdf:li>{language}</rdf:li></rdf:Bag></dc:language>
<pdfuaid:part>1</pdfuaid:part>
</rdf:Description></rdf:RDF></x:xmpmeta>
<?xpacket end="r"?>
"""


@dataclass(eq=False)
class Tag:
    """An element of the structure, and the pieces of its page that belong to it."""

    kind: str  # H1, H2, P, Figure
    words: str = ""  # of a figure, for who cannot see it
    box: tuple[float, ...] = ()  # of a figure, in points of the page
    pieces: list[int] = field(default_factory=list)


@dataclass(eq=False)
class SheetTags:
    """The tags of one sheet in the order they are read, and the tag of each item by its identity."""

    tags: Sequence[Tag]
    of: Mapping[int, Tag]
    owners: list[Tag] = field(default_factory=list)  # of the pieces of the page, by number

    def tag(self, item: Item) -> Tag | None:
        """What an item belongs to; None for what only decorates."""
        return self.of.get(id(item))

    def place(self, item: Item) -> int:
        """Where an item stands in the order of reading; below 0 what only decorates."""
        tag = self.tag(item)
        return -1 if tag is None else self.tags.index(tag)

    @contextmanager
    def around(self, canvas: Canvas, tag: Tag | None) -> Iterator[None]:
        """What is drawn meanwhile belongs to a tag, or only decorates."""
        if tag is None:
            canvas.addLiteral("/Artifact BMC")
        else:
            canvas.addLiteral(f"/{tag.kind} <</MCID {len(self.owners)}>> BDC")
            tag.pieces.append(len(self.owners))
            self.owners.append(tag)
        yield
        canvas.addLiteral("EMC")


def sheet_tags(drawing: Drawing, unit: float) -> SheetTags:
    """What the items of a sheet are to a reader: the title strip with its heading, the drawing as one figure, the notes.

    Args:
        drawing: the sheet.
        unit: points of the page in a millimeter of the sheet.
    """
    items = list(drawing.shown())
    strip = [one for one in items if one.layer == "sheet" and isinstance(one, Text)]
    head = next((one for one in strip if one.bold), None)
    of = {id(text): Tag("H1" if text is head else "P") for text in strip}
    of_strip = list(of.values())
    notes: list[Tag] = []
    before: Item | None = None
    for item in (one for one in items if _is_note(one)):
        goes_on = isinstance(item, Text) and (item.goes_on or isinstance(before, Bubble))
        if not (goes_on and notes):
            heads = head is not None and isinstance(item, Text) and item.bold
            notes.append(Tag("H2" if heads else "P"))
        of[id(item)] = notes[-1]
        before = item
    drawn = [one for one in items if one.layer != "sheet" and id(one) not in of]
    figure = []
    if drawn:
        box = tuple(unit * edge for edge in bounds(_points(drawn)))
        figure = [Tag("Figure", printable(drawing.description), box)]
        of |= {id(one): figure[0] for one in drawn}
    return SheetTags((*of_strip, *figure, *notes), of)  # as they are drawn


def _is_note(item: Item) -> bool:
    """Whether an item is of the notes: lettering, or a key that leads nowhere."""
    return item.layer == "note" and (
        isinstance(item, Text) or (isinstance(item, Bubble) and item.anchor == item.at)
    )


def _points(items: Iterable[Item]) -> list[Point]:
    found: list[Point] = []

    def seen(point: Point) -> Point:
        found.append(point)
        return point

    for item in items:
        moved(item, seen)
    return found


def describe(canvas: Canvas, title: str, author: str) -> None:
    """What a file says of itself: title, office, language, that it is tagged, and by which rules."""
    from reportlab.pdfbase.pdfdoc import PDFDictionary, PDFName, PDFStream

    canvas.setTitle(title)
    canvas.setCreator("specgen")
    canvas.setAuthor(author)
    canvas.setSubject("")  # the library would write words of its own
    canvas.setViewerPreference("DisplayDocTitle", "true")
    canvas.showOutline()
    catalog = canvas._doc.Catalog
    catalog.MarkInfo = PDFDictionary({"Marked": "true"})
    creator = (
        f"\n<dc:creator><rdf:Seq><rdf:li>{escape(author)}</rdf:li></rdf:Seq></dc:creator>" if author else ""
    )
    words = _XMP.format(title=escape(title), creator=creator, language=LANGUAGE).encode()
    kind = PDFDictionary({"Type": PDFName("Metadata"), "Subtype": PDFName("XML")})
    catalog.Metadata = PDFStream(kind, words, filters=[])


def put_tags(canvas: Canvas, pages: Sequence[tuple[str, SheetTags]]) -> None:
    """Put the structure of all sheets into a file whose pages are drawn: a section of the document for each.

    Args:
        canvas: with every page shown.
        pages: title and tags of each.
    """
    from reportlab.pdfbase import pdfdoc

    file, name = canvas._doc, pdfdoc.PDFName
    root = pdfdoc.PDFDictionary({"Type": name("StructTreeRoot")})
    top = _element(canvas, "Document", root)
    sections, parents = [], []
    for number, (title, sheet) in enumerate(pages):
        page = file.idToObject[f"Page{number + 1}"]
        # The library leaves out of a page what it does not know: these two it is told of.
        page.__NoDefault__ = [*page.__NoDefault__, *_PAGE_ENTRIES]
        page.StructParents, page.Tabs = number, name("S")
        section = _element(canvas, "Sect", top)
        section["T"] = pdfdoc.PDFString(title)
        made = {}
        for tag in sheet.tags:
            made[id(tag)] = one = _element(canvas, tag.kind, section)
            one["Pg"] = pdfdoc.PDFObjectReference(f"Page{number + 1}")
            one["K"] = pdfdoc.PDFArray(tag.pieces)
            if tag.kind == "Figure":
                one["Alt"] = pdfdoc.PDFString(tag.words)
                box = pdfdoc.PDFArray([round(edge, 3) for edge in tag.box])
                look = {"O": name("Layout"), "Placement": name("Block"), "BBox": box}
                one["A"] = pdfdoc.PDFDictionary(look)
        section["K"] = pdfdoc.PDFArray([file.Reference(one) for one in made.values()])
        sections.append(file.Reference(section))
        parents += [number, pdfdoc.PDFArray([file.Reference(made[id(tag)]) for tag in sheet.owners])]
    top["K"] = pdfdoc.PDFArray(sections)
    root["K"] = pdfdoc.PDFArray([file.Reference(top)])
    root["ParentTree"] = file.Reference(pdfdoc.PDFDictionary({"Nums": pdfdoc.PDFArray(parents)}))
    root["ParentTreeNextKey"] = len(pages)
    file.Catalog.StructTreeRoot = root


def _element(canvas: Canvas, kind: str, above: Any) -> Any:
    """An element of the structure below another."""
    from reportlab.pdfbase.pdfdoc import PDFDictionary, PDFName

    one = PDFDictionary({"Type": PDFName("StructElem"), "S": PDFName(kind)})
    canvas._doc.Reference(one)
    one["P"] = canvas._doc.Reference(above)
    return one
