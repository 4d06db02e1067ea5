"""Write docs/hourly-moisture.md: years of hours through worked examples, broken walls, and drainage layers.

The page is written from docs/hourly-moisture.json, which holds what was run and the key of all that it read. Run from
the project folder:

    .venv/bin/python docs/make_hourly_study.py              # the page alone, from what is kept
    .venv/bin/python docs/make_hourly_study.py --run        # run first what is not kept or has changed, then the page
    .venv/bin/python docs/make_hourly_study.py --run --cores 2

A run that is stopped goes on where it was: each result is kept as soon as it is there.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE))
OUT = HERE / "hourly-moisture.md"


def main() -> None:
    """Run what is asked for and write page and plots."""
    import hourly_page
    import hourly_runs

    parser = argparse.ArgumentParser(description="The study of the hours.")
    parser.add_argument("--run", action="store_true", help="run what is not kept or has changed")
    parser.add_argument("--cores", type=int, default=1, help="processes at a time")
    parser.add_argument("--only", default="", help="walls, layers, classes, directions, or all of them")
    given = parser.parse_args()
    if given.run:
        hourly_runs.run(given.cores, given.only)
    kept = hourly_runs.load()
    hourly_page.write_plots(kept)
    OUT.write_text(hourly_page.text(kept, hourly_runs.stale(kept, hourly_runs.of_a_page)), encoding="utf-8")


if __name__ == "__main__":
    main()
