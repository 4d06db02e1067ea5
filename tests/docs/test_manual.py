"""The manual: each command line is run and prints what its page says; pages and options are there; the site builds."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path

import click
import pytest
import yaml

from specgen.commands import COMMANDS, main
from tests import readme_tour
from tests.conftest import LONG, sampled
from tests.published.browser import seen_of

ROOT = readme_tour.ROOT
DOCS = ROOT / "docs"
TOURS = readme_tour.pages()[1:]
FEW = 3  # commands of a page that the short run can afford
REFUSED = {  # commands that show how bad input is told
    "draft.md": ["specgen check first-wall"],
    "spreadsheet.md": ["specgen new my-walls --from walls.xlsx"],
    "terminal.md": ["specgen chek projects/mixed-humid-midrise", "specgen rules WBO1"],
}
FENCE = re.compile(r"^ *```(\w*).*?\n(.*?)^ *```$", re.DOTALL | re.MULTILINE)
SPAN = re.compile(r"`([^`\n]+)`")
CALLED = re.compile(r"(?:^|\s|\|)specgen ([a-z]\S*)(.*)")
# Run by tests of their own: a server that waits, and a question on a terminal.
ELSEWHERE = {"specgen page elm": "tests/page/test_start_browser.py"}
MADE = ("rules", "attributes", "calculations")  # folders of the site whose pages are made while it is built
LOOKED_AT = (
    "index.html",
    "manual/check.html",
    "rules/barrier.html",
    "attributes/layers.html",
    "calculations/coping-wind.html",
)


def written() -> list[Path]:
    """README and every page of the manual that is written by hand."""
    return [readme_tour.README, DOCS / "index.md", *sorted(readme_tour.MANUAL.glob("*.md"))]


def tours() -> list[Path]:
    """The pages whose commands are run here: all in a long run, one short one else."""
    if LONG:
        return list(TOURS)
    return sampled("pages of the manual", [one for one in TOURS if len(commands(one)) <= FEW])


def commands(page: Path) -> list[str]:
    return [
        one for block in readme_tour.blocks(page.read_text("utf-8")) for one in readme_tour.commands(block)
    ]


@pytest.mark.skipif(
    shutil.which("sh") is None, reason="the manual is written for a POSIX shell: no `sh` here"
)
@pytest.mark.parametrize("page", tours(), ids=lambda page: page.name)
def test_a_page_prints_what_it_says(page: Path, tmp_path: Path) -> None:
    text = page.read_text("utf-8")
    readme_tour.prepare(tmp_path)
    statuses: dict[str, int] = {}
    assert readme_tour.replayed(text, tmp_path, statuses) == text
    assert readme_tour.refused(statuses) == REFUSED.get(page.name, [])


def test_no_command_stands_where_it_is_not_run() -> None:
    """A line that begins with `specgen` is in a console block, or in one of Windows or of a server."""
    loose = [
        (page.name, line.strip())
        for page in written()
        for kind, block in FENCE.findall(page.read_text("utf-8"))
        if kind != "console"
        for line in block.splitlines()
        if line.strip().removeprefix("$ ").startswith("specgen ")
    ]
    assert [line for _, line in loose if line not in ELSEWHERE] == []
    assert all((ROOT / test).exists() for test in ELSEWHERE.values())


def test_each_link_leads_to_a_page() -> None:
    """Anchors, and links of pages that programs write, are held by the builder in a long run."""
    dead = []
    for page in written():
        for link in re.findall(r"\]\(([^)#]+)[^)]*\)", FENCE.sub("", page.read_text("utf-8"))):
            target = (page.parent / link).resolve()
            made = target.is_relative_to(DOCS) and target.relative_to(DOCS).parts[0] in MADE
            if not (target.exists() or made or link.startswith("https://")):
                dead.append((page.name, link))
    assert dead == []


def called(text: str) -> Iterator[tuple[str, str]]:
    """Command and the words behind it, in code spans and blocks."""
    spans = [span for line in FENCE.sub("", text).splitlines() for span in SPAN.findall(line)]
    shown = [line for _, block in FENCE.findall(text) for line in block.splitlines() if line.startswith("$ ")]
    for words in [*spans, *shown]:
        for match in CALLED.finditer(words):
            yield match[1], match[2]


def test_each_command_and_option_that_is_named_is_there() -> None:
    context = click.Context(main)
    options: dict[str, set[str]] = {}
    strange = []
    for page in written():
        for name, rest in called(page.read_text("utf-8")):
            if name in ("chek", "COMMAND"):
                continue
            command = main.get_command(context, name) if name in COMMANDS else None
            if command is None:
                strange.append((page.name, name))
                continue
            if isinstance(command, click.Group) and (inner := rest.split()[:1]) and inner[0].isalpha():
                command = command.get_command(context, inner[0].lower()) or command
            key = f"{name} {command.name}"
            known = options.setdefault(
                key,
                {one for given in command.params for one in (*given.opts, *given.secondary_opts)}
                | {"--help"},
            )
            strange += [
                (page.name, name, one) for one in re.findall(r"(?<!\S)--[a-z-]+", rest) if one not in known
            ]
    assert strange == []


def test_every_command_has_its_row() -> None:
    text = (readme_tour.MANUAL / "commands.md").read_text("utf-8")
    rows = re.findall(r"^\| `specgen (\w+)", text, re.MULTILINE)
    assert sorted(set(rows)) == sorted(COMMANDS)


def test_every_extra_is_explained() -> None:
    extras = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]["optional-dependencies"]
    text = (readme_tour.MANUAL / "install.md").read_text("utf-8")
    assert sorted(re.findall(r"^\| `(\w+)` \|", text, re.MULTILINE)) == sorted(extras)


def test_every_page_is_in_the_menu_and_every_entry_is_a_page() -> None:
    menu = yaml.safe_load((ROOT / "mkdocs.yml").read_text("utf-8"))["nav"]
    listed = [
        entry if isinstance(entry, str) else next(iter(entry.values()))
        for part in menu
        for entries in part.values()
        for entry in entries
    ]
    pages = {
        path.relative_to(DOCS).as_posix() for path in (*DOCS.glob("*.md"), *readme_tour.MANUAL.glob("*.md"))
    }
    assert len(listed) == len(set(listed)) and pages <= set(listed)
    assert {one for one in listed if one.partition("/")[0] not in (*MADE, "json")} == pages


def test_each_rule_role_and_calculation_has_its_page(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.syspath_prepend(str(DOCS / "site"))
    from attribute_pages import attribute_pages
    from rule_pages import rule_pages

    from specgen.practice.load import load_practice
    from specgen.rules.book import load_book

    practice = load_practice()
    rules = dict(rule_pages(practice))
    for entry in load_book(practice):
        assert f"{{: #{entry.rule.code.lower()} }}" in rules[f"rules/{entry.module.split('.')[2]}.md"]
    attributes = "".join(text for _, text in attribute_pages(practice))
    for role in practice.vocabulary.roles.values():
        assert all(f"`{name}`" in attributes for name in (*role.kinds, *role.fields)), role.name


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The site, built as `make manual` builds it; each warning of the builder, as of a dead link or anchor, ends it."""
    pytest.importorskip("material", reason="the site is not built: install the extra `manual`")
    folder = tmp_path_factory.mktemp("site")
    done = subprocess.run(
        [sys.executable, "-m", "mkdocs", "build", "--site-dir", str(folder)],
        cwd=ROOT, capture_output=True, text=True, env={**os.environ, "NO_MKDOCS_2_WARNING": "1"},
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    return folder


@pytest.mark.long
@pytest.mark.skipif(not LONG, reason="builds the site, some ten seconds: run by SPECGEN_LONG=1")
def test_the_site_loads_nothing_from_elsewhere(site: Path) -> None:
    pages = list(site.rglob("*.html"))
    assert len(pages) >= 80
    loads = re.compile(
        r"<(?:script|img|iframe|source)[^>]* src=\"?(?:https?:)?//|<link[^>]* href=\"?(?:https?:)?//(?!\S*rel=canonical)"
    )
    assert [page.name for page in pages if loads.search(page.read_text("utf-8"))] == []


@pytest.mark.long
@pytest.mark.skipif(not LONG, reason="opens pages in a browser: run by SPECGEN_LONG=1")
@pytest.mark.parametrize("name", LOOKED_AT)
def test_a_page_is_clean_for_everyone(site: Path, name: str) -> None:
    seen = seen_of(site / name, "look.mjs")
    assert seen["violations"] == {"light": [], "dark": []}
    assert seen["requests"] == [] and seen["errors"] == [] and seen["overflow"] <= 360
