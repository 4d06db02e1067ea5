"""How far long work is: the work tells its share from inside, and whoever runs it may listen."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import TypeVar

Listener = Callable[[float], None]
Item = TypeVar("Item")

_listener: ContextVar[Listener | None] = ContextVar("listener", default=None)


@contextmanager
def listening(listener: Listener) -> Iterator[None]:
    """Hand every share that is told within to a listener.

    >>> heard = []
    >>> with listening(heard.append):
    ...     tell(0.5)
    >>> tell(1.0)
    >>> heard
    [0.5]
    """
    token = _listener.set(listener)
    try:
        yield
    finally:
        _listener.reset(token)


def tell(share: float) -> None:
    """Say which share of the work is done [-], 0 to 1; nothing happens where nobody listens."""
    listener = _listener.get()
    if listener is not None:
        listener(share)


@contextmanager
def part(start: float, end: float) -> Iterator[None]:
    """What is told within as a whole is a part of the work: from one share [-] to another, which is told at its end.

    >>> heard = []
    >>> with listening(heard.append), part(0.5, 1.0):
    ...     tell(0.5)
    >>> heard
    [0.75, 1.0]
    """
    outer = _listener.get()
    if outer is None:
        yield
        return
    with listening(lambda share: outer(start + (end - start) * share)):
        yield
    outer(end)


def in_turn(items: Collection[Item]) -> Iterator[Item]:
    """The items one by one; the share that is done is told before the next.

    >>> heard = []
    >>> with listening(heard.append):
    ...     list(in_turn("ab"))
    ['a', 'b']
    >>> heard
    [0.5, 1.0]
    """
    for done, item in enumerate(items, start=1):
        yield item
        tell(done / len(items))
