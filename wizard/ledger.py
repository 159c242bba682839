"""Events folded into what stands: answers, notes, timers, instruments, visits.

Invariant: a ledger belongs to one fold and is thrown away; what it gives is never changed again.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import Any

from wizard.answer import Answer, Value
from wizard.event import Act, Event, Timer
from wizard.instrument import Instrument
from wizard.visit import Visit, folded

ANSWERS = (Act.ANSWERED, Act.CORRECTED)
TELLING = (Act.NOTED, Act.REMARKED, Act.REPLIED)
TIMING = (Act.TIMER_STARTED, Act.LAP, Act.TIMER_STOPPED)


@dataclass
class Ledger:
    """What stands so far; `take` adds one event."""

    answers: dict[str, Answer]
    waived: dict[str, str]
    notes: dict[str, tuple[Event, ...]]
    timers: dict[str, Timer]
    instruments: dict[str, Instrument]
    visits: dict[int, Visit]

    def take(self, event: Event) -> None:
        """Add what an event did."""
        key, data, act = event.key, event.data, event.act
        if act in ANSWERS:
            self.answers[key] = answer_of(event)
            self.waived.pop(key, None)
        elif act is Act.WITHDRAWN:
            self.answers.pop(key, None)
        elif act is Act.NOT_APPLICABLE:
            self.answers.pop(key, None)
            self.waived[key] = data["reason"]
        elif act in TELLING:
            self.notes[key] = (*self.notes.get(key, ()), event)
        elif act in TIMING:
            self.timers[key] = _timer(self.timers.get(key), event)
        elif act is Act.INSTRUMENT:
            instrument = Instrument(**data)
            self.instruments[instrument.name] = instrument
        elif act is Act.VISIT:
            self.visits = folded(self.visits, event, answer_of(event) if "raw" in data else None)


def takes_away(event: Event) -> bool:
    """Whether the event brings no new reading where there was one: it takes an answer back,
    leaves it blank, or says something else of the instrument."""
    if event.act in (Act.WITHDRAWN, Act.NOT_APPLICABLE, Act.INSTRUMENT):
        return True
    given = event.act in ANSWERS or (event.act is Act.VISIT and "raw" in event.data)
    return given and event.data.get("value") is None


def answer_of(event: Event) -> Answer:
    """The answer that an event gives."""
    data = event.data
    return Answer(
        event.key,
        data["raw"],
        value_of(data),
        data.get("unit", ""),
        event.by,
        event.at,
        event.seq,
        data.get("instrument", ""),
        data.get("confirmed", ""),
    )


def value_of(data: Mapping[str, Any]) -> Value:
    """The answer value of an event's data, with lists turned into tuples."""
    value = data.get("value")
    if isinstance(value, list):
        return tuple(tuple(v) if isinstance(v, list) else v for v in value)
    return value if not isinstance(value, datetime) else date(value.year, value.month, value.day)


def _timer(timer: Timer | None, event: Event) -> Timer:
    if event.act is Act.TIMER_STARTED or timer is None:
        return Timer(event)
    if event.act is Act.LAP:
        return replace(timer, laps=(*timer.laps, (event.data["seconds"], event.data["raw"])))
    return replace(timer, stopped=event.data["seconds"])
