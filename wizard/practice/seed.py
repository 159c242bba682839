"""Chance from a seed: the same words always give the same draw, in any order of asking."""

from __future__ import annotations

from collections.abc import Sequence
from hashlib import sha256
from math import cos, log, pi, sqrt
from typing import TypeVar

T = TypeVar("T")


def share(seed: int, *words: object) -> float:
    """A number from 0 up to 1, even.

    >>> share(1, "gauge") == share(1, "gauge") != share(2, "gauge")
    True
    """
    text = "\x1f".join(map(str, (seed, *words)))
    return int.from_bytes(sha256(text.encode()).digest()[:7], "big") / 2.0**56


def spread(seed: int, *words: object) -> float:
    """A draw from the normal distribution, cut at three standard deviations."""
    first, second = share(seed, *words, "a"), share(seed, *words, "b")
    drawn = sqrt(-2 * log(1.0 - first)) * cos(2 * pi * second)
    return max(-3.0, min(3.0, drawn))


def between(low: float, high: float, seed: int, *words: object) -> float:
    """A number between two ends, even."""
    return low + (high - low) * share(seed, *words)


def pick(options: Sequence[T], seed: int, *words: object) -> T:
    """One of several."""
    return options[int(share(seed, *words) * len(options))]
