"""Rules on values that are not what their kind is expected to have."""
