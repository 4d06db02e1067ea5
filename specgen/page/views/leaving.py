"""A tab that is closed says so; where it was asked for, the page ends with the last one."""

from __future__ import annotations

from time import monotonic

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route


async def leaving(request: Request) -> Response:
    """Note that a tab was closed. Whatever is asked afterwards takes the note away."""
    if request.app.state.end_with_tab:
        request.app.state.seen.left = monotonic()
    return Response(status_code=204)


ROUTES = (Route("/leaving", leaving, methods=["POST"]),)
