"""The bar that shows how far a run has come: on a terminal alone, on standard error, after a second."""

from __future__ import annotations

import contextlib
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from contextvars import ContextVar

import click

from specgen.design.progress import listening

STEPS = 1000  # of a bar that takes shares
PATIENCE = 1.0  # s; a run that takes less shows no bar


class ShareBar:
    """A bar that takes shares of a whole. It opens by itself when the work takes long, and never goes back."""

    def __init__(self, label: str, patience: float = PATIENCE) -> None:
        self._label, self._from = label, time.monotonic() + patience
        self._lock = threading.RLock()
        self._open: ExitStack | None = None
        self._advance: Callable[[int], None] = lambda steps: None
        self._at = 0
        self._over = False
        self._timer = threading.Timer(patience, self._show)
        self._timer.daemon = True
        self._timer.start()

    def tell(self, share: float) -> None:
        """Move to a share that is done [-]."""
        with self._lock:
            steps = max(0, min(STEPS, round(share * STEPS)) - self._at)
            self._at += steps
            if self._open is not None:
                self._advance(steps)
            elif time.monotonic() >= self._from:
                self._show()

    def _show(self) -> None:
        with self._lock:
            if self._over or self._open is not None:
                return
            self._open = ExitStack()
            bar = click.progressbar(length=STEPS, label=self._label, file=sys.stderr)
            self._advance = self._open.enter_context(bar).update
            self._advance(self._at)

    def pause(self, done: bool = False) -> None:
        """Leave the line of the bar, as something is printed; a share that comes later opens another.

        Args:
            done: what is printed is the result, so that the work is done.
        """
        with self._lock:
            if self._open is not None:
                if done:
                    self.tell(1.0)
                self._open.close()
                self._open = None

    def end(self) -> None:
        """Leave it for good."""
        with self._lock:
            self._over = True
            self._timer.cancel()
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


def pause_bar(done: bool = False) -> None:
    """Leave the line of the bar of this run, if one is shown: something is printed now.

    Args:
        done: it is the result, so that the work is done.
    """
    bar = _shown.get()
    if bar is not None:
        bar.pause(done)


def end_bar() -> None:
    """Show no bar any more in this run."""
    bar = _shown.get()
    if bar is not None:
        bar.end()
