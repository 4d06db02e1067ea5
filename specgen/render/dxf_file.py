"""What every DXF file here has in common: tags, handles, and the parts of the format that no drawing changes.

The skeleton beside this module is an empty drawing as ezdxf writes it, with places for what a drawing brings. The tests
read every drawing with ezdxf, which finds nothing to mend and writes the same file again.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from functools import lru_cache
from importlib.resources import files

Tag = tuple[int, str | int | float]
Point = tuple[float, float]

MODEL_SPACE = "17"  # handle of the block record that owns what is drawn, in the skeleton
_FIRST_HANDLE = 0x34  # the skeleton has those below
_LAYER_NAMES = 0x3B  # and this one: the application whose data hold a layer's description
_PLACE = re.compile(r"^@([a-z0-9 ]+)@\n", re.MULTILINE)


def tags(*given: Tag) -> str:
    """Tags as the file holds them: the group code on a line, its value on the next.

    >>> tags((0, "LINE"), (10, 1.5))
    '  0\\nLINE\\n 10\\n1.5\\n'
    """
    return "".join(f"{code:>3}\n{value}\n" for code, value in given)


def place(code: int, at: Point) -> tuple[Tag, Tag, Tag]:
    """A point in the plane of the drawing under a group code."""
    return (code, at[0]), (code + 10, at[1]), (code + 20, 0.0)


class Handles:
    """Hands out the names of objects of one file, in order; hexadecimal numbers, no two alike."""

    def __init__(self) -> None:
        self._next = _FIRST_HANDLE

    def __call__(self) -> str:
        """The next handle."""
        self._next += 1 + (self._next == _LAYER_NAMES)
        return f"{self._next - 1:X}"


class Block:
    """Entities under one owner: the model space, or a block that is drawn where it is inserted."""

    def __init__(self, handles: Handles, owner: str = MODEL_SPACE) -> None:
        self.owner = owner
        self.content: list[str] = []
        self._handles = handles

    def add(self, kind: str, layer: str, *more: Tag, handle: str = "", owner: str = "") -> None:
        """One entity.

        Args:
            kind: name of the entity in the format.
            layer: it lies on.
            more: the tags after those that every entity has.
            handle: where it was taken before; the next one otherwise.
            owner: where it belongs to another entity of this block.
        """
        common = ((5, handle or self._handles()), (330, owner or self.owner), (100, "AcDbEntity"), (8, layer))
        self.content.append(tags((0, kind), *common, *more))

    def line(self, start: Point, end: Point, *more: Tag, layer: str = "0") -> None:
        """A straight line."""
        self.add("LINE", layer, *more, (100, "AcDbLine"), *place(10, start), *place(11, end))

    def circle(self, center: Point, radius: float, *more: Tag, layer: str = "0") -> None:
        """A circle."""
        self.add("CIRCLE", layer, *more, (100, "AcDbCircle"), *place(10, center), (40, radius))

    def polyline(self, points: Iterable[Point], closed: bool, *more: Tag, layer: str = "0") -> None:
        """A line of straight pieces."""
        corners = [tag for x, y in points for tag in ((10, x), (20, y))]
        count = len(corners) // 2
        self.add(
            "LWPOLYLINE", layer, *more, (100, "AcDbPolyline"), (90, count), (70, int(closed)), *corners
        )  # fmt: skip


class DxfFile:
    """One file under way: its handles, its model space, its blocks and the layers and line types it names."""

    def __init__(self) -> None:
        self.handle = Handles()
        self.space = Block(self.handle)
        self._blocks: list[tuple[str, str, str]] = []  # record, beginning and end, each as tags
        self._inside: list[Block] = []

    def block(self, name: str, flags: int = 0) -> Block:
        """A new block; what is added to it is drawn where it is inserted."""
        record, begin, end = self.handle(), self.handle(), self.handle()
        entity = ((330, record), (100, "AcDbEntity"), (8, "0"))
        table = ((100, "AcDbSymbolTableRecord"), (100, "AcDbBlockTableRecord"), (2, name), (340, "0"))
        self._blocks.append(
            (
                tags((0, "BLOCK_RECORD"), (5, record), (330, "9"), *table, (70, 0), (280, 1), (281, 0)),
                tags((0, "BLOCK"), (5, begin), *entity, (100, "AcDbBlockBegin"), (2, name), (70, flags))
                + tags(*place(10, (0.0, 0.0)), (3, name), (1, "")),
                tags((0, "ENDBLK"), (5, end), *entity, (100, "AcDbBlockEnd")),
            )
        )
        self._inside.append(Block(self.handle, record))
        return self._inside[-1]

    def written(self, places: Mapping[str, str]) -> str:
        """The whole file: the skeleton with what was drawn and what the caller puts in its places."""
        inside = ("".join(one.content) for one in self._inside)
        drawn = {
            "number of blocks": f"{2 + len(self._blocks)}\n",
            "block records": "".join(record for record, _, _ in self._blocks),
            "blocks": "".join(a + b + c for (_, a, c), b in zip(self._blocks, inside, strict=True)),
            "entities": "".join(self.space.content),
            **{f"handle {number}": f"{self.handle()}\n" for number in (1, 2, 3)},
            "seed": f"{self.handle()}\n",
            **places,
        }
        return "".join(drawn[part] if odd else part for odd, part in _skeleton())


@lru_cache(maxsize=1)
def _skeleton() -> tuple[tuple[bool, str], ...]:
    """Text and names of places in turn, and whether each is a place."""
    text = files("specgen.render").joinpath("dxf_skeleton.dxf").read_text(encoding="utf-8")
    return tuple((number % 2 == 1, part) for number, part in enumerate(_PLACE.split(text)))
