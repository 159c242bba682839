"""The screens of the review."""
