"""Answers that pass, found by asking the job: for walks through a whole procedure."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from wizard.answer import parse
from wizard.errors import InputError
from wizard.finding import ORDER, Verdict, worst
from wizard.job import Job
from wizard.procedure.item import Item
from wizard.quantities import format_number, from_si

PLATES = {
    "site.elevation": "300 ft",
    "site.ambient_min": "60 °F",
    "site.ambient_max": "95 °F",
    "site.humidity": "50 %",
    "machine.mass": "1200 lb",
    "use.hours_per_day": "6 h",
    "use.days_per_week": "5",
    "motor.power": "15 hp",
    "motor.phases": "three",
    "motor.voltage": "460 V",
    "motor.frequency": "60 Hz",
    "motor.current": "21 A",
    "motor.service_factor": "1.15",
    "motor.rise": "",
    "motor.speed": "1760 rpm",
    "motor.poles": "4",
    "motor.code_letter": "G",
    "motor.start": "direct on line",
    "motor.dual": "dual, connection confirmed on the plate",
    "pump.stages": "two",
    "pump.bore": "6 in",
    "pump.stroke": "4 in",
    "pump.lp_cylinders": "2",
    "pump.hp_bore": "3.25 in",
    "pump.hp_cylinders": "2",
    "pump.speed": "900 rpm",
    "pump.max_speed": "1100 rpm",
    "pump.rated_flow": "50 cfm",
    "pump.rated_pressure": "175 psi",
    "pump.flow_reference": "free air at the intake",
    "pump.max_pressure": "200 psi",
    "pump.duty": "75 %",
    "receiver.plate": "read in full",
    "receiver.volume": "120 gal",
    "receiver.mawp": "200 psi",
    "receiver.year": "2024",
    "receiver.mark": "ASME U or UM",
    "relief.plate_set": "200 psi",
    "relief.plate_capacity": "120 cfm",
    "switch.plate_cut_in": "145 psi",
    "switch.plate_cut_out": "175 psi",
    "hose.plate_pressure": "250 psi",
    "job.jurisdiction": "United States",
}


def good_text(job: Job, item: Item, day: str = "2026-03-02") -> str:
    """The first text that passes here; the least bad one where none does."""
    best, found = ORDER.index(Verdict.FAIL) - 1.0, ""
    for text in _candidates(job, item, day):
        try:
            findings = job.preview(item.key, parse(item, text, job.header.units))
        except InputError:
            continue
        decided = worst(findings)
        if decided is None or any(f.refused or f.ask for f in findings):
            continue
        rank = float(ORDER.index(decided.verdict))
        if decided.verdict is Verdict.PASS:
            return text
        if decided.verdict is Verdict.NOT_APPLICABLE:
            rank = 2.5
        if rank > best:
            best, found = rank, text
    return found


def _candidates(job: Job, item: Item, day: str) -> Iterator[str]:
    if item.key in PLATES:
        yield PLATES[item.key]
    if item.kind == "confirm":
        yield "y"
    elif item.kind == "choose":
        poor = {*item.bad, *item.advise}
        yield from (o for o in item.options if o not in poor)
        yield from item.options
    elif item.kind == "write":
        yield "as agreed"
    elif item.kind == "date":
        start = job.header.created.date()
        for days in (0, 365, 180, 60, 30, 7, -30, -365):
            yield (start + timedelta(days=days)).isoformat()
    elif item.kind == "count":
        yield from map(str, range(int((item.accept or (0, 0))[0]), 400))
    elif item.kind == "series":
        yield "0 100; 30 112.5; 60 124; 90 136; 120 148"
    else:
        yield from _readings(job, item)
    if item.optional:
        yield ""


def _readings(job: Job, item: Item) -> Iterator[str]:
    unit = item.unit_in(job.header.units)
    for value in _values(job, item):
        shown = f"{format_number(from_si(value, item.quantity, unit), 5)} {unit}".rstrip()
        yield " ".join([shown.split(" ")[0]] * len(item.labels)) if item.labels else shown


def _values(job: Job, item: Item) -> Iterator[float]:
    """SI values to try: inside the bands that other values reveal, other answers, a grid."""
    grid = list(_grid(item))
    for value in grid:
        for end in _ends(job, item, value):
            yield from (end, end * 0.999, end * 1.001, end * 0.9, end * 1.1)
    for key, answer in job.answers.items():
        other = job.procedure.items[key]
        if other.quantity == item.quantity and isinstance(answer.value, float):
            from wizard.answer import si_value

            value = si_value(other, answer)
            yield from (value, value * 1.02, value * 0.98, value * 1.3, value * 0.7)
    yield from grid


def _grid(item: Item) -> Iterator[float]:
    low, high = item.likely or item.accept or (1e-3, 1e6)
    if low > 0 and high / low > 50:
        steps = 24
        yield from (low * (high / low) ** (n / steps) for n in range(steps + 1))
    else:
        yield from (low + (high - low) * n / 24 for n in (12, *range(25)))


def _ends(job: Job, item: Item, value: float) -> Iterator[float]:
    from wizard.answer import Parsed

    unit = item.unit_in(job.header.units)
    number = from_si(value, item.quantity, unit)
    parsed = Parsed("", (number,) * len(item.labels) if item.labels else number, unit)
    for finding in job.preview(item.key, parsed):
        limit = finding.limit
        if limit is not None and limit.kind == item.quantity:
            ends = [e for e in (limit.low, limit.high) if e is not None]
            if len(ends) == 2:
                yield (ends[0] + ends[1]) / 2
            yield from ends
