"""What people do to a job, as events: answer, correct, waive, note, time, list an instrument.

Invariant: nothing gets into a job but through here, whichever screen or command asks, so that
the gate, the confirmation of unlikely values and the hold events are the same everywhere.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from wizard.answer import Parsed, clean, parse, si_value, two_ways
from wizard.errors import InputError, Refused
from wizard.finding import Finding, Severity
from wizard.instrument import Instrument
from wizard.job import Act, Event, Job
from wizard.procedure.item import Item
from wizard.quantities import is_within

MAX_TEXT = 400


class NeedsConfirmation(InputError):
    """A possible but unlikely value: `sentence` says why; answer again with it confirmed."""

    def __init__(self, sentence: str) -> None:
        super().__init__("", "", "")
        self.args = (sentence,)
        self.sentence = sentence

    def __str__(self) -> str:
        return self.sentence


class NeedsReason(InputError):
    """A correction without a reason."""

    def __init__(self, item: Item) -> None:
        super().__init__(f"reason for correcting “{item.ask}”", "nothing", "a few words")


@dataclass(frozen=True, slots=True)
class Hand:
    """Who acts, and when by the wall clock."""

    by: str
    at: datetime


def answer(
    job: Job,
    key: str,
    text: str,
    hand: Hand,
    *,
    instrument: str = "",
    reason: str = "",
    confirmed: bool = False,
) -> Job:
    """The job with `text` as the answer of `key`; a second answer is a correction.

    Raises Refused under the gate, InputError for text that cannot be used, NeedsConfirmation
    for an unlikely value, NeedsReason for a correction without one.
    """
    parsed = parse(item_of(job, key), text, job.header.units)
    return answer_parsed(
        job, key, parsed, hand, instrument=instrument, reason=reason, confirmed=confirmed
    )


def answer_parsed(
    job: Job,
    key: str,
    parsed: Parsed,
    hand: Hand,
    *,
    instrument: str = "",
    reason: str = "",
    confirmed: bool = False,
) -> Job:
    """As `answer`, with a value that is parsed already (a logger's series)."""
    item = item_of(job, key)
    if why_not := job.refusal(key):
        raise Refused(why_not)
    doubt = doubt_of(job, item, parsed, instrument)
    if doubt and not confirmed:
        raise NeedsConfirmation(doubt)
    before = job.answers.get(key)
    if before and not clean(reason):
        raise NeedsReason(item)
    data = answer_data(parsed, instrument, doubt)
    if before:
        data |= {"was": before.raw, "reason": clean(reason)[:MAX_TEXT]}
    return do(job, Act.CORRECTED if before else Act.ANSWERED, hand, key, data)


def answer_data(parsed: Parsed, instrument: str, doubt: str) -> dict[str, Any]:
    """What an event holds of an answer; what is absent is left out."""
    data: dict[str, Any] = {"raw": parsed.raw}
    if parsed.value is not None:
        value = parsed.value
        data["value"] = (
            [list(v) if isinstance(v, tuple) else v for v in value]
            if isinstance(value, tuple)
            else value
        )
    for name, extra in (
        ("unit", parsed.unit),
        ("instrument", clean(instrument)),
        ("confirmed", doubt),
    ):
        if extra:
            data[name] = extra
    return data


def doubt_of(job: Job, item: Item, parsed: Parsed, instrument: str = "") -> str:
    """Why the value is unlikely; empty where it is not. InputError where it cannot be judged."""
    found = job.preview(item.key, parsed, instrument)
    if refused := next((f for f in found if f.refused), None):
        raise Refused(refused.text)
    doubts = [two_ways(item, parsed, job.header.units), *(f.ask for f in found)]
    value = si_value(item, parsed)
    values = value if isinstance(value, tuple) and item.kind != "series" else (value,)
    if item.likely and any(
        isinstance(v, float | int) and not is_within(v, *item.likely) for v in values
    ):
        usual = item.usual_in(parsed.unit)
        doubts.append(f"{parsed.raw} is outside what is usual here, {usual}.")
    return " ".join(filter(None, doubts))


def waive(job: Job, key: str, reason: str, hand: Hand) -> Job:
    """The item marked not applicable, with a reason; never a safety item."""
    item = item_of(job, key)
    if item.severity is Severity.SAFETY:
        raise Refused(f"“{item.ask}” is a safety item and cannot be marked not applicable.")
    text = text_of("reason", reason)
    return do(job, Act.NOT_APPLICABLE, hand, key, {"reason": text})


def withdraw(job: Job, key: str, reason: str, hand: Hand) -> Job:
    """The answer of `key` taken back; the item is open again, the answer stays in the history."""
    before = job.answers.get(key)
    if before is None:
        raise Refused(f"“{item_of(job, key).ask}” has no answer to take back.")
    data = {"was": before.raw, "reason": text_of("reason", reason)}
    return do(job, Act.WITHDRAWN, hand, key, data)


def note(job: Job, key: str, text: str, hand: Hand) -> Job:
    """A note against an item, or against the job where `key` is empty."""
    return do(job, Act.NOTED, hand, key, {"text": text_of("note", text)})


def list_instrument(job: Job, instrument: Instrument, hand: Hand) -> Job:
    """The job with the instrument on its list, or its entry replaced."""
    empty = Instrument("", "")
    data = {
        name: getattr(instrument, name)
        for name in Instrument.__slots__
        if getattr(instrument, name) != getattr(empty, name)
    }
    return do(job, Act.INSTRUMENT, hand, "", {"kind": instrument.kind, **data})


def migrate(job: Job, data: Mapping[str, Any], hand: Hand) -> Job:
    """The job taken over from an older schema or procedure; `data` tells from which."""
    return do(job, Act.MIGRATED, hand, "", dict(data))


def start_timer(job: Job, key: str, hand: Hand, clock: Mapping[str, Any]) -> Job:
    """A stopwatch started; `clock` has `monotonic` seconds and the `boot` it belongs to."""
    return do(job, Act.TIMER_STARTED, hand, key, dict(clock))


def lap(job: Job, key: str, seconds: float, text: str, hand: Hand) -> Job:
    """A reading taken while the stopwatch of `key` runs."""
    _running(job, key)
    item = item_of(job, key)
    parsed = parse(replace(item, kind="measure", labels=()), text, job.header.units)
    return do(
        job,
        Act.LAP,
        hand,
        key,
        {"seconds": seconds, "raw": parsed.raw, "value": parsed.value, "unit": parsed.unit},
    )


def stop_timer(job: Job, key: str, seconds: float, hand: Hand) -> Job:
    """The stopwatch of `key` stopped; its reading is not yet the answer."""
    _running(job, key)
    return do(job, Act.TIMER_STOPPED, hand, key, {"seconds": seconds})


def timed_answer(job: Job, key: str) -> str:
    """What the stopped stopwatch of `key` says, as text to answer with."""
    timer = job.timers.get(key)
    if timer is None or timer.stopped is None:
        raise Refused("The stopwatch has not been stopped.")
    if item_of(job, key).kind != "series":
        return f"{timer.stopped:.1f} s"
    return "; ".join(f"{seconds:.1f} {raw}" for seconds, raw in timer.laps)


def _running(job: Job, key: str) -> None:
    timer = job.timers.get(key)
    if timer is None or timer.stopped is not None:
        raise Refused("The stopwatch is not running.")


def item_of(job: Job, key: str) -> Item:
    """The item with this key; InputError with the nearest names where there is none."""
    item = job.procedure.items.get(key)
    if item is None:
        near = [k for k in job.procedure.items if k.split(".")[0] == key.split(".")[0]]
        raise InputError(
            "item",
            clean(key)[:60] or "nothing",
            ", ".join(near) or "a key that “wizard items” lists",
        )
    return item


def text_of(what: str, text: str) -> str:
    """Text on one line as a record takes it; InputError where there is none or too much."""
    kept = clean(text)
    if not kept or len(kept) > MAX_TEXT:
        given = f"{len(kept)} characters" if kept else "nothing"
        raise InputError(what, given, f"1 to {MAX_TEXT} characters")
    return kept


def do(job: Job, act: Act, hand: Hand, key: str, data: dict[str, Any]) -> Job:
    """The event applied, after a note of a clock set back and with the holds it changes."""
    if job.events and hand.at < job.events[-1].at:
        before = job.events[-1].at
        job = job.apply(
            Event(job.next_seq, Act.CLOCK_STEPPED, hand.at, hand.by, "", {"from": before})
        )
    held = {h.key: h.finding for h in job.holds()}
    job = job.apply(Event(job.next_seq, act, hand.at, hand.by, key, data))
    for hold in job.holds():
        if hold.key not in held:
            job = job.apply(_hold(job, Act.HOLD_RAISED, hold.key, hold.finding, hand))
    holding = {h.key for h in job.holds()}
    for cleared, finding in held.items():
        if cleared not in holding:
            job = job.apply(_hold(job, Act.HOLD_CLEARED, cleared, finding, hand))
    return job


def _hold(job: Job, act: Act, key: str, finding: Finding, hand: Hand) -> Event:
    data = {"text": finding.text, "check": finding.check}
    return Event(job.next_seq, act, hand.at, hand.by, key, {k: v for k, v in data.items() if v})
