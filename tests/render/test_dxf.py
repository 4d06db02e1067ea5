"""The DXF files, read again: no errors, units, layers, blocks, hatches, dimensions, always the same bytes."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from pathlib import Path

import ezdxf
import pytest
from ezdxf.document import Drawing as Document

from specgen.drawing.lettering import box_of
from specgen.drawing.shapes import PENS, Area, Bubble, Dimension, Drawing, Layer, Text, rectangle
from specgen.drawing.sheets import sheets
from specgen.render.dxf import dxf_bytes
from tests.conftest import LONG
from tests.drawing.jobs import DEMOS, made, sheets_of

SHEETS = pytest.mark.parametrize("folder", DEMOS, ids=lambda one: one.name)


def read(data: bytes) -> Document:
    return ezdxf.read(io.StringIO(data.decode()))


@SHEETS
def test_a_sheet_reads_again_without_errors(folder: Path) -> None:
    for one in sheets_of(folder)[:: 1 if LONG else 3]:
        _reads_again(one)


def _reads_again(one: Drawing) -> None:
    doc = read(dxf_bytes(one))
    audit = doc.audit()
    assert not audit.errors
    assert not audit.fixes
    assert doc.header["$INSUNITS"] == (1 if one.inches else 4)
    assert {layer.name for layer in one.layers for layer in [layer]} == {
        made.dxf.name.lower() for made in doc.layers if made.dxf.name.lower() not in ("0", "defpoints")
    }
    for layer in one.layers:
        assert doc.layers.get(layer.name.upper()).is_on() == layer.on


@pytest.mark.parametrize("number", range(0, 50, 7 if LONG else 14))
def test_made_projects_read_again_without_errors(number: int) -> None:
    for one in sheets(made(number)):
        audit = read(dxf_bytes(one)).audit()
        assert not audit.errors


def test_dimensions_are_dimensions_and_keys_are_blocks() -> None:
    section = sheets_of(DEMOS[0])[0]
    space = read(dxf_bytes(section)).modelspace()
    assert len(space.query("DIMENSION")) == sum(isinstance(item, Dimension) for item in section.items)
    assert {dim.dxf.text for dim in space.query("DIMENSION")} == {
        item.words for item in section.items if isinstance(item, Dimension)
    }
    keys = [insert.get_attrib_text("KEY") for insert in space.query("INSERT")]
    assert sorted(keys) == sorted(item.key for item in section.items if isinstance(item, Bubble))
    assert len(space.query("HATCH")) > 0


def test_the_words_of_a_size_stand_where_the_other_sheets_have_them() -> None:
    (one,) = (sheet for sheet in sheets_of(DEMOS[1]) if sheet.name.endswith(" section"))
    sizes = [item for item in one.items if isinstance(item, Dimension)]
    unit = one.factor / (25.4 if one.inches else 1.0)
    written = list(read(dxf_bytes(one)).modelspace().query("DIMENSION"))
    assert len(written) == len(sizes)
    for size, found in zip(sizes, written, strict=True):
        x, y, right, high = (edge * unit for edge in box_of(size) or ())
        assert x <= found.dxf.text_midpoint.x <= right and y <= found.dxf.text_midpoint.y <= high
        assert found.dxf.dimtype & 128  # a program that opens it leaves them there


def drawing(inches: bool, factor: float) -> Drawing:
    items = (
        Area("note", rectangle(0.0, 0.0, 25.4, 10.0), "plaster", "heavy"),
        Text("note", (0.0, 20.0), "50 %%c {wall} ^J"),
        Dimension("note", (0.0, 0.0), (25.4, 0.0), -5.0, "x", "4 in"),
    )
    return Drawing("t", "t", "t", (100.0, 50.0), "1:4", factor, (Layer("note", "notes"),), items, inches)


@pytest.mark.parametrize(("inches", "wide"), [(True, 4.0), (False, 101.6)])
def test_model_space_is_full_size(inches: bool, wide: float) -> None:
    space = read(dxf_bytes(drawing(inches, 4.0))).modelspace()
    (outline,) = space.query("LWPOLYLINE")
    xs = [point[0] for point in outline.get_points()]
    assert max(xs) - min(xs) == pytest.approx(wide)
    assert outline.dxf.lineweight == round(100 * PENS["heavy"])
    (dim,) = space.query("DIMENSION")
    assert dim.get_measurement() == pytest.approx(wide)


def test_words_cannot_carry_codes() -> None:
    (text,) = read(dxf_bytes(drawing(True, 4.0))).modelspace().query("TEXT")
    assert "%%" not in text.dxf.text
    assert "^" not in text.dxf.text


def test_same_bytes_in_another_process_with_another_hash_seed() -> None:
    code = (
        "import hashlib,sys;from tests.drawing.jobs import DEMOS,demo;from specgen.drawing.sheets import sheets;"
        "from specgen.render.dxf import dxf_bytes;"
        "print(hashlib.sha256(dxf_bytes(sheets(demo(DEMOS[0]))[0])).hexdigest())"
    )
    root = str(Path(__file__).parents[2])
    found = {
        subprocess.run(
            [sys.executable, "-c", code],
            check=True,
            capture_output=True,
            text=True,
            cwd=root,
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": root},
        ).stdout
        for seed in ("1", "2")
    }
    assert len(found) == 1


def drawn(text: str) -> list[tuple[str, str]]:
    """The tags of blocks and model space; without owners, which the library sets anew for attributes of keys."""
    lines = text.splitlines()
    found = list(zip(lines[::2], lines[1::2], strict=True))
    start, end = found.index(("  2", "BLOCKS")), found.index(("  2", "OBJECTS"))
    return [one for one in found[start:end] if one[0] != "330"]


@SHEETS
def test_the_library_writes_what_it_read(folder: Path) -> None:
    """ezdxf understands every tag: writing the drawing again, it gives the same ones."""
    for one in sheets_of(folder)[::4]:
        data, out = dxf_bytes(one), io.StringIO()
        read(data).write(out)
        assert drawn(out.getvalue()) == drawn(data.decode()), one.name


def test_a_dimension_without_length_is_drawn() -> None:
    """A layer of no thickness leaves a mark, not a division by nothing."""
    for along in ("x", "y"):
        items = (Dimension("note", (1.0, 2.0), (1.0, 2.0), 2.0, along, "0 in"),)
        sheet = Drawing("t", "t", "t", (100.0, 50.0), "1:4", 4.0, (Layer("note", "notes"),), items, True)
        doc = read(dxf_bytes(sheet))
        assert not doc.audit().errors
        assert len(doc.modelspace().query("DIMENSION")) == 1
