"""Settings shared by all tests: seeded samples by default, full counts with ``SPECGEN_LONG=1``."""

from __future__ import annotations

import os

from hypothesis import HealthCheck, settings

LONG = os.environ.get("SPECGEN_LONG") == "1"

# No deadline: a shared machine may stall any single example.
settings.register_profile("sample", deadline=None, derandomize=True, max_examples=60)
settings.register_profile(
    "long", deadline=None, max_examples=2_000, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("long" if LONG else "sample")
