"""Rules on the control layers as unbroken paths and the order of work."""
