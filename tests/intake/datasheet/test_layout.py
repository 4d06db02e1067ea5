"""Pages of words at any place: the layout finds something or nothing, and every word is kept."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from specgen.intake.datasheet.candidates import candidates
from specgen.intake.datasheet.labels import Labels
from specgen.intake.datasheet.layout import page_of
from specgen.intake.datasheet.lines import Turn
from specgen.intake.datasheet.owners import Owners
from specgen.intake.datasheet.pdf import turned
from specgen.model.datasheet import DataSheet, Page
from specgen.practice.datasheet_names import load_datasheet_names
from specgen.practice.load import load_practice

PRACTICE = load_practice()
LABELS = Labels("barrier", load_datasheet_names(), PRACTICE.vocabulary)
TEXTS = [
    "Vapor", "permeance", "Thickness", "14", "perms", "40", "mils", "1", "2", "ft", "cfm/ft", "@", "75", "Pa", "ASTM",
    "E2178", "(", ")", "≥", "Property", "Result", "of", "aged", "{^1}", "*", "³", "a:", "0,5", "×10", "E96", "B", "~",
]  # fmt: skip
PLACE = st.integers(0, 70)


@st.composite
def raw_pages(draw: st.DrawFn) -> dict[str, object]:
    words = []
    for _ in range(draw(st.integers(0, 40))):
        x, y = 8.0 * draw(PLACE), 6.0 * draw(PLACE)
        text, size = draw(st.sampled_from(TEXTS)), draw(st.sampled_from((2.0, 6.0, 9.0, 9.0, 9.0, 30.0)))
        turn = draw(st.sampled_from((0, 0, 0, 0, 1, 2, 3)))
        faint, struck, bold = (draw(st.integers(0, 9)) == 0 for _ in range(3))
        words.append([text, x, y - size, x + len(text) * size / 2, y, size, faint, turn, y, struck, bold])
    rulings = []
    for _ in range(draw(st.integers(0, 12))):
        x, y, reach = 8.0 * draw(PLACE), 6.0 * draw(PLACE), 8.0 * draw(PLACE)
        rulings.append([x, y, x + reach, y] if draw(st.booleans()) else [x, y, x, y + reach])
    return {
        "number": 1,
        "width": 612.0,
        "height": 792.0,
        "words": words,
        "rulings": rulings,
        "unreadable": "",
        "slanted": draw(st.lists(st.sampled_from(("DRAFT", "Rev. 2", "□")), max_size=2)),
        "remarks": draw(st.lists(st.sampled_from(("Superseded", "")), max_size=2)),
        "figures": draw(st.integers(0, 3)),
        "across": draw(st.booleans()),
    }


def letters(page: Page) -> str:
    cells = [cell for grid in page.grids for row in grid.rows for cell in row]
    return "".join(cell.text for cell in (*cells, *page.lines))


@settings(max_examples=150, deadline=None)
@given(raw_pages())
def test_any_page_is_laid_out_and_read(raw: dict[str, object]) -> None:
    page = page_of(raw)
    found = letters(page)
    assert all(word[0][0] in found for word in raw["words"] if word[5] > 1 and word[0] != "{^1}")  # type: ignore[attr-defined]
    owners = Owners(DataSheet("s", (page,)), LABELS)
    assert isinstance(candidates(owners, PRACTICE.vocabulary), tuple)


@given(
    st.tuples(*[st.floats(0, 300)] * 2, *[st.floats(300, 600)] * 2),
    st.integers(0, 3),
    st.floats(600, 900),
    st.floats(600, 900),
)
def test_a_frame_turns_back(
    box: tuple[float, float, float, float], turn: int, width: float, height: float
) -> None:
    back = Turn(turn, width, height).box(turned(box, turn, width, height))
    assert all(abs(one - other) < 1e-9 * 900 for one, other in zip(back, box, strict=True))
