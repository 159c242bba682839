"""Reading jobs without a lock.

Invariant: nothing is written or changed, and nothing that writes is loaded.
"""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path

from wizard.errors import RecordDamaged, RecordError
from wizard.procedure.item import Procedure
from wizard.record import Loaded, loads
from wizard.store.files import Folder


def read_job(path: Path, procedure: Procedure) -> Loaded:
    """The record as it is on disk, without a lock; RecordError where it cannot be read.

    Breaks in its history are `problems` of the result.
    """
    with Folder(path.parent) as folder:
        return read(folder, path.name, procedure)[0]


def read(folder: Folder, name: str, procedure: Procedure) -> tuple[Loaded, os.stat_result]:
    """The record and the state of its file; RecordDamaged says where a sound backup is."""
    try:
        data, state = folder.read(name)
        return loads(data, procedure, name), state
    except RecordDamaged as problem:
        raise with_backup(problem, folder, name, procedure) from None


def with_backup(
    problem: RecordDamaged, folder: Folder, name: str, procedure: Procedure
) -> RecordDamaged:
    """The problem, with the copy from the save before where that is sound."""
    with suppress(RecordError):
        backup = f"{name}.bak"
        if not loads(folder.read(backup)[0], procedure, backup).grave:
            return RecordDamaged(problem.what, problem.file, problem.where, backup)
    return problem
