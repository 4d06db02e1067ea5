"""Serving the page to the browser of this machine, until it is ended."""

from __future__ import annotations

import asyncio
import logging
import socket
import threading
import webbrowser
from collections.abc import Callable
from time import monotonic, sleep
from typing import Any

import uvicorn
from uvicorn.protocols.http.h11_impl import H11Protocol

from specgen.page.app import application
from specgen.page.desk import Desk
from specgen.page.guard import Door, Seen
from specgen.page.loading import load

HOST = "127.0.0.1"
HEADER_TIME = 20.0  # s in which the head of a request must have come
FIRST_VIEW = 2.0  # s in which the browser asks for it, which goes before
AFTER_THE_TAB = (
    8.0  # s without a request after the last tab was closed: a view that is loaded anew asks sooner
)


class Patient(H11Protocol):
    """The protocol of a connection, which is closed where the head of a request does not come in time."""

    _waiting: asyncio.TimerHandle | None = None

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """A connection is there."""
        super().connection_made(transport)
        self._waiting = self.loop.call_later(HEADER_TIME, self._too_slow)

    def data_received(self, data: bytes) -> None:
        """Something came."""
        super().data_received(data)
        if self.scope is not None and self._waiting is not None:
            self._waiting.cancel()
            self._waiting = None

    def connection_lost(self, exc: Exception | None) -> None:
        """The connection has ended."""
        if self._waiting is not None:
            self._waiting.cancel()
        super().connection_lost(exc)

    def _too_slow(self) -> None:
        if self.scope is None:
            self.transport.close()


def listening(port: int) -> socket.socket:
    """A socket of this machine alone.

    Args:
        port: 0 for any that is free.

    Raises:
        OSError: the port is in use.
    """
    sock = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    sock.bind((HOST, port))
    return sock


def serve(
    desk: Desk,
    sock: socket.socket,
    ready: Callable[[str], None],
    *,
    browser: bool = True,
    end_with_tab: bool = False,
    idle: float | None = None,
) -> None:
    """Serve the page until it is interrupted, or ends by itself where that was asked for.

    Args:
        desk: what the page has open.
        sock: bound by :func:`listening`.
        ready: told the address once it answers.
        browser: whether to open it in the browser.
        end_with_tab: end when the last tab is closed.
        idle: end after so many seconds in which nothing was asked; None: never.
    """
    door, seen = Door(sock.getsockname()[1]), Seen()
    app = application(desk, door, seen, end_with_tab)
    config = uvicorn.Config(
        app,
        http=Patient,
        ws="none",
        lifespan="off",
        log_level="error",
        access_log=False,
        server_header=False,
        proxy_headers=False,
        timeout_keep_alive=20,
        timeout_graceful_shutdown=2,
        h11_max_incomplete_event_size=64_000,
    )
    server = uvicorn.Server(config)
    logging.getLogger("uvicorn.error").setLevel(logging.ERROR)

    async def run() -> None:
        watch = asyncio.create_task(_watch(server, seen, door, ready, browser, idle if idle else None))
        try:
            await server.serve(sockets=[sock])
        finally:
            watch.cancel()

    asyncio.run(run())


def _load_later() -> None:
    load("", "wall")  # while the browser opens
    sleep(FIRST_VIEW)
    load()


async def _watch(
    server: Any, seen: Seen, door: Door, ready: Callable[[str], None], browser: bool, idle: float | None
) -> None:
    while not server.started:
        await asyncio.sleep(0.01)
    ready(door.address)
    if browser:
        await asyncio.to_thread(webbrowser.open, door.address)
    threading.Thread(target=_load_later, daemon=True).start()
    while True:
        await asyncio.sleep(0.5)
        if seen.busy:
            continue
        now = monotonic()
        if idle is not None and now - seen.last > idle:
            server.should_exit = True
        if seen.left is not None and now - seen.left > AFTER_THE_TAB:
            server.should_exit = True
