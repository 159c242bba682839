"""Which machine, where, by whom and when: what a list of jobs says of each."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from wizard.event import FROM_PAPERS
from wizard.job import Job

LONGEST = 80


@dataclass(frozen=True, slots=True)
class About:
    """Texts for a list; empty where nothing is known. `day` is that of the last event."""

    machine: str
    site: str
    technician: str
    day: str


def about(job: Job) -> About:
    """What a list says of a job; the technician is whoever gave most of the answers."""
    hands = Counter(a.by for a in job.answers.values() if a.by != FROM_PAPERS)
    last = job.events[-1].at if job.events else job.header.created
    technician = max(hands, key=lambda name: (hands[name], name)) if hands else ""
    return About(
        _written(job, "machine.label"), _written(job, "job.site"), technician, f"{last:%Y-%m-%d}"
    )


def _written(job: Job, key: str) -> str:
    answer = job.answers.get(key)
    return answer.raw[:LONGEST] if answer else ""
