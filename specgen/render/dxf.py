"""Drawings as DXF at full size: layers, blocks, hatches, dimensions."""

from __future__ import annotations

from math import cos, fsum, hypot, radians, sin

from specgen.drawing.hatches import strokes
from specgen.drawing.lettering import printable, text_box
from specgen.drawing.shapes import (
    DASHES,
    PENS,
    Area,
    Bubble,
    Dimension,
    Drawing,
    Hatch,
    Item,
    Shade,
    Stroke,
    Text,
    arrow_head,
    dimension_parts,
)
from specgen.render.dxf_file import DxfFile, Point, Tag, place, tags

STYLE, BOLD, DIMENSIONS = "SHEET", "SHEET-BOLD", "SHEET"
CAPITAL = 0.688  # height of a capital over the size of the lettering, in the typeface that the skeleton names
# Hatches whose lines repeat: angle, distance, start, strokes [mm of the sheet]. The others are drawn stroke by stroke.
_PATTERNS: dict[Hatch, tuple[tuple[float, float, float, tuple[float, ...]], ...]] = {
    "masonry": ((45.0, 4.0, 0.0, ()), (45.0, 4.0, 0.8, ())),
    "stone": ((60.0, 2.6, 0.0, ()),),
    "rigid insulation": ((45.0, 2.4, 0.0, ()), (-45.0, 2.4, 0.0, ())),
    "gypsum": ((60.0, 0.82, 0.0, (0.14, -0.81)),),
    "plaster": ((17.0, 0.55, 0.0, (0.12, -0.51)), (77.0, 0.81, 0.2, (0.12, -0.75))),
}


# Sizes of a dimension on the sheet [mm], by their place in the skeleton.
_SIZES = {
    "height": 2.2 * CAPITAL,
    "tick": 0.7,
    "gap at the wall": 0.8,
    "past the line": 1.2,
    "gap at the words": 0.7,
    "arrow": 1.7,
}
PLACED = 128  # of the kind of a dimension: its words stay where they are put
_ANCHORS = {"start": (), "middle": ((72, 1),), "end": ((72, 2),)}
_WIPEOUTS = (
    (0, "CLASS"), (1, "WIPEOUT"), (2, "AcDbWipeout"), (3, "WipeOut"), (90, 127), (91, 0), (280, 0), (281, 1)
)  # fmt: skip


def dxf_bytes(drawing: Drawing) -> bytes:
    """A drawing as a DXF file, one unit an inch or a millimeter of the wall; the same bytes for the same drawing.

    Dimensions carry the true size as written, since a break or an enlarged membrane may stand between their ends.
    """
    pen = _Pen(drawing)
    for layer in drawing.layers:
        for item in drawing.items:
            if item.layer == layer.name:
                pen.draw(item)
    return pen.written().encode("utf-8")


class _Pen:
    """Draws items of a sheet into the model space of a file, at full size."""

    def __init__(self, drawing: Drawing) -> None:
        self.unit = drawing.factor / (25.4 if drawing.inches else 1.0)
        self.file = DxfFile()
        self.space = self.file.space
        self.sizes = {name: size * self.unit for name, size in _SIZES.items()}
        self.dimensions = 0
        self.wipeouts = False
        dashes = {name: dash for name, dash in DASHES.items() if dash}
        self.places = {
            "units": f"{1 if drawing.inches else 4}\n",
            "metric": f"{0 if drawing.inches else 1}\n",
            "number of linetypes": f"{3 + len(dashes)}\n",
            "linetypes": "".join(self._dashes(name, dash) for name, dash in dashes.items()),
            "number of layers": f"{2 + len(drawing.layers)}\n",
            "layers": "".join(self._layer(one.name, one.title, one.on) for one in drawing.layers),
            "dimension style": f"{self.file.handle()}\n",
            **{name: f"{size}\n" for name, size in self.sizes.items()},
        }
        for shape in ("circle", "diamond"):
            self._key_block(shape)

    def written(self) -> str:
        """The whole file."""
        return self.file.written({**self.places, "classes": tags(*_WIPEOUTS) if self.wipeouts else ""})

    def _dashes(self, name: str, dash: tuple[float, ...]) -> str:
        marks = [length * self.unit * (1 if n % 2 == 0 else -1) for n, length in enumerate(dash)]
        pattern: list[Tag] = [tag for mark in marks for tag in ((49, mark), (74, 0))]
        return tags(
            *_record("LTYPE", self.file.handle(), "2", "AcDbLinetypeTableRecord", _linetype(name)),
            (3, ""), (72, 65), (73, len(marks)), (40, fsum(abs(mark) for mark in marks)), *pattern
        )  # fmt: skip

    def _layer(self, name: str, title: str, on: bool) -> str:
        return tags(
            *_record("LAYER", self.file.handle(), "1", "AcDbLayerTableRecord", _name(name)),
            (62, 7 if on else -7), (6, "Continuous"), (370, -3), (390, 13), (347, 21),
            (1001, "AcAecLayerStandard"), (1000, ""), (1000, title)
        )  # fmt: skip

    def _key_block(self, shape: str) -> None:
        block = self.file.block(_block(shape), flags=2)
        if shape == "circle":
            block.circle((0.0, 0.0), 1.0)
        else:
            block.polyline([(-1.0, 0.0), (0.0, 1.0), (1.0, 0.0), (0.0, -1.0)], True)
        block.add(
            "ATTDEF", "0", (100, "AcDbText"), *place(10, (0.0, 0.0)), (40, 0.72), (1, ""), (7, STYLE),
            (100, "AcDbAttributeDefinition"), (3, ""), (2, "KEY"), (70, 0)
        )  # fmt: skip

    def draw(self, item: Item) -> None:
        match item:
            case Stroke():
                self._line(item)
            case Area():
                self._area(item)
            case Text():
                self._text(item)
            case Bubble():
                self._bubble(item)
            case Dimension():
                self._dimension(item)
            case Shade():  # ink has no shares in a drawing file: the edges stand for them
                for outline in item.outlines:
                    points = [self._at(point) for point in outline]
                    self.space.polyline(points, True, _weight(0.09), layer=_name(item.layer))

    def _at(self, point: tuple[float, float]) -> Point:
        return round(point[0] * self.unit, 6), round(point[1] * self.unit, 6)

    def _line(self, line: Stroke) -> None:
        dash = _linetype(line.dash) if DASHES[line.dash] else "Continuous"
        layer, points = _name(line.layer), [self._at(p) for p in line.points]
        self.space.polyline(points, line.closed, (6, dash), _weight(PENS[line.pen]), layer=layer)
        if line.arrow:
            a, b, c = (self._at(p) for p in arrow_head(line))
            corners = (*place(10, a), *place(11, b), *place(12, c), *place(13, c))
            self.space.add("SOLID", layer, (100, "AcDbTrace"), *corners)

    def _area(self, area: Area) -> None:
        layer = _name(area.layer)
        outline = [self._at(p) for p in area.outline]
        thin = _weight(0.09)
        if area.hatch == "blank":
            self._wipeout(outline)
        elif area.hatch == "solid" or area.hatch in _PATTERNS:
            self._hatch(outline, area.hatch, layer, thin)
        else:
            drawn = strokes(area.outline, area.hatch)
            for run in drawn.runs:
                self.space.polyline([self._at(p) for p in run], False, thin, layer=layer)
            for dot in drawn.dots:
                self.space.circle(self._at(dot), 0.1 * self.unit, thin, layer=layer)
        if area.pen is not None:
            self.space.polyline(outline, True, _weight(PENS[area.pen]), layer=layer)

    def _hatch(self, outline: list[Point], hatch: Hatch, layer: str, thin: Tag) -> None:
        solid = hatch == "solid"
        corners = [tag for x, y in outline for tag in ((10, x), (20, y))]
        filled: list[Tag] = []
        if not solid:
            rows = self._pattern(hatch)
            filled = [(52, 0.0), (41, 1.0), (77, 0), (78, len(rows)), *(tag for row in rows for tag in row)]
        self.space.add(
            "HATCH", layer, thin, (100, "AcDbHatch"), *place(10, (0.0, 0.0)), (210, 0.0), (220, 0.0), (230, 1.0),
            (2, "SOLID" if solid else hatch.upper().replace(" ", "-")), (70, int(solid)), (71, 0), (91, 1),
            (92, 3), (72, 0), (73, 1), (93, len(outline)), *corners, (97, 0), (75, int(not solid)), (76, 1),
            *filled, (98, 0)
        )  # fmt: skip

    def _pattern(self, hatch: Hatch) -> list[tuple[Tag, ...]]:
        found: list[tuple[Tag, ...]] = []
        for angle, distance, start, dashes in _PATTERNS[hatch]:
            across = -sin(radians(angle)), cos(radians(angle))
            shift = 0.5 * fsum(map(abs, dashes))  # dots of one row stand between those of the next
            found.append(
                (
                    (53, angle),
                    (43, across[0] * start * self.unit),
                    (44, across[1] * start * self.unit),
                    (45, (across[0] * distance + cos(radians(angle)) * shift) * self.unit),
                    (46, (across[1] * distance + sin(radians(angle)) * shift) * self.unit),
                    (79, len(dashes)),
                    *((49, dash * self.unit) for dash in dashes),
                )
            )
        return found

    def _wipeout(self, outline: list[Point]) -> None:
        self.wipeouts = True
        left, low = min(x for x, _ in outline), min(y for _, y in outline)
        wide, high = max(x for x, _ in outline) - left, max(y for _, y in outline) - low
        edge = [((x - left) / wide - 0.5, 0.5 - (y - low) / high) for x, y in (*outline, outline[0])]
        corners = [tag for x, y in edge for tag in ((14, x), (24, y))]
        axes = (*place(11, (wide, 0.0)), *place(12, (0.0, high)), (13, 1.0), (23, 1.0))
        shown = ((340, "0"), (70, 7), (280, 1), (281, 50), (282, 50), (283, 0), (360, "0"), (71, 2))
        self.space.add(
            "WIPEOUT", "0", (100, "AcDbWipeout"), (90, 0), *place(10, (left, low)), *axes, *shown,
            (91, len(edge)), *corners, (290, 0)
        )  # fmt: skip

    def _text(self, text: Text) -> None:
        at = self._at(text.at)
        self.space.add(
            "TEXT", _name(text.layer), (100, "AcDbText"), *place(10, at),
            (40, text.height * CAPITAL * self.unit), (1, _words(text.words)),
            *(((50, 90.0),) if text.upward else ()), (7, BOLD if text.bold else STYLE),
            *_ANCHORS[text.anchor], *place(11, at), (100, "AcDbText")
        )  # fmt: skip

    def _bubble(self, bubble: Bubble) -> None:
        layer = _name(bubble.layer)
        at, size = self._at(bubble.at), bubble.radius * self.unit
        if bubble.anchor != bubble.at:
            (x, y), (ax, ay) = bubble.at, bubble.anchor
            long = hypot(ax - x, ay - y) or 1.0
            edge = x + (ax - x) * bubble.radius / long, y + (ay - y) * bubble.radius / long
            self.space.line(self._at(edge), self._at(bubble.anchor), _weight(0.13), layer=layer)
            self.space.circle(self._at(bubble.anchor), 0.4 * self.unit, layer=layer)
        insert, end = self.file.handle(), self.file.handle()
        self.space.add(
            "INSERT", layer, (100, "AcDbBlockReference"), (66, 1), (2, _block(bubble.shape)), *place(10, at),
            (41, size), (42, size), (43, size), handle=insert
        )  # fmt: skip
        self.space.add(
            "ATTRIB", layer, (100, "AcDbText"), *place(10, at), (40, 0.72 * size), (1, bubble.key), (7, STYLE),
            (72, 1), *place(11, at), (100, "AcDbAttribute"), (2, "KEY"), (70, 0), (74, 2)
        )  # fmt: skip
        self.space.content.append(
            tags((0, "SEQEND"), (5, end), (330, insert), (100, "AcDbEntity"), (8, layer))
        )

    def _dimension(self, dim: Dimension) -> None:
        """A dimension with what it looks like in a block of its own, as the format wants it."""
        layer, at = _name(dim.layer), dim.line_at * self.unit
        handle = self.file.handle()
        self.dimensions += 1
        name = f"*D{self.dimensions}"
        block = self.file.block(name, flags=1)
        measured = self._at(dim.first), self._at(dim.second)
        first, second = ((x, at) if dim.along == "x" else (at, y) for x, y in measured)
        for start, end in zip(measured, (first, second), strict=True):
            block.line(*self._extension(start, end, dim.along == "y"))
        if self.dimensions == 1:
            slash = self.file.block("_OBLIQUE")
            slash.line((-0.5, -0.5), (0.5, 0.5), (6, "BYBLOCK"), (62, 0))
        turned = ((50, 90.0),) if dim.along == "y" else ()
        tick = 2.0 * self.sizes["tick"]
        for end in (first, second):
            block.add(
                "INSERT", layer, (100, "AcDbBlockReference"), (2, "_OBLIQUE"), *place(10, end), (41, tick),
                (42, tick), *turned
            )  # fmt: skip
            self.file.handle()  # of the end of a list of attributes that a tick has none of
        block.line(first, second)
        words = _words(dim.words).replace("\\", "/").replace("{", "(").replace("}", ")")
        middle = self._middle(dim)
        block.add(
            "MTEXT", layer, (100, "AcDbMText"), *place(10, middle), (40, self.sizes["height"]), (71, 5),
            (1, words), (7, STYLE), *turned
        )  # fmt: skip
        for point in (first, *measured):
            block.add("POINT", "Defpoints", (100, "AcDbPoint"), *place(10, point))
        self.space.add(
            "DIMENSION", layer, (100, "AcDbDimension"), (280, 0), (2, name), (3, DIMENSIONS), *place(10, first),
            *place(11, middle), (70, 32 + PLACED), (71, 5), (1, words), (100, "AcDbAlignedDimension"),
            *place(13, measured[0]), *place(14, measured[1]), (50, 90.0 if turned else 0.0),
            (100, "AcDbRotatedDimension"), handle=handle
        )  # fmt: skip

    def _extension(self, start: Point, end: Point, upright: bool) -> tuple[Point, Point]:
        """The line from the wall to a dimension line, clear of the one and past the other."""
        dx, dy = _direction(start, end, (-1.0, 0.0) if upright else (0.0, 1.0))
        gap, past = self.sizes["gap at the wall"], self.sizes["past the line"]
        return (start[0] + dx * gap, start[1] + dy * gap), (end[0] + dx * past, end[1] + dy * past)

    def _middle(self, dim: Dimension) -> Point:
        """Where the middle of the words of a dimension stands: as on the other sheets, its capitals off its line."""
        words = dimension_parts(dim)[1]
        left, low, right, high = text_box(words)
        off = CAPITAL * dim.height / 2.0
        if words.upward:
            return self._at((words.at[0] - off, (low + high) / 2.0))
        return self._at(((left + right) / 2.0, words.at[1] + off))


def _direction(start: Point, end: Point, otherwise: Point) -> Point:
    """The way from one point to another, level or upright, as a step of length one."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    long = abs(dx) + abs(dy)
    return (dx / long, dy / long) if long else otherwise


def _record(kind: str, handle: str, table: str, what: str, name: str) -> tuple[Tag, ...]:
    """The tags with which an entry of a table starts."""
    return (
        (0, kind),
        (5, handle),
        (330, table),
        (100, "AcDbSymbolTableRecord"),
        (100, what),
        (2, name),
        (70, 0),
    )


def _weight(pen: float) -> Tag:
    """The weight of a line from its width [mm]."""
    return 370, round(pen * 100)


def _name(layer: str) -> str:
    return layer.upper()


def _linetype(dash: str) -> str:
    return "SHEET-" + dash.upper().replace(" ", "-")


def _block(shape: str) -> str:
    return f"KEY-{shape.upper()}"


def _words(words: str) -> str:
    """Words without the codes by which a DXF text changes its look."""
    return printable(words).replace("%%", "% %").replace("^", " ")
