"""What is asked: the question, how to answer it, and the caution.

Invariant: a caution is never left out; what does not fit is one key away, and it says so.
"""

from __future__ import annotations

from wizard.answer import DATES, Answer, Parsed
from wizard.finding import Severity
from wizard.job import Act, Job
from wizard.procedure.item import Item
from wizard.quantities import format_number
from wizard.render import value_text
from wizard.tui.spans import Line, Lines, at_most, line, wrapped

SEVERITY = {
    Severity.SAFETY: "safety",
    Severity.HANDOVER: "handover",
    Severity.ADVISORY: "advisory",
}


TELLING = {Act.REMARKED: "Remark", Act.REPLIED: "Reply"}


def question(job: Job, item: Item, width: int, height: int, instrument: str) -> Lines:
    """The rows above the field; `instrument` is the one taken, or the key to take one."""
    lines = wrapped(item.ask, width, "ask")
    words = [answer_words(item, job.header.units), SEVERITY[item.severity]]
    if item.optional:
        words.append("may be left blank")
    if item.instrument:
        words.append(f"{item.instrument}: {instrument}" if instrument else item.instrument)
    room = height - len(lines) - (1 if item.caution else 0)
    lines += at_most(wrapped(" · ".join(words), width, "dim"), min(2, max(1, room)), width)
    if item.caution:
        caution = wrapped(f"Caution: {item.caution}", width, "caution")
        lines += at_most(caution, max(1, height - len(lines)), width, "… F1")
    return lines


def arrival(job: Job, item: Item, width: int) -> Lines:
    """Where a phase takes place and what can hurt there, on its first item."""
    phase = job.procedure.phase_of(item.key)
    first = next((i for i in job.applicable if i.phase == phase.number), None)
    if first is not item:
        return []
    who = f" By the {phase.person}." if phase.person else ""
    return [
        *wrapped(f"Phase {phase.number}: {phase.title}. {phase.place}.{who}", width, "dim"),
        *wrapped(f"Risk: {phase.risk}", width, "caution"),
    ]


def answer_words(item: Item, units: str) -> str:
    """How the item is answered.

    >>> from tests.small import small_procedure
    >>> items = small_procedure().items
    >>> answer_words(items["gauge.reading"], "metric"), answer_words(items["lock.on"], "us")
    ('reading in bar(g), or unreadable', 'yes or no')
    """
    unit = item.unit_in(units)
    if item.kind == "series":
        return f"readings in {unit} by the stopwatch"
    if item.kind == "time":
        return f"time in {unit}, by the stopwatch or typed"
    if item.kind == "measure":
        kind = f"reading in {unit}" if unit else "number"
        if len(item.labels) == 1:
            kind = f"{kind}: {item.labels[0]}"
        elif item.labels:
            kind = f"{len(item.labels)} readings in {unit}: {', '.join(item.labels)}"
        return kind + "".join(f", or {word}" for word in item.words)
    return {
        "confirm": "yes or no",
        "choose": "choose by number or arrow" if item.numbered else "type it or choose by arrow",
        "write": "some text",
        "count": "a whole number",
        "date": DATES[units],
    }[item.kind]


def standing(job: Job, item: Item, width: int) -> Lines:
    """What the record already says of the item, beside its answer."""
    lines: Lines = []
    if reason := job.waived.get(item.key):
        lines += wrapped(f"Not applicable: {reason}", width, "strong")
    waiting = [remark for remark in job.open_remarks() if remark.key == item.key]
    for remark in waiting:
        text = f"Remark by {remark.by}: {remark.data['text']} Reply with a note, or answer again."
        lines = [*at_most(wrapped(text, width, "caution"), 3, width), *lines]
    for told in [n for n in job.notes.get(item.key, ()) if n not in waiting][-2:]:
        text = f"{TELLING.get(told.act, 'Note')} by {told.by}: {told.data.get('text', '')}"
        lines += at_most(wrapped(text, width, "dim"), 2, width)
    return lines


def answered(item: Item, answer: Answer) -> Line:
    """The answer of the record, who gave it and when."""
    pieces = [
        ("Answered ", "dim"),
        (readings(item, answer), "strong"),
        (f"  {answer.by}, {answer.at:%d %b %H:%M}", "dim"),
    ]
    if answer.instrument:
        pieces.append((f", {answer.instrument}", "dim"))
    return line(*pieces)


def readings(item: Item, answer: Answer | Parsed) -> str:
    """The value of an answer, each reading of a set behind its label."""
    value = answer.value
    if item.labels and isinstance(value, tuple):
        each = (
            f"{label} {format_number(float(v), 8)}"  # type: ignore[arg-type]
            for label, v in zip(item.labels, value, strict=True)
        )
        return f"{'  '.join(each)} {answer.unit}".rstrip()
    return value_text(item, answer)
