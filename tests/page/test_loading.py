"""Every view is found by the first word of its address, and a start loads none of them."""

from __future__ import annotations

import importlib
import pkgutil
import subprocess
import sys

from specgen.page import views
from specgen.page.loading import MODULES


def test_the_table_names_the_modules_of_every_address() -> None:
    found: dict[str, set[str]] = {}
    for one in pkgutil.iter_modules(views.__path__):
        for route in getattr(importlib.import_module(f"{views.__name__}.{one.name}"), "ROUTES", ()):
            found.setdefault(route.path.split("/")[1].partition("{")[0].rstrip("."), set()).add(one.name)
    assert {key: set(names) for key, names in MODULES.items()} == found


def test_a_start_loads_no_view_and_no_library_of_papers() -> None:
    code = (
        "import sys, specgen.page.serve; "
        "print([name for name in sys.modules if name.startswith('specgen.page.views.') or name in "
        "('docx', 'reportlab', 'openpyxl', 'xlsxwriter', 'matplotlib', 'numpy', 'scipy', 'numba')])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
