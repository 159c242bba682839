"""How long a stopwatch of the record has run.

Invariant: within one boot the clock that nobody can set is used; across boots the wall clock, and
the words say so.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from wizard.job import Timer


@dataclass(frozen=True, slots=True)
class Elapsed:
    """Seconds since the start, and a word where they come from the wall clock."""

    seconds: float
    doubt: str = ""


def elapsed(timer: Timer, clock: Mapping[str, Any], now: datetime) -> Elapsed:
    """Seconds on the stopwatch by both clocks; never less than nothing."""
    if timer.stopped is not None:
        return Elapsed(timer.stopped)
    started = timer.started.data
    boot = started.get("boot")
    if boot and boot == clock.get("boot"):
        return Elapsed(max(0.0, float(clock["monotonic"]) - float(started["monotonic"])))
    seconds = (now - timer.started.at).total_seconds()
    return Elapsed(
        max(0.0, seconds),
        "by the wall clock: started on another computer or before a restart",
    )


def clock_text(seconds: float) -> str:
    """Seconds as a stopwatch shows them.

    >>> clock_text(5.0), clock_text(75.4), clock_text(3725.0)
    ('0:05', '1:15', '1:02:05')
    """
    whole = int(seconds)
    minutes, rest = divmod(whole, 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours}:{minutes:02d}:{rest:02d}" if hours else f"{minutes}:{rest:02d}"
