"""The wall clock and the clock that nobody can set.

Invariant: `now` always carries its offset from UTC, so that a record stays in order when the
machine changes its time zone.
"""

from __future__ import annotations

import time
from datetime import datetime
from functools import cache
from pathlib import Path
from typing import Any

_BOOT_ID = Path("/proc/sys/kernel/random/boot_id")


def now() -> datetime:
    """The time of day with its offset, to the second."""
    return datetime.now().astimezone().replace(microsecond=0)


def monotonic() -> dict[str, Any]:
    """Seconds that go on while the machine sleeps, and the boot that they belong to.

    Two readings can be subtracted only where `boot` is the same and not empty.
    """
    boottime = getattr(time, "CLOCK_BOOTTIME", None)
    seconds = time.monotonic() if boottime is None else time.clock_gettime(boottime)
    return {"monotonic": round(seconds, 3), "boot": _boot()}


@cache
def _boot() -> str:
    try:
        return _BOOT_ID.read_text("ascii").strip()[:64]
    except (OSError, ValueError):
        return ""
