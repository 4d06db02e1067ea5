"""The page of a folder of paper: what went to which product, what is missing, what was set aside. One HTML file."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from specgen.model.plain import plain
from specgen.render.page import page_template


def papers_page(folder: str, products: Sequence[Any], aside: Sequence[Any]) -> bytes:
    """The page.

    Args:
        folder: its name.
        products: records with role, product, file, papers, read, to_confirm, and missing.
        aside: records with file, kind, and why.
    """
    text = page_template("evidence/papers.html").render(
        folder=folder,
        products=[{**plain(one), "file": one.file.name} for one in products],
        aside=[plain(one) for one in aside],
    )
    return text.encode()
