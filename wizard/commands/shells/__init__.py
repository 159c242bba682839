"""Completion scripts, one module a shell; each makes its script from the usage of the program."""
