"""Visits after the handover, each reading beside that of the commissioning."""

from __future__ import annotations

from collections.abc import Iterator

from wizard.errors import InputError
from wizard.procedure.visits import visit_kind
from wizard.report.blocks import Block, Bullets, Para, Section, Table
from wizard.report.readings import Reader
from wizard.service import drifts, unanswered
from wizard.tables import table
from wizard.visit import Visit

HEAD = ("Item", "At the handover", "At the visit", "Change", "Result")


def visits(reader: Reader) -> Iterator[Section]:
    """A section for each visit."""
    for visit in reader.job.visits.values():
        rows = tuple(
            (d.item.ask, d.then, d.now, d.change, d.finding.verdict.value if d.finding else "")
            for d in drifts(reader.job, visit)
            if d.now
        )
        state = f"closed {visit.closed.at:%Y-%m-%d}" if visit.closed else "not finished"
        why = visit.closed.data.get("reason", "") if visit.closed else ""
        reason = f" Reason: {why.rstrip('.')}." if why else ""
        left = len(unanswered(reader.job, visit))
        still = f", {left} of its items not looked at" if left else ""
        blocks: list[Block] = [Para(f"By {visit.opened.by}; {state}{still}.{reason}")]
        if rows:
            blocks.append(Table(HEAD, rows, (32, 18, 18, 20, 15), small=True))
        done = [_task(key) for key in visit.done]
        notes = [str(note.data["text"]) for note in visit.notes]
        if done or notes:
            blocks.append(Bullets((*(f"Done: {task}" for task in done), *notes)))
        yield Section(f"{_title(visit)}, {visit.opened.at:%Y-%m-%d}", tuple(blocks))


def _title(visit: Visit) -> str:
    try:
        return visit_kind(visit.kind).title
    except InputError:
        return visit.kind


def _task(key: str) -> str:
    names = {row["key"]: row["name"] for row in table("maintenance").rows}
    return str(names.get(key, key))
