"""The handover sheet of one job.

Invariant: a job that is not finished, is held, was changed outside the tool or is practice says so
before anything else.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from wizard.job import Act, Event, Job
from wizard.maintenance import MaintenanceTask
from wizard.report import machine, results
from wizard.report.blocks import Para, Section, Sheet, Table
from wizard.report.cautions import cautions
from wizard.report.proof import Evidence, signatures, verify
from wizard.report.readings import Reader
from wizard.report.visits import visits
from wizard.service import due

TITLE = "Handover sheet"
REPLIES = (Act.REPLIED, Act.ANSWERED, Act.CORRECTED)


def sheet(job: Job, evidence: Evidence, made: datetime, system: str = "") -> Sheet:
    """The sheet in the units of the job, or in those of `system`."""
    reader = Reader(job, system)
    listed = [
        results.brief(reader, decided(job, evidence)),
        cautions(reader),
        machine.as_left(reader),
        machine.runs(reader),
        results.advisories(reader),
        maintenance(reader),
        *visits(reader),
        machine.fitted(reader),
        machine.training(reader),
        signatures(reader, evidence),
        machine.plates(reader),
        results.results(reader),
        results.corrections(reader),
        results.instruments(reader),
        results.sources(reader),
        verify(reader, evidence),
        results.everything(reader),
    ]
    about = (reader.text("machine.label"), reader.text("job.site"), f"Job {job.header.id}")
    return Sheet(
        TITLE,
        tuple(filter(None, about)),
        tuple(warnings(job, evidence)),
        tuple(section for section in listed if section.blocks),
        f"{made:%Y-%m-%d %H:%M}",
    )


def decided(job: Job, evidence: Evidence) -> str:
    """What the lead decided last, where the sign-off is not a bad one, and what came of it."""
    for checked in reversed(evidence.checked):
        data = checked.event.data
        if data["role"] == "lead" and checked.good is not False:
            day = f"{data['signed_at']:%Y-%m-%d}"
            if data["decision"] == "accepted":
                return f"The lead {data['principal']} accepted it on {day}."
            said = f"The lead {data['principal']} sent it back on {day}"
            return f"{said}{_replied(job, checked.event)}."
    return ""


def _replied(job: Job, returned: Event) -> str:
    """When the remarks with which a job was sent back were replied to; empty while one waits."""
    after = [e for e in job.events if e.seq > returned.seq and e.act in REPLIES]
    if job.open_remarks() or not after:
        return ""
    return f", and it was replied to on {after[-1].at:%Y-%m-%d}; the lead has not decided since"


def warnings(job: Job, evidence: Evidence) -> Iterator[str]:
    """What a reader must see before anything else."""
    if job.header.practice_run:
        yield "PRACTICE. This is a training run and not a machine."
    for problem in evidence.problems[:1]:
        yield f"DO NOT RELY ON THIS RECORD. {problem}"
    if evidence.older:
        yield f"NOT THE LATEST. {evidence.older}"
    for hold in job.holds():
        item = job.procedure.items[hold.key]
        yield f"HELD, DO NOT USE. {item.ask}: {hold.finding.text} {hold.finding.danger}".strip()
    if job.state != "finished":
        left = len(job.open_items())
        still = f" {left} item{'s are' if left > 1 else ' is'} open." if left else ""
        yield f"NOT FINISHED. This is a draft and no handover.{still}"


def maintenance(reader: Reader) -> Section:
    """What is due when, and why then."""
    tasks = due(reader.job, rounds=True)
    if not tasks:
        return Section("Maintenance plan", (Para("No dates yet: the first day of use is open."),))
    rows = []
    for task in tasks:
        safety = "safety" if task.severity.value == "safety" else ""
        rows.append(
            (
                task.due.isoformat(),
                task.name,
                f"{task.repeats}{_won(task)}",
                " ".join(filter(None, (safety, task.note))),
                reader.numbered.mark((task.source,)),
            )
        )
    hours, days = reader.text("handover.hours_per_day"), reader.text("handover.days_per_week")
    use = f"Reckoned with {hours} a day on {days} days a week. " if hours and days else ""
    note = Para(
        f"{use}Compare with the hour meter at every visit and make new dates when the use is more "
        "than a fifth off. What is marked safety cannot wait."
    )
    head = ("Due", "What", "Repeats", "Note", "Source")
    return Section("Maintenance plan", (note, Table(head, tuple(rows), (11, 30, 22, 24, 7))))


def _won(task: MaintenanceTask) -> str:
    """What of hours and calendar the day comes from, where there is a choice."""
    hours = task.won == "hours"
    if " or " in task.repeats:
        return "; the running hours come first" if hours else "; the calendar comes first"
    return ", by running hours" if hours else ""
