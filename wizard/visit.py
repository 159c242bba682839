"""A visit after the handover: some items looked at again, beside their commissioning values.

Invariant: an answer of a visit never takes the place of the one the machine was handed over
with; what holds is judged from the latest reading of each item.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from wizard.answer import Answer
from wizard.event import Event
from wizard.finding import Finding
from wizard.judge import Evidence, judge


@dataclass(frozen=True, slots=True)
class Visit:
    """One visit: its answers by item, the maintenance tasks done, what was noted."""

    number: int
    kind: str
    opened: Event
    answers: Mapping[str, Answer] = field(default_factory=dict)
    done: Mapping[str, Event] = field(default_factory=dict)
    notes: tuple[Event, ...] = ()
    closed: Event | None = None


def folded(visits: Mapping[int, Visit], event: Event, answer: Answer | None) -> dict[int, Visit]:
    """The visits after an event; `answer` is what its data hold, where they hold one."""
    data = event.data
    number = data["visit"]
    out = dict(visits)
    before = out.get(number)
    if "kind" in data:
        if before is None:
            out[number] = Visit(number, data["kind"], event)
    elif before is not None:
        if answer:
            out[number] = replace(before, answers={**before.answers, event.key: answer})
        elif "task" in data:
            out[number] = replace(before, done={**before.done, data["task"]: event})
        elif "text" in data:
            out[number] = replace(before, notes=(*before.notes, event))
        elif data.get("closed") is True:
            out[number] = replace(before, closed=event)
    return out


def visit_findings(
    evidence: Evidence, findings: Mapping[str, tuple[Finding, ...]], visits: Iterable[Visit]
) -> dict[str, tuple[Finding, ...]]:
    """The findings of every item that was looked at again, from its latest reading."""
    latest: dict[str, Answer] = {}
    for visit in visits:
        latest.update(visit.answers)
    known = evidence.procedure.items
    keys = sorted((k for k in latest if k in known), key=lambda k: known[k].place)
    again = replace(
        evidence,
        answers={**evidence.answers, **latest},
        waived={k: why for k, why in evidence.waived.items() if k not in latest},
    )
    out = dict(findings)
    for key in keys:
        out[key] = judge(again, known[key], out)
    return {key: out[key] for key in keys}
