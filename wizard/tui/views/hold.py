"""Why the job is held, what can happen, and what clears it.

Invariant: while the job is held this is on the working screen, whatever else is shown.
"""

from __future__ import annotations

from wizard.finding import Finding
from wizard.job import Hold, Job
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
    more = f" and {len(holds) - 1} more" if len(holds) > 1 else ""
    by = "by this item" if first.key == here else f"by: {item.ask}"
    head = line((f" HELD in phase {first.phase}{more} ", "hold"), f" {by}")
    goes = line() if first.key == here else line((f"{key_text} goes there", "key"))
    told = [wrapped(text, width, role) for text, role in hold_words(job, first)]
    if first.key == here:
        told = told[1:]
    lines: Lines = [between(head, goes, width)]
    for part, rows in zip(told, _rows_of(told, height - 1), strict=True):
        lines += at_most(part, rows, width, "… F1")
    return lines


def hold_words(job: Job, held: Hold) -> list[tuple[str, str]]:
    """What was found, what clears it and what can happen, each with its role."""
    found = held.finding
    told = [
        (_found(job, job.procedure.items[held.key], found), "fail"),
        (f"Clears: {found.clears or 'a new reading that passes.'}", "text"),
    ]
    return [*told, (f"Danger: {found.danger}", "text")] if found.danger else told


def _rows_of(told: list[Lines], height: int) -> list[int]:
    """How many rows each part gets: one, as far as they go, then what is free; what was found
    comes last, because F6 goes to it."""
    rows = [0] * len(told)
    in_turn = sorted(range(len(told)), key=lambda n: told[n][0][-1].role == "fail")
    for wanted in ([1] * len(told), [len(part) for part in told]):
        for number in in_turn:
            rows[number] += max(0, min(wanted[number] - rows[number], height - sum(rows)))
    return rows


def _found(job: Job, item: Item, found: Finding) -> str:
    """What was found, the numbers first."""
    units = units_for(item, job.answers.get(item.key), job.header.units)
    value = f"{units.text(found.value)}, " if found.value is not None else ""
    limit = limit_text(found.limit, units)
    numbers = f"{value}limit {limit}. " if limit else ""
    return f"{found.verdict}: {numbers}{found.text}"
