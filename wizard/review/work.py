"""Files looked at in this process."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from wizard.errors import RecordError
from wizard.procedure import procedure
from wizard.review.look import Lens, row_for, unreadable
from wizard.review.metrics import measured_keys
from wizard.review.row import Row
from wizard.store.files import Folder

Found = Iterator[tuple[str, Row]]


def keys() -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The items of the procedure, and those that are measured afresh."""
    return tuple(procedure().items), measured_keys(procedure())


def alone(path: Path, names: Sequence[str], lens: Lens) -> Found:
    """Look at the files one after another, here."""
    with Folder(path) as folder:
        for name in names:
            yield name, row_at(folder, name, lens)


def row_at(folder: Folder, name: str, lens: Lens) -> Row:
    """One file as a row, whatever it is."""
    try:
        data, _ = folder.read(name)
    except RecordError as problem:
        return unreadable(name, problem)
    return row_for(data, name, procedure(), lens)
