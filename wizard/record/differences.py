"""Where a record does not agree with itself.

Invariant: the history is the truth; whatever does not follow from it is named, never mended.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from wizard.job import Act, Event, Job
from wizard.ledger import ANSWERS, answer_of
from wizard.record import shape
from wizard.record.chain import link
from wizard.record.entry import entry, signoff
from wizard.record.places import line_of
from wizard.text import show

COLUMNS = {
    "raw": "what was typed",
    "value": "the value",
    "readings": "the readings in brief",
    "unit": "the unit",
    "instrument": "the instrument",
    "confirmed": "what was confirmed",
    "waived": "the reason",
    "by": "who answered",
    "at": "the time",
    "seq": "the number of the event",
}
"""The columns of an entry in words."""
AROUND = 15
"""Characters shown before a difference in a long value."""


class Problem(NamedTuple):
    """Something in a record that does not agree: where, and whether it may be relied on.

    A grave problem means that the record was changed outside the tool; the others tell what
    this version sees differently.
    """

    text: str
    where: str = ""
    grave: bool = True

    def __str__(self) -> str:
        return f"{self.where}: {self.text}" if self.where else self.text


def chain_problems(
    record: shape.Record, first: str, rows: Sequence[Mapping[str, Any]], data: bytes
) -> Iterator[Problem]:
    """Every place where the history does not follow from what the record says is before it.

    Each link is made from the one that stands before it, so one altered event is one problem;
    what comes after a gap is told once.
    """
    if record.job.chain != first:
        yield Problem("the job's own data or its settings were altered", line_of(data, ("job",)))
    previous, before, gap = record.job.chain, 0, False
    for place, (event, row) in enumerate(zip(record.events, rows, strict=True)):
        said = ""
        if event.seq != before + 1:
            said = "" if gap else "is out of order, or one before it is missing"
            gap = True
        elif event.chain != link(previous, row):
            said = f"was altered, or does not follow from {_named(before)}"
        if said:
            yield Problem(f"event {event.seq} {said}", line_of(data, ("events", place)))
        previous, before = event.chain, event.seq


def _named(seq: int) -> str:
    return f"event {seq}" if seq else "the job's own data"


def entry_problems(
    record: shape.Record, job: Job, misfits: tuple[str, ...], data: bytes
) -> Iterator[Problem]:
    """Every entry that is not what its event says."""
    seen = set()
    latest = {e.seq: e for e in job.events}
    for place, row in enumerate(record.answers):
        twice = row.key in seen
        seen.add(row.key)
        said, column = _differs(row, latest.get(row.seq), job, misfits)
        if twice:
            said, column = "its entry stands twice, and the history has it once", ""
        if said:
            where = line_of(data, ("answers", place, *filter(None, (column,))))
            where = where or line_of(data, ("answers", place))
            yield Problem(f"{show(row.key)}: {said}", where)
    for key in (*job.answers, *job.waived, *misfits):
        if key not in seen:
            yield Problem(f"{show(key)}: its entry is missing")


def _differs(
    row: shape.AnswerRow, event: Event | None, job: Job, misfits: tuple[str, ...]
) -> tuple[str, str]:
    """How an entry differs from the history, and in which column; empty where it does not."""
    stands = job.answers.get(row.key)
    if event is None or event.key != row.key or (stands and stands.seq != row.seq):
        return f"its entry goes by event {row.seq}, which is not its latest answer", "seq"
    if row.key in job.waived:
        if event.act is not Act.NOT_APPLICABLE:
            return f"the history has it as not applicable, but not in event {row.seq}", "seq"
        made = {"waived": job.waived[row.key], "by": event.by, "at": event.at}
    elif stands is None and row.key not in misfits:
        return "it has an entry, but the history took its answer back", ""
    elif event.act not in ANSWERS:
        return f"its entry goes by event {row.seq}, which is no answer", "seq"
    else:
        made = entry(stands or answer_of(event))
    for name, has in made.items():
        if not _same(given := getattr(row, name), has):
            here, there = _beside(given, has)
            if here == there:
                there = "it as another kind of value"
            said = f"{COLUMNS[name]} here is {here}, and the history has {there}"
            return f"{said} (event {row.seq})", name
    return "", ""


def _beside(here: Any, there: Any) -> tuple[str, str]:
    """Two values in quotes; of long ones what is around the first difference."""
    texts = ["" if given is None else str(given) for given in (here, there)]
    longest = max(map(len, texts))
    same = next((n for n, (a, b) in enumerate(zip(*texts, strict=False)) if a != b), 0)
    start = max(0, same - AROUND) if longest > 3 * AROUND else 0
    return _quoted(texts[0], start), _quoted(texts[1], start)


def _quoted(text: str, start: int) -> str:
    if not text:
        return "nothing"
    end = start + 3 * AROUND
    before, after = "…" if start else "", "…" if len(text) > end else ""
    return f"“{before}{show(text[start:end])}{after}”"


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


def signoff_problems(rows: Sequence[Mapping[str, Any]], job: Job) -> Iterator[Problem]:
    """Sign-offs that are not as their event has them."""
    signed = {e.seq: signoff(e) for e in job.events if e.act is Act.SIGNED}
    for row in rows:
        made = signed.pop(row["event"], None)
        if made is None or not made.items() <= row.items():
            yield Problem(f"a sign-off differs from event {row['event']}")
    for seq in signed:
        yield Problem(f"the sign-off of event {seq} is missing")


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
