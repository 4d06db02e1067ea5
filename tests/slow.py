"""Tests that take over half a second each, as a whole run measured them; ``make test`` takes a share.

``python -m tests.slow RESULTS.xml`` writes ``tests/slow.txt`` anew from what ``pytest --junitxml=RESULTS.xml`` wrote on a
quiet machine. ``make test-long`` and a test that is named run whatever the table says.
"""

from __future__ import annotations

import sys
from pathlib import Path
from xml.etree import ElementTree

TABLE = Path(__file__).with_name("slow.txt")
SECONDS = 0.5


def slow_tests() -> frozenset[str]:
    """The tests of the table, as `name_of` names them."""
    return frozenset(line.split(maxsplit=1)[1] for line in TABLE.read_text("utf-8").splitlines())


def name_of(node: str) -> str:
    """The name of a test in the table, from its id ``tests/page/test_desk.py::test_a[b]``; lines in a case are spaces."""
    return " ".join(node.split())


def measured(results: Path) -> dict[str, float]:
    """Seconds of each test in a file of results, by its name in the table."""
    found: dict[str, float] = {}
    for one in ElementTree.parse(results).iter("testcase"):
        file = one.get("classname", "").replace(".", "/") + ".py"
        name = name_of(f"{file}::{one.get('name')}")
        found[name] = max(found.get(name, 0.0), float(one.get("time", 0)))
    return found


def main() -> None:
    """Write the table."""
    seconds = measured(Path(sys.argv[1]))
    lines = [f"{taken:5.1f} {name}" for name, taken in sorted(seconds.items()) if taken >= SECONDS]
    TABLE.write_text("\n".join(lines) + "\n", "utf-8")


if __name__ == "__main__":
    main()
