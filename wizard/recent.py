"""Jobs to offer on the start screen: those in the current folder, then those opened lately."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from wizard.errors import RecordError
from wizard.record.name import id_of
from wizard.record.summary import HEAD, Summary, summary
from wizard.store.state import state_home

KEPT = 20
_FIRST = (b'format = "wizard-job"', b'format = "wizard-practice"')


@dataclass(frozen=True, slots=True)
class Known:
    """A job file and what its first lines say; a file under another job's name is none."""

    path: Path
    summary: Summary


def remember(path: Path) -> None:
    """Put a job at the head of the list; a list that cannot be written is no loss."""
    full = str(path.absolute())
    names = [full, *(n for n in _listed() if n != full)][:KEPT]
    with suppress(OSError):
        _file().write_text("\n".join(names) + "\n", encoding="utf-8")


def known(folder: Path) -> list[Known]:
    """Jobs in `folder` and in the list, each once, newest change first."""
    paths = {p.absolute() for p in _job_files(folder)} | {Path(n) for n in _listed()}
    found = [job for path in paths if (job := _known(path))]
    return sorted(found, key=lambda k: -k.path.stat().st_mtime)[:KEPT]


def _job_files(folder: Path) -> Iterator[Path]:
    with suppress(OSError):
        yield from (p for p in folder.iterdir() if p.suffix == ".toml")


def _known(path: Path) -> Known | None:
    with suppress(OSError, RecordError, ValueError):
        if path.is_file() and not path.is_symlink():
            with path.open("rb") as file:
                head = file.read(HEAD)
            if head.startswith(_FIRST):
                found = summary(head, path.name)
                return Known(path, found) if id_of(path.name) == found.id else None
    return None


def _file() -> Path:
    return state_home() / "recent.txt"


def _listed() -> list[str]:
    with suppress(OSError, UnicodeDecodeError):
        return [n for n in _file().read_text("utf-8").splitlines() if n][:KEPT]
    return []
