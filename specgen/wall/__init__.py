"""The wall: its named conditions, its order of layers, what its values may plausibly be, and how it is changed."""
