"""Inputs that may be missing. Invariant: zero is a value, only None is missing."""

from __future__ import annotations


def given(value: float | None, otherwise: float) -> float:
    """The value, or what stands for it where none is given.

    >>> given(None, 1.0), given(0.0, 1.0)
    (1.0, 0.0)
    """
    return otherwise if value is None else value
