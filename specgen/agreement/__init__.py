"""Do the finished documents of an issue agree? A reader of its own, which knows none of the rooms that wrote them."""
