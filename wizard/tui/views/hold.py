"""Why the job is held, what can happen, and what clears it.

Invariant: while the job is held this is on the working screen, whatever else is shown.
"""

from __future__ import annotations

from wizard.job import Job
from wizard.render import limit_text, units_for
from wizard.tui.spans import Lines, at_most, line, wrapped


def hold(job: Job, width: int, height: int, key_text: str) -> Lines:
    """The first hold in at most `height` rows; empty where nothing holds."""
    holds = job.holds()
    if not holds or height < 1:
        return []
    first = holds[0]
    item = job.procedure.items[first.key]
    units = units_for(item, job.answers.get(first.key), job.header.units)
    more = f" and {len(holds) - 1} more" if len(holds) > 1 else ""
    limit = limit_text(first.finding.limit, units)
    found = first.finding.text + (f" Limit {limit}." if limit else "")
    head = line(
        (f" HELD in phase {first.phase}{more} ", "hold"), f" {item.ask}  ", (key_text, "key")
    )
    why = wrapped(f"{first.finding.verdict}: {found}", width, "fail")
    clears = wrapped(f"Clears: {first.finding.clears or 'a new reading that passes.'}", width)
    danger = wrapped(f"Danger: {first.finding.danger}", width) if first.finding.danger else []
    room = height - 1
    lines: Lines = [head]
    lines += at_most(why, max(1, min(2, room - 1)), width, "… F1")
    lines += at_most(clears, max(0, height - len(lines) - (1 if danger else 0)), width, "… F1")
    lines += at_most(danger, max(0, height - len(lines)), width, "… F1")
    return lines
