"""The dialogue in plain lines."""
