"""A visit after the handover as a list: what is looked at, then beside now, what is due.

Invariant: what is not open cannot be answered, and a verdict is in words.
"""

from __future__ import annotations

from datetime import date

from wizard import service
from wizard.job import Job
from wizard.procedure.visits import visit_kinds
from wizard.tui.list_pane import Row
from wizard.tui.spans import Line, fitted, line
from wizard.tui.views.marks import mark_of

START, ITEM, TASK, NOTE, CLOSE = "start ", "item ", "task ", "note", "close"

BESIDE = 42
"""Cells of a row for what was read then and now."""


def visit_title(job: Job) -> Line:
    """What the list holds."""
    visit = service.current(job)
    if visit is None:
        return line(" Visits", ("   Enter begins the one that is marked", "dim"))
    kind = visit_kinds().get(visit.kind)
    name = kind.title if kind else visit.kind
    return line(f" {name}", ("   Enter answers; then beside now", "dim"))


def visit_rows(job: Job, today: date) -> list[Row]:
    """The open visit item by item; where none is open, the kinds that can begin."""
    visit = service.current(job)
    rows: list[Row] = []
    if visit is None:
        rows += [
            Row(f"{START}{kind.name}", line(f"   {kind.title:<30}", (kind.about, "dim")), ())
            for kind in visit_kinds().values()
        ]
    else:
        rows += [_item(drift) for drift in service.drifts(job, visit)]
        rows += [
            Row(NOTE, line("   ", ("Note of this visit", "key")), line(f"{len(visit.notes)} ")),
            Row(CLOSE, line("   ", ("Close the visit", "key")), ()),
        ]
    rows.append(Row("", line(" Due"), ()))
    for task in service.due(job):
        late = ("OVERDUE ", "fail") if task.overdue(today) else (f"{task.repeats} ", "dim")
        pick = f"{TASK}{task.key}" if visit else ""
        rows.append(Row(pick, line(f"   {task.due}  {task.name}"), line(late)))
    return rows


def _item(drift: service.Drift) -> Row:
    mark, role = mark_of(drift.finding)
    verdict = str(drift.finding.verdict) if drift.finding else "open"
    beside = f"{drift.then or '-'} > {drift.now}" if drift.now else f"was {drift.then or '-'}"
    change = f" {drift.change}" if drift.change else ""
    return Row(
        f"{ITEM}{drift.item.key}",
        line("   ", (mark, role), f" {drift.item.ask}"),
        line(*fitted(line(f"{beside}{change}"), BESIDE), "  ", (verdict, role), " "),
    )
