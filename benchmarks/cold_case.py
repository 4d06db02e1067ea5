"""What a command costs from a cold start: processor time of a whole process, beside Python importing the same modules.

Processor time, the least of the rounds; a busy machine still adds to it. Run by itself it compares with another
checkout: ``python benchmarks/cold_case.py [FOLDER OF AN EARLIER CHECKOUT]``. It writes ``benchmarks/COLD.md``.
"""

from __future__ import annotations

import os
import platform
import resource
import subprocess
import sys
import tempfile
from pathlib import Path

HERE = Path(__file__).parents[1]
DEMO = Path("tests/stated/mixed-humid-midrise")
ROUNDS = 5
COMMANDS = {  # aims [s] on a quiet machine of two cores
    "check": ((), 0.4),
    "review": (("submittals",), 1.0),
    "substitute": (("substitutions",), 1.2),
    "write": ((), 1.5),
}
LOADED = (
    "import atexit, sys; names = set(sys.modules); "
    "atexit.register(lambda: sys.stderr.write('\\nLOADED ' + ' '.join(n for n in sys.modules if n not in names))); "
    "from specgen.commands import main; main(sys.argv[1:])"
)
IMPORT = (
    "import importlib, sys\n"
    "for name in sys.argv[1:]:\n"
    "    try: importlib.import_module(name)\n"
    "    except Exception: pass\n"
)


def words(root: Path, command: str, out: str) -> list[str]:
    """The words of a command on the demo of a checkout."""
    folders, _ = COMMANDS[command]
    papers = [str(path) for one in folders for path in sorted((root / DEMO / one).glob("*.yaml"))]
    return [command, str(root / DEMO), *papers, *([] if command == "check" else ["-o", out])]


def run(root: Path, *args: str) -> subprocess.CompletedProcess[str]:
    """A process of this Python with the package of a checkout, its modules compiled as an installed program's are."""
    cache = str(Path(tempfile.gettempdir()) / "bench-pycache")
    environment = {**os.environ, "PYTHONPATH": str(root), "PYTHONPYCACHEPREFIX": cache}
    environment.pop("PYTHONDONTWRITEBYTECODE", None)
    return subprocess.run(
        [sys.executable, *args], env=environment, cwd=root, capture_output=True, text=True, check=False
    )


def least(root: Path, *args: str) -> float:
    """Processor time of a process, user and system, the least of the rounds after one to warm up [s]."""
    run(root, *args)
    found = []
    for _ in range(ROUNDS):
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        run(root, *args)
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        found.append(after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)
    return min(found)


def row(command: str, before: Path | None) -> str:
    """One command: its time, that of the imports alone, their ratio; and the time of the earlier checkout."""
    with tempfile.TemporaryDirectory() as out:
        asked = words(HERE, command, out)
        modules = run(HERE, "-c", LOADED, *asked).stderr.rpartition("LOADED ")[2].split()
        ours = least(HERE, "-m", "specgen", *asked)
        imports = least(HERE, "-c", IMPORT, *modules)
    earlier, then = "", ""
    if before is not None:
        with tempfile.TemporaryDirectory() as out:
            took = least(before, "-m", "specgen", *words(before, command, out))
        earlier, then = f"{took:.2f}", f"{took / imports:.1f}"
    return (
        f"| `{command}` | {earlier} | {ours:.2f} | {COMMANDS[command][1]} | {imports:.2f} "
        f"| {then} | {ours / imports:.1f} |"
    )


def page(before: Path | None) -> str:
    """The table as Markdown."""
    lines = [
        "# Cold start",
        "",
        "Written by `benchmarks/cold_case.py`, on the demo project of three parapets. Processor time of a whole",
        f"process [s], user and system, the least of {ROUNDS}; the ratio is to Python importing the modules of now.",
        "",
        f"Machine: {os.cpu_count()} cores, {platform.machine()}, {platform.system()}, "
        f"Python {platform.python_version()}; load when measured {os.getloadavg()[0]:.1f}.",
        "",
        "| command | before | now | aim | imports alone | ratio before | ratio now |",
        "|---|---|---|---|---|---|---|",
        *(row(command, before) for command in COMMANDS),
    ]
    return "\n".join(lines) + "\n"


def write(before: Path | None = None) -> None:
    """Measure, print and keep the table."""
    text = page(before)
    print(text, flush=True)
    (HERE / "benchmarks" / "COLD.md").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    write(Path(sys.argv[1]).resolve() if len(sys.argv) > 1 else None)
