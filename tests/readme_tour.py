"""The tours in README.md and on the pages of the manual: commands, run in order in one folder, and the output under them.

``python -m tests.readme_tour`` runs them and writes their real output into the pages, or into those that are named.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Mapping, Sequence
from pathlib import Path

ROOT = Path(__file__).parent.parent
README = ROOT / "README.md"
MANUAL = ROOT / "docs" / "manual"
BLOCK = re.compile(r"^```console\n(.*?)^```$", re.DOTALL | re.MULTILINE)
CUT = "[…]"
DONE = (0, 1, 3)  # the work is done, whatever was found


def blocks(text: str) -> list[str]:
    """The console blocks of a text."""
    return BLOCK.findall(text)


def commands(block: str) -> list[str]:
    """The commands of a block: the lines behind a dollar sign."""
    return [line[2:] for line in block.splitlines() if line.startswith("$ ")]


def play(folder: Path, command: str) -> tuple[int, list[str]]:
    """Run one command of the tour; its status, and its output by lines, standard error behind standard output."""
    environment = {**os.environ, "PATH": f"{Path(sys.executable).parent}{os.pathsep}{os.environ['PATH']}"}
    done = subprocess.run(
        command,
        shell=True,
        cwd=folder,
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        encoding="utf-8",
        env=environment,
    )
    return done.returncode, [line.rstrip() for line in (done.stdout + done.stderr).splitlines()]


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


def replayed(text: str, folder: Path, statuses: dict[str, int] | None = None) -> str:
    """The text with the real output under each command of its console blocks; the status of each is entered."""

    def fresh(match: re.Match[str]) -> str:
        parts = re.split(r"^\$ (.*)\n", match[1], flags=re.MULTILINE)
        lines = []
        for command, pasted in zip(parts[1::2], parts[2::2], strict=True):
            status, printed = play(folder, command)
            output = shortened(printed, [line.rstrip() for line in pasted.splitlines()])
            if statuses is not None:
                statuses[command] = status
            lines += [f"$ {command}", *output]
        return "```console\n" + "\n".join(lines) + "\n```"

    return BLOCK.sub(fresh, text)


def refused(statuses: Mapping[str, int]) -> list[str]:
    """The commands that could not do their work."""
    return [command for command, status in statuses.items() if status not in DONE]


def pages() -> tuple[Path, ...]:
    """README and every page of the manual that has a tour."""
    manual = (path for path in sorted(MANUAL.glob("*.md")) if blocks(path.read_text(encoding="utf-8")))
    return README, *manual


def main(names: Sequence[str]) -> None:
    """Bring README and manual up to date, each page in a folder of its own."""
    for path in pages():
        if names and path.name not in names:
            continue
        with tempfile.TemporaryDirectory() as name:
            prepare(Path(name))
            statuses: dict[str, int] = {}
            path.write_text(
                replayed(path.read_text(encoding="utf-8"), Path(name), statuses), encoding="utf-8"
            )
            print(f"{path.name}: {len(statuses)} commands", *refused(statuses), sep="\n    ")


if __name__ == "__main__":
    main(sys.argv[1:])
