"""The picture in a real browser: rules of accessibility, the way of the keyboard, and each part under the pointer."""

from __future__ import annotations

from pathlib import Path

import pytest

from specgen.drawing.picture import picture_of
from specgen.render.page import page_template
from specgen.render.svg_picture import marks_of, picture_svg
from tests.drawing.jobs import DEMOS, demo
from tests.published.browser import SMALL, seen_of

STILL = Path("templates/live/still")
LEAST = 60  # [square pixels] that press a part where the picture is 620 pixels wide


@pytest.mark.parametrize("name", ["faulty-parapet", "mixed-humid-midrise"])
def test_a_picture_is_used_by_keyboard_pointer_and_screen_reader(name: str, tmp_path: Path) -> None:
    assessment = demo(next(one for one in DEMOS if one.name == name)).assessment
    parapet = assessment.walls[0].parapet
    drawn = picture_of(assessment, parapet.name)
    assert drawn is not None
    ids = [part.id for part in drawn.parts]
    marks = marks_of(assessment.findings, parapet.name)
    parts = page_template("live/picture.html").module
    svg = picture_svg(drawn, lambda part: f"#{ids.index(part)}", ids[3], marks)
    rules = "".join((STILL / name).read_text("utf-8") for name in ("page.css", "picture.css"))
    page = tmp_path / "picture.html"
    page.write_text(
        f'<!doctype html><html lang="en"><meta charset="utf-8"><title>wall</title>'
        f'<meta name="viewport" content="width=device-width"><style>{rules}</style><main><h1>Wall</h1>'
        f'<div class="wall-picture">{parts.switches()}<div id="picture">{parts.figure(svg, drawn)}</div></div></main>',
        "utf-8",
    )
    seen = seen_of(page, "picture.mjs")
    assert seen["violations"] == {"light": [], "dark": []}
    assert seen["overflow"] <= SMALL
    switches = [f"show-{layer}" for layer in ("water", "air", "vapor", "heat")]
    assert seen["focus"] == [*switches, *ids]
    assert set(seen["pressed"]) == set(ids)
    assert min(seen["pressed"].values()) >= LEAST, seen["pressed"]
    for before, after in seen["shown"].values():
        assert before == 0 and after > 0
