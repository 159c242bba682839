"""A folder of job files, looked at on all processors, each file a row.

Invariant: whatever a file that claims to be a job is, it is one row and never the end of the
review; what is taken from the cache is a file that has not changed.
"""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, field, replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from wizard.errors import RecordError, StoreError
from wizard.record.name import SUFFIX
from wizard.record.summary import HEAD, summary
from wizard.review.cache import Cache, Stamp, rules, stamp_of
from wizard.review.last_seen import LastSeen
from wizard.review.row import TRAINING, Row
from wizard.review.training import is_training
from wizard.review.trust import Trust
from wizard.store.files import Folder
from wizard.text import show

if TYPE_CHECKING:
    from wizard.review.look import Lens
    from wizard.settings import Settings

BESIDE = (".bak", ".html", ".md", ".txt", ".ics", ".csv", ".pdf")
"""Ends of files that belong to a job of the same name in the folder."""
RECORDS = (b'format = "wizard-job"', b'format = "wizard-practice"')
MOST = 999
"""Counts of a glance are cut here: whoever wrote the file may have written anything."""
FEWEST = 6
"""So many files are looked at without other processes."""
_NOT_FILES = (
    (stat.S_ISLNK, "It is a link, which is not followed."),
    (stat.S_ISDIR, "It is a folder, not a file."),
    (stat.S_ISFIFO, "It is a pipe, not a file."),
    (stat.S_ISSOCK, "It is a socket, not a file."),
    (stat.S_ISREG, ""),
)


@dataclass(frozen=True, slots=True)
class Entry:
    """What is in the folder under one name; `problem` says why it cannot be a job."""

    name: str
    stamp: Stamp
    problem: str = ""


@dataclass(frozen=True, slots=True)
class Contents:
    """A folder: what claims to be a job, how many files do not, and the folders in it."""

    entries: tuple[Entry, ...]
    others: int
    folders: tuple[str, ...]


@dataclass
class Review:
    """One look over a folder; `rows` come from `run`, in the order in which they are ready."""

    path: Path
    at: datetime
    settings: Settings | None = None
    processes: int = 0
    fresh: bool = False
    entries: tuple[Entry, ...] = ()
    others: int = 0
    folders: tuple[str, ...] = ()
    rows: dict[str, Row] = field(default_factory=dict)
    looked: int = 0
    problems: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        found = contents(self.path)
        self.entries, self.others, self.folders = found.entries, found.others, found.folders
        trust = Trust.own()
        key = f"{rules()} {trust.digest(f'{self.at:%Y-%m-%d}')} {self.settings}"
        self._trust = trust
        self.cache = Cache.load(self.path, key)
        self.seen = LastSeen.load()
        self._known = self.seen.known()
        self._places = self.seen.places()

    def begin(self) -> Iterator[Row]:
        """Rows that are there at once: from the cache, of what is no file, then glances."""
        waiting = list(self._ready())
        yield from list(self.rows.values())
        with Folder(self.path) as folder:
            for entry in waiting:
                yield glance(folder, entry.name)

    def _ready(self) -> Iterator[Entry]:
        """Take what needs no look; the entries that do."""
        for entry in self.entries:
            row = self._at_once(entry)
            if row is None:
                yield entry
            else:
                self.rows[entry.name] = row

    def run(self) -> Iterator[Row]:
        """Every row, those from the cache first; those that another file changes come again.

        What was looked at is kept, also where the rest is left.
        """
        try:
            waiting = list(self._ready())
            yield from list(self.rows.values())
            for entry, row in self._looked(waiting):
                self.looked += 1
                self.cache.put(entry.name, entry.stamp, row)
                self.rows[entry.name] = row
                yield row
            yield from self._duplicates()
        finally:
            self._remember()

    def _at_once(self, entry: Entry) -> Row | None:
        """The row of a file that needs no look."""
        if entry.problem:
            return Row(show(entry.name), error=entry.problem)
        row = None if self.fresh else self.cache.get(entry.name, entry.stamp)
        if row is None or row.uuid not in self._known:
            return row
        if row.error:
            seen_here = self._places.get(row.uuid) == str(self.path.resolve() / row.file)
            return row if seen_here else None
        seq, chain = self._known[row.uuid]
        return row if seq < row.seq or (seq, chain) == (row.seq, row.chain) else None

    def _looked(self, waiting: Sequence[Entry]) -> Iterator[tuple[Entry, Row]]:
        if not waiting:
            return
        from wizard.review import work  # deferred: an unchanged folder needs no procedure

        self.cache.keys, self.cache.measured = work.keys()
        by_name = {entry.name: entry for entry in waiting}
        names, lens = [*by_name], self.lens()
        processes = self.processes or os.cpu_count() or 1
        if len(names) < FEWEST or processes == 1:
            found = work.alone(self.path, names, lens)
        else:
            from wizard.review.pool import shared  # deferred: 1 MiB that a few files do without

            found = shared(self.path, names, lens, processes)
        for name, row in found:
            yield by_name[name], row

    def relearn(self) -> None:
        """Take up what was remembered since, by something that the lead wrote."""
        self.seen = LastSeen.load()
        self._known = self.seen.known()
        self._places = self.seen.places()

    def lens(self) -> Lens:
        """What the files are looked at with."""
        from wizard.review.look import Lens  # deferred: an unchanged folder needs no procedure

        folder = str(self.path.resolve())
        return Lens(self.at, self._trust, self._known, self.settings, self._places, folder)

    def _duplicates(self) -> Iterator[Row]:
        """Files that hold one job, told of each other."""
        groups: dict[str, list[str]] = {}
        for name, row in self.rows.items():
            if row.uuid:
                groups.setdefault(row.uuid, []).append(name)
        for names in groups.values():
            if len(names) > 1:
                yield from self._told_of_each_other(names)

    def _told_of_each_other(self, names: Sequence[str]) -> Iterator[Row]:
        from wizard.review import copies  # deferred: it reads records, and copies are rare

        uuid = self.rows[names[0]].uuid
        few = len(names) <= copies.MOST
        read = {name: copies.history(self.path / name, uuid) if few else None for name in names}
        for name in names:
            row, mine = self.rows[name], read[name]
            said = [row.error] if row.error else []
            for other in names:
                about = "" if other == name else copies.beside(row, mine, other, read[other])
                if about and about not in said:
                    said.append(about)
            self.rows[name] = replace(row, error=" ".join(said))
            yield self.rows[name]

    def _remember(self) -> None:
        place = str(self.path.resolve())
        for row in self.rows.values():
            self.seen.note(row, place)
        for keep in (self.seen.save, lambda: self.cache.save(e.name for e in self.entries)):
            try:
                keep()
            except StoreError as problem:
                self.problems.append(str(problem))

    @property
    def missing(self) -> list[str]:
        """Jobs that the lead has seen here and that are not here now, by their files.

        A training record that lies under the name of a job is not that job.
        """
        training = {name for name, row in self.rows.items() if row.is_training}
        there = (show(e.name) for e in self.entries if e.name not in training)
        return self.seen.missing(str(self.path.resolve()), there)

    def forget(self, files: Sequence[str]) -> None:
        """Miss files no longer that were taken away on purpose, nor at the next look."""
        self.relearn()
        for file in files:
            self.seen.forget(str(self.path.resolve()), file)
        self.seen.save()


def glance(folder: Folder, name: str) -> Row:
    """What the first lines of a file say; not to be relied on, but there at once."""
    try:
        first, _ = folder.read_first(name, HEAD)
        if is_training(first):
            return Row(show(name), state=TRAINING, practice=True, verified=False)
        said = summary(first, name)
    except RecordError:
        return Row(show(name), verified=False)
    return Row(
        show(name),
        show(said.id),
        show(said.state),
        machine=show(said.machine),
        site=show(said.site),
        technician=show(said.technician),
        day=show(said.day),
        practice=said.practice,
        holds=("",) * min(said.holds, MOST),
        failures=("",) * min(said.failures, MOST),
        advisories=("",) * min(said.advisories, MOST),
        open_bits=(1 << max(0, min(said.open, MOST))) - 1,
        verified=False,
    )


def contents(path: Path) -> Contents:
    """What is in a folder, in order.

    Hidden files and folders and what belongs to a job beside it are left out.
    """
    made, folders, others = list[Entry](), list[str](), 0
    with Folder(path) as folder:
        names = folder.names()
        jobs = {n.removesuffix(SUFFIX) for n in names if n.endswith(SUFFIX)}
        for name in names:
            state = None if _beside(name, jobs) else folder.state(name)
            if state is None:
                continue
            if stat.S_ISDIR(state.st_mode) and not name.endswith(SUFFIX):
                folders.append(show(name))
            elif name.endswith(SUFFIX) or _begins_as_record(folder, name, state.st_mode):
                made.append(Entry(name, stamp_of(state), _problem(state.st_mode)))
            else:
                others += 1
    return Contents(tuple(made), others, tuple(folders))


def _begins_as_record(folder: Folder, name: str, mode: int) -> bool:
    """Whether a file is a record by its first line, whatever it is called."""
    if not stat.S_ISREG(mode):
        return False
    try:
        first, _ = folder.read_first(name, HEAD)
    except RecordError:
        return False
    return first.startswith(RECORDS) or is_training(first)


def _beside(name: str, jobs: set[str]) -> bool:
    if name.startswith("."):
        return True
    stem = name
    with suppress(ValueError):
        stem = name[: name.rindex(".")].removesuffix(SUFFIX)
    return name.endswith(BESIDE) and stem in jobs


def _problem(mode: int) -> str:
    """Why what is in the folder cannot be a job, whatever its name; empty where it can."""
    return next((text for is_kind, text in _NOT_FILES if is_kind(mode)), "It is a device.")
