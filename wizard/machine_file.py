"""Plate data for a new job, from a machine file or from an earlier job.

A machine file is TOML: `format = "wizard-machine"`, `units`, optionally `practice`, and
`[answers]` with item keys and the text as it would be typed.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import tomli

from wizard.actions import Hand, answer
from wizard.errors import InputError, RecordError, WizardError
from wizard.job import Job
from wizard.procedure import procedure
from wizard.record.guard import parse as guarded
from wizard.store import read_job
from wizard.store.files import Folder
from wizard.text import show

FORMAT = "wizard-machine"


@dataclass(frozen=True)
class Machine:
    """The text of the plate answers by key, in the order of the procedure."""

    units: str
    practice: str
    answers: Mapping[str, str]


def read_machine(path: Path) -> Machine:
    """Plate data from a machine file, or phase 1 of an earlier job."""
    with Folder(path.parent) as folder:
        data, _ = folder.read(path.name)
    if data.lstrip().startswith(b'format = "wizard-job"'):
        job = read_job(path, procedure()).job
        plates = {k: a.raw for k, a in job.answers.items() if job.procedure.items[k].phase == 1}
        return Machine(job.header.units, job.header.settings.practice, _ordered(plates, path))
    try:
        tables = guarded(data, show(path.name))
    except tomli.TOMLDecodeError as problem:
        raise RecordError(f"{show(path.name)}: {problem}") from None
    if tables.get("format") != FORMAT:
        raise RecordError(
            f'{show(path.name)} is neither a machine file (format = "{FORMAT}") nor a job.'
        )
    return _machine(tables, path)


def _machine(tables: Mapping[str, object], path: Path) -> Machine:
    units, practice = tables.get("units", "us"), tables.get("practice", "US")
    answers = tables.get("answers")
    if units not in ("us", "metric"):
        raise InputError(f"{show(path.name)}: units", show(str(units)), "us or metric")
    if practice not in ("US", "IEC"):
        raise InputError(f"{show(path.name)}: practice", show(str(practice)), "US or IEC")
    if not isinstance(answers, dict):
        raise RecordError(f"{show(path.name)} has no [answers].")
    return Machine(
        str(units), str(practice), _ordered({str(k): str(v) for k, v in answers.items()}, path)
    )


def _ordered(answers: Mapping[str, str], path: Path) -> dict[str, str]:
    items = procedure().items
    if unknown := [k for k in answers if k not in items or items[k].phase != 1]:
        raise InputError(f"{show(path.name)}: answer", show(unknown[0]), "the keys of phase 1")
    return {k: answers[k] for k in items if k in answers}


def prefill(job: Job, machine: Machine, hand: Hand, source: str) -> Job:
    """The job with the plate data answered; InputError names the first that does not go."""
    for key, text in machine.answers.items():
        try:
            if job.applies(key):
                job = answer(job, key, text, hand, confirmed=True)
        except WizardError as problem:
            raise InputError(f"{source}: {key}", show(text), str(problem)) from None
    return job
