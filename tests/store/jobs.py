"""Jobs to save and load: a procedure as long as is asked for, and sessions on it."""

from __future__ import annotations

import os
from collections.abc import Callable
from datetime import timedelta
from functools import cache
from pathlib import Path
from typing import Any

from tests.small import START_TIME, TEXTS
from wizard import actions, store
from wizard.actions import Hand
from wizard.job import Header, Job
from wizard.procedure.item import Procedure
from wizard.procedure.loader import build

WHO, HOST = "Tess Tester", "field-box"

_PHASE = """
[phase]
number = 1
title = "Plates"
place = "At the machine"
risk = "None."
"""


@cache
def long_procedure(items: int) -> Procedure:
    """One phase with this many voltages to read."""
    rows = (
        f"""
[[item]]
key = "supply.voltage_{n}"
ask = "Line voltage at terminal pair {n}, compressor off"
kind = "measure"
quantity = "voltage"
unit = "V"
severity = "handover"
{TEXTS}
"""
        for n in range(items)
    )
    return build({"01_plates.toml": _PHASE + "".join(rows)})


def header(job_id: str = "T1", uuid: str = "0" * 32) -> Header:
    """What a new job says of itself."""
    return Header(job_id, uuid, START_TIME)


def hand(minutes: float = 0) -> Hand:
    """Somebody acting so many minutes after the start."""
    return Hand(WHO, START_TIME + timedelta(minutes=minutes))


def answered(job: Job, n: int, text: str = "") -> Job:
    """One more answer: item `n`, or a correction of it where it is answered."""
    key = f"supply.voltage_{n}"
    reason = "read again" if key in job.answers else ""
    return actions.answer(job, key, text or f"{230 + n % 10} V", hand(n), reason=reason)


def long_job(items: int, job_id: str = "T1") -> Job:
    """A job with every item answered."""
    job = Job.new(header(job_id), long_procedure(items))
    for n in range(items):
        job = answered(job, n)
    return job


def create(folder: Path, job: Job) -> store.Session:
    """A session on a new record of `job` in `folder`."""
    path = folder / f"{job.header.id}.toml"
    session = store.create_job(path, job.header, job.procedure, WHO, HOST)
    if job.events:
        session.save(job)
    return session


def failing(code: int) -> Callable[..., Any]:
    """A call of the system that fails in this way."""

    def call(*_: object, **__: object) -> Any:
        raise OSError(code, os.strerror(code))

    return call
