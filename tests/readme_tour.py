"""The tour in README.md: its commands, run in order in one folder, and the output pasted under them.

``python tests/readme_tour.py`` runs the tour and writes its real output into the README.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).parent.parent
README = ROOT / "README.md"
BLOCK = re.compile(r"^```console\n(.*?)^```$", re.DOTALL | re.MULTILINE)
CUT = "[…]"


def blocks(text: str) -> list[str]:
    """The console blocks of a text."""
    return BLOCK.findall(text)


def commands(block: str) -> list[str]:
    """The commands of a block: the lines behind a dollar sign."""
    return [line[2:] for line in block.splitlines() if line.startswith("$ ")]


def play(folder: Path, command: str) -> list[str]:
    """Run one command of the tour; its output by lines, standard error behind standard output."""
    environment = {**os.environ, "PATH": f"{Path(sys.executable).parent}{os.pathsep}{os.environ['PATH']}"}
    done = subprocess.run(
        command, shell=True, cwd=folder, capture_output=True, text=True, encoding="utf-8", env=environment
    )
    return [line.rstrip() for line in (done.stdout + done.stderr).splitlines()]


def prepare(folder: Path) -> None:
    """A folder as the tour finds it: the demo projects and nothing else."""
    shutil.copytree(ROOT / "projects", folder / "projects")


def shortened(output: list[str], pasted: list[str]) -> list[str]:
    """The output cut where the pasted text was cut: lines before the mark, the mark, lines behind it."""
    if CUT not in pasted:
        return output
    at = pasted.index(CUT)
    behind = len(pasted) - at - 1
    return [*output[:at], CUT, *output[len(output) - behind :]]


def replayed(text: str, folder: Path) -> str:
    """The text with the real output under each command of its console blocks."""

    def fresh(match: re.Match[str]) -> str:
        parts = re.split(r"^\$ (.*)\n", match[1], flags=re.MULTILINE)
        lines = []
        for command, pasted in zip(parts[1::2], parts[2::2], strict=True):
            output = shortened(play(folder, command), [line.rstrip() for line in pasted.splitlines()])
            lines += [f"$ {command}", *output]
        return "```console\n" + "\n".join(lines) + "\n```"

    return BLOCK.sub(fresh, text)


def main() -> None:
    """Bring the README up to date."""
    with tempfile.TemporaryDirectory() as name:
        prepare(Path(name))
        README.write_text(replayed(README.read_text(encoding="utf-8"), Path(name)), encoding="utf-8")


if __name__ == "__main__":
    main()
