"""One product from its first submittal to the next issue, and one substitution, as the papers print it at each step."""

from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path
from typing import Any

import docx
import pytest
from openpyxl import load_workbook

from specgen.files.withdrawn import REGISTER as STEM
from specgen.register.columns import REGISTER
from tests.chain.runs import CONFORMING, Done, changed, run
from tests.register.test_results_of_offices import AT
from tests.review.test_rounds import GOOD, HEAD, NAIL, PERM, PULL

ITEM = "Product data for barrier, primers, and accessories"
WEAK = PULL.replace("42", "4")


class Office:
    """A project's folder, the papers that come out of it, and a person with the register open in Excel."""

    def __init__(self, folder: Path) -> None:
        self.project = Path(shutil.copytree(CONFORMING, folder / "mill"))
        shutil.rmtree(self.project / "submittals")
        (self.project / "submittals").mkdir()
        self.out = folder / "out"
        self.schedule = folder / "schedule.yaml"
        self.schedule.write_text("start: 2027-03-01\n", encoding="utf-8")

    def review(self, round_: int, *changes: tuple[str, str], received: str, answers: str = "") -> str:
        """A round comes in and is reviewed; the words of its letter."""
        text = GOOD.replace(HEAD, f"{HEAD}  round: {round_}\n").replace("2026-11-16", received)
        for old, new in changes:
            assert old in text
            text = text.replace(old, new)
        path = self.project / "submittals" / f"barrier-{round_}.yaml"
        path.write_text(text + answers, encoding="utf-8")
        done = run("review", self.project, path, "-o", self.out)
        assert done.status in (0, 1), done.err
        return words(self.out / f"review-07-27-00-01{f'-round-{round_}' if round_ > 1 else ''}.docx")

    def register(self, day: str, *more: object) -> Done:
        named = ("-o", self.out, "--schedule", self.schedule, "--as-of", day)
        done = run("register", self.project, *named, "--reviews", self.out, "--page", *more)
        assert done.status == 0, done.out + done.err
        return done

    def row(self) -> dict[str, Any]:
        """The row of the product as the sheet shows it, by the titles of its columns."""
        tab = load_workbook(self.out / f"{STEM}.xlsx")[REGISTER]
        rows = [[cell.value for cell in line] for line in tab.iter_rows()]
        titles = next(line for line in rows if line[0] == "State")
        return next(dict(zip(titles, line, strict=True)) for line in rows if ITEM in line)

    def type(self, **cells: Any) -> None:
        """What a person types into the row of the product."""
        path = self.out / f"{STEM}.xlsx"
        book = load_workbook(path)
        number = next(
            line[0].row for line in book[REGISTER].iter_rows() if any(c.value == ITEM for c in line)
        )
        for key, value in cells.items():
            book[REGISTER].cell(number, AT[key]).value = value
        book.save(path)

    def accept(self, paper: str, result: str, day: str = "2026-12-18") -> None:
        done = run(
            "accept",
            self.project,
            self.project / paper,
            "--by",
            "architect, A. B.",
            "--date",
            day,
            "--result",
            result,
        )
        assert done.status == 0, done.err

    def issue(self, day: str, *more: object) -> Done:
        path = self.project / "project.yaml"
        text = path.read_text(encoding="utf-8")
        (line,) = [one for one in text.splitlines() if one.strip().startswith("issue_date:")]
        path.write_text(text.replace(line, f"  issue_date: {day}"), encoding="utf-8")
        done = run("write", self.project, "-o", self.out, *more)
        assert done.status == (1 if more else 0), done.out + done.err
        return done


def tables(path: Path) -> list[list[list[str]]]:
    found = docx.Document(str(path)).tables
    return [[[cell.text for cell in row.cells] for row in table.rows] for table in found]


def words(path: Path) -> str:
    """Every word of a paper."""
    paras = [para.text for para in docx.Document(str(path)).paragraphs]
    return "\n".join([*paras, *(" | ".join(row) for table in tables(path) for row in table)])


@pytest.fixture
def office(tmp_path: Path) -> Office:
    return Office(tmp_path)


def page(office: Office) -> str:
    return words(office.out / "state-of-submittals.docx")


@pytest.mark.always
def test_a_product_from_its_first_submittal_to_the_next_issue(office: Office) -> None:
    office.issue("2026-11-02")

    letter = office.review(1, (PERM, ""), (PULL, WEAK), received="2026-11-16")
    assert "Round" in letter and "revise and resubmit" in letter.lower()
    assert "Changes since" not in letter
    done = office.register("2026-11-20")
    assert "to decide: 07 27 00-01" in done.out
    shown = office.row()
    assert (shown["Round"], shown["Submittal no."], shown["Received"].date()) == (
        1, "07 27 00-01", date(2026, 11, 16)
    )  # fmt: skip
    assert (shown["Recommended"], shown["Open comments"]) == ("revise and resubmit", 2)
    assert (shown["State"], shown["Waiting for"], shown["Result"]) == ("in review", "reviewer", None)
    assert ITEM in page(office) and "not yet" in page(office)

    office.type(result="R&R", returned=date(2026, 11, 23), by="A. B.", remarks="called the maker")
    office.register("2026-11-24")
    shown = office.row()
    assert (shown["Round"], shown["State"]) == (2, "to be resubmitted")
    assert shown["Waiting for"] == shown["Trade"] and shown["Remarks"] == "called the maker"
    assert f"{ITEM} (to be resubmitted)" in page(office)

    answers = "answers:\n  - {comment: 1, answer: data sheet of March attached}\n"
    second = (PULL, PULL.replace("42", "5")), (NAIL, "")
    letter = office.review(2, *second, received="2026-11-30", answers=answers)
    assert "1 closed, 1 still open, 1 new." in letter and "data sheet of March attached" in letter
    office.register("2026-12-01")
    shown = office.row()
    assert (shown["Round"], shown["Received"].date(), shown["Open comments"]) == (2, date(2026, 11, 30), 2)
    assert (shown["Recommended"], shown["State"]) == ("revise and resubmit", "in review")
    assert shown["Remarks"] == "called the maker"

    office.type(result="Revise & Resubmit", returned=date(2026, 12, 4), by="A. B.")
    letter = office.review(3, received="2026-12-14")
    assert "2 closed, 0 still open, 0 new." in letter and "There is no comment." in letter
    office.register("2026-12-15")
    shown = office.row()
    assert (shown["Round"], shown["Recommended"], shown["Open comments"]) == (3, "no exceptions taken", 0)
    assert (shown["State"], shown["Result"]) == ("in review", None), "a person decides, not the review"

    office.type(result="approved", returned=date(2026, 12, 17), by="A. B.")
    office.register("2026-12-18")
    shown = office.row()
    assert (shown["State"], shown["Waiting for"], shown["Result"]) == (
        "accepted",
        None,
        "no exceptions taken",
    )
    assert (shown["Reviewed by"], shown["Remarks"]) == ("A. B.", "called the maker")
    state = page(office)
    assert ITEM not in state and tables(office.out / "state-of-submittals.docx")[0][1][0] == "1"
    assert "not yet" in state, "the others still stand in the way"

    office.accept("submittals/barrier-3.yaml", "approved")
    done = office.issue("2026-12-20")
    listed = tables(office.out / "addendum-2026-12-20.docx")[0]
    assert listed[1] == [
        "accepted submittal: submittals/barrier-3.yaml",
        "–",
        "2026-12-18, no exceptions taken, architect, A. B.",
    ]
    assert "still specify" not in done.out + words(office.out / "addendum-2026-12-20.docx")


def test_the_plasterer_can_start_when_all_before_is_accepted(office: Office) -> None:
    office.review(1, received="2026-11-16")
    office.register("2026-11-20")
    path = office.out / f"{STEM}.xlsx"
    book = load_workbook(path)
    tab = book[REGISTER]
    head = next(line[0].row for line in tab.iter_rows() if line[0].value == "State")
    for number in range(head + 1, tab.max_row + 1):
        tab.cell(number, AT["received"]).value = date(2026, 11, 16)
        tab.cell(number, AT["returned"]).value = date(2026, 11, 19)
        tab.cell(number, AT["result"]).value = "approved"
    book.save(path)
    office.register("2026-11-20")
    walls = tables(office.out / "state-of-submittals.docx")[1]
    assert {row[1] for row in walls[1:]} == {"yes"}


def test_an_accepted_substitution_and_the_sections(office: Office) -> None:
    """As long as the project file says the former product, the addendum says so, and what is to be done."""
    office.issue("2026-11-02")
    office.accept("substitutions/mesh.yaml", "approved as noted")
    done = office.issue("2026-12-20")
    paper = words(office.out / "addendum-2026-12-20.docx")
    assert "accepted substitution: substitutions/mesh.yaml" in paper
    assert "The sections of this issue still specify what was specified before" in paper
    (table,) = [one for one in tables(office.out / "addendum-2026-12-20.docx") if one[0][-1] == "Accepted"]
    assert [row[0] for row in table[1:]] == ["substitutions/mesh.yaml"] * 2
    assert [(row[2].split(" (")[0], row[3:]) for row in table[1:]] == [
        ("drainage layer, kind", ["dimpled sheet", "mesh"]),
        ("drainage layer, depth", ["7/16 in", "1/4 in"]),
    ]
    assert "the list is in addendum-2026-12-20.docx\n" in done.out, "no paragraph changed: no marked copy"
    assert "change the project file there" in done.out and "specgen write" in done.out

    path = office.project / "project.yaml"
    changed(path, ("kind: dimpled sheet\n        depth: 7/16 in", "kind: mesh\n        depth: 0.25 in"))
    again = office.issue("2026-12-22", "--with-open-points")  # the mesh lets vapor through
    paper = words(office.out / "addendum-2026-12-22.docx")
    assert "addendum-2026-12-22.docx, marked copies in marked-2026-12-22" in again.out
    assert "mesh" in paper and "still specify" not in again.out + paper


def test_a_substituted_product_of_another_kind_and_a_request_that_no_longer_fits(office: Office) -> None:
    office.issue("2026-11-02")
    office.accept("substitutions/wrap.yaml", "approved as noted")
    office.accept("substitutions/mesh.yaml", "approved as noted")
    mesh = office.project / "substitutions" / "mesh.yaml"
    changed(mesh, ("drainage layer.depth", "drainage sheet.depth"))
    done = office.issue("2026-12-20")
    (table,) = [one for one in tables(office.out / "addendum-2026-12-20.docx") if one[0][-1] == "Accepted"]
    kinds, strange = table[1:]
    assert kinds[2].startswith("barrier, kind (") and kinds[4] == "mechanically fastened"
    assert "the request does not fit the project file: no component `drainage sheet`" in strange[2]
    assert "substitutions/wrap.yaml is accepted, and the sections still specify" in done.out


def test_a_second_addendum_of_one_day_is_named_as_its_file(office: Office) -> None:
    office.issue("2026-11-02")
    office.accept("substitutions/mesh.yaml", "approved as noted")
    office.issue("2026-12-20")
    later = ("state: issued for bid", "state: issued for construction"), ("depth: 7/16 in", "depth: 1/2 in")
    changed(office.project / "project.yaml", *later)
    done = run("write", office.project, "-o", office.out)
    assert "addendum-2026-12-20-2.docx" in done.out, done.out + done.err
    assert (office.out / "addendum-2026-12-20-2.docx").is_file()
