"""A page on a copy of a worked example, asked as a browser of this machine asks it."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import httpx2
import pytest
from starlette.testclient import TestClient

from specgen.page.app import application
from specgen.page.desk import Desk, Options
from specgen.page.guard import Door

PROJECTS = Path(__file__).parents[2] / "projects"
PORT = 49_152


@dataclass(frozen=True)
class Page:
    """The page with what it has open; addresses are given without the secret before them."""

    client: TestClient
    desk: Desk
    door: Door

    def get(self, where: str = "", **more: Any) -> httpx2.Response:
        """Ask for a view."""
        return self.client.get(f"/{self.door.token}/{where}", **more)

    def post(
        self, where: str, data: dict[str, Any] | None = None, live: bool = False, **more: Any
    ) -> httpx2.Response:
        """Send a form; ``live`` as the script of the page does."""
        headers = {"Origin": f"http://127.0.0.1:{PORT}", **({"HX-Request": "true"} if live else {})}
        headers |= more.pop("headers", {})
        more.setdefault("follow_redirects", False)
        return self.client.post(f"/{self.door.token}/{where}", data=data, headers=headers, **more)


Open = Callable[..., Page]


@pytest.fixture
def opened(tmp_path: Path) -> Iterator[Open]:
    """Opens a copy of a worked example by its name; with "" an empty folder."""
    clients: list[TestClient] = []

    def open_(
        example: str = "faulty-parapet", person: str = "A. Reviewer", options: Options | None = None
    ) -> Page:
        folder = tmp_path / (example or "empty")
        if example:
            shutil.copytree(PROJECTS / example, folder)
        else:
            folder.mkdir()
        desk = Desk(folder, options, person)
        if example:
            desk.open(folder)
        door = Door(PORT)
        client = TestClient(
            application(desk, door), base_url=f"http://127.0.0.1:{PORT}", raise_server_exceptions=True
        )
        clients.append(client)
        return Page(client, desk, door)

    yield open_
    for client in clients:
        client.close()
