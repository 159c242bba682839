"""Rows kept from the last look, by the state of each file.

Invariant: a row is used again only where the file, the rules and whom the lead believes are all
as they were; anything that cannot be read is no loss.
"""

from __future__ import annotations

import io
import json
import os
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass, field
from functools import cache
from hashlib import sha256
from pathlib import Path
from typing import Any

from wizard import __version__
from wizard.errors import RecordError, StoreError
from wizard.memo import cache_home
from wizard.review.row import NAMES, Row, plain, row_of
from wizard.store.files import Folder, sentence
from wizard.text import show

LARGEST = 256_000_000
NO_LOSS = (RecordError, StoreError, OSError, ValueError, TypeError, LookupError, StopIteration)
PACKAGE = Path(__file__).parents[1]

Stamp = tuple[int, ...]


def stamp_of(state: os.stat_result) -> Stamp:
    """What changes when a file does; the last is set by the system alone."""
    return (state.st_ino, state.st_size, state.st_mtime_ns, state.st_ctime_ns)


@cache
def rules() -> str:
    """What changes when anything that judges does: the files of the package, by their state."""
    parts = [__version__, *NAMES]
    for folder, _, files in sorted(os.walk(PACKAGE)):
        if folder.endswith(("tui", "__pycache__")):
            continue
        for name in sorted(files):
            if name.endswith((".py", ".toml", ".txt")):
                state = (Path(folder) / name).stat()
                parts.append(f"{folder}/{name} {state.st_size} {state.st_mtime_ns}")
    return sha256("\n".join(parts).encode()).hexdigest()


@dataclass
class Cache:
    """The rows of one folder; `keys` are the items of the procedure in order."""

    path: str
    key: str
    keys: tuple[str, ...] = ()
    measured: tuple[str, ...] = ()
    rows: dict[str, tuple[Stamp, Row]] = field(default_factory=dict)
    changed: bool = False

    @classmethod
    def load(cls, path: Path, key: str) -> Cache:
        """The rows kept of a folder that were made with the same rules, if any."""
        empty = cls(str(path.resolve()), key)
        with suppress(*NO_LOSS):
            with Folder(_home()) as home:
                data, _ = home.read(_file(empty.path), LARGEST)
            lines = io.BytesIO(data)
            about = json.loads(next(lines))
            if (about["path"], about["key"]) == (empty.path, key):
                empty.keys, empty.measured = tuple(about["keys"]), tuple(about["measured"])
                empty.rows = dict(map(_row, lines))
        return empty

    def get(self, name: str, stamp: Stamp) -> Row | None:
        """The row of a file in this state."""
        kept = self.rows.get(name)
        return kept[1] if kept and kept[0] == stamp else None

    def put(self, name: str, stamp: Stamp, row: Row) -> None:
        """Keep a row."""
        self.rows[name] = (stamp, row)
        self.changed = True

    def save(self, names: Iterable[str]) -> None:
        """Write the rows of these files, where anything changed; StoreError where it fails."""
        there = set(names)
        gone = [name for name in self.rows if name not in there]
        for name in gone:
            del self.rows[name]
        if not self.changed and not gone:
            return
        about = {
            "path": self.path,
            "key": self.key,
            "keys": self.keys,
            "measured": self.measured,
        }
        lines = io.BytesIO()  # not a list of texts: ten thousand rows are 30 MB
        lines.write(_dumped(about))
        for name, (stamp, row) in self.rows.items():
            lines.write(_dumped([name, stamp, plain(row)]))
        home = _home()
        try:
            home.mkdir(mode=0o700, parents=True, exist_ok=True)
            with Folder(home) as folder:
                folder.replace(_file(self.path), lines.getvalue(), None)
        except OSError as problem:
            raise StoreError(f"{show(home)} cannot be written: {sentence(problem)}.") from None
        self.changed = False


def _row(line: bytes) -> tuple[str, tuple[Stamp, Row]]:
    name, stamp, values = json.loads(line)
    return name, (tuple(stamp), row_of(values))


def _dumped(given: Any) -> bytes:
    text = json.dumps(given, ensure_ascii=True, separators=(",", ":"), allow_nan=False)
    return text.encode() + b"\n"


def _home() -> Path:
    return cache_home() / "review"


def _file(path: str) -> str:
    return f"{sha256(os.fsencode(path)).hexdigest()[:32]}.jsonl"
