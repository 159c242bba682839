"""What the text in the field means while it is typed: reading, verdict, band.

Invariant: nothing here decides; the job judges, this gathers what there is to show.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import isclose
from typing import Any

from wizard import checks
from wizard.answer import Answer, Parsed, parse, si_value
from wizard.errors import InputError
from wizard.finding import Finding, Limit, Verdict, worst
from wizard.job import Job
from wizard.procedure.item import Item
from wizard.quantities import parse_set, to_si
from wizard.render import Units, units_for

PROBES = (1.0, 10.0, 100.0)


@dataclass(frozen=True, slots=True)
class Judged:
    """The state of one item with some text in its field.

    `of` is what the limit is of, where that is not the reading itself; `values` are what the band
    is drawn for, SI of its kind; `readings` those of a set typed so far, SI, where it is not
    complete; `problem` says why the text is no answer yet; `typed` is False where the answer of
    the record is shown.
    """

    item: Item
    units: Units
    findings: tuple[Finding, ...] = ()
    limit: Limit | None = None
    values: tuple[float, ...] = ()
    parsed: Parsed | Answer | None = None
    problem: InputError | None = None
    typed: bool = False
    readings: tuple[float, ...] = ()
    of: str = ""

    @property
    def unit(self) -> str:
        """The unit of the readings."""
        return self.units.of(self.item.quantity)

    @property
    def decisive(self) -> Finding | None:
        """The finding that decides."""
        return worst(self.findings)


def judged(job: Job, item: Item, text: str, instrument: str = "") -> Judged:
    """What is known with `text` in the field; the record's answer where it is empty."""
    system = job.header.units
    answer = job.answers.get(item.key)
    if not text.strip():
        return _recorded(job, item, answer)
    try:
        parsed = parse(item, text, system)
    except InputError as problem:
        units = units_for(item, answer, system)
        partial = _partial(item, text, system)
        limit, of = expected(job, item) if job.applies(item.key) else (None, "")
        values = partial if limit and not of else ()
        return Judged(item, units, (), limit, values, None, problem, True, partial, of)
    units = units_for(item, parsed, system)
    if not job.applies(item.key):
        return Judged(item, units, parsed=parsed, typed=True)
    return _with(Judged(item, units, job.preview(item.key, parsed, instrument), typed=True), parsed)


def _recorded(job: Job, item: Item, answer: Answer | None) -> Judged:
    units = units_for(item, answer, job.header.units)
    if not job.applies(item.key):
        return Judged(item, units)
    if answer is None:
        found = tuple(f for f in job.findings.get(item.key, ()) if f.verdict is not Verdict.OPEN)
        if item.kind == "confirm" and item.checks and not found:
            return _before_yes(job, Judged(item, units))
        limit, of = expected(job, item)
        return Judged(item, units, found, limit, of=of)
    return _with(Judged(item, units, job.findings.get(item.key, ())), answer)


def _before_yes(job: Job, state: Judged) -> Judged:
    """The band and the value that a yes would be judged by, where both are known already."""
    found = band_finding(job.preview(state.item.key, Parsed("yes", True)))
    if found is None or found.limit is None or found.value is None:
        return state
    values = (found.value.value,) if found.value.kind == found.limit.kind else ()
    return replace(state, limit=found.limit, values=values, of=_title(found))


def _with(state: Judged, parsed: Parsed | Answer) -> Judged:
    """The state with the band and the markers of its findings."""
    shown = band_finding(state.findings, state.item.quantity)
    if shown is None or shown.limit is None:
        return replace(state, parsed=parsed)
    values: tuple[float, ...] = ()
    own = si_value(state.item, parsed)
    of = "" if _of_the_reading(shown, state.item, own) else _title(shown)
    if not of:
        values = own if isinstance(own, tuple) else (own,)
    elif shown.value is not None and shown.value.kind == shown.limit.kind:
        values = (shown.value.value,)
    return replace(state, parsed=parsed, limit=shown.limit, values=values, of=of)


def _of_the_reading(found: Finding, item: Item, own: Any) -> bool:
    """Whether the limit of a finding is one for the readings as typed, or for their mean."""
    if found.limit is None or found.limit.kind != item.quantity or not _numbers(own):
        return False
    readings = own if isinstance(own, tuple) else (own,)
    value = found.value
    if value is None or any(isclose(value.value, r, rel_tol=1e-9) for r in readings):
        return True
    return bool(min(readings) < value.value < max(readings))


def _title(found: Finding) -> str:
    """What a check is about, to stand inside a line."""
    title = checks.named(found.check).title if found.check else ""
    return title if title[1:2].isupper() else title[:1].lower() + title[1:]


def _numbers(value: Any) -> bool:
    if isinstance(value, tuple):
        return bool(value) and all(isinstance(v, float) for v in value)
    return isinstance(value, float | int) and not isinstance(value, bool)


def band_finding(findings: tuple[Finding, ...], quantity: str = "") -> Finding | None:
    """The finding whose band is drawn: of the item's own quantity if there is one, so that the
    band stays while the reading moves; else the deciding one, else the first with a band."""
    banded = [f for f in findings if f.limit is not None]
    own = next((f for f in banded if f.limit and quantity and f.limit.kind == quantity), None)
    decisive = worst(findings)
    if own is not None or not banded:
        return own or decisive
    return decisive if decisive in banded else banded[0]


def _partial(item: Item, text: str, system: str) -> tuple[float, ...]:
    """The readings of a set typed so far."""
    if not item.labels:
        return ()
    unit = item.unit_in(system)
    for count in range(len(item.labels), 0, -1):
        try:
            readings = parse_set(text, item.quantity, unit, item.labels[:count])
        except InputError:
            continue
        return tuple(r.si for r in readings)
    return ()


def expected_limit(job: Job, item: Item) -> Limit | None:
    """The band before anything is typed; None where it depends on the reading itself."""
    return expected(job, item)[0]


def expected(job: Job, item: Item) -> tuple[Limit | None, str]:
    """The band before anything is typed, and what it is of where that is not the reading.

    A limit for something that the reading does not move is none.
    """
    if not item.measured or not item.checks or item.kind == "series":
        return None, ""
    limits: list[Limit] = []
    values: set[float] = set()
    own, of = False, ""
    for probe in probes(item, job.header.units):
        found = tuple(f for f in job.preview(item.key, probe) if not f.refused)
        shown = band_finding(found, item.quantity)
        if shown is None or shown.limit is None:
            continue
        limits.append(shown.limit)
        if shown.value is not None:
            values.add(shown.value.value)
        own = own or _of_the_reading(shown, item, si_value(item, probe))
        of = _title(shown)
    agreed = len(limits) > 1 and all(limit == limits[0] for limit in limits) and len(values) != 1
    return (limits[0], "" if own else of) if agreed else (None, "")


def probes(item: Item, system: str) -> Iterator[Parsed]:
    """Readings to ask the job about, spread over what is accepted or usual."""
    unit = item.unit_in(system)
    ends = item.likely or item.accept
    if ends is None:
        values = PROBES
    else:
        scale, offset = _line(item, unit)
        low, high = ((end - offset) / scale for end in ends)
        values = (low + (high - low) * 0.05, low + (high - low) * 0.4, low + (high - low) * 0.9)
    for value in values:
        if item.labels:
            yield Parsed(str(value), (value,) * len(item.labels), unit)
        else:
            yield Parsed(str(value), value, unit)


def _line(item: Item, unit: str) -> tuple[float, float]:
    offset = to_si(0.0, item.quantity, unit)
    return to_si(1.0, item.quantity, unit) - offset, offset
