"""Guided training and practice, as an apprentice meets them."""
