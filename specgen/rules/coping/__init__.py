"""Rules on the coping."""
