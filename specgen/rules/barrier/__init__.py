"""Rules on the wall barrier."""
