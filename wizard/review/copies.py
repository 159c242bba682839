"""Copies of one job: which goes on from which, and from which event on two have grown apart.

Invariant: where two copies are held against each other, both histories are read as they are now.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from wizard.errors import WizardError
from wizard.procedure import procedure
from wizard.record import loads
from wizard.review.row import Row
from wizard.store.files import Folder
from wizard.text import show

MOST = 12
"""Copies in one folder beyond which they are only counted up by name and not read."""
History = Mapping[int, str]
"""The chain after each event of a record."""
CHOOSE = "Find out which one is true, enter there what only the other has, and put the other away."


def history(path: Path, uuid: str) -> History | None:
    """The history of the job in a file; None where that job cannot be read there."""
    try:
        with Folder(path.parent) as folder:
            data, _ = folder.read(path.name)
        loaded = loads(data, procedure(), path.name)
    except (WizardError, OSError):
        return None
    return loaded.chains if loaded.job.header.uuid == uuid else None


def parting(one: History, other: History) -> int | None:
    """The first event at which two histories differ; None where one goes on from the other.

    >>> parting({0: "a", 1: "b", 2: "c"}, {0: "a", 1: "b", 2: "x", 3: "y"})
    2
    >>> parting({0: "a", 1: "b"}, {0: "a"}) is None
    True
    """
    return next((seq for seq in sorted(one.keys() & other.keys()) if one[seq] != other[seq]), None)


def beside(row: Row, mine: History | None, file: str, other: History | None) -> str:
    """What the other copy in `file` of the same folder is to this one, in one sentence or two."""
    if mine is None or other is None:
        return f"The same job is in {show(file)}."
    seq = parting(mine, other)
    if seq is not None:
        return _apart(seq, row.file, show(file))
    if max(other) > max(mine):
        return f"The same job is in {show(file)}, which goes on from here to event {max(other)}."
    if max(other) < max(mine):
        return f"The same job is in {show(file)}, an older copy up to event {max(other)}."
    return f"The same job is in {show(file)}."


def grown_apart(
    row: Row,
    mine: History,
    known: Mapping[str, tuple[int, str]],
    places: Mapping[str, str],
    folder: str,
) -> str:
    """That this copy and the one seen at another place have grown apart; empty where not.

    The copy that was seen may be gone; then it is told by what is remembered of it.
    """
    here, there = Path(folder) / row.file, places.get(row.uuid, "")
    seq, chain = known.get(row.uuid, (0, ""))
    if not there or there == str(here) or mine.get(seq) == chain:
        return ""
    other = history(Path(there), row.uuid)
    if other is None:
        return _from_memory(row, seq, here, there) if row.seq >= seq else ""
    at = parting(mine, other)
    if at is None:
        return ""
    together = Path(there).parent == here.parent
    return _apart(at, row.file, show(Path(there).name)) if together else _apart(at, here, there)


def _apart(seq: int, one: object, other: object) -> str:
    """The same sentence in the rows of both."""
    first, second = sorted((show(one), show(other)))
    since = f"from event {seq} on" if seq else "from the start on"
    return f"Two copies of this job exist that differ {since}: {first} and {second}. {CHOOSE}"


def _from_memory(row: Row, seq: int, here: Path, there: str) -> str:
    return (
        f"Two copies of this job exist that differ at event {seq} or before: {show(here)} and the "
        f"one that was seen at {show(there)}, which is not there now. Find it. {CHOOSE}"
    )
