"""Remarks of a lead against items, and the replies to them.

Invariant: a remark is open until somebody replies to it or answers its item again; it changes no
answer.
"""

from __future__ import annotations

from wizard.actions import Hand, do, item_of, text_of
from wizard.errors import Refused
from wizard.job import Act, Event, Job


def remark(job: Job, key: str, text: str, hand: Hand) -> Job:
    """A remark against an item, or against the job where `key` is empty.

    An item that may still be asked takes one too: the remark waits there.
    """
    if key and job.evidence.ruled_out(item := item_of(job, key)):
        raise Refused(
            f"With the answers given this job does not ask “{item.ask}”; nobody could answer a "
            "remark there."
        )
    return do(job, Act.REMARKED, hand, key, {"text": text_of("remark", text)})


def reply(job: Job, key: str, text: str, hand: Hand) -> Job:
    """A reply to every open remark against an item, or against the job."""
    if not open_at(job, key):
        where = f"“{item_of(job, key).ask}”" if key else "the job"
        raise Refused(f"There is no open remark against {where} to reply to.")
    return do(job, Act.REPLIED, hand, key, {"text": text_of("reply", text)})


def open_at(job: Job, key: str) -> tuple[Event, ...]:
    """The open remarks against an item."""
    return tuple(r for r in job.open_remarks() if r.key == key)
