"""What stands before every answer of the page: who may ask, by which address, how much, and for how long."""

from __future__ import annotations

import asyncio
import secrets
from dataclasses import dataclass, field
from time import monotonic

from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

LARGEST_FORM = 1_000_000  # bytes of a posted form without files
LARGEST_UPLOAD = 64_000_000  # bytes of one post with files
_DIGITS = 18  # of an announced size; Python reads no number of thousands of them
LONGEST_PAUSE = 15.0  # s between two pieces of a post
LONGEST_POST = 120.0  # s for a whole post
METHODS = ("GET", "HEAD", "POST")
_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; "
    "form-action 'self'; frame-ancestors 'none'; base-uri 'none'"
)
# What every answer says. A drawing that is opened by itself may have the rules it carries, and nothing else.
HEADERS = (
    (b"content-security-policy", _POLICY.encode()),
    (b"x-content-type-options", b"nosniff"),
    (b"x-frame-options", b"DENY"),
    (b"referrer-policy", b"same-origin"),  # "no-referrer" would take the origin from a posted form as well
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"permissions-policy", b"camera=(), microphone=(), geolocation=()"),
    (b"cache-control", b"no-store"),
)
DRAWING_POLICY = "default-src 'none'; style-src 'unsafe-inline'"


@dataclass(frozen=True)
class Door:
    """Where the page is to be asked: its port, and the secret that its address bears."""

    port: int
    token: str = field(default_factory=lambda: secrets.token_urlsafe(24), repr=False)

    @property
    def hosts(self) -> tuple[str, ...]:
        """The hosts by which a browser of this machine knows the page."""
        return (f"127.0.0.1:{self.port}", f"localhost:{self.port}")

    @property
    def address(self) -> str:
        """The address to open."""
        return f"http://127.0.0.1:{self.port}/{self.token}/"


@dataclass
class Seen:
    """When something was last asked of the page, and what is still being answered."""

    last: float = field(default_factory=monotonic)
    busy: int = 0
    left: float | None = None  # when the last tab was closed, and nothing was asked since


class Refused(Exception):  # noqa: N818 - the name reads as the statement it makes
    """A post that is not read to its end."""

    def __init__(self, status: int, words: str) -> None:
        super().__init__(words)
        self.status, self.words = status, words


class Guard:
    """Lets through what a person of this machine asks by the printed address, and refuses everything else."""

    def __init__(self, app: ASGIApp, door: Door, seen: Seen) -> None:
        self.app, self.door, self.seen = app, door, seen

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request."""
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
            return
        if scope["type"] != "http":  # no other kind of connection is spoken
            return
        if why := self._why_refused(scope):
            await PlainTextResponse(why[1], why[0])(scope, receive, _with_headers(send))
            return
        self.seen.last, self.seen.left, self.seen.busy = monotonic(), None, self.seen.busy + 1
        started = False

        async def answer(message: Message) -> None:
            nonlocal started
            started = started or message["type"] == "http.response.start"
            await _with_headers(send)(message)

        try:
            await self.app(scope, _limited(scope, receive), answer)
        except Refused as refused:
            if not started:
                closing = {"connection": "close"}
                await PlainTextResponse(refused.words, refused.status, closing)(
                    scope, receive, _with_headers(send)
                )
        finally:
            self.seen.last, self.seen.busy = monotonic(), self.seen.busy - 1

    def _why_refused(self, scope: Scope) -> tuple[int, str] | None:
        headers = _single(scope)
        if headers is None:
            return 400, "The request bears a header twice."
        if headers.get("host", "") not in self.door.hosts:
            return 403, "The page answers to 127.0.0.1 alone."
        if scope["method"] not in METHODS:
            return 405, "The page knows GET and POST."
        site, origin = headers.get("sec-fetch-site", ""), headers.get("origin", "")
        own = tuple(f"http://{host}" for host in self.door.hosts)
        if origin and origin not in own:
            return 403, "Another page sent this request; it was refused."
        if site in ("cross-site", "same-site"):
            return 403, "Another page sent this request; it was refused."
        if scope["method"] == "POST" and not origin and site != "same-origin":
            return 403, "The request does not say which page it comes from; it was refused."
        head, _, rest = scope["path"].removeprefix("/").partition("/")
        if not secrets.compare_digest(head.encode("utf-8", "replace"), self.door.token.encode()):
            return 404, "No page has this address. Use the one that `specgen page` printed."
        if not rest and not scope["path"].endswith("/"):
            return 404, "The address ends with a slash."
        return None


def _single(scope: Scope) -> dict[str, str] | None:
    """The headers by name; None where one that is looked at stands twice."""
    found: dict[str, str] = {}
    for name, value in scope["headers"]:
        key = name.decode("latin-1").lower()
        if key in found and key in ("host", "origin", "sec-fetch-site", "content-length", "content-type"):
            return None
        found[key] = value.decode("latin-1")
    return found


def _limited(scope: Scope, receive: Receive) -> Receive:
    """The pieces of a post, no more and no slower than is sensible."""
    headers = _single(scope) or {}
    files = headers.get("content-type", "").startswith("multipart/form-data")
    most = LARGEST_UPLOAD if files else LARGEST_FORM
    words = f"More was sent than the page takes: at most {most // 1_000_000} MB at a time."
    announced = headers.get("content-length", "0")
    until, taken = monotonic() + LONGEST_POST, 0

    async def piece() -> Message:
        nonlocal taken
        if not announced.isdecimal() or len(announced) > _DIGITS or int(announced) > most:
            raise Refused(413, words)
        if scope["method"] != "POST":
            return await receive()
        left = min(LONGEST_PAUSE, until - monotonic())
        try:
            message = await asyncio.wait_for(receive(), max(left, 0.01))
        except TimeoutError:
            raise Refused(408, "What was sent came too slowly; send it again.") from None
        taken += len(message.get("body", b""))
        if taken > most:
            raise Refused(413, words)
        return message

    return piece


def _with_headers(send: Send) -> Send:
    async def answer(message: Message) -> None:
        if message["type"] == "http.response.start":
            have = {name.lower() for name, _ in message["headers"]}
            own = [(name, value) for name, value in HEADERS if name not in have]
            message = {**message, "headers": [*message["headers"], *own]}
        await send(message)

    return answer
