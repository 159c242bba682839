"""What the lead decided about a job, and whether that still stands.

Invariant: a decision covers the history up to its event and nothing after it.
"""

from __future__ import annotations

from collections.abc import Sequence

from wizard.job import Act, Event, Job
from wizard.signing import Checked, signoffs

_BESIDE = (Act.SIGNED, Act.REMARKED, Act.REPLIED, Act.VISIT, Act.CLOCK_STEPPED)


def decision(job: Job, checked: Sequence[Checked]) -> str:
    """ "accepted", "returned", "answered" (returned, and every remark replied to), "changed"
    (something was done after it was accepted), "in doubt" (a bad sign-off) or nothing.
    """
    leads = [e for e in signoffs(job) if e.data["role"] == "lead"]
    if not leads:
        return ""
    last = leads[-1]
    if any(c.bad for c in checked if c.event.seq == last.seq):
        return "in doubt"
    if last.data["decision"] == "accepted":
        return "changed" if since(job, last) else "accepted"
    return "returned" if job.open_remarks() or not since(job, last, ()) else "answered"


def since(job: Job, signed: Event, beside: Sequence[Act] = _BESIDE) -> int:
    """Events after a sign-off, those of the acts in `beside` not counted."""
    return sum(1 for e in job.events if e.seq > signed.data["covers"] and _counts(e, beside))


def _counts(event: Event, beside: Sequence[Act]) -> bool:
    return event.act is not Act.SIGNED and event.act not in beside
