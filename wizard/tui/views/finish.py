"""Where the job stands: what keeps it open, or that it is finished and what comes next.

Invariant: a job is called finished only by the job itself.
"""

from __future__ import annotations

from collections.abc import Iterable

from wizard.job import Act, Job
from wizard.procedure.item import Item
from wizard.tui.spans import BLANK, Line, Lines, line, wrapped


def summary(job: Job, dates: Iterable[tuple[str, str]], width: int) -> Lines:
    """The state of the job; `dates` are the maintenance jobs and their days."""
    signed = [e for e in job.events if e.act is Act.SIGNED]
    lines: Lines = [_head(job), BLANK]
    for title, items in (
        ("Held or failed", job.failures()),
        ("Wants a note", job.wants_note()),
        ("Open", job.open_items()),
    ):
        lines += _items(title, items, width)
    lines += _remarks(job, width)
    if job.state == "finished":
        lines += wrapped("Every item has its answer and nothing holds the job.", width)
        if signed:
            last = signed[-1]
            lines += wrapped(f"Signed off by {last.by}, {last.at:%d %b %Y %H:%M}.", width)
        else:
            lines += wrapped(
                f"Next: print the handover sheet with wizard report {job.header.id}.toml, and "
                f"sign off with wizard sign {job.header.id}.toml --role technician.",
                width,
            )
        lines.append(BLANK)
    listed = list(dates)
    if listed:
        lines.append(line(("Maintenance", "key")))
        longest = max(len(day) for day, _ in listed)
        for day, what in listed:
            lines += wrapped(what, width, "text", f"{day:<{longest}}  ", " " * (longest + 2))
        lines.append(BLANK)
    return lines


def _remarks(job: Job, width: int) -> Lines:
    """What a lead wants answered."""
    told = job.open_remarks()
    if not told:
        return []
    lines: Lines = [line((f"Remarks of the lead: {len(told)}", "key"))]
    for remark in told:
        item = job.procedure.items.get(remark.key)
        where = item.ask if item else "The whole job"
        lines += wrapped(f"{where}: {remark.data['text']}", width, "caution", "    ", "    ")
    return [*lines, BLANK]


def _head(job: Job) -> Line:
    words = {
        "held": (" HELD: the job cannot go on ", "hold"),
        "in progress": ("In progress", "strong"),
        "finished": ("The job is finished", "pass"),
    }
    return line((f"{job.header.id}  ", "strong"), words[job.state])


def _items(title: str, items: tuple[Item, ...], width: int) -> Lines:
    if not items:
        return []
    lines: Lines = [line((f"{title}: {len(items)}", "key"))]
    for item in items[:8]:
        lines += wrapped(f"{item.phase:>2}  {item.ask}", width, "text", "", "    ")
    if len(items) > 8:
        lines.append(line((f"    and {len(items) - 8} more", "dim")))
    return [*lines, BLANK]
