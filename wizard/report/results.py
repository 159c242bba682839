"""The results: each check with reading, limit, verdict and where the limit comes from.

Invariant: everything shown is judged now from the readings; what failed is never left out.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from wizard import checks
from wizard.finding import Finding, Severity, Verdict
from wizard.job import Act, Job
from wizard.ledger import answer_of
from wizard.procedure.item import Item
from wizard.report.blocks import Block, Para, Section, Table
from wizard.report.readings import Reader, answered

BRIEF = (
    ("Air delivered", "pumpup_delivery"),
    ("Pump-up time", "pumpup_time"),
    ("Leak", "leak_decay"),
    ("Supply voltage", "supply_voltage"),
    ("Voltage unbalance", "voltage_unbalance"),
    ("Running current", "running_current"),
    ("Discharge temperature", "discharge_temperature"),
    ("Relief valve below the receiver's limit", "relief_set_pressure"),
    ("Relief valve against the pump's delivery", "relief_capacity"),
    ("Cut-out below the relief setting", "measured_cut_out"),
    ("Hose against the relief setting", "hose_rating"),
    ("Noise", "noise_exposure"),
)
"""What a customer asks first: a name and the check that answers it; the last time it was made."""

STOPPED_OR_LOADED = ("supply_voltage", "voltage_unbalance")
"""Checks that are made with the compressor off, and again with the machine loaded."""

LOADED_PHASE = 13

FIRST_PHASE = 3
"""Plates and preparation are told elsewhere."""


def brief(reader: Reader, decided: str = "") -> Section:
    """The machine in a dozen lines; `decided` says what the lead made of it."""
    latest: dict[str, tuple[Item, Finding]] = {}
    for item, finding in judged(reader.job):
        if finding.limit is None or not _tells(reader, item, finding):
            continue
        before = latest.get(finding.check)
        if before is None or not _bad(before[1]) or _bad(finding):
            latest[finding.check] = (item, finding)
    rows = []
    for name, check in BRIEF:
        if check in latest:
            item, finding = latest[check]
            value = reader.judged(item, finding) or reader.text(item.key)
            sure = reader.uncertainty(finding)
            reading = f"{value} {sure}".strip()
            if check in STOPPED_OR_LOADED:
                state = "machine loaded" if item.phase >= LOADED_PHASE else "compressor off"
                name = f"{name}, {state}"
            rows.append((name, reading, reader.limit(item, finding), finding.verdict.value))
    blocks: list[Block] = [Para(_state(reader.job, decided))]
    if rows:
        blocks.append(Table(("", "Measured", "Limit", "Result"), tuple(rows), (34, 18, 24, 10)))
    return Section("The machine in brief", tuple(blocks))


def _bad(finding: Finding) -> bool:
    return finding.verdict in (Verdict.FAIL, Verdict.INCONCLUSIVE)


def _state(job: Job, decided: str) -> str:
    """How the job stands, in one paragraph."""
    left, failed, noted = len(job.open_items()), len(job.failures()), len(job.advisories())
    parts = [
        f"{_standing(job)}: {len(job.answers)} items are answered",
        f"{left or 'none'} {'is' if left == 1 else 'are'} open",
        f"{failed or 'none'} failed",
        f"{noted or 'no'} advisor{'y' if noted == 1 else 'ies'} stand{'s' if noted == 1 else ''}",
    ]
    return " ".join(filter(None, (f"{', '.join(parts)}.", decided)))


def _standing(job: Job) -> str:
    """What is held or finished: the commissioning, or a visit after it."""
    visiting = [hold.again for hold in job.holds()]
    if visiting and all(visiting):
        return "The commissioning is finished, and the machine is held by what a visit found"
    open_visit = any(visit.closed is None for visit in job.visits.values())
    if open_visit and not job.open_items() and not visiting:
        return "The commissioning is finished, and a visit is not closed"
    return f"The commissioning is {job.state}"


def judged(job: Job) -> Iterator[tuple[Item, Finding]]:
    """Every item with a finding of a check, in order."""
    for key, findings in job.findings.items():
        for finding in findings:
            if finding.check and finding.verdict is not Verdict.OPEN:
                yield job.procedure.items[key], finding


def results(reader: Reader) -> Section:
    """Every check with its limit."""
    shown = [
        (i, f) for i, f in judged(reader.job) if i.phase >= FIRST_PHASE and _tells(reader, i, f)
    ]
    often = Counter(finding.check for _, finding in shown)
    rows: list[tuple[str, ...]] = []
    phase = 0
    for item, finding in shown:
        if item.phase != phase:
            phase = item.phase
            title = reader.job.procedure.phase_of(item.key).title
            rows.append((f"{phase}  {title}",))
        rows.append(_row(reader, item, finding, often[finding.check] > 1))
    if not rows:
        return Section("Results with their limits", ())
    head = ("What was judged", "Reading", "Limit", "Result", "Source")
    table = Table(head, tuple(rows), (38, 24, 18, 15, 9), small=True)
    return Section("Results with their limits", (table,), apart=True)


def _tells(reader: Reader, item: Item, finding: Finding) -> bool:
    """Whether a customer learns something from it: nothing passes that was not read."""
    if finding.verdict is Verdict.NOT_APPLICABLE:
        return False
    if finding.verdict is not Verdict.PASS:
        return True
    return finding.limit is not None and (finding.value is not None or reader.has(item.key))


def _row(reader: Reader, item: Item, finding: Finding, repeated: bool) -> tuple[str, ...]:
    """One check; the item is named where the check was made for several."""
    what = checks.load()[finding.check].title
    if repeated:
        what = f"{what}: {_lower(item.ask)}"
    if finding.verdict is not Verdict.PASS:
        what = f"{what}. {finding.text}"
    told = item.measured or item.kind == "count" or reader.has_unit(finding)
    parts = [reader.text(item.key) if told else "", reader.error(item)]
    value = reader.judged(item, finding)
    if value:
        gives = "gives " if parts[0] else ""
        parts.append(f"{gives}{value} {reader.uncertainty(finding)}".strip())
    return (
        what,
        "; ".join(filter(None, parts)),
        reader.limit(item, finding),
        finding.verdict.value,
        reader.numbered.mark(finding.sources),
    )


def _lower(ask: str) -> str:
    text = ask.partition(" (blank")[0]
    second = text[1:2]
    return text if second.isupper() or second.isdigit() else text[:1].lower() + text[1:]


def advisories(reader: Reader) -> Section:
    """What is not wrong and must be known."""
    job = reader.job
    rows = []
    for item in job.advisories():
        written = "; ".join(_written(job, item.key)) or "nothing written down"
        for finding in job.findings[item.key]:
            if finding.severity is Severity.ADVISORY and (
                finding.verdict is Verdict.ADVISORY or _bad(finding)
            ):
                name = checks.load()[finding.check].title if finding.check else item.ask
                advice = f" Advice: {finding.clears}" if finding.clears else ""
                rows.append((name, f"{finding.text}{advice}", written))
    if not rows:
        return Section("Open advisories", (Para("None."),))
    table = Table(("Item", "What was found", "What was done or agreed"), tuple(rows), (26, 32, 32))
    return Section("Open advisories", (table,))


def _written(job: Job, key: str) -> Iterator[str]:
    """What people wrote about an item: notes, replies to the lead, reasons of corrections."""
    for event in job.events:
        if event.key == key and event.act in (Act.NOTED, Act.REPLIED):
            yield str(event.data["text"])
        elif event.key == key and event.act is Act.CORRECTED:
            yield f"corrected: {event.data['reason']}"


def corrections(reader: Reader) -> Section:
    """What was corrected, taken back, or marked not applicable, with the reasons."""
    job = reader.job
    rows = []
    given: dict[str, str] = {}
    for event in job.events:
        item = job.procedure.items.get(event.key)
        if item is None or event.act not in (Act.ANSWERED, Act.CORRECTED, Act.WITHDRAWN):
            continue
        was = given.get(event.key, "")
        taken = event.act is Act.WITHDRAWN
        now = "taken back" if taken else reader.said(item, answer_of(event))
        given[event.key] = now
        if event.act is not Act.ANSWERED:
            who = f"{event.by}, {event.at:%Y-%m-%d %H:%M}"
            rows.append(
                (item.ask, was or str(event.data["was"]), now, str(event.data["reason"]), who)
            )
    waived = [(job.procedure.items[k].ask, why) for k, why in job.waived.items() if job.applies(k)]
    blocks: list[Block] = []
    if rows:
        head = ("Item", "First", "Then", "Reason", "By")
        blocks.append(Table(head, tuple(rows), (28, 12, 12, 22, 16)))
    else:
        blocks.append(Para("No reading was corrected."))
    if waived:
        blocks.append(Table(("Not applicable", "Why"), tuple(waived), (44, 44)))
    return Section("Corrections", tuple(blocks))


def everything(reader: Reader) -> Section:
    """All answers in order, to be looked up."""
    rows: list[tuple[str, ...]] = []
    for phase in reader.job.procedure.phases:
        items = [i for i in phase.items if answered(reader.job, i.key)]
        if phase.number == 1 or not items:
            continue
        rows.append((f"{phase.number}  {phase.title}",))
        rows += [(i.ask, reader.value(i)) for i in items]
    return Section(
        "Everything that was asked",
        (
            Para("The plates are above. Every answer, who gave it and when is in the record."),
            Table(("Item", "Answer"), tuple(rows), (62, 28), small=True, columns=2),
        ),
        apart=True,
    )


def sources(reader: Reader) -> Section:
    """The sources that the results name by number."""
    marks = {
        "confirmed": "read in a public copy",
        "computed": "worked out from first principles",
        "memory": "from memory, not looked up",
        "judgement": "our judgement",
    }
    rows = tuple(
        (str(number), source.text, marks[source.mark])
        for source, number in reader.numbered.known.items()
    )
    if not rows:
        return Section("Where the limits come from", ())
    note = Para(
        "Check the edition in force where you are. Where codes leave room the limit is common "
        "practice or a judgement, and it says so."
    )
    return Section(
        "Where the limits come from",
        (note, Table(("No.", "Source", "How far it was looked up"), rows, (4, 62, 24), small=True)),
    )


def instruments(reader: Reader) -> Section:
    """What was measured with, and until when it can be believed."""
    rows = []
    for instrument in reader.job.instruments.values():
        due = instrument.calibration_due
        rows.append((instrument.name, instrument.kind, due.isoformat() if due else "not stated"))
    blocks: list[Block] = []
    if rows:
        head = ("Instrument", "Kind", "Calibration due")
        blocks.append(Table(head, tuple(rows), (44, 24, 18)))
    else:
        blocks.append(Para("No instrument is listed by name in the record."))
    if due_first := reader.text("prep.due_earliest"):
        blocks.append(
            Para(f"The earliest calibration date on the labels of those used is {due_first}.")
        )
    return Section("Instruments", tuple(blocks))
