"""Why the job is held, what can happen, and what clears it.

Invariant: while the job is held this is on the working screen, whatever else is shown.
"""

from __future__ import annotations

from wizard.finding import Finding
from wizard.job import Job
from wizard.procedure.item import Item
from wizard.render import limit_text, units_for
from wizard.tui.spans import Lines, at_most, between, line, wrapped


def hold(job: Job, here: str, width: int, height: int, key_text: str) -> Lines:
    """The first hold in at most `height` rows; empty where nothing holds.

    `here` is the item in front: where it is the one that holds, its verdict is shown already.
    """
    holds = job.holds()
    if not holds or height < 1:
        return []
    first = holds[0]
    item = job.procedure.items[first.key]
    found = first.finding
    more = f" and {len(holds) - 1} more" if len(holds) > 1 else ""
    by = "by this item" if first.key == here else f"by: {item.ask}"
    head = line((f" HELD in phase {first.phase}{more} ", "hold"), f" {by}")
    goes = line() if first.key == here else line((f"{key_text} goes there", "key"))
    lines: Lines = [between(head, goes, width)]
    if first.key != here:
        lines += at_most(wrapped(_found(job, item, found), width, "fail"), 1, width, "… F1")
    clears = wrapped(f"Clears: {found.clears or 'a new reading that passes.'}", width)
    danger = wrapped(f"Danger: {found.danger}", width) if found.danger else []
    lines += at_most(clears, height - len(lines) - (1 if danger else 0), width, "… F1")
    lines += at_most(danger, height - len(lines), width, "… F1")
    return lines


def _found(job: Job, item: Item, found: Finding) -> str:
    """What was found, the numbers first."""
    units = units_for(item, job.answers.get(item.key), job.header.units)
    value = f"{units.text(found.value)}, " if found.value is not None else ""
    limit = limit_text(found.limit, units)
    numbers = f"{value}limit {limit}. " if limit else ""
    return f"{found.verdict}: {numbers}{found.text}"
