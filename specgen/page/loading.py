"""Which module of views answers which addresses: each is loaded when it is first asked for, so the page starts soon."""

from __future__ import annotations

import importlib
from collections.abc import Mapping
from functools import lru_cache

from starlette.routing import Router
from starlette.types import Receive, Scope, Send

from specgen.page import views

# The modules by the first word of an address; one that stands in no line has no view.
MODULES: Mapping[str, tuple[str, ...]] = {
    "": ("start",),
    "start": ("start", "proposals"),
    "facts": ("facts",),
    "wall": ("wall",),
    "wall-of": ("wall",),
    "kinds": ("wall",),
    "change": ("change",),
    "layers": ("layers",),
    "parapets": ("parapets",),
    "findings": ("findings",),
    "questions": ("questions",),
    "compare": ("compare",),
    "calculations": ("sheets",),
    "jobs": ("jobs",),
    "papers": ("papers",),
    "submittals": ("submittals",),
    "substitutions": ("substitutions",),
    "register": ("register",),
    "waivers": ("waivers",),
    "history": ("waivers",),
    "sections": ("print",),
    "drawings": ("print",),
    "file": ("print",),
    "issue": ("print", "issue"),
    "issue.zip": ("issue",),
    "issued": ("issue",),
    "archive": ("issue",),
    "comments": ("share",),
    "steps": ("steps",),
    "undo": ("steps",),
    "redo": ("steps",),
    "person": ("steps",),
    "changed": ("steps",),
    "read-again": ("steps",),
    "leaving": ("leaving",),
}


async def views_below(scope: Scope, receive: Receive, send: Send) -> None:
    """Answer by the views of the first word of the address."""
    first = scope["path"].removeprefix(scope["root_path"]).removeprefix("/").partition("/")[0]
    await _router(MODULES.get(first, ()))(scope, receive, send)


@lru_cache(maxsize=len(MODULES))
def _router(names: tuple[str, ...]) -> Router:
    routes = [route for name in names for route in importlib.import_module(f"{views.__name__}.{name}").ROUTES]
    return Router(routes, redirect_slashes=False)


def load(*first_words: str) -> None:
    """Load the modules of some addresses, of all where none is named, while nobody waits for them."""
    for word in first_words or MODULES:
        _router(MODULES[word])
