"""Where a record does not agree with itself.

Invariant: the history is the truth; whatever does not follow from it is named, never mended.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from wizard.job import Act, Event, Job
from wizard.record import shape
from wizard.record.chain import Link, links
from wizard.record.places import line_of
from wizard.text import show


@dataclass(frozen=True, slots=True)
class Problem:
    """Something in a record that does not agree: where, and whether it may be relied on.

    A grave problem means that the record was changed outside the tool; the others tell what
    this version sees differently.
    """

    text: str
    where: str = ""
    grave: bool = True

    def __str__(self) -> str:
        return f"{self.where}: {self.text}" if self.where else self.text


def made_links(first: str, rows: Sequence[Mapping[str, Any]]) -> list[Link]:
    """The links that the events of a record make, whatever it says they are."""
    links_of = ("digest", "chain")
    return links(first, ({k: v for k, v in r.items() if k not in links_of} for r in rows))


def chain_problems(record: shape.Record, made: Sequence[Link], data: bytes) -> Iterator[Problem]:
    """The first place where the history does not follow from what is before it."""
    before = 0
    for place, (row, linked) in enumerate(zip(record.events, made, strict=True)):
        said = ""
        if row.digest != linked.digest:
            said = "was altered"
        elif row.chain != linked.chain and place == 0 and row.seq == 1:
            said = "does not follow from the job's own data, which were altered"
        elif row.chain != linked.chain or row.seq != before + 1:
            said = "is out of order, or one before it was altered or is missing"
        if said:
            yield Problem(f"event {row.seq} {said}", line_of(data, ("events", place)))
            return
        before = row.seq


def entry_problems(
    record: shape.Record, job: Job, misfits: tuple[str, ...], data: bytes
) -> Iterator[Problem]:
    """Every entry that is not what its event says."""
    seen = set()
    latest = {e.seq: e for e in job.events}
    for place, row in enumerate(record.answers):
        twice = row.key in seen
        seen.add(row.key)
        differs = "and stands twice" if twice else _differs(row, latest.get(row.seq), job, misfits)
        if differs:
            said = f"{show(row.key)}: the entry differs from event {row.seq}, {differs}"
            yield Problem(said, line_of(data, ("answers", place)))
    for key in (*job.answers, *job.waived, *misfits):
        if key not in seen:
            yield Problem(f"{show(key)}: its entry is missing")


def _differs(row: shape.AnswerRow, event: Event | None, job: Job, misfits: tuple[str, ...]) -> str:
    """Which field of an entry differs from its event; empty where none does."""
    stands = job.answers.get(row.key)
    if event is None or event.key != row.key or (stands and stands.seq != row.seq):
        return "which is not its latest"
    pairs: dict[str, tuple[Any, Any]]
    if row.key in job.waived:
        if event.act is not Act.NOT_APPLICABLE:
            return "which does not mark it not applicable"
        pairs = {"waived": (row.waived, job.waived[row.key])}
    elif stands is None and row.key not in misfits:
        return "after which it is open"
    else:
        data = event.data
        pairs = {
            "raw": (row.raw, data.get("raw")),
            "value": (row.value, data.get("value")),
            "unit": (row.unit, data.get("unit", "")),
            "instrument": (row.instrument, data.get("instrument", "")),
            "confirmed": (row.confirmed, data.get("confirmed", "")),
        }
    pairs |= {"by": (row.by, event.by), "at": (row.at, event.at)}
    return next((name for name, (a, b) in pairs.items() if not _same(a, b)), "")


def _same(entry: Any, event: Any) -> bool:
    return type(entry) is type(event) and bool(entry == event)


def instrument_problems(record: shape.Record, job: Job) -> Iterator[Problem]:
    """Instruments that are not as an event listed them."""
    listed = {r.name: r for r in record.instruments}
    for name, instrument in job.instruments.items():
        row = listed.pop(name, None)
        names = instrument.__slots__
        if row is None or any(getattr(row, n) != getattr(instrument, n) for n in names):
            yield Problem(f"instrument {show(name)} differs from its event")
    for name in listed:
        yield Problem(f"instrument {show(name)} was listed by no event")


def verdict_problems(record: shape.Record, job: Job, misfits: tuple[str, ...]) -> Iterator[Problem]:
    """What this version judges differently; nobody's fault by itself."""
    for key in misfits:
        yield Problem(f"{show(key)}: the answer does not fit the question; it is open", "", False)
    for row in record.answers:
        finding = job.finding(row.key) if row.key in job.procedure.items else None
        now = finding.verdict.value if finding else ""
        if row.verdict != now and row.key not in misfits:
            then = show(row.verdict) or "not judged"
            said = f"recorded as {then}, judged {now or 'not at all'} now"
            yield Problem(f"{show(row.key)}: {said}", "", False)
