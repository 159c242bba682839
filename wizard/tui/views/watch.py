"""What the stopwatch of an item shows.

Invariant: where the time does not come from the clock that nobody can set, the words say so.
"""

from __future__ import annotations

from wizard.job import Timer
from wizard.procedure.item import Item
from wizard.stopwatch import Elapsed, clock_text
from wizard.tui.spans import Lines, line, wrapped


def watch(
    item: Item, timer: Timer | None, shown: Elapsed | None, key_text: str, width: int
) -> Lines:
    """Time, state and readings so far; how to start where it has not been started."""
    if item.kind not in ("time", "series"):
        return []
    if timer is None or shown is None:
        return [line((key_text, "key"), (" starts the stopwatch", "dim"))]
    laps = len(timer.laps)
    count = f"  {laps} reading{'' if laps == 1 else 's'}" if item.kind == "series" else ""
    if timer.stopped is None:
        state, role = f"running; {key_text} stops it", "advise"
    else:
        state, role = f"stopped; {key_text} starts it anew", "text"
    lines: Lines = [
        line(
            ("Stopwatch ", "dim"),
            (clock_text(shown.seconds), "strong"),
            f"{count}  ",
            (state, role),
        )
    ]
    if shown.doubt:
        lines += wrapped(f"Time {shown.doubt}.", width, "caution")
    return lines
