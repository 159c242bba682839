"""What happens to a job, one event at a time.

Invariant: an event never changes; its data are plain TOML values that depend on the act.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum
from typing import Any

FROM_PAPERS = "papers of the site"
"""Whose name stands in a practice record for what it is given to begin with."""


class Act(StrEnum):
    """What an event did."""

    ANSWERED = "answered"
    CORRECTED = "corrected"
    WITHDRAWN = "withdrawn"
    NOT_APPLICABLE = "not applicable"
    NOTED = "noted"
    TIMER_STARTED = "timer started"
    LAP = "lap"
    TIMER_STOPPED = "timer stopped"
    HOLD_RAISED = "hold raised"
    HOLD_CLEARED = "hold cleared"
    INSTRUMENT = "instrument"
    REMARKED = "remarked"
    REPLIED = "replied"
    SIGNED = "signed"
    CLOCK_STEPPED = "clock stepped"
    MIGRATED = "migrated"
    VISIT = "visit"


@dataclass(frozen=True, slots=True)
class Event:
    """One thing that happened; `data` holds plain TOML values that depend on the act."""

    seq: int
    act: Act
    at: datetime
    by: str
    key: str = ""
    data: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Timer:
    """A running or stopped stopwatch; laps are (seconds since start, text of the reading)."""

    started: Event
    laps: tuple[tuple[float, str], ...] = ()
    stopped: float | None = None
