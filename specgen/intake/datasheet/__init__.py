"""Data sheets of makers: bytes to positioned words, to tables, to values with their evidence."""
