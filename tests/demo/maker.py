"""Answers a job from first to last with texts from a scenario, as a technician would.

The clock is invented and moves on with every answer, so that the same scenario always makes the
same job.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from wizard import actions
from wizard.actions import Hand, NeedsConfirmation
from wizard.job import Header, Job
from wizard.procedure import Item, procedure
from wizard.settings import settings_from

HERE = Path(__file__).parent
START = datetime(2026, 3, 9, 7, 30, tzinfo=UTC)
PACE = timedelta(seconds=47)
BREAK = timedelta(hours=14)


@dataclass(frozen=True)
class Scenario:
    """A machine, its answers, and notes written where an advisory wants one."""

    units: str
    practice: str
    answers: Mapping[str, str]
    notes: Mapping[str, str]


def scenario(name: str) -> Scenario:
    """The scenario in `name`.toml, on top of the one it is `based` on."""
    data = tomllib.loads((HERE / f"{name}.toml").read_text("utf-8"))
    base = scenario(data["based"]) if "based" in data else None
    machine = data.get("machine", {})
    return Scenario(
        machine.get("units", base.units if base else "us"),
        machine.get("practice", base.practice if base else "US"),
        {**(base.answers if base else {}), **data.get("answers", {})},
        {**(base.notes if base else {}), **data.get("notes", {})},
    )


def text_for(item: Item, given: Scenario) -> str:
    """What is typed for an item; confirmations are yes, the first good option is chosen."""
    if item.key in given.answers:
        return given.answers[item.key]
    if item.kind == "confirm":
        return "yes"
    if item.kind == "choose":
        return next(o for o in item.options if o not in (*item.bad, *item.advise))
    if item.optional:
        return ""
    raise KeyError(f"{item.key} ({item.ask}) has no answer in the scenario")


class Clock:
    """An invented clock."""

    def __init__(self, start: datetime = START) -> None:
        self.at = start

    def tick(self, item: Item | None = None, text: str = "") -> Hand:
        """The next moment; a timed item takes its time, a new day starts before phase 12."""
        self.at += PACE
        if item and item.kind == "time" and text.endswith("min"):
            self.at += timedelta(minutes=float(text.split()[0]))
        if item and item.kind == "series" and text:
            self.at += timedelta(seconds=float(text.split(";")[-1].split()[0]))
        return Hand("Tess Example", self.at)


def give(job: Job, item: Item, text: str, clock: Clock) -> Job:
    """One answer, confirmed where the tool asks."""
    hand = clock.tick(item, text)
    try:
        return actions.answer(job, item.key, text, hand)
    except NeedsConfirmation:
        return actions.answer(job, item.key, text, clock.tick(), confirmed=True)


def commission(job_id: str, given: Scenario, *, until: str = "", uuid: str = "d" * 32) -> Job:
    """The job answered in order, up to and including the item `until`, or to a hold."""
    header = Header(
        job_id, uuid, START, given.units, settings=settings_from({"practice": given.practice})
    )
    job, clock = Job.new(header, procedure()), Clock()
    for item in procedure().items.values():
        if not job.applies(item.key) or job.refusal(item.key):
            continue
        job = give(job, item, text_for(item, given), clock)
        if item.key in given.notes:
            job = actions.note(job, item.key, given.notes[item.key], clock.tick())
        if item.key == until:
            break
    return job
