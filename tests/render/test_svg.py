"""The SVG files: well formed, self-contained, told to who cannot see them, and always the same bytes."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from lxml import etree

from specgen.drawing.shapes import Area, Drawing, Layer, Stroke, Text, rectangle
from specgen.drawing.sheets import sheets
from specgen.render.svg import svg_bytes
from tests.conftest import sampled
from tests.drawing.jobs import DEMOS, MADE, demo, made, sheets_of

SVG = "{http://www.w3.org/2000/svg}"
SHEETS = pytest.mark.parametrize("folder", DEMOS, ids=lambda one: one.name)


def drawing(*items: Stroke | Area | Text) -> Drawing:
    layers = (Layer("note", "notes"), Layer("control-air", "path of air", on=False))
    return Drawing(
        "P-1 test", "A <title> & more", "What is \x00shown", (100.0, 50.0), "1:5", 5.0, layers, items
    )


@SHEETS
def test_each_sheet_is_told_and_stands_alone(folder: Path) -> None:
    for one in sheets_of(folder):
        _stands_alone(one)


def _stands_alone(one: Drawing) -> None:
    data = svg_bytes(one)
    root = etree.fromstring(data)
    assert root.get("role") == "img"
    named = root.get("aria-labelledby").split()
    by_id = {element.get("id"): element for element in root.iter() if element.get("id")}
    assert [by_id[name].tag for name in named] == [f"{SVG}title", f"{SVG}desc"]
    assert by_id[named[0]].text == one.title
    assert b"http" not in data.replace(b"http://www.w3.org/2000/svg", b"").replace(
        b"http://www.w3.org/1999/xlink", b""
    )
    assert b"<script" not in data
    assert root.get("width") == f"{one.size[0]:g}mm"


@SHEETS
def test_layers_are_groups_with_their_own_id(folder: Path) -> None:
    for one in sheets_of(folder):
        root = etree.fromstring(svg_bytes(one))
        groups = [group.get("id") for group in root.iter(f"{SVG}g")]
        used = {item.layer for item in one.items}
        assert groups == [layer.name for layer in one.layers if layer.name in used], one.name


def test_ink_follows_the_reader_and_no_color_carries_meaning() -> None:
    data = svg_bytes(sheets_of(DEMOS[0])[0]).decode()
    assert "currentColor" in data
    assert "prefers-color-scheme:dark" in data
    body = data[data.index("</style>") :]
    assert not re.search(r"(fill|stroke)=\"#", body)


def test_a_layer_that_is_off_is_hidden_and_can_be_shown() -> None:
    data = svg_bytes(drawing(Stroke("control-air", ((1.0, 1.0), (9.0, 9.0)), dash="dashed")))
    root = etree.fromstring(data)
    (group,) = root.iter(f"{SVG}g")
    assert group.get("class").split() == ["layer", "off", "control-air"]
    (link,) = root.iter(f"{SVG}a")
    assert link.get("href") == "#control-air"
    assert ".off{display:none}" in data.decode()


def test_what_a_user_wrote_stays_words() -> None:
    data = svg_bytes(drawing(Text("note", (1.0, 1.0), "<b>\x07 & ]]> wall")))
    root = etree.fromstring(data)
    assert [text.text for text in root.iter(f"{SVG}text")] == ["<b> & ]]> wall"]
    assert root.find(f"{SVG}title").text == "A <title> & more"


def test_y_runs_upward_on_the_sheet() -> None:
    data = svg_bytes(drawing(Area("note", rectangle(0.0, 0.0, 10.0, 5.0), "none", "fine"))).decode()
    assert "M0 50 10 50 10 45 0 45Z" in data


def test_same_drawing_same_bytes() -> None:
    for folder in DEMOS:
        again = [svg_bytes(one) for one in sheets(demo(folder))]
        assert again == [svg_bytes(one) for one in sheets_of(folder)]


@pytest.mark.parametrize("number", sampled("walls made by chance, drawn", range(MADE)))
def test_every_made_project_gives_well_formed_files(number: int) -> None:
    for one in sheets(made(number)):
        etree.fromstring(svg_bytes(one))
