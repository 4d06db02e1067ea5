"""The small walls of the tests of requirements."""

from tests.requirements.conftest import calculate, place, project

__all__ = ["calculate", "place", "project"]
