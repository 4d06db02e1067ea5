"""Every page that a program writes, and what writes it: ``python -m tests.docs.pages`` writes them all anew.

A page has a test beside its writer that compares the two; ``make test-long`` compares as a whole what takes minutes.
"""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path

ROOT = Path(__file__).parents[2]
WRITERS: Mapping[str, tuple[str, ...]] = {
    "README.md": ("-m", "tests.readme_tour"),
    "docs/published-checks.md": ("-m", "tests.published.register"),
    "docs/heat-and-moisture-checks.md": ("-m", "tests.published.heat_moisture_page"),
    "docs/json/README.md": ("-m", "tests.docs.json_schemas"),
    "docs/building-models.md": ("-m", "tests.render.model_page"),
    "docs/tables.md": ("-m", "tests.docs.tables_page"),
    "docs/facts.md": ("-m", "tests.practice.facts"),
    "docs/data-sheets.md": ("-m", "tests.intake.sheets.table"),
    "docs/printed-papers.md": ("-m", "tests.intake.papers.trial"),
    "docs/examples.md": ("-m", "tests.chain.examples_page"),
    "docs/questions.md": ("-m", "tests.explain.questions_page"),
    "docs/mutations.md": ("-m", "tests.rules.mutations.table"),
    "docs/proposals.md": ("-m", "tests.propose.table"),
    "docs/inward-drive-study.md": ("docs/make_inward_drive_study.py",),
    "docs/hourly-moisture.md": ("docs/make_hourly_study.py",),
}


def main() -> None:
    """Write every page, and say which of them changed."""
    for name, words in WRITERS.items():
        before = (ROOT / name).read_bytes()
        subprocess.run([sys.executable, *words], cwd=ROOT, check=True)
        changed = (ROOT / name).read_bytes() != before
        print(f"{name}: {'changed' if changed else 'as it was'}", flush=True)


if __name__ == "__main__":
    main()
