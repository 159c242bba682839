"""What the history of a job tells somebody who was not there.

Invariant: nothing here judges a machine; each doubt is a stated rule over the events, a place to
look and ask, not an accusation. The thresholds are our judgement.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise

from wizard.answer import Answer, parse, si_value
from wizard.errors import InputError
from wizard.event import FROM_PAPERS as FROM_PAPERS
from wizard.finding import Finding, Severity
from wizard.job import Act, Event, Job
from wizard.procedure.item import Item
from wizard.quantities import to_si
from wizard.render import value_text

FAST_RUN = 6
FAST_GAP = timedelta(seconds=4)
"""So many hands-on answers in a row, each within this time of the one before, are too fast."""
NEAR_LIMIT = 0.02
NEAR_SHARE = 0.6
NEAR_FEWEST = 5
"""Readings within this share of the band (or of the limit) of its end are at the limit."""
HANDS_ON = ("measure", "time", "series", "confirm")
TYPED = ("measure", "time", "series", "count")
LOGGED = "logged"
WAITED = ("time", "series")
NOT_WAITED = ("drain.open_time", "drain.interval", "demand.peak_time")
"""Durations that are set or told, not waited for."""
NEVER_ALIKE = ("voltage", "current")
"""Quantities whose readings on the lines of one supply are hardly ever the same."""


@dataclass(frozen=True, slots=True)
class Doubt:
    """One thing a lead should look at: which rule, which item, what was seen."""

    rule: str
    key: str
    text: str


def doubts(job: Job, *, same: bool = True) -> tuple[Doubt, ...]:
    """Every doubt about the history, in the order of the rules.

    `same` is False where the job was done by a procedure that is not the one of today.
    """
    return (
        *_clock_steps(job),
        *(_out_of_order(job) if same else ()),
        *(_not_as_typed(job) if same else ()),
        *_too_fast(job),
        *_shorter_than_said(job),
        *_identical(job),
        *_all_at_the_limit(job),
        *_expired(job),
        *_unlikely(job),
    )


def told(job: Job) -> tuple[Doubt, ...]:
    """What was corrected, taken back, noted or marked not applicable, with the reasons."""
    return tuple(t for event in job.events if (t := _told(job, event)))


def _told(job: Job, event: Event) -> Doubt | None:
    data = event.data
    match event.act:
        case Act.CORRECTED:
            text = f"{data['was']} became {data['raw']}: {data['reason']}"
        case Act.WITHDRAWN:
            text = f"{data['was']} was taken back: {data['reason']}"
        case Act.NOT_APPLICABLE:
            text = f"Not applicable: {data['reason']}"
        case Act.NOTED:
            text = str(data["text"])
        case Act.REMARKED:
            text = f"Lead: {data['text']}"
        case Act.REPLIED:
            text = f"Reply: {data['text']}"
        case _:
            return None
    return Doubt(event.act.value, event.key, text)


def _clock_steps(job: Job) -> Iterator[Doubt]:
    for before, event in pairwise((None, *job.events)):
        if event is None:
            continue
        if event.act is Act.CLOCK_STEPPED:
            shown = _from_to(event.data["from"], event.at)
            yield Doubt("clock", "", f"The clock was set back {shown}.")
        elif before is not None and event.at < before.at:
            shown = _from_to(before.at, event.at)
            yield Doubt("clock", event.key, f"Event {event.seq} goes back in time {shown}.")


def _from_to(before: datetime, after: datetime) -> str:
    return f"from {before:%Y-%m-%d %H:%M} to {after:%Y-%m-%d %H:%M}"


def _out_of_order(job: Job) -> Iterator[Doubt]:
    """Work with power or pressure answered before a safety item that comes first."""
    first: dict[str, int] = {}
    for event in job.events:
        if event.act in (Act.ANSWERED, Act.CORRECTED):
            first.setdefault(event.key, event.seq)
    known = job.procedure.items
    strict = {phase.number for phase in job.procedure.phases if phase.strict}
    if not any(key in known and known[key].phase in strict for key in first):
        return
    latest = 0
    last_safe = ""
    for item in job.applicable:
        seq = first.get(item.key, 0)
        if seq and seq < latest and item.phase in strict:
            text = f"It was answered before the safety item {last_safe}, which comes first."
            yield Doubt("order", item.key, text)
        if item.severity is Severity.SAFETY and seq > latest:
            latest, last_safe = seq, item.key


def _answers(job: Job) -> list[tuple[Item, Event]]:
    return [
        (job.procedure.items[e.key], e)
        for e in job.events
        if e.act in (Act.ANSWERED, Act.CORRECTED)
        and e.key in job.procedure.items
        and not _given(job, e.by)
    ]


def _given(job: Job, by: str) -> bool:
    """Whether nobody's hands were at it: practice fills it in, all at once."""
    return job.header.practice_run and by == FROM_PAPERS


def _not_as_typed(job: Job) -> Iterator[Doubt]:
    """Numbers that are not what was typed."""
    for key, answer in job.answers.items():
        item = job.procedure.items.get(key)
        if item is None or item.kind not in TYPED or LOGGED in answer.raw:
            continue
        try:
            parsed = parse(item, answer.raw, job.header.units)
        except InputError:
            text = f"{answer.raw or 'nothing'} was typed, which is no answer to it."
        else:
            if (parsed.value, parsed.unit) == (answer.value, answer.unit):
                continue
            text = f"{answer.raw} was typed, but the record has {value_text(item, answer)}."
        yield Doubt("typed", key, text)


def _too_fast(job: Job) -> Iterator[Doubt]:
    run: list[Event] = []
    for item, event in _answers(job):
        quick = bool(run) and timedelta(0) <= event.at - run[-1].at < FAST_GAP
        if item.kind not in HANDS_ON or item.phase == 1 or not quick:
            yield from _fast_run(run)
            run = [event] if item.kind in HANDS_ON and item.phase != 1 else []
        else:
            run.append(event)
    yield from _fast_run(run)


def _fast_run(run: list[Event]) -> Iterator[Doubt]:
    if len(run) >= FAST_RUN:
        seconds = (run[-1].at - run[0].at).total_seconds()
        yield Doubt(
            "too fast",
            run[0].key,
            f"{len(run)} hands-on answers in {seconds:.0f} s, from {run[0].key} to {run[-1].key}.",
        )


def _shorter_than_said(job: Job) -> Iterator[Doubt]:
    """Durations typed in, longer than the time there was for them.

    A series is taken between two other answers; any other wait goes on beside the work of its
    phase.
    """
    begun: dict[int, datetime] = {}
    before: datetime | None = None
    for item, event in _answers(job):
        since = before if item.kind == "series" else begun.get(item.phase)
        seconds = _duration(item, event)
        if since and seconds is not None and event.key not in job.timers:
            passed = (event.at - since).total_seconds()
            if 0 <= passed < 0.9 * seconds:
                yield Doubt(
                    "too short",
                    event.key,
                    f"{seconds:.0f} s typed, but there were only {passed:.0f} s for it.",
                )
        begun.setdefault(item.phase, event.at)
        if item.kind not in WAITED:
            before = event.at


def _duration(item: Item, event: Event) -> float | None:
    """Seconds that the answer claims somebody waited; None where nobody needed to."""
    if item.kind not in WAITED or item.key in NOT_WAITED:
        return None
    value = event.data.get("value")
    if item.kind == "series" and isinstance(value, list | tuple) and value:
        return None if LOGGED in event.data["raw"] else float(value[-1][0])
    if isinstance(value, float | int):
        return to_si(float(value), "time", event.data.get("unit", "s"))
    return None


def _identical(job: Job) -> Iterator[Doubt]:
    seen: dict[tuple[float, ...], str] = {}
    for key, answer in job.answers.items():
        item = job.procedure.items.get(key)
        if item is None or not item.labels or not isinstance(answer.value, tuple):
            continue
        if _given(job, answer.by):
            continue
        values = tuple(v for v in answer.value if isinstance(v, float))
        if len(values) < 3 or not any(values):
            continue
        if len(set(values)) == 1 and item.quantity in NEVER_ALIKE:
            yield Doubt("identical", key, f"All {len(values)} readings are {answer.raw}.")
        elif len(set(values)) > 1 and values in seen:
            yield Doubt("identical", key, f"The same readings as {seen[values]}: {answer.raw}.")
        seen.setdefault(values, key)


def _all_at_the_limit(job: Job) -> Iterator[Doubt]:
    limited = [f for found in job.findings.values() for f in found if _has_limit(f)]
    near = [f for f in limited if _near(f)]
    if len(limited) >= NEAR_FEWEST and len(near) >= NEAR_SHARE * len(limited):
        yield Doubt(
            "at the limit",
            "",
            f"{len(near)} of {len(limited)} readings lie within {NEAR_LIMIT:.0%} of their limit.",
        )


def _has_limit(finding: Finding) -> bool:
    return (
        finding.value is not None
        and finding.limit is not None
        and (finding.limit.low is not None or finding.limit.high is not None)
    )


def _near(finding: Finding) -> bool:
    value, limit = finding.value, finding.limit
    if value is None or limit is None:
        return False
    ends = [e for e in (limit.low, limit.high) if e is not None]
    width = abs(ends[-1] - ends[0]) if len(ends) == 2 else max(abs(ends[0]), 1e-12)
    return any(abs(value.value - end) <= NEAR_LIMIT * width for end in ends)


def _expired(job: Job) -> Iterator[Doubt]:
    for key, answer in job.answers.items():
        instrument = job.instruments.get(answer.instrument)
        if instrument and instrument.expired(answer.at.date()):
            yield Doubt(
                "calibration",
                key,
                f"{instrument.name} was due for calibration on {instrument.calibration_due}.",
            )


def _unlikely(job: Job) -> Iterator[Doubt]:
    for key, answer in job.answers.items():
        if answer.confirmed and not _given(job, answer.by):
            yield Doubt("confirmed", key, f"{answer.raw} was confirmed: {answer.confirmed}")


def reading(job: Job, key: str) -> float | None:
    """The single SI reading of an item; None where there is none."""
    answer: Answer | None = job.answers.get(key)
    if answer is None or key not in job.procedure.items:
        return None
    value = si_value(job.procedure.items[key], answer)
    return float(value) if isinstance(value, float | int) and not isinstance(value, bool) else None
