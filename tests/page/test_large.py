"""A project of hundreds of parapets, and one whose names are hostile: usable, or told."""

from __future__ import annotations

from time import monotonic
from urllib.parse import quote

from tests.conftest import LONG
from tests.page.conftest import Open
from tests.page.test_wall import SLOPE, set_live

MANY = 400 if LONG else 40
MOST_SECONDS = 60.0  # for any view of so many, on a busy machine; a person sees that it works


def test_four_hundred_parapets_are_usable(opened: Open) -> None:
    page = opened("mixed-humid-midrise")
    text = page.desk.path.read_text("utf-8")
    head = text[: text.index("parapets:")]
    rows = "".join(
        f"  - {{name: W-{n}, type: street parapet, orientation: south, length: {20 + n} ft}}\n"
        for n in range(MANY)
    )
    page.desk.path.write_text(f"{head}parapets:\n{rows}", "utf-8")
    page.desk.read_again()
    for where in ("wall", "wall/W-7?part=coping", "findings", "calculations"):
        started = monotonic()
        assert page.get(where).status_code == 200
        assert monotonic() - started < MOST_SECONDS, where
    one = type(SLOPE)(SLOPE.record, SLOPE.key, "W-7", SLOPE.place)
    started = monotonic()
    assert set_live(page, one, "1/2 in/ft", "1/4 in/ft", scope="own").status_code == 200
    assert monotonic() - started < MOST_SECONDS
    assert "slope: 1/4 in/ft" in page.desk.path.read_text("utf-8")


HOSTILE = {
    "Alder Street Offices": "<script>alert(1)</script>",
    "an inland town": '"><img src=x onerror=alert(1)>',
    "roof-side sheathing": "../../etc/passwd",
    "street parapet": "{{7*7}}",
    "P-1": "P 1/2",
    "offices": "'; drop %00",
}


def test_hostile_names_everywhere_are_words_on_every_view(opened: Open) -> None:
    page = opened("mixed-humid-midrise")
    text = page.desk.path.read_text("utf-8")
    for old, new in HOSTILE.items():
        quoted = '"' + new.replace("\\", "\\\\").replace('"', '\\"') + '"'
        for sign in (",", ":", "}"):
            text = text.replace(f"{old}{sign}", f"{quoted}{sign}")
    page.desk.path.write_text(text, "utf-8")
    page.desk.read_again()
    names = [one.name for one in page.desk.assessment.project.parapets]
    views = [
        "",
        "facts",
        "wall",
        "findings",
        "calculations",
        "sections",
        "steps",
        "comments",
        "papers",
        "register",
    ]
    views += [f"wall/{quote(name, safe='')}" for name in names]
    for where in views:
        found = page.get(where)
        assert found.status_code == 200, (where, found.text[:500])
        assert "<script>alert" not in found.text and "<img src=x" not in found.text, where
        assert ">49<" not in found.text, where
