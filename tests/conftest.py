"""Settings shared by all tests: seeded samples by default, full counts with ``SPECGEN_LONG=1``."""

from __future__ import annotations

import gc
import os

from hypothesis import HealthCheck, settings

# Seldom, as in a command (`commands.common`): with the default a third of an assessment's time is the search for cycles.
gc.set_threshold(20_000)

LONG = os.environ.get("SPECGEN_LONG") == "1"

# No deadline: a shared machine may stall any single example.
settings.register_profile("sample", deadline=None, derandomize=True, max_examples=30)
settings.register_profile(
    "long", deadline=None, max_examples=2_000, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("long" if LONG else "sample")
