"""The results: each check with reading, limit, verdict and where the limit comes from.

Invariant: everything shown is judged now from the readings; what failed is never left out.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from wizard import checks
from wizard.finding import Finding, Verdict
from wizard.job import Act, Job
from wizard.procedure.item import Item
from wizard.report.blocks import Block, Bullets, Para, Section, Table
from wizard.report.readings import Reader, answered

BRIEF = (
    ("Air delivered", "pumpup_delivery"),
    ("Pump-up time", "pumpup_time"),
    ("Leak", "leak_decay"),
    ("Supply voltage, loaded", "supply_voltage"),
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

FIRST_PHASE = 3
"""Plates and preparation are told elsewhere."""


def brief(reader: Reader, decided: str = "") -> Section:
    """The machine in a dozen lines; `decided` says what the lead made of it."""
    latest: dict[str, tuple[Item, Finding]] = {}
    for item, finding in judged(reader.job):
        if finding.limit is not None and finding.verdict is not Verdict.NOT_APPLICABLE:
            latest[finding.check] = (item, finding)
    rows = []
    for name, check in BRIEF:
        if check in latest:
            item, finding = latest[check]
            value = reader.judged(item, finding) or reader.text(item.key)
            sure = reader.uncertainty(finding)
            reading = f"{value} {sure}".strip()
            rows.append((name, reading, reader.limit(item, finding), finding.verdict.value))
    table = Table(("", "Measured", "Limit", "Result"), tuple(rows), (34, 18, 24, 10))
    return Section("The machine in brief", (Para(_state(reader.job, decided)), table))


def _state(job: Job, decided: str) -> str:
    """How the job stands, in one paragraph."""
    left, failed, noted = len(job.open_items()), len(job.failures()), len(job.advisories())
    parts = [
        f"The commissioning is {job.state}: {len(job.answers)} items are answered",
        f"{left or 'none'} {'is' if left == 1 else 'are'} open",
        f"{failed or 'none'} failed",
        f"{noted or 'no'} advisor{'y' if noted == 1 else 'ies'} stand{'s' if noted == 1 else ''}",
    ]
    return " ".join(filter(None, (f"{', '.join(parts)}.", decided)))


def judged(job: Job) -> Iterator[tuple[Item, Finding]]:
    """Every item with a finding of a check, in order."""
    for key, findings in job.findings.items():
        for finding in findings:
            if finding.check and finding.verdict is not Verdict.OPEN:
                yield job.procedure.items[key], finding


def results(reader: Reader) -> Section:
    """Every check with its limit."""
    shown = [(i, f) for i, f in judged(reader.job) if i.phase >= FIRST_PHASE and _tells(f)]
    often = Counter(finding.check for _, finding in shown)
    rows: list[tuple[str, ...]] = []
    phase = 0
    for item, finding in shown:
        if item.phase != phase:
            phase = item.phase
            title = reader.job.procedure.phase_of(item.key).title
            rows.append((f"{phase}  {title}",))
        rows.append(_row(reader, item, finding, often[finding.check] > 1))
    head = ("What was judged", "Reading", "Limit", "Result", "Source")
    table = Table(head, tuple(rows), (38, 24, 18, 15, 9), small=True)
    return Section("Results with their limits", (table,), apart=True)


def _tells(finding: Finding) -> bool:
    """Whether a customer learns something from it."""
    if finding.verdict is Verdict.NOT_APPLICABLE:
        return False
    return finding.verdict is not Verdict.PASS or finding.limit is not None


def _row(reader: Reader, item: Item, finding: Finding, repeated: bool) -> tuple[str, ...]:
    """One check; the item is named where the check was made for several."""
    what = checks.load()[finding.check].title
    if repeated:
        what = f"{what}: {_lower(item.ask)}"
    if finding.verdict is not Verdict.PASS:
        what = f"{what}. {finding.text}"
    parts = [reader.text(item.key) if item.measured else "", reader.error(item)]
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
        finding = next(f for f in job.findings[item.key] if f.verdict is not Verdict.PASS)
        notes = [str(n.data["text"]) for n in job.notes.get(item.key, ()) if n.act is Act.NOTED]
        name = checks.load()[finding.check].title if finding.check else item.ask
        rows.append((name, finding.text, " ".join(notes) or finding.clears or "no note"))
    if not rows:
        return Section("Open advisories", (Para("None."),))
    table = Table(("Item", "What was found", "What was done or agreed"), tuple(rows), (26, 32, 32))
    return Section("Open advisories", (table,))


def corrections(reader: Reader) -> Section:
    """What was corrected, taken back, or marked not applicable, with the reasons."""
    job = reader.job
    rows = []
    for event in job.events:
        item = job.procedure.items.get(event.key)
        if item is None or event.act not in (Act.CORRECTED, Act.WITHDRAWN):
            continue
        now = str(event.data["raw"]) if event.act is Act.CORRECTED else "taken back"
        who = f"{event.by}, {event.at:%Y-%m-%d %H:%M}"
        rows.append((item.ask, str(event.data["was"]), now, str(event.data["reason"]), who))
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
    for item in reader.job.procedure.items.values():
        if item.key.startswith("prep.due_") and reader.has(item.key):
            rows.append((item.ask.partition(":")[0], "", reader.text(item.key)))
    if not rows:
        return Section("Instruments", (Bullets(("None are listed in the record.",)),))
    head = ("Instrument", "Kind", "Calibration due")
    return Section("Instruments", (Table(head, tuple(rows), (44, 24, 18)),))
