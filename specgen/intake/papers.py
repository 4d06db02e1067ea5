"""The papers that a product's values were read from, as a submittal file lists them, and what speaks against them."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any

from specgen.files.marks import Mark
from specgen.files.yaml_reader import MarkedList, MarkedMap
from specgen.intake.records import RecordReader
from specgen.model.project import Record, Value
from specgen.model.submission import Paper
from specgen.practice.product_names import same_product
from specgen.practice.shapes import shape

MOST_PAPERS = shape("product")["papers"].most


def read_papers(reader: RecordReader, node: MarkedMap) -> tuple[Paper, ...]:
    """The papers below ``papers:`` of a product; problems are collected by the reader."""
    found = []
    for item, mark in _items(reader, node, "papers", "`- file: …`"):
        notices: tuple[Record, ...] = ()
        if isinstance(item, MarkedMap):
            like = "`- notice: …` and below it `answer: …`"
            notices = tuple(
                reader.record(one, at, "notice") for one, at in _items(reader, item, "notices", like)
            )
        found.append(Paper(reader.record(item, mark, "paper", structural=tuple(shape("paper"))), notices))
    return tuple(found)


def _items(reader: RecordReader, node: MarkedMap, key: str, like: str) -> list[tuple[Any, Mark]]:
    """The items of a list, each with its mark; blank or absent: none."""
    given = node.get(key)
    if given is None:
        return []
    if not isinstance(given, MarkedList) or len(given) > MOST_PAPERS:
        what = f"`{key}` is no list of at most {MOST_PAPERS}"
        reader.problem(node.values_at[key], what, f"write lines that start with {like}")
        return []
    return list(zip(given, given.items_at, strict=True))


def against(papers: tuple[Paper, ...], name: str, received: Value | None) -> str:
    """Why nothing on the papers of a product counts until a person has answered; "" where nothing speaks against it.

    Args:
        papers: of the product.
        name: of the product, as submitted.
        received: day of the submittal; a paper that is dated after it cannot be.
    """
    return "; ".join(dict.fromkeys(_points(papers, name, received)))


def _points(papers: tuple[Paper, ...], name: str, received: Value | None) -> Iterator[str]:
    for paper in papers:
        file = paper.stated.word("file")
        for notice in paper.standing:
            yield f"{file} is marked “{notice.word('notice')}”"
        named, day = paper.stated.word("product"), paper.stated.values.get("date")
        if named and not same_product(named, name):
            yield f"{file} is of “{named}”, and the submittal names “{name}”"
        if isinstance(received, date) and isinstance(day, date) and day > received:
            yield f"{file} is dated {day}, and the submittal was received on {received}"
