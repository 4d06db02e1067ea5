"""The bar that shows how far a long run has come."""

from __future__ import annotations

import contextlib
import sys
from collections.abc import Callable, Iterator

import click

STEPS = 1000  # of a bar that takes shares


@contextlib.contextmanager
def progress(count: int, label: str) -> Iterator[Callable[[int], None]]:
    """A bar on a terminal, and nothing where no one watches; what it yields takes the number of steps done."""
    if not sys.stderr.isatty():
        yield lambda _: None
        return
    with click.progressbar(length=count, label=label, show_pos=True, file=sys.stderr) as bar:
        yield bar.update


@contextlib.contextmanager
def share_bar(label: str) -> Iterator[Callable[[float], None]]:
    """As :func:`progress`; what it yields takes the share of the whole that is done [-]."""
    with progress(STEPS, label) as advance:
        at = 0

        def tell(share: float) -> None:
            nonlocal at
            steps = max(0, round(share * STEPS) - at)
            at += steps
            advance(steps)

        yield tell
