"""`wizard check`: recompute everything in a job and print what it finds."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from wizard.commands.output import FAILED, GOOD, UNFINISHED, UNREADABLE, narrate, print_json
from wizard.errors import WizardError
from wizard.finding import Finding, Verdict
from wizard.job import Job
from wizard.procedure import procedure
from wizard.record import Loaded
from wizard.render import Units, finding_json, finding_lines, units_for, value_text
from wizard.store import read_job
from wizard.text import show

QUIET = (Verdict.PASS, Verdict.NOT_APPLICABLE, Verdict.OPEN)


def run(args: argparse.Namespace) -> int:
    """Check each job; the status is the worst of them."""
    worst, shown = GOOD, []
    for name in args.jobs:
        try:
            loaded = read_job(Path(name), procedure())
        except WizardError as problem:
            narrate(_told(name, problem))
            shown.append(
                {"job": None, "file": show(name), "state": "unreadable", "error": str(problem)}
            )
            worst = max(worst, UNREADABLE)
            continue
        worst = max(worst, FAILED if loaded.grave else status(loaded.job))
        if args.json:
            shown.append(job_json(loaded, name))
        else:
            _print(loaded, name)
    if args.json:
        print_json(shown[0] if len(args.jobs) == 1 else shown)
    return worst


def _told(name: str, problem: WizardError) -> str:
    """The problem with the file as it was given; a problem that begins with the file says it once.

    >>> _told("site/J1.toml", WizardError("J1.toml, line 4: not a number."))
    'site/J1.toml, line 4: not a number.'
    """
    said, file = str(problem), show(Path(name).name)
    rest = said.removeprefix(file)
    return f"{show(name)}{rest if rest[:1] in (':', ',') else f': {said}'}"


def status(job: Job) -> int:
    """Exit status of a job: failed or held, not finished, good."""
    if job.holds() or job.failures():
        return FAILED
    return GOOD if job.state == "finished" and not job.advisories() else UNFINISHED


def _units(job: Job, key: str) -> Units:
    return units_for(job.procedure.items[key], job.answers.get(key), job.header.units)


def job_json(loaded: Loaded, name: str) -> dict[str, Any]:
    """One job as `check --json` gives it."""
    job = loaded.job
    return {
        "job": job.header.id,
        "file": show(name),
        "state": job.state,
        "practice": job.header.practice_run,
        "holds": [h.key for h in job.holds()],
        "open": [i.key for i in job.open_items()],
        "failures": [i.key for i in job.failures()],
        "advisories": [i.key for i in job.advisories()],
        "problems": [str(p) for p in loaded.problems],
        "findings": [
            finding_json(key, f, _units(job, key))
            for key in job.procedure.items
            for f in job.findings.get(key, ())
            if f.verdict is not Verdict.OPEN
        ],
    }


def _print(loaded: Loaded, name: str) -> None:
    job = loaded.job
    practice = "  PRACTICE, not a machine" if job.header.practice_run else ""
    print(f"{job.header.id}  {job.state.upper()}{practice}  ({show(name)})")
    for problem in loaded.problems:
        print(f"  record: {problem}")
    for hold in job.holds():
        item = job.procedure.items[hold.key]
        print(f"  HOLD in phase {hold.phase}: {item.ask} [{hold.key}]")
    for key, findings in job.findings.items():
        for finding in findings:
            if finding.verdict not in QUIET:
                _print_finding(job, key, finding)
    left = job.open_items()
    for remark in job.open_remarks():
        asked = job.procedure.items.get(remark.key)
        about = f"{asked.ask} [{remark.key}]" if asked else "the job"
        print(f"  remark of the lead on {about}: {show(str(remark.data['text']))}")
    for item in job.wants_note():
        print(f"  wants a note: {item.ask} [{item.key}]")
    if left:
        what = "1 item, which is" if len(left) == 1 else f"{len(left)} items, the next is"
        print(f"  open: {what}: {left[0].ask} [{left[0].key}]")


def _print_finding(job: Job, key: str, finding: Finding) -> None:
    item = job.procedure.items[key]
    answer = job.answers.get(key)
    typed = f" = {show(value_text(item, answer))}" if answer else ""
    print(f"  {item.phase:2d} {item.ask} [{key}]{typed}")
    for line in finding_lines(finding, _units(job, key)):
        print(f"     {line}")
