"""Rules on fire and people at the roof's edge."""
