"""How far the history of each job went when the lead last looked.

A lead's sign-off that was stripped, or an older revision put back, is sound by itself; only a
memory outside the shared folder gives it away. An earlier revision at another place than that
of the later one is a copy that was left behind, and put back is what stands where the later one
stood. Invariant: the memory only grows; a history that
does not go on from what was seen never takes its place.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from wizard.errors import RecordError
from wizard.review.row import Row
from wizard.store.files import Folder
from wizard.store.state import state_folder
from wizard.text import show

FILE = "last_seen.json"
LARGEST = 64_000_000

Known = Mapping[str, tuple[int, str]]


@dataclass(frozen=True, slots=True)
class Sight:
    """What was seen of one job: how far its history went, and where the file was."""

    seq: int
    chain: str
    folder: str
    file: str
    job: str


class LastSeen:
    """The lead's memory of jobs by their uuid."""

    def __init__(self, sights: Mapping[str, Sight]) -> None:
        self.sights = dict(sights)
        self._changed = False

    @classmethod
    def load(cls) -> LastSeen:
        """The memory of whoever runs the tool; empty where there is none that can be read."""
        with state_folder() as folder:
            return cls(_read(folder))

    def known(self) -> dict[str, tuple[int, str]]:
        """How far each history went, and its chain there."""
        return {uuid: (s.seq, s.chain) for uuid, s in self.sights.items()}

    def places(self) -> dict[str, str]:
        """The path at which each history was seen farthest; empty where that was forgotten."""
        return {u: str(Path(s.folder) / s.file) for u, s in self.sights.items() if s.file}

    def note(self, row: Row, folder: str) -> None:
        """Remember a row that can be trusted."""
        if not row.trusted or not row.uuid:
            return
        before = self.sights.get(row.uuid)
        now = Sight(row.seq, row.chain, folder, row.file, row.job)
        if before is None or (before != now and row.seq >= before.seq):
            self.sights[row.uuid] = now
            self._changed = True

    def missing(self, folder: str, files: Iterable[str]) -> list[str]:
        """Files that were seen in the folder and are not there now."""
        there = set(files)
        return sorted(
            s.file for s in self.sights.values() if s.folder == folder and s.file not in there
        )

    def forget(self, folder: str, file: str) -> None:
        """Stop missing a file that was taken away on purpose; its history stays known."""
        for uuid, sight in self.sights.items():
            if (sight.folder, sight.file) == (folder, file):
                self.sights[uuid] = replace(sight, folder="", file="")
                self._changed = True

    def save(self) -> None:
        """Keep the memory, where it changed."""
        if not self._changed:
            return
        rows = {u: [s.seq, s.chain, s.folder, s.file, s.job] for u, s in self.sights.items()}
        data = json.dumps(rows, ensure_ascii=True, separators=(",", ":")).encode()
        with state_folder() as folder:
            folder.replace(FILE, data, None)
        self._changed = False


def _read(folder: Folder) -> dict[str, Sight]:
    try:
        data, _ = folder.read(FILE, LARGEST)
        rows = json.loads(data)
        return {
            uuid: Sight(int(seq), str(chain), str(place), str(file), str(job))
            for uuid, (seq, chain, place, file, job) in rows.items()
        }
    except (RecordError, ValueError, TypeError, AttributeError, RecursionError):
        return {}


def rollback(row: Row, known: Known, chain_at: str | None) -> str:
    """Why the history of a row does not go on from what was seen; empty where it does.

    `chain_at` is the chain of the record at the event that was seen last.
    """
    if row.uuid not in known:
        return ""
    seq, chain = known[row.uuid]
    if row.seq < seq:
        return (
            f"An earlier revision was put back: its history ends at event {row.seq}, but "
            f"{seq} events were seen before."
        )
    if chain_at != chain:
        return f"Its history up to event {seq} is not the one that was seen before."
    return ""


def older_copy(row: Row, known: Known, places: Mapping[str, str], folder: str) -> str:
    """That a later copy was seen at another place, in one sentence; empty where none was."""
    seq, _ = known.get(row.uuid, (0, ""))
    there = places.get(row.uuid, "")
    if row.seq >= seq or not there or there == str(Path(folder) / row.file):
        return ""
    return (
        f"This is an older copy, up to event {row.seq}; a later one, up to event {seq}, was seen "
        f"at {show(there)}."
    )
