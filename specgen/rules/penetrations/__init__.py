"""Rules on what passes through the parapet."""
