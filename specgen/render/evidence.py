"""The page that shows where each value of a product was read: one HTML file, no script, no network."""

from __future__ import annotations

import base64
from collections.abc import Mapping
from typing import Any

from specgen.model.datasheet import Evidence, Reading, ReadValue, Standing
from specgen.model.plain import plain
from specgen.practice.entries import Practice
from specgen.render.page import page_template

TONES = {Standing.READ.value: "good", Standing.CONFIRM.value: "doubt", Standing.NOT_FOUND.value: "ask"}
Pictures = Mapping[tuple[str, int, tuple[float, ...]], bytes]


def evidence_bytes(reading: Reading, pictures: Pictures, practice: Practice) -> bytes:
    """The evidence page of a product.

    Args:
        reading: what was read.
        pictures: PNG of the places in PDF files, by file, page and box.
        practice: for the title of the role.
    """
    text = page_template("evidence/evidence.html").render(
        reading=reading,
        role=practice.vocabulary.roles[reading.role].title,
        counts=[(one.value, sum(value.standing is one for value in reading.values)) for one in Standing],
        tones=TONES,
        values=[_value(value, pictures) for value in reading.values],
        unread=[_shown(one, pictures) for one in reading.unread],
    )
    return text.encode()


def _value(value: ReadValue, pictures: Pictures) -> dict[str, Any]:
    return {**plain(value), "evidence": [_shown(one, pictures) for one in value.evidence]}


def _shown(one: Evidence, pictures: Pictures) -> dict[str, str]:
    picture = pictures.get((one.file, one.number, tuple(one.box))) if one.box else None
    data = f"data:image/png;base64,{base64.b64encode(picture).decode()}" if picture else ""
    return {"place": f"{one.file}, {one.page}", "words": one.words, "picture": data}
