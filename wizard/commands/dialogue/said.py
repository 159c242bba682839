"""What the dialogue says, as lines: the question, its explanation, findings, holds, what is left.

Invariant: one thought a line, nothing told by place or colour, so that a voice can read it.
"""

from __future__ import annotations

from collections.abc import Iterator

from wizard import checks, remarks
from wizard.commands.dialogue.typed import COMMANDS
from wizard.finding import Finding, Verdict
from wizard.job import Hold, Job
from wizard.procedure.item import Item
from wizard.render import Units, finding_lines, limit_text, units_for, value_text
from wizard.text import show

STROKE = "Where any text is an answer, put a / before a command, as /note or /n."


def help_lines() -> Iterator[str]:
    """Every command."""
    for command in COMMANDS:
        shown = f"{command.letter} {command.rest}".strip()
        yield f"  {shown}: {command.about}."
    yield STROKE


def question(job: Job, item: Item, *, arrived: bool) -> Iterator[str]:
    """What is asked; where and how dangerous it is where a phase begins."""
    phase = job.procedure.phase_of(item.key)
    left = job.open_items()
    here = sum(i.phase == item.phase for i in left)
    yield ""
    yield (
        f"Phase {phase.number} of {len(job.procedure.phases)}, {phase.title}: "
        f"{here} open here, {len(left)} in all."
    )
    if arrived:
        yield f"Place: {phase.place}."
        yield f"Risk: {phase.risk}"
    if phase.person:
        yield f"To be done by: {phase.person}."
    if item.caution:
        yield f"Caution: {item.caution}"
    if why_not := job.refusal(item.key):
        yield why_not
    unit = f" [{item.unit_in(job.header.units)}]" if item.measured else ""
    labels = f" ({', '.join(item.labels)})" if item.labels else ""
    yield f"{item.ask}{labels}{unit}"
    for number, option in enumerate(item.listed(job.header.units), 1):
        yield f"  {number} {option}" if item.numbered else f"  {option}"
    if item.kind == "confirm":
        yield "Answer y or n."
    yield from _before(job, item)


def _before(job: Job, item: Item) -> Iterator[str]:
    """What is known of the item already, and what Enter does."""
    if before := job.answers.get(item.key):
        given = show(before.raw) or "not given"
        yield f"Answered before: {given}"
        yield "Enter leaves it so."
    elif reason := job.waived.get(item.key):
        yield f"Not applicable: {show(reason)}"
    elif timed(item) and not item.optional:
        yield "Enter starts the stopwatch, or type the time."
    elif item.optional:
        yield "May be left blank: Enter."
    for remark in remarks.open_at(job, item.key):
        yield f"Remark of {show(remark.by)}: {show(str(remark.data['text']))} Reply with n TEXT."


def timed(item: Item) -> bool:
    """Whether the item has a stopwatch."""
    return item.kind in ("time", "series") and not item.labels


def explanation(job: Job, item: Item) -> Iterator[str]:
    """Why and how, and what was found with its working."""
    unit = item.unit_in(job.header.units)
    for name, text in (
        ("Caution", item.caution),
        ("Why", item.why),
        ("How", item.how),
        ("Usual mistake", item.mistake),
        ("Danger", item.danger if item.danger != item.why else ""),
        ("Usual", item.usual_in(unit)),
        ("Accepted", item.accepted_in(unit)),
    ):
        if text:
            yield f"{name}: {text}"
    units = units_for(item, job.answers.get(item.key), job.header.units)
    found = [f for f in job.findings.get(item.key, ()) if f.check]
    for finding in found:
        yield f"Check: {checks.named(finding.check).title}"
        yield from (f"  {row}" for row in finding_lines(finding, units))
    if not found:
        for binding in item.checks:
            spec = checks.named(binding.rule)
            yield f"Check: {spec.title}"
            yield from (f"  source  {source}" for source in spec.sources)
    yield f"Key: {item.key}"
    yield "Commands:"
    yield from help_lines()


def findings(job: Job, key: str) -> Iterator[str]:
    """How an answer just given is taken, and what it comes to; the working is with `?`."""
    item, answer = job.procedure.items[key], job.answers.get(key)
    if answer is not None and (taken := value_text(item, answer)) != answer.raw:
        yield f"Taken as {show(taken)}."
    units = units_for(item, answer, job.header.units)
    for finding in job.findings.get(key, ()):
        yield from _finding(finding, units)


def _finding(finding: Finding, units: Units) -> Iterator[str]:
    yield f"{finding.verdict}: {finding.text}"
    if finding.value is not None:
        yield f"Value {units.text(finding.value, 5)}."
    if limit := limit_text(finding.limit, units):
        yield f"Limit {limit}."
    if finding.verdict in (Verdict.FAIL, Verdict.INCONCLUSIVE):
        if finding.danger:
            yield f"Danger: {finding.danger}"
        if finding.clears:
            yield f"Clears: {finding.clears}"


def holds(job: Job) -> Iterator[str]:
    """Why the job is held and what clears it."""
    for hold in job.holds():
        yield _hold(job, hold)


def _hold(job: Job, hold: Hold) -> str:
    held = job.procedure.items[hold.key]
    return (
        f"HELD in phase {hold.phase} by “{held.ask}” [{hold.key}]: {hold.finding.text} "
        f"{hold.finding.clears}"
    ).rstrip()


def every_item(job: Job) -> Iterator[str]:
    """All items of the job with their verdicts."""
    for item in job.applicable:
        found = job.finding(item.key)
        verdict = f"{found.verdict}: " if found else ""
        yield f"  {item.phase} {verdict}{item.ask} [{item.key}]"


def left(job: Job, phase: int) -> Iterator[str]:
    """The open items of a phase, and how many there are in each of the others."""
    waiting = job.open_items()
    here = [item for item in waiting if item.phase == phase]
    yield f"Phase {phase}: {len(here)} open."
    yield from (f"  {item.ask} [{item.key}]" for item in here)
    for other in job.procedure.phases:
        count = sum(item.phase == other.number for item in waiting)
        if count and other.number != phase:
            yield f"Phase {other.number}, {other.title}: {count} open."
    yield "l all lists every item with its verdict."


def summary(job: Job) -> Iterator[str]:
    """What is left when the person leaves."""
    for item in job.wants_note():
        yield f"Wants a note: {item.ask} [{item.key}]"
    for item in job.failures():
        yield f"Failed: {item.ask} [{item.key}]"
    yield f"{job.header.id}: {job.state}, {len(job.open_items())} items open."
