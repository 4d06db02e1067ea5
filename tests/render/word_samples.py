"""Documents that the tests of the Word writer share: a section, a report, and one of everything."""

from __future__ import annotations

import base64
from dataclasses import replace

from specgen.model.document import (
    Block,
    CellLink,
    CrossRef,
    Document,
    Para,
    Picture,
    Properties,
    Span,
    Style,
    Table,
    Volume,
    text,
)

PROPERTIES = Properties(
    title="Section 07 27 00 Air Barriers",
    subject="Parapet at the north roof",
    project="2601 Example Clinic",
    issue_date="2026-01-15",
    state="Issued for bid",
)


def line(style: Style, words: str, key: str = "") -> Para:
    """A paragraph of plain words."""
    return Para(style, text(words), key)


def document(*blocks: Block, prefix: str = "07 27 00", landscape: bool = False) -> Document:
    """Blocks with the header and footer of a section."""
    return Document(
        properties=PROPERTIES,
        header_left="2601 Example Clinic, Parapet Repair",
        header_right="January 15, 2026 | Issued for bid",
        footer_left="Air Barriers" if prefix else "Product Review",
        page_prefix=prefix,
        blocks=blocks,
        landscape=landscape,
    )


PROPERTY_TABLE = Table(
    header=("Property", "Limit", "Test method"),
    rows=(
        ("Air leakage of the material", "0.004 cfm/sq ft at 1.57 psf, maximum", "ASTM E2178"),
        ("Water vapor permeance, desiccant method", "10 perm, minimum", "ASTM E96/E96M, Procedure A"),
        ("Thickness, dry", "17 mil, minimum", ""),
    ),
    widths=(0.42, 0.33, 0.25),
    caption="Properties of the air barrier membrane",
)

_GENERAL: tuple[Block, ...] = (
    line(Style.SECTION_NUMBER, "Section 07 27 00"),
    line(Style.SECTION_TITLE, "Air Barriers"),
    line(Style.PART, "General"),
    line(Style.ARTICLE, "Summary"),
    line(Style.PARAGRAPH, "Section includes:"),
    line(Style.SUBPARAGRAPH, "Fluid-applied air barrier membrane on the parapet sheathing."),
    line(
        Style.SUBPARAGRAPH, "Transition membrane from the air barrier to the roof membrane, over the parapet."
    ),
    line(
        Style.PARAGRAPH,
        "Related sections: Section 07 52 16 for the roof membrane; Section 07 71 00 for the coping; "
        "Section 09 24 00 for the cement plaster that covers the air barrier.",
    ),
    line(Style.ARTICLE, "Submittals"),
    line(
        Style.PARAGRAPH, "Product data: for each product, showing compliance with the limits of this section."
    ),
    line(
        Style.PARAGRAPH,
        "Compatibility letter: from the membrane manufacturer, naming each product in contact with the "
        "membrane, with the date and the location of the contact.",
    ),
    line(Style.SUBPARAGRAPH, "State the adhesion found and the test method."),
    line(Style.SUBPARAGRAPH, "State each primer and the surface it is for:"),
    line(Style.ITEM, "Glass-mat gypsum sheathing."),
    line(Style.ITEM, "Galvanized steel:"),
    line(Style.SUBITEM, "Bright finish, wiped with solvent."),
    line(
        Style.SUBITEM,
        "Weathered finish, brushed and wiped with solvent, dry for two hours or more before priming.",
    ),
    line(Style.ITEM, "Preservative-treated lumber."),
    line(Style.SUBPARAGRAPH, "Sign the letter."),
)

_PRODUCTS: tuple[Block, ...] = (
    line(Style.PART, "Products"),
    line(Style.ARTICLE, "Air barrier membrane"),
    line(Style.PARAGRAPH, "Membrane: one-component, fluid-applied, vapor-permeable.", key="membrane"),
    line(Style.SUBPARAGRAPH, "Meet the limits of the table below.", key="membrane.limits"),
    PROPERTY_TABLE,
    line(Style.SUBPARAGRAPH, "Color: one that differs from the sheathing."),
    line(Style.ARTICLE, "Accessories", key="accessories"),
    line(Style.PARAGRAPH, "Transition membrane: self-adhering, 40 mil, minimum.", key="transition"),
    *(
        line(Style.PARAGRAPH, f"Accessory of kind {number}: of the membrane's manufacturer.")
        for number in range(2, 30)
    ),
)

_EXECUTION: tuple[Block, ...] = (
    line(Style.PART, "Execution"),
    line(Style.ARTICLE, "Installation"),
    Para(
        Style.PARAGRAPH,
        (
            Span("Hold point: ", "strong"),
            Span("do not cover the membrane of "),
            CrossRef("membrane.limits", "2.1.A.1"),
            Span(" or the accessories of "),
            CrossRef("accessories", "2.2"),
            Span(" before the field test of this part. "),
            Span("Notify the architect two working days ahead.", "soft"),
        ),
    ),
    *(
        line(
            Style.PARAGRAPH,
            f"Step {number}: lap the upper sheet over the lower sheet 4 in., minimum, and roll the lap "
            "with firm pressure over its whole length while the air is above 40 deg F.",
        )
        for number in range(1, 16)
    ),
    line(Style.SECTION_END, "End of section"),
)

SECTION = document(*_GENERAL, *_PRODUCTS, *_EXECUTION)

VERDICTS = Table(
    header=("Attribute", "Required", "Submitted", "Verdict", "Stated in"),
    rows=(
        (
            "Metal thickness",
            "≥ 0.040 in.",
            "0.032 in.",
            "Fails: 0.008 in. thinner than required",
            "07 71 00, 2.2.A.3",
        ),
        ("Finish", "Fluoropolymer, two coats", "Fluoropolymer, two coats", "Meets", "07 71 00, 2.2.A.4"),
        (
            "Wind design pressure",
            "≥ 62 psf outward",
            "",
            "Not stated: ask for the test report",
            "07 71 00, 2.2.B.1",
        ),
        ("Cleat thickness", "≥ 0.050 in.", "0.063 in.", "Meets", "07 71 00, 2.2.A.5"),
    ),
    widths=(0.18, 0.2, 0.2, 0.24, 0.18),
    caption="Verdicts on the coping submitted",
    tones=("bad", "plain", "doubt", "good"),
)

REPORT = document(
    line(Style.TITLE, "Review of Product Submittal 3"),
    line(Style.SUBTITLE, "Metal coping, parapet P-1"),
    line(Style.HEADING, "Recommendation"),
    line(Style.BODY, "Return the submittal for revision. One attribute fails and one is not stated."),
    line(Style.BULLET, "The metal is thinner than the section asks for at a 6 in. face."),
    line(
        Style.BULLET,
        "No test report supports the wind pressure, so the cover and the cleat cannot be judged; ask "
        "for the report by the number of the test standard and its edition.",
    ),
    line(Style.SUBHEADING, "Attributes"),
    VERDICTS,
    VERDICTS,
    line(Style.NOTE, "Limits are those of the section issued January 15, 2026."),
    Table(
        ("No.", "Item"), tuple((str(n), f"Checklist item {n}") for n in range(1, 46)), (0.1, 0.9), "Checklist"
    ),
    prefix="",
)

WIDE = document(
    line(Style.TITLE, "Submittal Register"),
    VERDICTS,
    line(Style.NOTE, "Rows follow the order of the sections."),
    prefix="",
    landscape=True,
)

# A grey square, eight pixels wide.
PNG = base64.b64decode(
    "iVBORw0KGgoAAAANSUhEUgAAAAgAAAAICAAAAADhZOFXAAAADklEQVR42mNogAIGyhgAgIQgARDoahcAAAAASUVORK5CYII="
)
SVG = b'<svg xmlns="http://www.w3.org/2000/svg" width="8" height="8"><rect width="8" height="8"/></svg>'

DRAWN = document(
    VERDICTS,
    line(Style.HEADING, "Section through the parapet"),
    Picture(PNG, 'Parapet P-1 with coping, "flashing" & roof turn-up', 3.0, 2.0, SVG),
    line(Style.NOTE, "Parapet P-1, not to scale."),
    Picture(PNG, "The same as pixels alone", 1.0, 1.0),
    prefix="",
)


def _part(number: str) -> Document:
    """A short section, and a reference to the other one in a sentence and in a table."""
    other = "07 71 00" if number == "07 27 00" else "07 27 00"
    blocks = (
        line(Style.SECTION_TITLE, f"Section {number} – Sample"),
        line(Style.PART, "General"),
        line(Style.ARTICLE, "Summary"),
        line(Style.PARAGRAPH, "Section includes a sample.", f"{number} includes"),
        line(Style.PART, "Products"),
        line(Style.ARTICLE, "Membrane"),
        line(Style.PARAGRAPH, "Membrane: one that is tested.", f"{number} membrane"),
        Para(
            Style.SUBPARAGRAPH,
            (Span("Meet "), CrossRef(f"{other} membrane", "2.1.A"), Span(f" of Section {other}.")),
        ),
        Table(("No.", "Stated in"), (("1", "2.1.A"),), (0.5, 0.5), "Places", links=(
            CellLink(0, 1, f"{other} membrane"),
        )),
        line(Style.SECTION_END, "End of section"),
    )  # fmt: skip
    return document(*blocks, prefix=number)


VOLUME = Volume(
    properties=PROPERTIES,
    cover=document(line(Style.COVER_TITLE, "2601 Example Clinic"), line(Style.COVER_TEXT, "Issued for bid")),
    contents=document(
        line(Style.TITLE, "Table of Contents"), line(Style.NOTE, "By section."), prefix="Contents"
    ),
    parts=(_part("07 27 00"), _part("07 71 00"), replace(WIDE, page_prefix="Appendix A")),
)

ALL = {"section": SECTION, "report": REPORT, "landscape": WIDE, "drawn": DRAWN}
