"""Where a part is pressed: every part can be reached, and a line takes no more than its neighbors leave."""

from __future__ import annotations

from specgen.drawing.picture import PicturePart, picture
from specgen.drawing.picture_press import LEAST, MOST, breadths, outlines
from specgen.drawing.shapes import Area, Stroke
from tests.drawing.walls import job


def test_every_drawn_part_is_pressed_somewhere() -> None:
    drawn = picture(job())
    assert all(outlines(part) for part in drawn.parts)
    kinds = {part.id: {type(one) for one in outlines(part)} for part in drawn.parts}
    assert kinds["barrier"] == {Stroke} and kinds["framing"] == {Area}
    assert kinds["drainage layer"] == {Area}  # its dimples are pressed as one strip


def test_a_base_flashing_with_a_cant_strip_is_pressed_along_its_line() -> None:
    drawn = picture(job(parts={"roof turn-up": {"cant": "cant strip"}}))
    part: PicturePart = next(one for one in drawn.parts if one.id == "roof turn-up")
    assert {type(one) for one in outlines(part)} == {Area, Stroke}


def test_lines_side_by_side_share_the_room_between_them() -> None:
    broad = breadths(picture(job()))
    assert all(2.0 * LEAST <= one <= 2.0 * MOST for one in broad.values())
    assert broad["lath"] < 2.0 * MOST  # the plaster on both sides of it is pressed too
    assert broad["barrier"] < 2.0 * MOST
