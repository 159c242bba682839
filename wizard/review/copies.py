"""Copies of one job: which goes on from which, and from which event on two have grown apart.

Invariant: where two copies are held against each other, both histories are read as they are now.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import suppress
from pathlib import Path

from wizard.errors import RecordError, WizardError
from wizard.procedure import procedure
from wizard.record import loads
from wizard.record.summary import HEAD
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
        loaded = loads(data, procedure())  # a copy goes by any name
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


def not_alone(path: Path, uuid: str, mine: History) -> str:
    """Why this copy is not the one to decide on: another in its folder has grown apart from it,
    or goes on from it. Empty where it is.
    """
    row = Row(path.name)
    for name in _copies(path, uuid):
        other = history(path.parent / name, uuid)
        if other is None:
            continue
        if parting(mine, other) is not None or max(other) > max(mine):
            return beside(row, mine, name, other)
    return ""


def _copies(path: Path, uuid: str) -> Iterator[str]:
    """Files beside this one whose first lines name the same job; the save before is none."""
    with Folder(path.parent) as folder:
        for name in folder.names():
            if name == path.name or name.startswith(".") or name.endswith(".bak"):
                continue
            with suppress(RecordError):
                if uuid.encode() in folder.read_first(name, HEAD)[0]:
                    yield name


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
