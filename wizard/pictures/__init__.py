"""Drawings to scale from a job's own values, as lines of text."""
