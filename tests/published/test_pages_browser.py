"""Every page of the program in headless Chromium, under the accessibility rules of axe-core.

Source: axe-core 4.14.1 (WCAG 2 rules and best practices), run by playwright-core in Debian's Chromium. Obtained:
run here. Needs Node, ``npm install`` in tests/browser, and Chromium.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import pytest

from specgen.audit.engine import Job
from specgen.audit.folders import find_projects
from specgen.audit.totals import Audit, audit_of
from specgen.commands.audit_job import audit_job
from specgen.design.run import everyday
from specgen.model.bad import BadProduct
from specgen.render.audit import audit_page
from specgen.render.basis import basis_bytes
from specgen.specification import specify
from specgen.work.inputs import read_inputs
from specgen.work.proposals import propose, write_proposals
from tests.audit.portfolio import portfolio
from tests.chain.runs import FAULTY, run
from tests.propose.sets import FOLDER
from tests.published.browser import chromium, hold_clean, seen_of


def basis(folder: Path) -> Path:
    """The report of the faulty project."""
    path = folder / "basis.html"
    path.write_bytes(basis_bytes(specify(read_inputs(FAULTY, None, False).assessed()), everyday()))
    return path


def audited(folder: Path) -> tuple[Audit, Path]:
    """Twelve projects, one of them broken, some with accepted papers."""
    root = portfolio(folder / "portfolio", 12)
    paths = find_projects(root, root / "out").projects
    lines = [json.loads(audit_job(Job(str(root), path, "", ""))) for path in paths]
    audit = audit_of("twelve", lines, [BadProduct("Wrap W", "", "", (), "Wrap W", "tears")])
    path = folder / "audit.html"
    path.write_bytes(audit_page(audit))
    return audit, path


def proposals(folder: Path) -> Path:
    """The repairs proposed for a standing wall."""
    inputs = read_inputs(FOLDER / "standing-cmu-sbs-4a.yaml", None, False)
    write_proposals(propose(inputs), inputs, folder, force=False, other_project=False)
    return folder / "comparison.html"


def questions(folder: Path) -> Path:
    """The questions of the faulty project."""
    run("check", FAULTY, "--questions", "-o", folder)
    return folder / "open-questions.html"


def evidence(folder: Path) -> Path:
    """The evidence of a product read from a table."""
    sheet = folder / "sheet.csv"
    sheet.write_text(
        "Property,Test Method,Result\nVapor permeance,ASTM E96 B,14 perms\nPull adhesion,,42 psi\n"
    )
    assert run("read", sheet, "--role", "barrier", "-o", folder / "product.yaml").status in (0, 3)
    return folder / "product-evidence.html"


def papers(folder: Path) -> Path:
    """What went where of a folder of paper."""
    (folder / "in").mkdir()
    (folder / "in" / "barrier WB-1.csv").write_text("Air barrier WB-1\nVapor permeance,ASTM E96 B,14 perms\n")
    (folder / "in" / "notes.txt").write_text("nothing of use\n")
    assert run("package", folder / "in", "-o", folder / "out").status == 3
    return folder / "out" / "papers.html"


PAGES: Mapping[str, Callable[[Path], Path]] = {
    "audit": lambda folder: audited(folder)[1],
    "basis": basis,
    "evidence": evidence,
    "papers": papers,
    "proposals": proposals,
    "questions": questions,
}
REACHED = {  # words that the keyboard reaches among the first
    "audit": "Findings by rule",
    "basis": "Project, site, and building as stated",
    "evidence": "",
    "papers": "",
    "proposals": "Openings first",
    "questions": "Whom to ask",
}


@pytest.mark.parametrize("name", PAGES)
def test_a_page_is_clean_and_reached_by_the_keyboard(name: str, tmp_path: Path) -> None:
    chromium()
    seen = seen_of(PAGES[name](tmp_path), "look.mjs")
    hold_clean(seen)
    assert any(words.startswith(REACHED[name]) for words in seen["focus"]), seen["focus"]


@pytest.fixture(scope="module")
def audit(tmp_path_factory: pytest.TempPathFactory) -> tuple[Audit, Path]:
    return audited(tmp_path_factory.mktemp("audit"))


@pytest.fixture(scope="module")
def filtered(audit: tuple[Audit, Path]) -> dict[str, Any]:
    """What the browser shows of the audit with each filter pressed, scripts off."""
    return seen_of(audit[1], "filters.mjs")


def test_every_filter_leaves_its_rows_alone(filtered: dict[str, Any], audit: tuple[Audit, Path]) -> None:
    projects = audit[0].projects
    assert len(filtered["all"]) == len(projects)
    for words, shown in filtered["filtered"].items():
        kind, _, value = words.partition(": ")
        wanted = {
            "Climate zone": lambda one, value=value: one.climate == value,
            "Building use": lambda one, value=value: one.use == value,
            "Rule": lambda one, value=value: value in one.codes,
        }.get(kind)
        if wanted:
            assert shown == [one.path for one in projects if wanted(one)], words
    broken = [one.path for one in projects if one.problems]
    assert filtered["filtered"]["Worst finding, as accepted: cannot be used"] == broken
    bad = [one.path for one in projects if one.bad]
    assert bad and filtered["filtered"]["Accepted: bad products"] == bad


def test_two_filters_together_show_what_passes_both(
    filtered: dict[str, Any], audit: tuple[Audit, Path]
) -> None:
    climate, use = filtered["both"]["climate"], filtered["both"]["use"]
    wanted = [one.path for one in audit[0].projects if (one.climate, one.use) == (climate, use)]
    assert filtered["both"]["shown"] == wanted


def test_the_reset_button_shows_all_again(filtered: dict[str, Any]) -> None:
    assert filtered["again"] == filtered["all"]


def test_no_page_has_a_script(audit: tuple[Audit, Path], tmp_path: Path) -> None:
    for page in (audit[1], evidence(tmp_path)):
        text = page.read_text("utf-8")
        assert "<script" not in text and not re.search(r"\son\w+=", text)
    assert all(one.path in audit[1].read_text("utf-8") for one in audit[0].projects)
