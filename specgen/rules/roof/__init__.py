"""Rules on the roof membrane on the parapet."""
