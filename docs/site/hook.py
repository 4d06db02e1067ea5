"""What the builder of the manual calls: it adds the pages that are made of the program itself, and checks the site.

The builder loads this file by its path; the modules beside it are found there.
"""

from __future__ import annotations

import contextlib
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

HERE = Path(__file__).parent
ROOT = HERE.parents[1]

if TYPE_CHECKING:
    from mkdocs.config.defaults import MkDocsConfig
    from mkdocs.structure.files import Files


def made_pages() -> Iterator[tuple[str, str | bytes]]:
    """Path below ``docs`` and content of all that is made while the manual is built."""
    sys.path[:0] = [
        str(one) for one in (HERE, ROOT) if str(one) not in sys.path
    ]  # the builder takes them away again
    from attribute_pages import attribute_pages
    from calculation_pages import calculation_pages
    from rule_pages import rule_pages

    from specgen.practice.load import load_practice

    practice = load_practice()
    with contextlib.chdir(ROOT):  # places in files are printed as seen from here
        yield from rule_pages(practice)
        yield from attribute_pages(practice)
        yield from calculation_pages(practice)


_MADE: dict[str, str | bytes] = {}
LISTED = {
    "rules": "Rules",
    "calculations": "Calculations",
}  # folders of made pages, and the part of the menu for each


def on_config(config: MkDocsConfig) -> MkDocsConfig:
    """Make the pages, and put those that come and go with the program into the menu."""
    _MADE.clear()
    _MADE.update(made_pages())
    menu = {title: entries for part in config.nav or () for title, entries in part.items()}
    for folder, part in LISTED.items():
        first = f"{folder}/index.md"  # stands in the menu already
        menu[part] += [
            path for path in _MADE if path.startswith(f"{folder}/") and path.endswith(".md") and path != first
        ]
    return config


def on_files(files: Files, config: MkDocsConfig) -> Files:
    """Add the made pages and pictures."""
    from mkdocs.structure.files import File

    for path, content in _MADE.items():
        files.append(File.generated(config, path, content=content))
    return files
