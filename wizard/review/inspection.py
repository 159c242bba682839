"""One job as a lead reads it: what cannot be relied on, what differs, what to ask about.

Invariant: every section is there, and says so where it holds nothing.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wizard.history import Doubt
from wizard.job import Job
from wizard.review.look import Look
from wizard.service import drifts
from wizard.settings import CHOICES, Settings, as_mapping
from wizard.text import show

NOTHING = "nothing"
TITLES = {
    "older copy": "Older copy",
    "clock": "Clock",
    "order": "Out of order",
    "typed": "Not as typed",
    "too fast": "Too fast",
    "too short": "Too short",
    "identical": "Identical readings",
    "at the limit": "All at the limit",
    "calibration": "Out of calibration",
    "confirmed": "Unlikely, confirmed",
}


@dataclass(frozen=True, slots=True)
class Section:
    """A title and its lines; `grave` where they say that the record cannot be relied on."""

    title: str
    lines: tuple[str, ...]
    grave: bool = False


def sections(look: Look) -> Iterator[Section]:
    """What there is to say of one job, the gravest first."""
    job = look.job
    loaded = look.loaded
    grave = [str(p) for p in loaded.problems if p.grave]
    if look.row.error and not grave:
        grave = [look.row.error]
    yield Section("Record", tuple(map(show, grave)) or (_sound(look),), bool(grave))
    yield Section("Sign-offs", tuple(c.text for c in look.checked) or ("none",))
    yield Section("Remarks", tuple(_remarks(job)) or (NOTHING,))
    yield Section("Differs from what was seen", tuple(str(d) for d in look.differences) or _none())
    yield Section("Settings of the record", tuple(_settings(job)) or ("as usual",))
    yield Section("Doubts", tuple(_doubt(job, d) for d in look.doubts) or _none())
    for title, acts in (
        ("Corrected or taken back", ("corrected", "withdrawn")),
        ("Not applicable", ("not applicable",)),
        ("Notes", ("noted",)),
    ):
        yield Section(title, tuple(_told(job, t) for t in look.told if t.rule in acts) or _none())
    yield Section("Visits", tuple(_visits(job)) or ("none",))


def _none() -> tuple[str, ...]:
    return (NOTHING,)


def _sound(look: Look) -> str:
    events = len(look.job.events)
    if any(c.good for c in look.checked):
        proof = ""
    elif any("signature" in c.event.data for c in look.checked):
        proof = " No signature of it can be verified here."
    else:
        proof = " Unsigned: that is evidence of accidents only."
    return f"Seal, history and entries agree over {events} events.{proof}"


def _named(job: Job, key: str) -> str:
    """The item in words and by its key, which is how the record names it."""
    item = job.procedure.items.get(key)
    return f"{item.ask} [{key}]" if item else key


def _doubt(job: Job, doubt: Doubt) -> str:
    place = f" ({_named(job, doubt.key)})" if doubt.key else ""
    return show(f"{TITLES.get(doubt.rule, doubt.rule)}: {doubt.text}{place}")


def _told(job: Job, told: Doubt) -> str:
    return show(f"{_named(job, told.key)}: {told.text}" if told.key else told.text)


def _remarks(job: Job) -> Iterator[str]:
    waiting = {remark.seq for remark in job.open_remarks()}
    for key, events in job.notes.items():
        for event in events:
            if event.act.value in ("remarked", "replied"):
                still = ", open" if event.seq in waiting else ""
                who = f"{event.by}, {event.at:%Y-%m-%d %H:%M}{still}"
                yield show(
                    f"{_named(job, key) or 'the job'}: {event.data['text']} ({event.act}, {who})"
                )


def _visits(job: Job) -> Iterator[str]:
    """Each visit, and each reading beside that of the commissioning."""
    for visit in job.visits.values():
        ended = f"closed {visit.closed.at:%Y-%m-%d}" if visit.closed else "open"
        yield show(f"{visit.kind}, {visit.opened.at:%Y-%m-%d}, {visit.opened.by}, {ended}")
        for one in drifts(job, visit):
            if one.now:
                verdict = one.finding.verdict if one.finding else ""
                change = f" ({one.change})" if one.change else ""
                found = f"{one.then} then, {one.now} now{change} {verdict}"
                yield show(f"  {_named(job, one.item.key)}: {found}")


def _settings(job: Job) -> Iterator[str]:
    usual = as_mapping(Settings(practice=job.header.settings.practice))
    for name, value in as_mapping(job.header.settings).items():
        if value != usual[name]:
            yield f"{name} is {value}, usually {usual[name]}: {CHOICES[name].about}"
