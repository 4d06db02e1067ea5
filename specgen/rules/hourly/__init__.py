"""Rules on the kept result of the hours of a wall."""
