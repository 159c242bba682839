"""`wizard remark`: what a lead wants looked at again, and what the technician says to it."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from wizard.commands.enter import pair
from wizard.commands.output import GOOD, UNFINISHED, print_json, print_lines
from wizard.commands.people import host, who
from wizard.event import Act
from wizard.job import Job
from wizard.procedure import procedure
from wizard.review.lead import Lead
from wizard.store import read_job
from wizard.text import show

WHOLE = "job"
"""Stands for the job where an item could be named."""


def run(args: argparse.Namespace) -> int:
    """Write the remarks or replies; print all there are.

    What was written is good; of what is only read the status says whether a remark waits.
    """
    path = Path(args.job)
    lead = Lead(who(args.by), host(), procedure())
    for write, words in ((lead.remark, args.remarks), (lead.reply, args.reply)):
        for word in words:
            key, text = pair(word)
            write(path, "" if key == WHOLE else key, text)
    job = read_job(path, procedure()).job
    told = list(remarks_json(job))
    if args.json:
        print_json({"job": job.header.id, "remarks": told})
    else:
        print_lines(map(_line, told))
    wrote = bool(args.remarks or args.reply)
    return UNFINISHED if job.open_remarks() and not wrote else GOOD


def remarks_json(job: Job) -> Iterator[dict[str, Any]]:
    """Remarks and replies in the order in which they were written."""
    waiting = {remark.seq for remark in job.open_remarks()}
    for event in job.events:
        if event.act in (Act.REMARKED, Act.REPLIED):
            yield {
                "key": event.key or None,
                "kind": "remark" if event.act is Act.REMARKED else "reply",
                "text": event.data["text"],
                "by": event.by,
                "at": event.at,
                "open": event.seq in waiting,
            }


def _line(told: dict[str, Any]) -> str:
    still = "  OPEN" if told["open"] else ""
    where = told["key"] or "the job"
    about = f"{told['by']}, {told['at']:%Y-%m-%d %H:%M}"
    return show(f"{told['kind']} on {where}: {told['text']}  ({about}){still}")
