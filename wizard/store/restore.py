"""Going back to the copy from the save before, when somebody decides so.

Invariant: the damaged file is kept beside it; only a file that is damaged gives way.
"""

from __future__ import annotations

import os
from pathlib import Path

from wizard.errors import RecordError, StoreError
from wizard.procedure.item import Procedure
from wizard.record import aside_of, file_of, id_of, loads
from wizard.store import clock
from wizard.store.files import Folder, sentence
from wizard.store.lock import take
from wizard.text import show


def restore_backup(path: Path, procedure: Procedure, who: str, host: str) -> Path:
    """Put the sound NAME.bak in the place of a damaged record; where that is kept now.

    StoreError where the record is sound, the copy is not, or the folder cannot be written.
    """
    name = file_of(id_of(path.name))
    with Folder(path.parent) as folder:
        lock = take(folder, name, who, host, clock.now())
        try:
            if _sound(folder, name, name, procedure):
                raise StoreError(f"{name} is not damaged.")
            if not _sound(folder, f"{name}.bak", name, procedure):
                raise StoreError(f"{name}.bak is not sound either.")
            aside = f"{aside_of(id_of(name), 'damaged', clock.now())}.toml"
            both = {"src_dir_fd": folder.fd, "dst_dir_fd": folder.fd}
            if folder.state(name):
                os.link(name, aside, follow_symlinks=False, **both)
            folder.replace(name, folder.read(f"{name}.bak")[0], None)
            return folder.path / aside
        except OSError as problem:
            raise StoreError(f"{show(name)} is as it was: {sentence(problem)}.") from None
        finally:
            lock.release()


def _sound(folder: Folder, file: str, name: str, procedure: Procedure) -> bool:
    try:
        return not loads(folder.read(file)[0], procedure, name).grave
    except RecordError:
        return False
