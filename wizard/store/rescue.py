"""Entries that could not be saved where they belong, kept in the user's own folder.

Invariant: a rescue copy is a whole sealed record; it is offered when the job is opened again and
taken away when a save has succeeded.
"""

from __future__ import annotations

import os
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from wizard.errors import RecordError, StoreError
from wizard.job import Header, Job
from wizard.procedure.item import Procedure
from wizard.record import aside_of, file_of, loads
from wizard.store import clock
from wizard.store.files import Folder
from wizard.store.state import state_folder, state_home
from wizard.text import show


def keep(header: Header, data: bytes, *, own: bool) -> Path:
    """Keep the record; where it is. A copy that is not `own` is set aside, not replaced."""
    name = file_of(header.id)
    with _folder(header) as folder:
        if not own and folder.state(name):
            aside = f"{aside_of(header.id, 'rescue', clock.now())}.toml"
            os.rename(name, aside, src_dir_fd=folder.fd, dst_dir_fd=folder.fd)
        folder.replace(name, data, None)
        return folder.path / name


def drop(header: Header) -> None:
    """Forget the rescue copy of a job."""
    if (state_home() / "rescue" / header.uuid).is_dir():
        with suppress(OSError, StoreError), _folder(header) as folder:
            folder.remove(file_of(header.id))


@dataclass(frozen=True, slots=True)
class Kept:
    """What was found: the job where it goes on from the saved one, and a sentence to show."""

    job: Job | None
    sentence: str


def look(job: Job, procedure: Procedure) -> Kept | None:
    """The rescue copy of `job` where it holds entries that are not saved; None otherwise."""
    if not (state_home() / "rescue" / job.header.uuid).is_dir():
        return None
    name = file_of(job.header.id)
    try:
        with _folder(job.header) as folder:
            place = show(folder.path / name)
            found = loads(folder.read(name)[0], procedure, name).job
    except (RecordError, StoreError):
        return None
    if job.events[: len(found.events)] == found.events:
        drop(job.header)
        return None
    more = len(found.events) - len(job.events)
    if found.events[: len(job.events)] == job.events:
        return Kept(found, f"{more} later entries from a save that failed are kept in {place}.")
    return Kept(None, f"Entries that do not follow from this job are kept in {place}.")


def _folder(header: Header) -> Folder:
    return state_folder("rescue", header.uuid)
