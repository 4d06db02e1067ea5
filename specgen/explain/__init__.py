"""Findings explained: what led to each, what hangs on it, and what would close it, tried on a copy."""
