"""The job as a value: events in, answers, findings, holds and what is next out.

Invariant: a Job never changes; `apply` gives a new one. The events are the whole truth: folding
them again gives the same job. `refusal` is the only gate.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from functools import cached_property
from types import MappingProxyType
from typing import Any, NamedTuple

from wizard.answer import Answer, Parsed
from wizard.errors import Refused
from wizard.event import Act, Event, Timer
from wizard.finding import Finding, Severity, Verdict
from wizard.instrument import Instrument
from wizard.judge import Evidence, decided, judge, judge_all
from wizard.ledger import ANSWERS, Ledger, takes_away
from wizard.procedure.item import Item, Procedure
from wizard.settings import Settings
from wizard.visit import Visit, visit_findings

__all__ = ["Act", "Event", "Header", "Hold", "Job", "Timer"]

GATED = (*ANSWERS, Act.NOT_APPLICABLE, Act.TIMER_STARTED, Act.LAP, Act.TIMER_STOPPED)


class Hold(NamedTuple):
    """Why the job cannot go past a phase; `again` where a visit found it after the handover."""

    key: str
    phase: int
    finding: Finding
    again: bool = False


@dataclass(frozen=True, slots=True)
class Header:
    """What a record says of itself before any event."""

    id: str
    uuid: str
    created: datetime
    units: str = "us"
    practice_run: bool = False
    settings: Settings = field(default_factory=Settings)


@dataclass(frozen=True)
class Job:
    """One installation of one machine."""

    header: Header
    procedure: Procedure
    events: tuple[Event, ...] = ()
    answers: Mapping[str, Answer] = field(default_factory=dict)
    waived: Mapping[str, str] = field(default_factory=dict)
    notes: Mapping[str, tuple[Event, ...]] = field(default_factory=dict)
    timers: Mapping[str, Timer] = field(default_factory=dict)
    instruments: Mapping[str, Instrument] = field(default_factory=dict)
    visits: Mapping[int, Visit] = field(default_factory=dict)
    findings: Mapping[str, tuple[Finding, ...]] = field(default_factory=dict)

    # -- building -----------------------------------------------------------------

    @classmethod
    def new(cls, header: Header, procedure: Procedure) -> Job:
        """A job with nothing answered."""
        return cls(header, procedure).judged(tuple(procedure.items))

    @classmethod
    def replay(cls, header: Header, procedure: Procedure, events: Iterable[Event]) -> Job:
        """The job that these events make; judged once, at the end, and never gated."""
        return cls(header, procedure)._fold(*events).judged(tuple(procedure.items))

    def apply(self, event: Event) -> Job:
        """The job after `event`; Refused if the gate does not let it through."""
        if event.seq != self.next_seq:
            raise Refused(f"Event {event.seq} does not follow event {self.next_seq - 1}.")
        if event.act in GATED and (reason := self.refusal(event.key)):
            raise Refused(reason)
        job = self._after(event)
        if reason := self._lifted(job, event):
            raise Refused(reason)
        return job

    def _after(self, event: Event) -> Job:
        """The job with the event in it, judged anew as far as it reaches."""
        job = self._fold(event)
        if event.act is Act.INSTRUMENT:
            return job.judged(tuple(self.procedure.items))
        if event.key in self.procedure.items:
            return job.judged((event.key, *self.procedure.dependents[event.key]))
        return job

    def judged(self, keys: tuple[str, ...]) -> Job:
        """The same job with the findings of `keys` (in procedure order) made anew."""
        found = judge_all(self.evidence, keys, dict(self.findings))
        return replace(self, findings=MappingProxyType(found))

    def _fold(self, *events: Event) -> Job:
        ledger = Ledger(
            dict(self.answers),
            dict(self.waived),
            dict(self.notes),
            dict(self.timers),
            dict(self.instruments),
            dict(self.visits),
        )
        for event in events:
            ledger.take(event)
        return replace(
            self,
            events=(*self.events, *events),
            answers=ledger.answers,
            waived=ledger.waived,
            notes=ledger.notes,
            timers=ledger.timers,
            instruments=ledger.instruments,
            visits=ledger.visits,
        )

    # -- asking -------------------------------------------------------------------

    @property
    def next_seq(self) -> int:
        """The number of the next event."""
        return self.events[-1].seq + 1 if self.events else 1

    @cached_property
    def evidence(self) -> Evidence:
        """What judgements are made from."""
        return Evidence(
            self.procedure, self.header.settings, self.answers, self.waived, self.instruments
        )

    def applies(self, key: str) -> bool:
        """Whether the item belongs to this job, as far as is known."""
        return self.evidence.applies(self.procedure.items[key])

    @cached_property
    def applicable(self) -> tuple[Item, ...]:
        """The items of this job in order."""
        applies = self.evidence.applies
        return tuple(i for i in self.procedure.items.values() if applies(i))

    def finding(self, key: str) -> Finding | None:
        """The finding that decides the item; None where the item does not apply."""
        return decided(self.findings.get(key, ()))

    def preview(self, key: str, parsed: Parsed, instrument: str = "") -> tuple[Finding, ...]:
        """The findings the item would have with this answer."""
        trial: Answer | Parsed = parsed
        if instrument:
            now = self.events[-1].at if self.events else self.header.created
            trial = Answer(key, parsed.raw, parsed.value, parsed.unit, "", now, 0, instrument)
        answers: dict[str, Answer | Parsed] = {**self.answers, key: trial}
        evidence = replace(self.evidence, answers=answers, waived=_without(self.waived, key))
        return judge(evidence, self.procedure.items[key], self.findings)

    @cached_property
    def found_again(self) -> Mapping[str, tuple[Finding, ...]]:
        """The findings of what visits looked at again, from the latest reading of each."""
        return visit_findings(self.evidence, self.findings, self.visits.values())

    @cached_property
    def _holds(self) -> tuple[Hold, ...]:
        out = [
            Hold(item.key, item.phase, finding)
            for item in self._telling
            if (finding := _holding(self.findings.get(item.key, ())))
        ]
        for key, findings in self.found_again.items():
            if finding := _holding(findings):
                out.append(Hold(key, self.procedure.items[key].phase, finding, again=True))
        return tuple(out)

    @cached_property
    def _telling(self) -> tuple[Item, ...]:
        """The items with a finding that is neither a plain pass nor just open, in order."""
        items, quiet = self.procedure.items, (Verdict.PASS, Verdict.OPEN)
        return tuple(
            items[key]
            for key, found in self.findings.items()
            if found and (len(found) > 1 or found[0].verdict not in quiet)
        )

    @cached_property
    def _open(self) -> tuple[Item, ...]:
        items = self.procedure.items
        return tuple(
            items[key]
            for key, found in self.findings.items()
            if found and (found[0].verdict is Verdict.OPEN or (len(found) > 1 and _waits(found)))
        )

    def holds(self) -> tuple[Hold, ...]:
        """Every failed or inconclusive safety item, earliest first, then those of visits."""
        return self._holds

    def refusal(self, key: str, act: Act = Act.ANSWERED) -> str:
        """Why the item cannot be answered now, or its answer withdrawn; empty where it can."""
        item = self.procedure.items[key]
        if act is Act.WITHDRAWN:
            at = self.events[-1].at if self.events else self.header.created
            event = Event(self.next_seq, act, at, "", key)
            return self._lifted(self._after(event), event)
        if not self.applies(key):
            return f"“{item.ask}” does not belong to this job with the answers given so far."
        for hold in self.holds():
            if hold.phase < item.phase:
                held = self.procedure.items[hold.key]
                return (
                    f"Held in phase {hold.phase} by “{held.ask}”: {hold.finding.text} "
                    f"{hold.finding.clears}"
                ).strip()
        if self.procedure.phase_of(key).strict:
            for earlier in self.unproved_safety(item):
                found = next((f for f in self.findings[earlier.key] if f.blocks_handover), None)
                said = f": {found.verdict}, {found.text} {found.clears}".rstrip() if found else "."
                return (
                    f"First, in phase {earlier.phase}: “{earlier.ask}”{said} Nothing is energised "
                    "or pressurised before every earlier safety item has passed."
                )
        return ""

    def _lifted(self, after: Job, event: Event) -> str:
        """Why an event is refused that leaves the job `after`: it would end a hold with no new
        reading that passes. Empty where it does not.

        A new answer may end the hold of another item, which may then no longer apply.
        """
        if not self.holds():
            return ""
        still = {(hold.key, hold.again) for hold in after.holds()}
        for hold in (h for h in self.holds() if (h.key, h.again) not in still):
            item, found = self.procedure.items[hold.key], after.finding(hold.key)
            if takes_away(event):
                return (
                    f"A hold is not taken back, answer again with a reason: “{item.ask}” holds the "
                    f"job until a new reading passes. {hold.finding.text}"
                )
            if hold.key == event.key and found and found.verdict is Verdict.OPEN:
                return f"{found.text} Until then “{item.ask}” holds the job."
        return ""

    def unproved_safety(self, before: Item) -> tuple[Item, ...]:
        """Safety items before this one that are open, failed or inconclusive.

        What only bars the handover counts too, but for what is found under power.
        """
        return tuple(
            i
            for i in self.applicable
            if i.place < before.place and i.severity is Severity.SAFETY and not self._proved(i)
        )

    def _proved(self, item: Item) -> bool:
        found = self.findings.get(item.key, ())
        cold = not self.procedure.phase_of(item.key).strict
        return not any(
            f.holds or f.verdict is Verdict.OPEN or (cold and f.blocks_handover) for f in found
        )

    def open_items(self) -> tuple[Item, ...]:
        """Items of this job without a complete answer, in order."""
        return self._open

    def failures(self) -> tuple[Item, ...]:
        """Items that keep the job from being closed, holds and what visits found included."""
        own = {i.key for i in self._telling if _blocks(self.findings[i.key])}
        again = {key for key, found in self.found_again.items() if _blocks(found)}
        items = self.procedure.items
        return tuple(sorted((items[k] for k in own | again), key=lambda i: i.place))

    def advisories(self) -> tuple[Item, ...]:
        """Items with an advisory finding."""
        return tuple(i for i in self._telling if any(map(_advises, self.findings[i.key])))

    def wants_note(self) -> tuple[Item, ...]:
        """Items with an advisory finding and no note since the answer."""
        return tuple(i for i in self.advisories() if not self._noted(i.key))

    def _noted(self, key: str) -> bool:
        answer = self.answers.get(key)
        since = answer.seq if answer else 0
        return any(n.seq > since and n.act is not Act.REMARKED for n in self.notes.get(key, ()))

    def open_remarks(self) -> tuple[Event, ...]:
        """A lead's remarks that nobody has replied to, corrected or answered since."""
        out = []
        for key, told in self.notes.items():
            for remark in (n for n in told if n.act is Act.REMARKED):
                answer = self.answers.get(key)
                replied = any(n.seq > remark.seq and n.act is Act.REPLIED for n in told)
                if not replied and not (answer and answer.seq > remark.seq):
                    out.append(remark)
        return tuple(sorted(out, key=lambda e: e.seq))

    def next_item(
        self, after: str = "", *, past_holds: bool = False, skip: Collection[str] = ()
    ) -> Item | None:
        """The first open, remarked or holding item that can be answered, from `after` on, then any.

        Without `after` the item that holds comes first, with `past_holds` last. Where the next
        open item waits for a safety item that has not passed, that one. None where nothing is left.
        """
        items = self.procedure.items
        held = self._held(skip)
        if held and not after:
            return items[held[0]]
        place = items[after].place if after else -1
        still = {item.key for item in self.open_items()}
        still |= {remark.key for remark in self.open_remarks()}
        still |= set() if past_holds else set(held)
        left = [item for item in self.applicable if item.key in still and item.key not in skip]
        barred = bool(held)
        for item in sorted(left, key=lambda i: i.place <= place):
            if not self.refusal(item.key):
                return item
            if not barred and self.procedure.phase_of(item.key).strict:
                barred = True
                first = next(iter(self.unproved_safety(item)), None)
                if first and first.key not in skip and not self.refusal(first.key):
                    return first
        return items[held[0]] if held else None

    def _held(self, skip: Collection[str]) -> list[str]:
        """Items of the commissioning that hold the job, earliest first, but for these."""
        return [hold.key for hold in self.holds() if not hold.again and hold.key not in skip]

    def item_after(self, key: str, before: Job, skip: Collection[str] = ()) -> Item | None:
        """Where to go on once `key` has been answered in the job `before`.

        To what holds by this answer, else to the next open item: what held before is left behind,
        so that what is typed next is no correction of it.
        """
        held = self._held(skip)
        stood = {hold.key for hold in before.holds()}
        here = [k for k in held if k == key] or [k for k in held if k not in stood]
        if here:
            return self.procedure.items[here[0]]
        return self.next_item(key, past_holds=True, skip=skip)

    @property
    def state(self) -> str:
        """held, in progress, or finished."""
        if self.holds():
            return "held"
        if self.open_items() or self.failures() or self.wants_note() or self.open_remarks():
            return "in progress"
        if any(visit.closed is None for visit in self.visits.values()):
            return "in progress"
        return "finished"


def _holding(findings: tuple[Finding, ...]) -> Finding | None:
    return next((f for f in findings if f.holds), None)


def _waits(findings: tuple[Finding, ...]) -> bool:
    return any(f.verdict is Verdict.OPEN for f in findings)


def _blocks(findings: tuple[Finding, ...]) -> bool:
    return any(f.blocks_handover for f in findings)


def _advises(finding: Finding) -> bool:
    return finding.verdict is Verdict.ADVISORY or (
        finding.severity is Severity.ADVISORY
        and finding.verdict in (Verdict.FAIL, Verdict.INCONCLUSIVE)
    )


def _without(mapping: Mapping[str, Any], key: str) -> Mapping[str, Any]:
    return {k: v for k, v in mapping.items() if k != key} if key in mapping else mapping
