"""Many records, and one of them, as a lead needs to see them."""
