"""The bar that shows how far a run has come: on a terminal alone, on standard error, after a second."""

from __future__ import annotations

import contextlib
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from contextvars import ContextVar

import click

from specgen.design.progress import listening

STEPS = 1000  # of a bar that takes shares
PATIENCE = 1.0  # s; a run that takes less shows no bar


class ShareBar:
    """A bar that takes shares of a whole. It opens at the first share that comes late enough, and never goes back."""

    def __init__(self, label: str, patience: float = PATIENCE) -> None:
        self._label, self._from = label, time.monotonic() + patience
        self._open: ExitStack | None = None
        self._advance: Callable[[int], None] = lambda steps: None
        self._at = 0
        self._over = False

    def tell(self, share: float) -> None:
        """Move to a share that is done [-]."""
        steps = max(0, min(STEPS, round(share * STEPS)) - self._at)
        self._at += steps
        if self._over or time.monotonic() < self._from:
            return
        if self._open is None:
            self._open = ExitStack()
            bar = click.progressbar(length=STEPS, label=self._label, file=sys.stderr)
            self._advance = self._open.enter_context(bar).update
            steps = self._at
        self._advance(steps)

    def pause(self) -> None:
        """Leave the line of the bar, as something is printed; a share that comes later opens another."""
        if self._open is not None:
            self._open.close()
            self._open = None

    def end(self) -> None:
        """Leave it for good."""
        self._over = True
        self.pause()


_shown: ContextVar[ShareBar | None] = ContextVar("bar", default=None)


@contextlib.contextmanager
def bar_of(label: str) -> Iterator[None]:
    """Show on a terminal the shares that the work within tells."""
    if not sys.stderr.isatty():
        yield
        return
    bar = ShareBar(label)
    token = _shown.set(bar)
    try:
        with listening(bar.tell):
            yield
    finally:
        bar.end()
        _shown.reset(token)


def pause_bar() -> None:
    """Leave the line of the bar of this run, if one is shown: something is printed now."""
    bar = _shown.get()
    if bar is not None:
        bar.pause()


def end_bar() -> None:
    """Show no bar any more in this run."""
    bar = _shown.get()
    if bar is not None:
        bar.end()
