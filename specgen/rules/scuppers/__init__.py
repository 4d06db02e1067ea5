"""Rules on through-wall scuppers."""
