"""One piece of evidence for one calculation."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass


@dataclass(frozen=True)
class Proof:
    """Pairs of (ours, theirs) for one formula or check, by its registered name.

    `oracle` names what stands outside: a published example or table, or a reference library.
    `tolerance` is relative for numbers; texts (verdicts, sizes, dates) must be equal.
    """

    calculation: str
    oracle: str
    cases: Callable[[], Iterable[tuple[float | str, float | str]]]
    tolerance: float = 1e-4
