"""Entries that could not be saved where they belong, kept in the user's own folder.

Invariant: a rescue copy is a whole sealed record; it is offered when the job is opened again and
taken away when a save has succeeded.
"""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

from wizard.errors import RecordError, StoreError
from wizard.job import Header, Job
from wizard.procedure.item import Procedure
from wizard.record import file_of, loads
from wizard.store.files import Folder
from wizard.store.state import state_folder, state_home


def keep(header: Header, data: bytes) -> Path:
    """Keep the record; where it is."""
    with _folder(header) as folder:
        folder.replace(file_of(header.id), data, None)
        return folder.path / file_of(header.id)


def drop(header: Header) -> None:
    """Forget the rescue copy of a job."""
    if (state_home() / "rescue" / header.uuid).is_dir():
        with suppress(OSError, StoreError), _folder(header) as folder:
            folder.remove(file_of(header.id))


def later(job: Job, procedure: Procedure) -> tuple[Job, Path] | None:
    """The rescued job where it goes on from `job`, and its place; None where there is none."""
    if not (state_home() / "rescue" / job.header.uuid).is_dir():
        return None
    with suppress(RecordError, StoreError), _folder(job.header) as folder:
        name = file_of(job.header.id)
        found = loads(folder.read(name)[0], procedure, name)
        more = found.job.events[: len(job.events)] == job.events and not found.grave
        if more and len(found.job.events) > len(job.events):
            return found.job, folder.path / name
    return None


def _folder(header: Header) -> Folder:
    return state_folder("rescue", header.uuid)
