"""The application of the page: its views, gathered, behind the guard."""

from __future__ import annotations

from starlette.applications import Starlette
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Mount
from starlette.staticfiles import StaticFiles

from specgen.files.carried import carried
from specgen.files.faults import fault_line
from specgen.page.answer import page
from specgen.page.desk import Desk
from specgen.page.guard import Door, Guard, Seen
from specgen.page.jobs import Jobs
from specgen.page.loading import views_below


def application(desk: Desk, door: Door, seen: Seen | None = None, end_with_tab: bool = False) -> Starlette:
    """The page as a server runs it.

    Args:
        desk: what it has open.
        door: by which address it is asked.
        seen: where it is noted when it was asked last.
        end_with_tab: whether it ends when its last tab is closed.
    """
    seen = seen or Seen()
    still = StaticFiles(directory=carried("templates") / "live" / "still")
    app = Starlette(
        routes=[Mount(f"/{door.token}/still", still), Mount(f"/{door.token}", views_below)],
        middleware=[Middleware(Guard, door=door, seen=seen)],
        exception_handlers={404: _not_found, 500: _fault},
    )
    app.state.desk, app.state.seen, app.state.says = desk, seen, ""
    app.state.jobs = Jobs()
    app.state.end_with_tab, app.state.base = end_with_tab, f"/{door.token}/"
    return app


def _not_found(request: Request, _error: Exception) -> Response:
    return page(request, "live/refused.html", 404, lines=["There is no such view."])


def _fault(request: Request, error: Exception) -> Response:
    """A fault of the program: told in one line, never as what it looked like inside."""
    return page(request, "live/refused.html", 500, lines=[fault_line(error)])
