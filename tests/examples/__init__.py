"""Examples that are tested, to be taken and changed."""
