"""`wizard visit`: a recheck or a service after the handover, in the record of the machine."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

from wizard import service
from wizard.actions import NeedsConfirmation
from wizard.commands.enter import pair
from wizard.commands.output import FAILED, GOOD, UNFINISHED, narrate, print_json, print_lines
from wizard.commands.people import hand, host, who
from wizard.errors import StoreError
from wizard.job import Job
from wizard.procedure import procedure
from wizard.procedure.visits import visit_kind
from wizard.quantities import Quantity
from wizard.record.plan import use_of
from wizard.render import Units
from wizard.store import Session, now, open_job, read_job
from wizard.text import show
from wizard.visit import Visit


def run(args: argparse.Namespace) -> int:
    """Begin, answer or close a visit as asked; print the visit and what is due.

    What was written is good but under a hold; of what is only read the status says what is left.
    """
    path = Path(args.job)
    acts = bool(args.start or args.answers or args.did or args.note or args.close)
    if acts:
        with open_job(path, procedure(), who(args.by), host()) as session:
            if session.read_only:
                raise StoreError(session.read_only)
            _act(session, args)
            job = session.job
    else:
        job = read_job(path, procedure()).job
    today = now().date()
    if args.json:
        print_json(visit_json(job, today))
    else:
        print_lines(visit_lines(job, today))
    if job.holds():
        return FAILED
    if acts:
        return GOOD
    late = any(task.overdue(today) for task in service.due(job))
    return UNFINISHED if service.current(job) or late else GOOD


def _act(session: Session, args: argparse.Namespace) -> None:
    """Each act is saved before the next one."""
    if args.start:
        session.save(service.open_visit(session.job, args.start, hand(args.by)))
        narrate(visit_kind(args.start).caution)
    for word in args.answers:
        key, text = pair(word)
        session.save(_answered(session.job, key, text, args))
    for task in args.did:
        session.save(service.did(session.job, task, hand(args.by)))
    for text in args.note:
        session.save(service.note_visit(session.job, text, hand(args.by)))
    if args.close:
        left = service.left_over(session.job)
        session.save(service.close_visit(session.job, hand(args.by), args.reason))
        if left:
            narrate(left)


def _answered(job: Job, key: str, text: str, args: argparse.Namespace) -> Job:
    try:
        return service.answer_visit(
            job,
            key,
            text,
            hand(args.by),
            instrument=args.instrument,
            reason=args.reason,
            confirmed=args.confirm,
        )
    except NeedsConfirmation as doubt:
        raise NeedsConfirmation(f"{key}: {doubt} If it is right, answer with --confirm.") from None


def visit_json(job: Job, today: date) -> dict[str, Any]:
    """Every visit with its readings beside those of the commissioning, and what is due."""
    return {
        "job": job.header.id,
        "state": job.state,
        "holds": [h.key for h in job.holds()],
        "visits": [_visit_json(job, visit) for visit in job.visits.values()],
        "due": [
            {
                "task": t.key,
                "name": t.name,
                "due": t.due,
                "repeats": t.repeats,
                "overdue": t.overdue(today),
                "severity": t.severity.value,
            }
            for t in service.due(job)
        ],
    }


def _visit_json(job: Job, visit: Visit) -> dict[str, Any]:
    return {
        "number": visit.number,
        "kind": visit.kind,
        "by": visit.opened.by,
        "opened": visit.opened.at,
        "closed": visit.closed.at if visit.closed else None,
        "reason": visit.closed.data.get("reason") if visit.closed else None,
        "open": [item.key for item in service.unanswered(job, visit)],
        "items": [
            {
                "key": d.item.key,
                "ask": d.item.ask,
                "then": d.then or None,
                "now": d.now or None,
                "change": d.change or None,
                "verdict": d.finding.verdict.value if d.finding else None,
            }
            for d in service.drifts(job, visit)
        ],
        "done": list(visit.done),
        "notes": [str(n.data["text"]) for n in visit.notes],
    }


def visit_lines(job: Job, today: date) -> Iterator[str]:
    """The same as plain lines."""
    yield f"{job.header.id}  {job.state.upper()}"
    for hold in job.holds():
        item = job.procedure.items[hold.key]
        where = ", found at a visit" if hold.again else ""
        yield f"  HOLD{where}, {hold.key}: {item.ask}: {hold.finding.text} {hold.finding.clears}"
    for visit in job.visits.values():
        yield from _visit_lines(job, visit)
    yield from _use(job)
    yield "Due"
    for task in service.due(job):
        late = "  OVERDUE" if task.overdue(today) else ""
        yield f"  {task.due}  {task.key:<22} {task.name} ({task.repeats}){late}"


def _use(job: Job) -> Iterator[str]:
    """By what the dates of tasks by running hours go, where that is not the plan."""
    planned, measured = use_of(job), service.hours_run(job)
    if not planned or measured is None or not service.off_plan(planned.hours, measured):
        return
    if measured == 0:
        yield (
            "It has not run since the handover: tasks by hours are dated from the day on which the "
            "meter was read."
        )
        return
    was, runs = (Units().text(Quantity(v, "time")) for v in (planned.hours, measured))
    yield f"It runs {runs} a day and not {was}: the dates below go by the hour meter."


def _visit_lines(job: Job, visit: Visit) -> Iterator[str]:
    ended = "OPEN"
    if visit.closed:
        ended = f"closed {visit.closed.at:%Y-%m-%d}"
        if left := len(service.unanswered(job, visit)):
            ended += f" with {left} item{'' if left == 1 else 's'} not looked at"
        if reason := visit.closed.data.get("reason"):
            ended += f": {show(reason)}"
    title = visit_kind(visit.kind).title
    yield f"Visit {visit.number}: {title}, {visit.opened.at:%Y-%m-%d}, {visit.opened.by}, {ended}"
    for drift in service.drifts(job, visit):
        if not drift.now and visit.closed:
            continue
        verdict = f"  {drift.finding.verdict}" if drift.finding else ""
        then = f"{drift.now or 'open'}; was {drift.then or 'not asked'}"
        change = f"; {drift.change}" if drift.change else ""
        yield show(f"  {drift.item.key:<28} {then}{change}{verdict}  ({drift.item.ask})")
    for task in visit.done:
        yield show(f"  done: {task}")
    for note in visit.notes:
        yield show(f"  note: {note.data['text']}")
