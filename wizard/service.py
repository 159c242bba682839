"""Visits to a machine that is in use: opened, answered, closed; what is due, what has drifted.

Invariant: pure; a visit's readings stand beside those of the commissioning and never replace
them, and a safety item that fails at a visit holds the job until it passes on a new reading.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from wizard.actions import (
    Hand,
    NeedsConfirmation,
    NeedsReason,
    answer_data,
    do,
    item_of,
    text_of,
)
from wizard.answer import Answer, Parsed, parse, si_value, two_ways
from wizard.errors import InputError, Refused
from wizard.finding import Finding, worst
from wizard.job import Act, Job
from wizard.judge import judge
from wizard.maintenance import MaintenanceTask
from wizard.procedure.item import Item
from wizard.procedure.visits import visit_kind
from wizard.quantities import format_number, from_si
from wizard.record.plan import Use, first_day, use_of
from wizard.render import Units, units_for, value_text
from wizard.visit import Visit

METER = "visit.hour_meter"
LOCK = "belt.lockout"
LOCKED_OFF = "leak."
"""Items of the running phases that are read with the motor locked off begin so."""
RECHECK = "recheck"
SEATED = 24 * 3600.0
"""Running time from which new belts have seated; before it no task by hours is due."""
ROUNDS = ("every day", "every week")
OFF_PLAN = 0.2
"""A use that is off by more than this share wants new dates; common practice, no source."""


def open_visit(job: Job, kind: str, hand: Hand) -> Job:
    """The job with a visit begun."""
    visit_kind(kind)
    if current(job) is not None:
        raise Refused("The visit before is still open; close it first.")
    if any(not hold.again for hold in job.holds()) or job.open_items():
        raise Refused("The commissioning is not finished; a visit comes after the handover.")
    return do(job, Act.VISIT, hand, "", {"visit": len(job.visits) + 1, "kind": kind})


def close_visit(job: Job, hand: Hand, reason: str = "") -> Job:
    """The job with its open visit closed; what was not looked at stays open for the next one.

    Refused without a reason where something is left or the visit is held.
    """
    data: dict[str, Any] = {"visit": _current(job).number, "closed": True}
    if left := left_over(job):
        if not reason.strip():
            raise Refused(f"{left} Close it with a reason, or look at the rest first.")
        data["reason"] = text_of("reason", reason)
    return do(job, Act.VISIT, hand, "", data)


def left_over(job: Job) -> str:
    """What the open visit leaves, in one sentence; empty where it leaves nothing."""
    visit = _current(job)
    said = []
    if hold := next((h for h in job.holds() if h.again), None):
        said.append(f"The visit is held by “{job.procedure.items[hold.key].ask}”.")
    if count := len(unanswered(job, visit)):
        many = f"{count} of its {len(visit_items(job, visit))} items"
        said.append(f"{many} {'is' if count == 1 else 'are'} open.")
    return " ".join(said)


def unanswered(job: Job, visit: Visit) -> tuple[Item, ...]:
    """What the visit has not looked at and must not leave blank."""
    items = visit_items(job, visit)
    return tuple(i for i in items if i.key not in visit.answers and not i.optional)


def did(job: Job, task: str, hand: Hand) -> Job:
    """The job with a maintenance task done at this visit."""
    visit = _current(job)
    use = use_of(job)
    known = [t.key for t in use.tasks(first_day(job) or hand.at.date())] if use else []
    if task not in known:
        raise InputError("task", task[:60] or "nothing", ", ".join(known))
    return do(job, Act.VISIT, hand, "", {"visit": visit.number, "task": task})


def note_visit(job: Job, text: str, hand: Hand) -> Job:
    """The job with a note of this visit."""
    data = {"visit": _current(job).number, "text": text_of("note", text)}
    return do(job, Act.VISIT, hand, "", data)


def answer_visit(
    job: Job,
    key: str,
    text: str,
    hand: Hand,
    *,
    instrument: str = "",
    reason: str = "",
    confirmed: bool = False,
) -> Job:
    """The job with an item answered at its open visit."""
    visit, item = _current(job), item_of(job, key)
    if why_not := refusal(job, visit, item):
        raise Refused(why_not)
    parsed = parse(item, text, job.header.units)
    found = preview(job, item, parsed)
    if refused := next((f for f in found if f.refused), None):
        raise Refused(refused.text)
    asked = [
        two_ways(item, parsed, job.header.units),
        _run_backwards(job, visit, item, parsed),
        *(f.ask for f in found),
    ]
    doubt = " ".join(filter(None, asked))
    if doubt and not confirmed:
        raise NeedsConfirmation(doubt)
    data: dict[str, Any] = {
        "visit": visit.number,
        **answer_data(parsed, instrument, doubt),
    }
    if before := visit.answers.get(key):
        if not reason.strip():
            raise NeedsReason(item)
        data |= {"was": before.raw, "reason": text_of("reason", reason)}
    return do(job, Act.VISIT, hand, key, data)


def refusal(job: Job, visit: Visit, item: Item) -> str:
    """Why the item cannot be answered at this visit now; empty where it can.

    What is found is written down under a hold too, but nothing that needs the machine to run;
    without a sure lock no hand goes in.
    """
    keys = [i.key for i in visit_items(job, visit)]
    if item.key not in keys:
        return f"“{item.ask}” does not belong to this visit."
    running = job.procedure.phase_of(item.key).strict and not item.key.startswith(LOCKED_OFF)
    for key in keys[: keys.index(item.key)]:
        found = next((f for f in job.found_again.get(key, ()) if f.holds), None)
        if found and (running or (key == LOCK and _within_reach(job, item))):
            held = job.procedure.items[key]
            return f"Held at this visit by “{held.ask}”: {found.text} {found.clears}".strip()
    return ""


def _within_reach(job: Job, item: Item) -> bool:
    """Whether hands go where the lock has to keep the machine still."""
    return item.key != METER and not job.procedure.phase_of(item.key).strict


def _run_backwards(job: Job, visit: Visit, item: Item, parsed: Parsed) -> str:
    """A question where the hour meter stands below what it stood at before this visit."""
    if item.key != METER:
        return ""
    before = [job.answers.get(METER)]
    before += [v.answers.get(METER) for v in job.visits.values() if v.number < visit.number]
    known = [a for a in before if a is not None and isinstance(si_value(item, a), float)]
    now, then = si_value(item, parsed), si_value(item, known[-1]) if known else None
    if not isinstance(now, float) or not isinstance(then, float) or now >= then:
        return ""
    was = value_text(item, known[-1])
    return f"An hour meter does not run backwards: it stood at {was} before. Was it changed?"


def preview(job: Job, item: Item, parsed: Parsed) -> tuple[Finding, ...]:
    """What the item would be judged with this answer, beside the latest readings of the others."""
    answers: dict[str, Answer | Parsed] = {**job.answers, **_latest(job), item.key: parsed}
    findings = {**job.findings, **job.found_again}
    evidence = replace(job.evidence, answers=answers)
    return judge(evidence, item, findings)


def current(job: Job) -> Visit | None:
    """The visit that is open; None where none is."""
    return next((v for v in job.visits.values() if v.closed is None), None)


def _current(job: Job) -> Visit:
    visit = current(job)
    if visit is None:
        raise Refused("No visit is open; begin one first.")
    return visit


def _latest(job: Job) -> dict[str, Answer]:
    out: dict[str, Answer] = {}
    for visit in job.visits.values():
        out.update(visit.answers)
    return out


def visit_items(job: Job, visit: Visit) -> tuple[Item, ...]:
    """What the visit looks at, of the items that belong to this machine, in the order of work."""
    known = job.procedure.items
    try:
        keys = visit_kind(visit.kind).items
    except InputError:
        keys = tuple(visit.answers)
    return tuple(known[k] for k in keys if k in known and job.applies(k))


# -- drift --------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Drift:
    """One item at a visit beside its commissioning value; empty texts where there is none."""

    item: Item
    then: str
    now: str
    change: str
    finding: Finding | None


def drifts(job: Job, visit: Visit) -> Iterator[Drift]:
    """Every item of a visit, answered or not."""
    for item in visit_items(job, visit):
        before, after = job.answers.get(item.key), visit.answers.get(item.key)
        yield Drift(
            item,
            value_text(item, before) if before else "",
            value_text(item, after) if after else "",
            _change(job, item, before, after),
            worst(job.found_again.get(item.key, ())) if after else None,
        )


def _change(job: Job, item: Item, before: Answer | None, after: Answer | None) -> str:
    """The difference in words, and how what a check made of the reading has moved."""
    if before is None or after is None:
        return ""
    if not item.measured:
        return "" if before.value == after.value else "changed"
    moved = (_reading_change(job, item, before, after), _result_change(job, item))
    return "; ".join(filter(None, moved))


def _reading_change(job: Job, item: Item, before: Answer, after: Answer) -> str:
    """How far a reading moved; of a set the one that moved farthest."""
    then, now = si_value(item, before), si_value(item, after)
    if item.labels and isinstance(then, tuple) and isinstance(now, tuple):
        if len(then) != len(now):
            return ""
        then, now = max(zip(then, now, strict=True), key=lambda p: abs(p[1] - p[0]))
    if not isinstance(then, float) or not isinstance(now, float):
        return ""
    unit = units_for(item, after, job.header.units).of(item.quantity)
    moved = from_si(now, item.quantity, unit) - from_si(then, item.quantity, unit)
    return f"{_signed(moved)} {unit}{_share(item.quantity, then, now, item.key)}".strip()


def _share(quantity: str, then: float, now: float, key: str = "") -> str:
    if not then or key == METER or quantity in ("temperature", "gauge pressure"):
        return ""
    return f" ({_signed(100 * (now - then) / abs(then), 2)} %)"


def _signed(value: float, digits: int = 3) -> str:
    text = format_number(round(value, 12), digits)
    return text if text.startswith("-") or text == "0" else f"+{text}"


def _result_change(job: Job, item: Item) -> str:
    """How the result of a check moved, where it is another quantity than the reading."""
    units = Units(job.header.units)
    for now in job.found_again.get(item.key, ()):
        for then in job.findings.get(item.key, ()):
            before, after = then.value, now.value
            if then.check != now.check or before is None or after is None:
                continue
            if after.kind != item.quantity and before != after:
                share = _share(after.kind, before.value, after.value)
                return f"{units.text(before, 3)} to {units.text(after, 3)}{share}"
    return ""


# -- what is due ----------------------------------------------------------------------


def due(job: Job, *, rounds: bool = False) -> tuple[MaintenanceTask, ...]:
    """Every task with its next date after those done at visits, the earliest first.

    The daily and weekly `rounds` are the customer's and no business of a visit.
    """
    start = first_day(job)
    if start is None or use_of(job) is None:
        return ()
    done = _done(job)
    tasks = []
    for task in _dated(job, start):
        if task.repeats in ROUNDS and not rounds:
            continue
        last = done.get(task.key)
        if last is None:
            tasks.append(task)
        elif task.repeats != "once":
            tasks += [t for t in _dated(job, last) if t.key == task.key]
    return tuple(sorted(tasks, key=lambda t: t.due))


def _dated(job: Job, since: date) -> tuple[MaintenanceTask, ...]:
    """Every task from a day on by the hour meter; hours that have not run bring nothing due.

    A machine that stood keeps its tasks by hours, from the day on which the meter was read.
    """
    planned, use, run = use_of(job), _use(job), _run(job)
    if planned is None or use is None:
        return ()
    found = {task.key: task for task in use.tasks(since)}
    if run is None or run[0] >= SEATED:
        return tuple(found.values())
    ran, day = run
    out = []
    for planned_task in planned.tasks(since):
        task = found.get(planned_task.key, planned_task)
        waits = task.key not in found or task.due <= day
        out.append(planned.put_off(task, ran, day) if waits else task)
    return tuple(out)


def _done(job: Job) -> Mapping[str, date]:
    out: dict[str, date] = {}
    for visit in job.visits.values():
        if visit.kind == RECHECK and visit.closed and not unanswered(job, visit):
            out[RECHECK] = visit.closed.at.date()
        out.update({task: event.at.date() for task, event in visit.done.items()})
    return out


def _use(job: Job) -> Use | None:
    """The use as planned, or as the hour meter tells where that is far off."""
    planned, measured = use_of(job), hours_run(job)
    if planned and measured is not None and off_plan(planned.hours, measured):
        return replace(planned, hours=measured)
    return planned


def off_plan(planned: float, measured: float) -> bool:
    """Whether the use is so far off the plan that the dates are no good."""
    return abs(measured - planned) > OFF_PLAN * planned


def hours_run(job: Job) -> float | None:
    """Running time a working day by the hour meter since the handover, in seconds."""
    start, use, run = first_day(job), use_of(job), _run(job)
    if start is None or use is None or run is None:
        return None
    ran, day = run
    passed = (day - start).days
    return ran / (passed * use.days / 7) if passed >= 1 else None


def _run(job: Job) -> tuple[float, date] | None:
    """Running time since the handover by the last reading of the hour meter, and its day."""
    item, first = job.procedure.items.get(METER), job.answers.get(METER)
    read = [v.answers[METER] for v in job.visits.values() if METER in v.answers]
    if item is None or first is None or not read:
        return None
    then, now = si_value(item, first), si_value(item, read[-1])
    if not isinstance(then, float) or not isinstance(now, float) or now < then:
        return None
    return now - then, read[-1].at.date()
