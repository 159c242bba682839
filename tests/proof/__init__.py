"""Evidence that each calculation agrees with something outside the project."""
