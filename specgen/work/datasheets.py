"""The papers of one product, read into what is written of them: a submittal file, and the page of its evidence."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from specgen.intake.datasheet.read import pictures, read_product
from specgen.intake.datasheet.write import NOT_NUMBERED, product_yaml
from specgen.model.datasheet import DataSheet, Reading
from specgen.practice.entries import Practice
from specgen.render.evidence import evidence_bytes


@dataclass(frozen=True)
class ProductRead:
    """A reading with its two files."""

    reading: Reading
    submittal: bytes
    evidence: bytes


def product_read(
    sheets: Sequence[DataSheet],
    pdfs: Mapping[str, bytes],
    role: str | None,
    practice: Practice,
    product: str = "",
    number: str = NOT_NUMBERED,
) -> ProductRead:
    """What the papers say of one product, and its files.

    Args:
        sheets: its papers.
        pdfs: the bytes of those that are PDF files, by name, for the pictures.
        role: of the vocabulary; None to take the one that the papers name.
        practice: the vocabulary.
        product: its name where a person gives it; "" to take it from the papers.
        number: of the submittal, to be corrected.

    Raises:
        InputError: as `read_product`.
    """
    reading, shots = pictures(read_product(sheets, role, practice, product), pdfs)
    text = product_yaml(reading, practice.vocabulary.roles[reading.role], number)
    return ProductRead(reading, text.encode(), evidence_bytes(reading, shots, practice))
