"""Drawings as DXF at full size, through ezdxf, which is an optional extra: layers, blocks, hatches, dimensions."""

from __future__ import annotations

import io
from collections.abc import Iterator
from contextlib import contextmanager
from math import cos, radians, sin
from typing import TYPE_CHECKING

from specgen.drawing.hatches import strokes
from specgen.drawing.lettering import printable
from specgen.drawing.shapes import (
    DASHES,
    PENS,
    Area,
    Bubble,
    Dimension,
    Drawing,
    Hatch,
    Item,
    Stroke,
    Text,
    arrow_head,
)

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document
    from ezdxf.layouts.layout import Modelspace

STYLE, BOLD, DIMENSIONS = "SHEET", "SHEET-BOLD", "SHEET"
CAPITAL = 0.688  # height of a capital over the size of the lettering, in the typeface named below
# Hatches whose lines repeat: angle, distance, start, strokes [mm of the sheet]. The others are drawn stroke by stroke.
_PATTERNS: dict[Hatch, tuple[tuple[float, float, float, tuple[float, ...]], ...]] = {
    "masonry": ((45.0, 4.0, 0.0, ()), (45.0, 4.0, 0.8, ())),
    "stone": ((60.0, 2.6, 0.0, ()),),
    "rigid insulation": ((45.0, 2.4, 0.0, ()), (-45.0, 2.4, 0.0, ())),
    "gypsum": ((60.0, 0.82, 0.0, (0.14, -0.81)),),
    "plaster": ((17.0, 0.55, 0.0, (0.12, -0.51)), (77.0, 0.81, 0.2, (0.12, -0.75))),
}


def dxf_bytes(drawing: Drawing) -> bytes:
    """A drawing as a DXF file, one unit an inch or a millimeter of the wall; the same bytes for the same drawing.

    Dimensions carry the true size as written, since a break or an enlarged membrane may stand between their ends.

    Raises:
        ModuleNotFoundError: ezdxf is not installed.
    """
    from ezdxf import units
    from ezdxf.filemanagement import new

    with _fixed_data():
        doc = new("R2010", setup=False)
        doc.units = units.IN if drawing.inches else units.MM
        doc.header["$MEASUREMENT"] = 0 if drawing.inches else 1
        doc.set_wipeout_variables(frame=0)  # type: ignore[no-untyped-call]
        pen = _Pen(doc, drawing)
        for layer in drawing.layers:
            for item in drawing.items:
                if item.layer == layer.name:
                    pen.draw(item)
        # The library would add the classes in the order of a set.
        for name in sorted(doc.entitydb.dxf_types_in_use()):
            doc.classes.add_class(name)
        out = io.StringIO()
        doc.write(out)
    return out.getvalue().encode("utf-8")


@contextmanager
def _fixed_data() -> Iterator[None]:
    """Without the time, the version of the library and chance numbers in the file."""
    from ezdxf._options import options

    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def _name(layer: str) -> str:
    return layer.upper()


class _Pen:
    """Draws items of a sheet into the model space of a document, at full size."""

    def __init__(self, doc: Document, drawing: Drawing) -> None:
        self.doc = doc
        self.space: Modelspace = doc.modelspace()
        self.unit = drawing.factor / (25.4 if drawing.inches else 1.0)
        doc.styles.add(STYLE, font="LiberationSans-Regular.ttf")
        doc.styles.add(BOLD, font="LiberationSans-Bold.ttf")
        for name, dash in DASHES.items():
            if dash:
                marks = [d * self.unit * (1 if n % 2 == 0 else -1) for n, d in enumerate(dash)]
                doc.linetypes.add(_linetype(name), pattern=[sum(abs(m) for m in marks), *marks])
        for layer in drawing.layers:
            made = doc.layers.add(_name(layer.name), color=7)
            made.description = layer.title
            if not layer.on:
                made.off()
        self._dimension_style()
        for shape in ("circle", "diamond"):
            self._key_block(shape)

    def _dimension_style(self) -> None:
        style = self.doc.dimstyles.add(DIMENSIONS)
        size = self.unit
        values = {
            "dimtxt": 2.2 * CAPITAL,
            "dimtsz": 0.7,
            "dimexo": 0.8,
            "dimexe": 1.2,
            "dimgap": 0.7,
            "dimasz": 1.7,
        }
        for name, value in values.items():
            style.dxf.set(name, value * size)
        style.dxf.dimtxsty = STYLE
        style.dxf.dimtad = 1  # words over the line
        style.dxf.dimtih = 0
        style.dxf.dimtoh = 0

    def _key_block(self, shape: str) -> None:
        block = self.doc.blocks.new(_block(shape))
        if shape == "circle":
            block.add_circle((0.0, 0.0), 1.0)
        else:
            block.add_lwpolyline([(-1.0, 0.0), (0.0, 1.0), (1.0, 0.0), (0.0, -1.0)], close=True)
        block.add_attdef("KEY", (0.0, 0.0), dxfattribs={"height": 0.72, "style": STYLE})

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

    def _at(self, point: tuple[float, float]) -> tuple[float, float]:
        return round(point[0] * self.unit, 6), round(point[1] * self.unit, 6)

    def _line(self, line: Stroke) -> None:
        attributes = {
            "layer": _name(line.layer),
            "lineweight": round(PENS[line.pen] * 100),
            "linetype": _linetype(line.dash) if DASHES[line.dash] else "Continuous",
        }
        self.space.add_lwpolyline(
            [self._at(p) for p in line.points], close=line.closed, dxfattribs=attributes
        )
        if line.arrow:
            a, b, c = (self._at(p) for p in arrow_head(line))
            self.space.add_solid([a, b, c, c], dxfattribs={"layer": _name(line.layer)})

    def _area(self, area: Area) -> None:
        layer = {"layer": _name(area.layer)}
        outline = [self._at(p) for p in area.outline]
        if area.hatch == "blank":
            self.space.add_wipeout(outline, dxfattribs=layer)
        elif area.hatch == "solid" or area.hatch in _PATTERNS:
            hatch = self.space.add_hatch(color=256, dxfattribs={**layer, "lineweight": 9})
            hatch.paths.add_polyline_path(outline, is_closed=True)
            if area.hatch != "solid":
                name = area.hatch.upper().replace(" ", "-")
                hatch.set_pattern_fill(name, color=256, definition=self._pattern(area.hatch))
        else:
            drawn = strokes(area.outline, area.hatch)
            for run in drawn.runs:
                self.space.add_lwpolyline([self._at(p) for p in run], dxfattribs={**layer, "lineweight": 9})
            for dot in drawn.dots:
                self.space.add_circle(self._at(dot), 0.1 * self.unit, dxfattribs={**layer, "lineweight": 9})
        if area.pen is not None:
            attributes = {**layer, "lineweight": round(PENS[area.pen] * 100)}
            self.space.add_lwpolyline(outline, close=True, dxfattribs=attributes)

    def _pattern(
        self, hatch: Hatch
    ) -> list[tuple[float, tuple[float, float], tuple[float, float], list[float]]]:
        found = []
        for angle, distance, start, dashes in _PATTERNS[hatch]:
            across = -sin(radians(angle)), cos(radians(angle))
            shift = 0.5 * sum(map(abs, dashes))  # dots of one row stand between those of the next
            step = (
                (across[0] * distance + cos(radians(angle)) * shift) * self.unit,
                (across[1] * distance + sin(radians(angle)) * shift) * self.unit,
            )
            base = across[0] * start * self.unit, across[1] * start * self.unit
            found.append((angle, base, step, [dash * self.unit for dash in dashes]))
        return found

    def _text(self, text: Text) -> None:
        from ezdxf.enums import TextEntityAlignment as Align

        where = {"start": Align.LEFT, "middle": Align.CENTER, "end": Align.RIGHT}[text.anchor]
        self.space.add_text(
            _words(text.words),
            height=text.height * CAPITAL * self.unit,
            rotation=90.0 if text.upward else 0.0,
            dxfattribs={"layer": _name(text.layer), "style": BOLD if text.bold else STYLE},
        ).set_placement(self._at(text.at), align=where)

    def _bubble(self, bubble: Bubble) -> None:
        from ezdxf.enums import TextEntityAlignment as Align

        layer = {"layer": _name(bubble.layer)}
        at, size = self._at(bubble.at), bubble.radius * self.unit
        if bubble.anchor != bubble.at:
            (x, y), (ax, ay) = bubble.at, bubble.anchor
            long = max(((ax - x) ** 2 + (ay - y) ** 2) ** 0.5, 1e-9)
            edge = x + (ax - x) * bubble.radius / long, y + (ay - y) * bubble.radius / long
            self.space.add_line(
                self._at(edge), self._at(bubble.anchor), dxfattribs={**layer, "lineweight": 13}
            )
            self.space.add_circle(self._at(bubble.anchor), 0.4 * self.unit, dxfattribs=layer)
        insert = self.space.add_blockref(
            _block(bubble.shape), at, dxfattribs={**layer, "xscale": size, "yscale": size, "zscale": size}
        )
        key = insert.add_attrib(
            "KEY", bubble.key, at, dxfattribs={**layer, "height": 0.72 * size, "style": STYLE}
        )
        key.set_placement(at, align=Align.MIDDLE_CENTER)

    def _dimension(self, dim: Dimension) -> None:
        first, second = self._at(dim.first), self._at(dim.second)
        base = (
            (first[0], dim.line_at * self.unit) if dim.along == "x" else (dim.line_at * self.unit, first[1])
        )
        made = self.space.add_linear_dim(
            base=base,
            p1=first,
            p2=second,
            angle=0.0 if dim.along == "x" else 90.0,
            text=_words(dim.words).replace("\\", "/").replace("{", "(").replace("}", ")"),
            dimstyle=DIMENSIONS,
            dxfattribs={"layer": _name(dim.layer)},
        )
        made.render()


def _linetype(dash: str) -> str:
    return "SHEET-" + dash.upper().replace(" ", "-")


def _block(shape: str) -> str:
    return f"KEY-{shape.upper()}"


def _words(words: str) -> str:
    """Words without the codes by which a DXF text changes its look."""
    return printable(words).replace("%%", "% %").replace("^", " ")
