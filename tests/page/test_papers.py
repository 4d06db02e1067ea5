"""Files dropped onto the page: read apart, told in words, and nothing hostile gets in or stops the page."""

from __future__ import annotations

import re
import threading
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from html import unescape

import pytest

from specgen.page.guard import LARGEST_UPLOAD
from specgen.page.views import papers as view
from specgen.work.uploads import Accepted
from tests.chain.runs import contents
from tests.commands.test_package import BARRIER, SEALANT, pdf
from tests.intake.sheets.hostile import crafted, many_pages
from tests.page.conftest import PORT, Open, Page

SHEET = pdf("Air and water barrier WB-1", (*BARRIER, ("Pull adhesion", "", "42 psi")))
SCRIPT = "<script>alert(1)</script>"


@pytest.fixture
def mill(opened: Open) -> Page:
    return opened("mixed-humid-midrise")


def drop(page: Page, *files: tuple[str, bytes]) -> str:
    sent = [("files", (name, data, "application/octet-stream")) for name, data in files]
    answer = page.post("papers", files=sent)
    assert answer.status_code in (200, 422), answer.text
    return unescape(answer.text)


def test_the_list_names_submittals_requests_and_their_state(mill: Page) -> None:
    text = mill.get("papers").text
    assert "07 27 00-01" in text and "S-2" in text and "cannot be read" not in text
    assert "at most 20 files and 64 MB at a time, 50 MB a file, 200 pages" in text


def test_a_dropped_sheet_becomes_a_submittal_with_values_to_compare(mill: Page) -> None:
    text = drop(mill, ("wb.pdf", SHEET))
    assert "barrier: Air and water barrier WB-1" in text and "to confirm" in text
    (link,) = set(
        re.findall(r'href="/[^"/]+/(submittals/[^"]+WB[^"]*|submittals/barrier-air[^"]*)/values"', text)
    )
    values = mill.get(f"{link}/values").text
    assert "42 psi" in values and "left to confirm" in values
    pictures = re.findall(r'src="(/[^"]+\.png)"', values)
    assert pictures
    picture = mill.client.get(pictures[0])
    assert picture.headers["content-type"] == "image/png" and picture.content.startswith(b"\x89PNG")


def test_a_paper_is_saved_and_never_shown_as_a_page(mill: Page) -> None:
    drop(mill, ("wb.pdf", SHEET))
    answer = mill.get("papers/file/wb.pdf")
    assert answer.content == SHEET and answer.headers["content-disposition"].startswith("attachment")
    assert answer.headers["x-content-type-options"] == "nosniff"
    for name in ("..%2f..%2fproject.yaml", "..%2fproject.yaml", "%2fetc%2fpasswd", "project.yaml"):
        assert mill.get(f"papers/file/{name}").status_code in (404, 422)


HOSTILE = (
    ("empty.pdf", b"", "the file is empty"),
    ("page.pdf", f"<html>{SCRIPT}</html>".encode(), "this is a web page"),
    ("pages.pdf", lambda: many_pages(300), "300 pages, at most 200"),
    ("bomb.pdf", lambda: crafted()["bomb.pdf"], "refused"),
    (f"{SCRIPT}.pdf", b"\x7fELF", "refused"),
    ("a.zip", b"PK\x05\x06" + bytes(18), "a zip archive"),
)


@pytest.mark.parametrize(("name", "data", "words"), HOSTILE, ids=[one[2] for one in HOSTILE])
def test_a_hostile_file_is_refused_in_words_and_the_page_stays_usable(
    mill: Page, name: str, data: bytes | Callable[[], bytes], words: str
) -> None:
    before = contents(mill.desk.folder)
    text = drop(mill, (name, data if isinstance(data, bytes) else data()))
    assert words in text and "Nothing of it was kept." in text and SCRIPT not in text
    assert contents(mill.desk.folder) == before
    assert mill.get("papers").status_code == 200


def test_while_a_file_is_read_the_page_answers_others(mill: Page, monkeypatch: pytest.MonkeyPatch) -> None:
    reading, go_on = threading.Event(), threading.Event()

    def slow(*_args: object) -> Accepted:
        reading.set()
        go_on.wait(20)
        return Accepted()

    monkeypatch.setattr(view, "take_in", slow)
    with ThreadPoolExecutor(1) as pool:
        sent = pool.submit(drop, mill, ("wb.pdf", SHEET))
        assert reading.wait(10)
        began = time.monotonic()
        assert mill.get("papers").status_code == 200
        assert time.monotonic() - began < 5 and not sent.done()
        go_on.set()
        sent.result(20)


def test_ten_drops_at_once_are_all_kept(mill: Page) -> None:
    sheets = [
        pdf(f"Air and water barrier WB-{n}", (BARRIER[0], ("Pull adhesion", "ASTM D4541", f"{30 + n} psi")))
        for n in range(10)
    ]
    with ThreadPoolExecutor(10) as pool:
        texts = list(pool.map(lambda data: drop(mill, ("sheet.pdf", data)), sheets))
    assert all("refused" not in text for text in texts)
    assert len(list((mill.desk.folder / "submittals" / "papers").iterdir())) == 10


def test_two_hundred_megabytes_are_cut_off_early(mill: Page) -> None:
    def stream() -> Iterator[bytes]:
        yield b'--x\r\nContent-Disposition: form-data; name="files"; filename="a.pdf"\r\n\r\n%PDF-1.7'
        for _ in range(200):
            yield bytes(1_000_000)

    headers = {"Origin": f"http://127.0.0.1:{PORT}", "content-type": "multipart/form-data; boundary=x"}
    before = contents(mill.desk.folder)
    answer = mill.client.post(f"/{mill.door.token}/papers", content=stream(), headers=headers)
    assert answer.status_code == 413 and f"at most {LARGEST_UPLOAD // 1_000_000} MB" in answer.text
    assert contents(mill.desk.folder) == before
    announced = {**headers, "content-length": "200000000"}
    assert mill.client.post(f"/{mill.door.token}/papers", content=b"x", headers=announced).status_code == 413


def test_papers_of_no_single_product_are_read_with_the_role_that_a_person_gives(mill: Page) -> None:
    text = drop(
        mill, ("list.pdf", pdf("Price list", (("Vapor permeance", "ASTM E96 Procedure B", "14 perms"),)))
    )
    assert "kept, not read" in text and "specgen read" not in text
    assert mill.post("papers/read", {"paper": "list.pdf"}).status_code == 422
    answer = mill.post("papers/read", {"paper": "list.pdf", "role": "barrier", "product": "WB-3"})
    assert answer.status_code == 303 and answer.headers["location"].endswith("/values")
    assert "14 perms" in mill.client.get(answer.headers["location"]).text


def test_a_second_reading_into_a_submittal_overwrites_nothing(mill: Page) -> None:
    drop(mill, ("wb.pdf", SHEET), ("js.pdf", pdf("Joint sealant JS-4", SEALANT)))
    report = pdf(
        "Report on WB-1",
        (
            ("Vapor permeance", "ASTM E96 Procedure B", "15 perms"),
            ("Air permeance", "ASTM E2178", "0.002 cfm/ft2 @ 75 Pa"),
        ),
    )
    drop(mill, ("report.pdf", report))
    (path,) = (mill.desk.folder / "submittals").glob("barrier-air*.yaml")
    answer = mill.post("papers/read", {"paper": "report.pdf", "into": path.stem})
    text = unescape(mill.client.get(answer.headers["location"]).text)
    assert (
        "1 blank value filled: air permeance." in text and "14 perms stands, the papers say 15 perms" in text
    )
    assert '"14 perms"' in path.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    "name",
    ["submittals/../project", "submittals/nothing", "submittals/..%2fproject/values", "substitutions/x"],
)
def test_an_address_opens_nothing_but_what_is_listed(mill: Page, name: str) -> None:
    assert mill.get(name).status_code in (404, 422)


def test_hostile_words_of_a_sheet_and_of_the_forms_are_shown_as_words(mill: Page) -> None:
    drop(mill, ("x.pdf", pdf(f"Air and water barrier {SCRIPT}", (("Vapor permeance", SCRIPT, "14 perms"),))))
    for path in sorted((mill.desk.folder / "submittals").glob("*.yaml")):
        for view_ in ("", "/values"):
            assert SCRIPT not in mill.get(f"submittals/{path.stem}{view_}").text
    assert SCRIPT not in mill.get("papers").text


def test_a_list_with_a_broken_submittal_still_shows_the_others(mill: Page) -> None:
    (mill.desk.folder / "submittals" / "broken.yaml").write_text("submittal: {", encoding="utf-8")
    text = mill.get("papers").text
    assert "cannot be read" in text and "07 27 00-01" in text
    assert mill.get("submittals/broken").status_code == 422


def test_nothing_of_a_view_needs_a_style_or_a_script_of_its_own(mill: Page) -> None:
    drop(mill, ("wb.pdf", SHEET))
    names = [
        "papers",
        *(f"submittals/{path.stem}/values" for path in (mill.desk.folder / "submittals").glob("*.yaml")),
    ]
    for name in names:
        text = mill.get(name).text
        assert not re.search(r"\sstyle=|<style|\son[a-z]+=|javascript:|hx-on", text), name
