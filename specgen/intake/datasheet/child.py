"""Starts the process that opens a file from outside, and ends it when it takes too long."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from specgen.files.marks import InputError, InputProblem, Mark
from specgen.intake.datasheet.limits import SECONDS


def ask(name: str, form: str, data: bytes, wanted: Mapping[str, Any] | None = None) -> dict[str, Any]:
    """What the process read from a file.

    Args:
        name: how messages name the file.
        form: pdf, workbook, word, csv, or crops.
        data: the file.
        wanted: for crops, their ``regions``.

    Raises:
        InputError: the file is unusable, or the process that read it failed or ran out of time.
    """
    command = [sys.executable, "-P", "-W", "ignore", "-m", "specgen.intake.datasheet.worker", form]
    head = json.dumps(dict(wanted or {})).encode() + b"\n"
    try:
        done = subprocess.run(  # noqa: S603 - our own module, no shell
            command,
            input=head + data,
            capture_output=True,
            timeout=SECONDS + 5,
            check=False,
            env=_environment(),
        )
    except subprocess.TimeoutExpired:
        raise unusable(
            name, f"reading it took more than {SECONDS:.0f} seconds", "ask for a simpler file"
        ) from None
    try:
        found = json.loads(done.stdout)
    except ValueError:
        found = None
    if done.returncode != 0 or not isinstance(found, dict):
        raise unusable(
            name, "the file made its reader fail: it is damaged or made to do harm", "ask for it again"
        )
    if "wrong" in found:
        raise unusable(name, found["wrong"], found["fix"])
    return found


def _environment() -> dict[str, str]:
    """Ours, with the place of this package: the folder that a person works in is not searched for modules."""
    return {**os.environ, "PYTHONPATH": str(Path(__file__).resolve().parents[3])}


def unusable(name: str, message: str, fix: str) -> InputError:
    """The error of a whole file."""
    return InputError([InputProblem(Mark(name, 1, 1), message, fix)])
