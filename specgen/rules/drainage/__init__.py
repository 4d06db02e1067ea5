"""Rules on the drainage layer and its outlet."""
