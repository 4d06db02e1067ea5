"""A person who knows parapets and not this program, in a real browser: told by a script, from an empty folder to the end.

What is looked at are the results: a Word file of the coping's section, a submittal with the values of the sheet, and a
verdict. The minutes are a person's; the script says how many presses it takes, and that it never meets a dead end.
"""

from __future__ import annotations

import json
import subprocess
from pathlib import Path

import docx

from tests.page.coping_sheet import coping_sheet
from tests.page.served import served
from tests.published.browser import BROWSER, chromium

MOST_PRESSES = 25


def test_from_an_empty_folder_to_a_printed_section_and_a_reviewed_sheet(tmp_path: Path) -> None:
    browser = chromium()
    job, seen_in = tmp_path / "job", tmp_path / "seen"
    job.mkdir()
    seen_in.mkdir()
    sheet = tmp_path / "quoddle-4.pdf"
    sheet.write_bytes(coping_sheet())
    with served(job) as page:
        words = ["node", BROWSER / "story.mjs", browser, page.address, sheet, seen_in]
        done = subprocess.run(words, capture_output=True, text=True, timeout=500, check=False)
    assert done.returncode == 0, done.stderr
    seen = json.loads(done.stdout)
    assert seen["console"] == []
    assert seen["clicks"] <= MOST_PRESSES
    section = docx.Document(str(seen_in / "coping.docx"))
    text = "\n".join(one.text for one in section.paragraphs)
    assert "Metal thickness: at least 0.040 in" in text and "Slope toward the roof" in text.replace(
        "Slope the top", "Slope"
    )
    assert "Quoddle 4 Coping" in seen["values"] and "aluminum" in seen["values"]
    assert "Quoddle 4 Coping" in seen["verdict"]
    assert [one.name for one in (job / "submittals").glob("*.yaml")] != []
    assert "kind: formed metal" in (job / "project.yaml").read_text("utf-8")
