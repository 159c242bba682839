"""Where jobs live: opened, locked, saved and read without ever losing an entry."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from wizard.modules import export
from wizard.store.clock import monotonic, now

if TYPE_CHECKING:
    from wizard.store.draft import Draft, drop_draft, keep_draft, read_draft
    from wizard.store.opening import create_job, open_job
    from wizard.store.reading import read_job
    from wizard.store.restore import restore_backup
    from wizard.store.session import Session
    from wizard.store.state import state_home

__all__ = [
    "Draft",
    "Session",
    "create_job",
    "drop_draft",
    "keep_draft",
    "monotonic",
    "now",
    "open_job",
    "read_draft",
    "read_job",
    "restore_backup",
    "state_home",
]
_HOMES = {
    "draft": ("Draft", "drop_draft", "keep_draft", "read_draft"),
    "opening": ("create_job", "open_job"),
    "reading": ("read_job",),
    "restore": ("restore_backup",),
    "session": ("Session",),
    "state": ("state_home",),
}


def __getattr__(name: str) -> Any:
    return export(__name__, _HOMES, name)
