"""The sheet to fill in: what a project states is read back; a mistake is told by its cell, and nothing is silent."""

from __future__ import annotations

import io
import random
import re
import shutil
import subprocess
from collections.abc import Iterator
from datetime import date
from functools import lru_cache
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from openpyxl.utils import get_column_letter

from specgen.files.marks import InputError
from specgen.files.yaml_reader import read_yaml, read_yaml_text
from specgen.intake.project import load_project
from specgen.intake.start_sheet import PARAPETS, PROJECT, TYPES, _Filled, read_sheet, start_sheet
from specgen.intake.values import described
from specgen.intake.workbook import returned_book
from specgen.intake.worked import worked_examples
from specgen.model.project import Project, Record
from specgen.practice.load import load_practice
from specgen.render.workbook import workbook_bytes
from tests import plain_yaml
from tests.chain.runs import run
from tests.conftest import LONG

PRACTICE = load_practice()
EXAMPLE = worked_examples()["commented"]


# What stands along the parapets, and one as it stands: of the sheets that hold a row each.
ROWS: dict[str, list[dict[str, Any]]] = {
    "Corners": [
        {"parapet": "P-1", "name": "C-1", "turn": "outside", "position": "12 ft", "coping": "welded"},
        {"parapet": "P-1", "name": "C-2", "turn": "inside", "drainage": "runs around"},
    ],
    "Ends": [{"parapet": "P-1", "name": "E-1", "end_dam": True, "counterflashing": "behind the wall barrier"}],
    "Steps": [{"parapet": "P-1", "name": "S-1", "height": "18 in", "position": "30 ft", "end_dam": False}],
    "Joints": [{"parapet": "P-2", "name": "J-1", "what": "expansion", "width": "2 in", "movement": "1/2 in"}],
    "Scuppers": [
        {"parapet": "P-2", "name": "SC-1", "use": "overflow", "width": "12 in", "height": "4 in", "outlet": "open air"}
    ],
    "Penetrations": [
        {"parapet": "P-1", "name": "N-1", "what": "pipe", "through": "barrier", "diameter": "2 in", "sealed_by": "boot"}
    ],
    "Existing": [
        {"parapet": "P-2", "inspected": date(2026, 9, 14), "by": "building envelope consultant", "reroofed": "40 %"}
    ],
    "Observations": [
        {"parapet": "P-2", "name": "O-1", "what": "crack", "where": "outer face", "width": "1/16 in"},
        {"parapet": "P-2", "name": "O-2", "what": "moisture reading", "where": "at the base", "reading": "24 %"},
    ],
    "Repairs": [{"parapet": "P-2", "what": "rebuild top", "where": "over the whole length"}],
    "Openings": [
        {"parapet": "P-2", "name": "X-1", "where": "below the coping", "found": "wet", "date": date(2026, 9, 15)}
    ],
}  # fmt: skip


@lru_cache(maxsize=1)
def blank() -> bytes:
    return workbook_bytes(start_sheet(PRACTICE))


def text(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return ", ".join(map(text, value)) if isinstance(value, list) else str(value)


def head_row(tab: Any) -> int:
    return next(row for row in range(1, 12) if tab.cell(row, 1).value in ("part", "name", "parapet"))


def filled(path: Path) -> Path:
    """The sheet with everything that the commented example states, but for what its second parapet changes."""
    path.write_bytes(filled_bytes())
    return path


@lru_cache(maxsize=1)
def filled_bytes() -> bytes:
    root = read_yaml(EXAMPLE, want=dict)
    book = openpyxl.load_workbook(io.BytesIO(blank()))
    project, parapets, types = book[PROJECT], book[PARAPETS], book[TYPES]
    for row in range(head_row(project) + 1, project.max_row + 1):
        value = root.get(project.cell(row, 1).value, {}).get(project.cell(row, 2).value)
        project.cell(row, 5, None if value is None else text(value))
    top = head_row(parapets)
    columns = {
        str(parapets.cell(top, at).value).split("\n")[0]: at for at in range(1, parapets.max_column + 1)
    }
    for number, node in enumerate(root["parapets"], start=top + 1):
        for key, value in node.items():
            if key != "changes":
                parapets.cell(number, columns[key], text(value))
    for (name, kind), column in zip(root["types"].items(), (5,), strict=True):
        stated = {("type", "name"): name} | dict(type_values(kind))
        for row in range(head_row(types) + 1, types.max_row + 1):
            value = stated.pop((types.cell(row, 1).value, types.cell(row, 2).value), None)
            types.cell(row, column, None if value is None else text(value))
        assert not stated
    for sheet, records in ROWS.items():
        tab = book[sheet]
        top = head_row(tab)
        places = {str(tab.cell(top, at).value).split("\n")[0]: at for at in range(1, tab.max_column + 1)}
        for number, record in enumerate(records, start=top + 1):
            for key, value in record.items():
                tab.cell(number, places[key], text(value))
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def type_values(kind: dict[str, Any]) -> Iterator[tuple[tuple[str, str], Any]]:
    for key, value in kind.items():
        if not isinstance(value, list):
            yield ("parapet", key), value
    seen: list[str] = []
    for part in (*kind["build_up"], *kind["top"]):
        name = part["role"] + (f" {seen.count(part['role']) + 1}" if part["role"] in seen else "")
        seen.append(part["role"])
        yield from (((name, key), value) for key, value in part.items() if key not in ("role", "id"))
    for lap in kind["transitions"]:
        yield from (
            ((" / ".join(lap["between"]), key), value) for key, value in lap.items() if key != "between"
        )


def facts(project: Project) -> list[tuple[str, dict[str, Any]]]:
    """Every record of a project with what it states, without its place."""
    found: list[Record] = [project.info, project.site, project.building]
    for parapet in project.parapets:
        found += [parapet, *parapet.components(), *parapet.transitions, *parapet.places]
        if parapet.existing is not None:
            at = parapet.existing
            found += [at, *at.observations, *at.repairs, *at.openings]
    return [(f"{one.what} {getattr(one, 'kind', '')}", dict(one.written)) for one in found]


def loaded(text: str, folder: Path) -> Project:
    folder.mkdir(exist_ok=True)
    (folder / "project.yaml").write_text(text)
    return load_project(folder, PRACTICE)


def wanted(folder: Path) -> list[tuple[str, dict[str, Any]]]:
    root = plain_yaml.load(EXAMPLE.read_text().partition("    changes:")[0])
    keys = {sheet: sheet.lower() for sheet in ROWS}
    for sheet, records in ROWS.items():
        for record in records:
            (parapet,) = [one for one in root["parapets"] if one["name"] == record["parapet"]]
            stated = {key: value for key, value in record.items() if key != "parapet"}
            if sheet == "Existing":
                parapet.setdefault("existing", {}).update(stated)
            elif sheet in ("Observations", "Repairs", "Openings"):
                parapet.setdefault("existing", {}).setdefault(keys[sheet], []).append(stated)
            else:
                parapet.setdefault(keys[sheet], []).append(stated)
    return facts(loaded(plain_yaml.dump(root), folder))


def test_what_an_example_states_is_read_back_the_same(tmp_path: Path) -> None:
    book = filled(tmp_path / "walls.xlsx")
    assert run("new", tmp_path / "w", "--from", book).status == 0
    assert facts(load_project(tmp_path / "w", PRACTICE)) == wanted(tmp_path / "example")
    assert run("check", tmp_path / "w").status in (
        1,
        3,
    )  # corners half described, a wall that nobody surveyed


@pytest.mark.skipif(not LONG, reason="LibreOffice takes seconds: run with SPECGEN_LONG=1")
def test_a_round_trip_through_libreoffice_reads_the_same(tmp_path: Path) -> None:
    office = shutil.which("soffice")
    if office is None:
        pytest.skip("round trip not run: LibreOffice is not installed")
    book = filled(tmp_path / "walls.xlsx")
    profile = f"-env:UserInstallation=file://{tmp_path / 'profile'}"
    for source, kind in ((book, "ods"), (tmp_path / "lo" / "walls.ods", "xlsx")):
        command = [
            office,
            "--headless",
            profile,
            "--convert-to",
            kind,
            "--outdir",
            str(tmp_path / "lo"),
            str(source),
        ]
        subprocess.run(command, check=True, capture_output=True, timeout=180)
    again = read_sheet(tmp_path / "lo" / "walls.xlsx", PRACTICE)
    assert again == read_sheet(book, PRACTICE)
    tab = openpyxl.load_workbook(tmp_path / "lo" / "walls.xlsx")[TYPES]
    assert sum(one.type == "list" for one in tab.data_validations.dataValidation) > 20


MISTAKES = {
    "of the table": (
        (PROJECT, "E6", "=1+1", "Project!E6: `value`: it holds a formula, which is not read"),
        (PROJECT, "A5", "projekt", "Project!A5: `projekt` is no part of this sheet"),
        (PROJECT, "G9", "a note", "Project!G9: no column that is read has this title"),
        (TYPES, "F8", "mesh", "Types!F8: the type has values and no name"),
    ),
    "of the values": (
        (PROJECT, "E5", None, "Project!E5: `name` is empty"),
        (PROJECT, "B8", "stat", "Project!E8: unknown key `stat`"),
        (PARAPETS, "B6", "stuco parapet", "Parapets!B6: no type `stuco parapet`"),
        (PARAPETS, "C7", "42", "Parapets!C7: `height`: `42` has no unit"),
        (PARAPETS, "A7", "P-1", "Parapets!A7: parapet `P-1` is described twice"),
        (TYPES, "A barrier kind", "base flashing", "base flashing is role `roof turn-up`"),
        (TYPES, "E coping kind", "sheet metal", "did you mean `formed metal`?"),
    ),
    "of the lists": (
        ("Corners", "C5", "left", "Corners!C5: `turn`: `left` is not a known"),
        ("Corners", "B6", None, "Corners!B6: `name` is empty"),
        ("Ends", "A5", "P-9", "Ends!A5: no parapet `P-9`"),
        ("Steps", "C5", "18", "Steps!C5: `height`: `18` has no unit"),
        ("Scuppers", "A5", None, "Scuppers!A5: the row names no parapet"),
        ("Penetrations", "D5", "barier", "Penetrations!D5: no component `barier`"),
        ("Existing", "A5", "stucco parapet", "Existing!A5: `stucco parapet` is a type, and a wall stands as one parapet"),
        ("Observations", "B6", "O-1", "Observations!B6: observation `O-1` is described twice"),
        ("Repairs", "B5", "paint it", "Repairs!B5: `what`: `paint it` is not a known"),
        ("Openings", "E5", "15.9.2026", "Openings!E5: "),
    ),
    "of a title": ((PROJECT, "E4", "valu", "Project!A4: no column `value`"),),
    "of a name": ((PARAPETS, "A6", None, "Parapets!A6: a parapet needs a name"),),
}  # fmt: skip


def address(tab: Any, cell: str) -> str:
    """A cell by its letter and row, or by its letter and the part and key of its row."""
    if " " not in cell:
        return cell
    column, place = cell[0], cell[2:]
    rows = range(1, tab.max_row + 1)
    row = next(row for row in rows if f"{tab.cell(row, 1).value} {tab.cell(row, 2).value}" == place)
    return f"{column}{row}"


@pytest.mark.parametrize("name", MISTAKES)
def test_a_mistake_is_told_by_its_cell(tmp_path: Path, name: str) -> None:
    path = filled(tmp_path / "walls.xlsx")
    book = openpyxl.load_workbook(path)
    for sheet, cell, value, _ in MISTAKES[name]:
        book[sheet][address(book[sheet], cell)] = value
    book.save(path)
    done = run("new", tmp_path / "w", "--from", path)
    assert done.status == 2, done.out
    assert not (tmp_path / "w").exists()
    for *_, words in MISTAKES[name]:
        assert words in done.err, done.err


APART = (
    (PROJECT, "E site elevation", "Does not apply: the sea is at the door", ("site", "elevation")),
    (PARAPETS, "C6", "does not apply: measured on the wall", ("parapet", "height")),
    (TYPES, "E barrier planned_exposure", "does not apply: clad panel by panel", ("barrier", "planned_exposure")),
)  # fmt: skip


def with_cells(path: Path, *cells: tuple[str, str, str]) -> Path:
    book = openpyxl.load_workbook(filled(path))
    for sheet, cell, value in cells:
        book[sheet][address(book[sheet], cell)] = value
    book.save(path)
    return path


def test_a_cell_says_why_its_value_does_not_apply(tmp_path: Path) -> None:
    none = (TYPES, "E cleat kind", "does not apply: the coping is clamped")
    others = [(TYPES, f"E cleat {key}", "") for key in ("metal", "thickness", "fastener_spacing")]
    path = with_cells(tmp_path / "walls.xlsx", *((*one[:2], one[2]) for one in APART), none, *others)
    project = loaded(read_sheet(path, PRACTICE), tmp_path / "w")
    first = project.parapets[0]
    records = {"site": project.site, "parapet": first, "barrier": first.part("barrier")}
    for *_, written, (what, name) in APART:
        assert records[what].inapplicable[name] == written.partition(": ")[2]  # type: ignore[union-attr]
    (cleat,) = first.absent
    assert dict(cleat.because) == {"kind": "the coping is clamped"}


@pytest.mark.parametrize("why", ["does not apply: tbd", "n/a"])
def test_a_cell_without_a_reason_is_told_by_its_cell(tmp_path: Path, why: str) -> None:
    path = with_cells(tmp_path / "walls.xlsx", (PROJECT, "E site elevation", why))
    with pytest.raises(InputError) as caught:
        read_sheet(path, PRACTICE)
    (problem,) = caught.value.problems
    assert "Project!E" in problem.message and "elevation" in problem.message


def test_a_sheet_of_its_own_is_told(tmp_path: Path) -> None:
    path = filled(tmp_path / "walls.xlsx")
    book = openpyxl.load_workbook(path)
    book.copy_worksheet(book[TYPES])
    book.save(path)
    with pytest.raises(InputError, match="the sheet `Types Copy` is not read"):
        read_sheet(path, PRACTICE)


def test_what_is_no_such_workbook_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "a.xlsx"
    path.write_bytes(b"PK\x03\x04 nothing")
    assert run("new", tmp_path / "w", "--from", path).status == 2
    openpyxl.Workbook().save(path)
    done = run("new", tmp_path / "w", "--from", path)
    assert done.status == 2 and "no sheet `Project`" in done.err
    assert run("new", "--sheet", path).status == 2 and run("new", "--sheet", tmp_path / "a.txt").status == 2
    assert run("new", tmp_path / "w", "--sheet", tmp_path / "b.xlsx").status == 2


# Random edits

VALUES = (
    "yes", "no", "42 in", "3/16 in", "1/4 in/ft", "42", "-3 in", "TPO", "PVC", "butyl", "barrier", "stucco", "unknown",
    "n/a", "?", "none", "24 ga", "115 mph", "10 perm", "0.002 cfm/ft2 @ 75 Pa", "TPO, butyl", "[TPO", "a: b", "# note",
    "'quoted'", '"double"', "2026-11-02", "02/11/2026", "=1+1", "@x", "- a", "{a: b}", "Yes", "1.5", "7", "P-1", "  ",
    "tab\there", "line\nbreak", "ünder", "*ref", "&anchor", "!tag", "over the top", "II-B", "%", "null", "~", "true",
    7, 1.5, True, 0, "coping", "fully adhered", "x" * 600, "\u202eabc", "9" * 30, "stone", "mesh", "cap flashing",
)  # fmt: skip


def parsed(line: str) -> tuple[str, Any]:
    """Key and value of one line."""
    root = read_yaml_text(line.strip().removeprefix("- "), "line.yaml", want=dict)
    ((key, value),) = root.items()
    return key, value


def same(value: Any, cell: Any) -> bool:
    """Whether a value of the file is what a cell holds; a list, a yes and a whole number as people write them."""
    plain = " ".join(
        str({True: "yes", False: "no"}.get(cell, cell) if isinstance(cell, bool) else cell).split()
    )
    if isinstance(value, list):
        return [str(one) for one in value] == [one.strip() for one in plain.strip("[]").split(",")]
    if isinstance(value, bool):
        return plain.lower() in (("yes", "true") if value else ("no", "false"))
    return str(value) == plain or described(value) == plain


@pytest.mark.parametrize("seed", range(38 if LONG else 1))
def test_each_of_random_edits_is_told_or_stated(tmp_path: Path, seed: int) -> None:
    """300 edits with ``SPECGEN_LONG=1``: each is told by its cell, or is the value of the line that its cell makes."""
    chance = random.Random(20261129 + seed)
    path = filled(tmp_path / "walls.xlsx")
    book = openpyxl.load_workbook(path)
    edits = {}
    for _ in range(8):
        sheet = chance.choice((PROJECT, PARAPETS, TYPES, *chance.sample(sorted(ROWS), 3)))
        tab = book[sheet]
        top = head_row(tab)
        wide = sheet == PARAPETS or sheet in ROWS
        last = top + 3 if wide else tab.max_row
        column = chance.randint(1, tab.max_column) if wide else chance.choice((5, 5, 5, 2))
        cell = tab.cell(chance.randint(top + 1, last), column)
        cell.value = chance.choice(VALUES)
        edits[f"{sheet}!{get_column_letter(cell.column)}{cell.row}"] = cell.value
    book.save(path)
    returned = returned_book(path)
    form = _Filled(returned, PRACTICE)
    lines = {f"{one.sheet}!{get_column_letter(one.column)}{one.row}": one.text for one in form.lines()}
    try:
        made = read_sheet(path, PRACTICE)
    except InputError as error:
        named, made = {one.message.partition(":")[0] for one in error.problems}, ""
    else:
        named = set()
    for at, value in edits.items():
        sheet, row = re.fullmatch(r"(\w+)![A-Z]+(\d+)", at).groups()  # type: ignore[union-attr]
        of = f"{sheet}!A{row}"  # where a row of a list is told to belong to nothing
        if at in named or (sheet in ROWS and of in named) or (isinstance(value, str) and not value.strip()):
            continue
        if at not in lines and at.partition("!")[0] in ROWS and re.search(r"![A]\d", at):
            assert value in {record["parapet"] for rows in ROWS.values() for record in rows}, (at, value)
            continue  # the row states what it states of another parapet
        if at not in lines:  # the key of a row that states nothing
            sheet, column, row = re.fullmatch(r"(\w+)!([A-Z]+)(\d+)", at).groups()  # type: ignore[union-attr]
            beside = f"{sheet}!E{row}"
            assert column == "B", (at, value)
            if beside in lines and beside not in named:
                key = str(parsed(lines[beside])[0])
                assert key == " ".join(str(value).split()) and not made.count(f"{key}: "), (at, value)
            continue
        key, found = parsed(lines[at])  # the name of a type is a key with nothing behind it
        assert same(key if found is None else found, value), (at, value, lines[at])
    if not named:
        loaded(made, tmp_path / "w")
