"""Rules on the plaster."""
