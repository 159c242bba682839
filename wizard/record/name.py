"""The name of a job and of its file.

Invariant: a file name is only ever made from an id that passed here, so it cannot leave its
folder, start an option or mean a device on the machine it is copied to.
"""

from __future__ import annotations

import re
from datetime import UTC, datetime

from wizard.errors import InputError, Misnamed, RecordError
from wizard.record.shape import ID
from wizard.text import show

SUFFIX = ".toml"
_ID = re.compile(ID)
_CONFLICT = re.compile(rf"({ID}?)\.conflict-[A-Za-z0-9-]+-\d{{8}}T\d{{6}}Z?(-\d+)?")
_DEVICE = re.compile(r"(CON|PRN|AUX|NUL|COM\d|LPT\d)(\..*)?", re.I)
RULE = "a capital letter or digit, then letters, digits, dots, dashes or underscores, 64 at most"


def check_id(text: str) -> str:
    """`text` where it can name a job; InputError otherwise."""
    if (
        not _ID.fullmatch(text)
        or _DEVICE.fullmatch(text)
        or text.endswith((".", SUFFIX))
        or ".conflict-" in text
    ):
        raise InputError("job id", f"“{show(text)[:80]}”", RULE)
    return text


def file_of(job_id: str) -> str:
    """The file name of a job."""
    return check_id(job_id) + SUFFIX


def aside_of(job_id: str, host: str, moment: datetime) -> str:
    """The file name, without its end, of a copy that had to be set aside.

    >>> aside_of("J1", "box.local", datetime.fromisoformat("2026-03-02T09:00:00+01:00"))
    'J1.conflict-boxlocal-20260302T080000Z'
    """
    plain = "".join(c for c in host if c.isascii() and (c.isalnum() or c == "-"))[:32]
    return f"{job_id}.conflict-{plain or 'host'}-{moment.astimezone(UTC):%Y%m%dT%H%M%SZ}"


def id_of(file: str) -> str:
    """The job id that a file name stands for; RecordError where it is not a job file's name."""
    job = named(file)
    if not job:
        what = f"the name is not a job id followed by {SUFFIX}; an id is {RULE}"
        raise RecordError(what, show(file)[:100])
    return job


def named(file: str) -> str:
    """The job id that a file name stands for; empty where it is not a job file's name."""
    stem = file.removesuffix(".bak").removesuffix(SUFFIX)
    if conflict := _CONFLICT.fullmatch(stem):
        stem = conflict[1]
    return "" if stem == file or not _ID.fullmatch(stem) else stem


def misnamed(file: str, job: str) -> Misnamed:
    """That a file holds a job under a name that is not that job's, and how to put it right."""
    own = show(job)
    what = (
        f"the file holds job {own}; rename it to {own}{SUFFIX}, in a folder of its own if that "
        "name is taken"
    )
    if not named(file):
        what += f". A job file is named by an id and {SUFFIX}; an id is {RULE}"
    return Misnamed(what, show(file)[:100], own)
