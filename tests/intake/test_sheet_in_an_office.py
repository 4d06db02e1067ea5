"""The sheet filled in an office program: a macro types a whole project into the blank workbook, which is read back."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import openpyxl
import pytest

from specgen.intake.start_sheet import read_sheet
from specgen.practice.load import load_practice
from tests.conftest import LONG
from tests.intake.test_start_sheet import blank, facts, filled, loaded, wanted

PRACTICE = load_practice()
OFFICE = shutil.which("soffice")
MODULE = """<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE script:module PUBLIC "-//OpenOffice.org//DTD OfficeDocument 1.0//EN" "module.dtd">
<script:module xmlns:script="http://openoffice.org/2000/script" script:name="Module1" script:language="StarBasic">
Sub Fill(sBook As String, sCells As String, sOut As String)
  Dim oHidden(0) As New com.sun.star.beans.PropertyValue
  oHidden(0).Name = "Hidden" : oHidden(0).Value = True
  oBook = StarDesktop.loadComponentFromURL(ConvertToUrl(sBook), "_blank", 0, oHidden())
  oView = oBook.CurrentController
  oType = createUnoService("com.sun.star.frame.DispatchHelper")
  Dim oGo(0) As New com.sun.star.beans.PropertyValue
  Dim oWords(0) As New com.sun.star.beans.PropertyValue
  iFile = FreeFile
  Open sCells For Input As #iFile
  Do While Not Eof(iFile)
    Line Input #iFile, sLine
    aParts = Split(sLine, Chr(9))
    If UBound(aParts) = 2 Then
      oView.setActiveSheet(oBook.Sheets.getByName(aParts(0)))
      oGo(0).Name = "ToPoint" : oGo(0).Value = aParts(1)
      oType.executeDispatch(oView.Frame, ".uno:GoToCell", "", 0, oGo())
      oWords(0).Name = "StringName" : oWords(0).Value = aParts(2)
      oType.executeDispatch(oView.Frame, ".uno:EnterString", "", 0, oWords())
    End If
  Loop
  Close #iFile
  Dim oAs(0) As New com.sun.star.beans.PropertyValue
  oAs(0).Name = "FilterName" : oAs(0).Value = "Calc MS Excel 2007 XML"
  oBook.storeToURL(ConvertToUrl(sOut), oAs())
  oBook.close(True)
End Sub
</script:module>
"""


def typed(folder: Path, cells: list[tuple[str, str, str]]) -> Path:
    """The blank workbook with cells typed into it by a macro of the office program, saved there as a workbook."""
    assert OFFICE is not None
    command = [OFFICE, "--headless", f"-env:UserInstallation=file://{folder / 'profile'}"]
    subprocess.run([*command, "--terminate_after_init"], check=True, capture_output=True, timeout=60)
    module = folder / "profile" / "user" / "basic" / "Standard" / "Module1.xba"
    assert module.exists(), "the office program has made no library of macros"
    module.write_text(MODULE)
    (folder / "blank.xlsx").write_bytes(blank())
    (folder / "cells.txt").write_text("".join("\t".join(one) + "\n" for one in cells))
    words = ", ".join(f'"{folder / name}"' for name in ("blank.xlsx", "cells.txt", "typed.xlsx"))
    subprocess.run(
        [*command, f"macro:///Standard.Module1.Fill({words})"], check=True, capture_output=True, timeout=180
    )
    return folder / "typed.xlsx"


def cells_of(path: Path) -> list[tuple[str, str, str]]:
    """What a filled workbook holds and the blank one does not."""
    book, empty = openpyxl.load_workbook(path), openpyxl.load_workbook(path.with_name("empty.xlsx"))
    return [
        (tab.title, cell.coordinate, str(cell.value))
        for tab in book
        for row in tab.iter_rows()
        for cell in row
        if cell.value is not None and empty[tab.title][cell.coordinate].value is None
    ]


@pytest.mark.skipif(not LONG, reason="an office program takes seconds: run with SPECGEN_LONG=1")
def test_a_workbook_filled_in_an_office_program_reads_as_it_was_meant(tmp_path: Path) -> None:
    if OFFICE is None:
        pytest.skip("NOT RUN: no office program (soffice) is installed, so nothing was typed into the sheet")
    book = filled(tmp_path / "walls.xlsx")
    (tmp_path / "empty.xlsx").write_bytes(blank())
    cells = cells_of(book)
    assert len(cells) > 200 and {sheet for sheet, *_ in cells} > {
        "Corners",
        "Scuppers",
        "Existing",
        "Openings",
    }
    done = typed(tmp_path, cells)
    assert done.exists(), "the macro did not run"
    assert facts(loaded(read_sheet(done, PRACTICE), tmp_path / "w")) == wanted(tmp_path / "example")
