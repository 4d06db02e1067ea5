"""Rules on vapor driven into the wall."""
