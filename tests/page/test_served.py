"""The page as a process: it starts, answers this machine alone, outlives slow clients, ends, and loses nothing."""

from __future__ import annotations

import shutil
import signal
import socket
import threading
from contextlib import ExitStack
from pathlib import Path
from time import monotonic, sleep
from urllib.parse import urlsplit

import httpx2
import pytest

from specgen.page.desk import Desk
from tests.conftest import LONG
from tests.page.served import Served, served

FULL = pytest.mark.skipif(not LONG, reason="some twenty seconds in a browser: tried by make test-long")
WAY = {"way": "stated", "was_way": "stated", "was": "115 mph"}
PROJECTS = Path(__file__).parents[2] / "projects"


@pytest.fixture
def job(tmp_path: Path) -> Path:
    return Path(shutil.copytree(PROJECTS / "faulty-parapet", tmp_path / "job"))


def test_the_address_bears_a_secret_that_differs_each_time_and_only_loopback_listens(job: Path) -> None:
    with served(job) as one, served(job) as other:
        assert one.address != other.address
        assert one.address.split("/")[3] != other.address.split("/")[3]
        assert one.get("steps").status_code == 200
        port = urlsplit(one.address).port or 0
        for name in {socket.gethostname()} - {"localhost"}:
            found = socket.gethostbyname(name)
            if not found.startswith("127.0.0.1"):
                with pytest.raises(OSError, match=""), socket.create_connection((found, port), 2):
                    pass


def test_ctrl_c_ends_it_quietly(job: Path) -> None:
    with served(job) as page:
        page.process.send_signal(signal.SIGINT)
        out, err = page.process.communicate(timeout=10)
        assert "Traceback" not in out + err and err == ""
        assert page.process.returncode in (0, 1, 130)


def test_a_taken_port_and_a_missing_folder_are_told(job: Path, tmp_path: Path) -> None:
    with served(job) as page:
        port = str(urlsplit(page.address).port)
        with pytest.raises(AssertionError, match=f"port {port} cannot be used"), served(job, "--port", port):
            pass
    with pytest.raises(AssertionError, match="no such folder"), served(tmp_path / "nowhere" / "at-all"):
        pass


def test_clients_that_send_nothing_or_a_letter_a_second_stop_nobody(job: Path) -> None:
    with served(job) as page, ExitStack() as stack:
        where = urlsplit(page.address)
        head = (
            f"POST {where.path}person HTTP/1.1\r\nHost: {where.netloc}\r\nOrigin: http://{where.netloc}\r\n"
        )
        for number in range(60):
            slow = stack.enter_context(socket.create_connection(("127.0.0.1", where.port or 0), 5))
            if number % 3 == 1:
                slow.sendall(head.encode())
            if number % 3 == 2:
                slow.sendall(
                    f"{head}Content-Type: application/x-www-form-urlencoded\r\nContent-Length: 50\r\n\r\np".encode()
                )
        started = monotonic()
        assert page.get("steps").status_code == 200
        assert monotonic() - started < 2.0


def test_a_request_that_is_none_is_answered_and_the_page_goes_on(job: Path) -> None:
    with served(job) as page:
        where = urlsplit(page.address)
        for data in (
            b"\x00\xff\r\n\r\n",
            b"GET " + b"/" * 200_000 + b" HTTP/1.1\r\n\r\n",
            b"GET / HTTP/1.1\r\nHost: \r\n\r\n",
        ):
            with socket.create_connection(("127.0.0.1", where.port or 0), 5) as one:
                one.sendall(data)
                assert one.recv(400).startswith(b"HTTP/1.1 4")
        assert page.get("steps").status_code == 200


@FULL
def test_it_ends_with_its_last_tab_where_that_is_asked_for(job: Path) -> None:
    with served(job, "--end-with-tab") as page:
        page.post("leaving", {})
        page.get("steps")  # another tab, or the same one loaded anew
        sleep(9.5)
        assert page.process.poll() is None
        page.post("leaving", {})
        page.process.wait(timeout=20)
    with served(job) as page:
        page.post("leaving", {})
        sleep(1.0)
        assert page.process.poll() is None


def test_a_page_that_is_killed_in_the_middle_of_its_changes_leaves_a_whole_file(job: Path) -> None:
    path = job / "project.yaml"
    whole = path.read_text("utf-8")
    changed = whole.replace("wind_speed: 115 mph", "wind_speed: 121 mph")
    assert changed != whole
    found = set()
    for turn in range(5):
        with served(job) as page:
            worker = threading.Thread(target=_press, args=(page,))
            worker.start()
            sleep(0.5 + 0.13 * turn)
            page.process.kill()
            worker.join()
        found.add(path.read_text("utf-8"))
    assert found <= {whole, changed}
    desk = Desk(job)
    desk.open(job)  # the parts that a killed page left are swept by the next change
    desk.change(lambda text: text.replace("units: inch-pound", "units: both"), "units")
    assert not [one.name for one in job.iterdir() if one.name.endswith(".part")]


def _press(page: Served) -> None:
    """Set a value and take it back until the page is gone."""
    try:
        while True:
            page.post("change", {"record": "site", "key": "wind_speed", **WAY, "value": "121 mph"})
            page.post("undo", {})
    except httpx2.TransportError:
        return
