"""Rules on walls that stand: what was seen, what must be opened, what is proposed."""
