"""Data sheets of manufacturers: bytes to positioned words, to tables, to values with their evidence."""
