"""The user's own state folder: drafts and rescue copies, readable by nobody else."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path

from wizard.errors import StoreError
from wizard.store.files import Folder, sentence
from wizard.text import show


def state_home(environment: Mapping[str, str] | None = None) -> Path:
    """Where the tool keeps what belongs to the user and not to a job."""
    given = (os.environ if environment is None else environment).get("XDG_STATE_HOME", "")
    base = Path(given) if given.startswith("/") else Path.home() / ".local" / "state"
    return base / "wizard"


def state_folder(*names: str) -> Folder:
    """A folder in the state folder, made with mode 0700 where it is missing."""
    path = state_home()
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.mkdir(mode=0o700, exist_ok=True)
        for name in names:
            path /= name
            path.mkdir(mode=0o700, exist_ok=True)
    except OSError as problem:
        raise StoreError(f"{show(path)} cannot be made: {sentence(problem)}.") from None
    return Folder(path)
