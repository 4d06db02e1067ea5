"""Rules on the flashing across the parapet top, its laps and tapes."""
