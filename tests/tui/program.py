"""The real program on a real record with the small procedure, for tests in a pty.

Usage: python -m tests.tui.program FILE [WHO] [LOOK]
"""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from wizard.tui.app import run

if TYPE_CHECKING:
    from wizard.tui.session import Session


def opening(path: Path, who: str) -> Session:
    """The record, made anew where there is none."""
    from tests.small import START_TIME, small_procedure
    from wizard.job import Header
    from wizard.store import create_job, open_job

    if path.exists():
        return open_job(path, small_procedure(), who, "plant-laptop")
    header = Header(path.stem, "0" * 32, START_TIME)
    return create_job(path, header, small_procedure(), who, "plant-laptop")


if __name__ == "__main__":
    file = Path(sys.argv[1])
    person = sys.argv[2] if len(sys.argv) > 2 else "Tess Tester"
    look = sys.argv[3] if len(sys.argv) > 3 else "default"
    mouse = "NO_MOUSE" not in os.environ
    sys.exit(run(person, opening=lambda: opening(file, person), look=look, mouse=mouse))
