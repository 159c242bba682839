"""Practice: a simulated machine with a hidden true state, its instruments, faults and scoring.

Invariant: everything here is a value or a pure function; time and seeds come in as arguments.
"""
