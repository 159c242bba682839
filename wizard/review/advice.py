"""What a lead can do about a file that holds no job to show.

Invariant: a copy is named only where it lies beside the file, and called sound only once read.
"""

from __future__ import annotations

from pathlib import Path

from wizard.errors import Misnamed, RecordDamaged, WizardError
from wizard.procedure import procedure
from wizard.store import read_job
from wizard.text import show

NO_FILE = "A record is a plain file: put the record itself here, or take this away."
OWN_COPY = "The technician's own copy may be sound."
ELSEWHERE = "If it is something else than a record, it belongs in another folder."


def advice(path: Path) -> str:
    """What to do, in a few sentences."""
    if path.is_symlink() or (path.exists() and not path.is_file()):
        return NO_FILE
    try:
        read_job(path, procedure())
    except Misnamed as problem:
        return _renamed(path, problem.job)
    except RecordDamaged as problem:
        return f"{_backup(path, problem.backup)} {ELSEWHERE}"
    except WizardError:
        return f"{OWN_COPY} {ELSEWHERE}"
    except Exception:
        # What nobody can judge nobody can read either: somebody else's work may break anything.
        return f"{OWN_COPY} {ELSEWHERE}"
    return "It can be read now: look at the folder again."


def _renamed(path: Path, job: str) -> str:
    """What to do with a sound record under a wrong name."""
    own = f"{job}.toml"
    if (path.parent / own).exists():
        return (
            f"The record in it is sound, but {own} is here already. Put this file into a folder of "
            f"its own, rename it to {own} there, and hold the two against each other."
        )
    return f"The record in it is sound. Rename it to {own}, then look at the folder again."


def _backup(path: Path, sound: str) -> str:
    """What the copy from the save before is worth; `sound` names it where it is."""
    file = show(path.name)
    if sound:
        return (
            f"The copy from the save before lies beside it as {show(sound)} and is sound: put it "
            f"in the place of {file}, or ask for the technician's own copy, which may be newer."
        )
    if path.with_name(f"{path.name}.bak").exists():
        return f"{file}.bak lies beside it, but cannot be relied on either. {OWN_COPY}"
    return f"No copy from the save before lies beside it. {OWN_COPY}"
