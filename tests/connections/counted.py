"""The program, which at SIGUSR1 writes how many objects it holds: FILE, then its own words."""

from __future__ import annotations

import gc
import signal
import sys
from pathlib import Path

from wizard.cli import main


def count(file: Path) -> None:
    """Write the number of objects that are still in use."""
    gc.collect()
    partial = file.with_suffix(".part")
    partial.write_text(str(len(gc.get_objects())))
    partial.replace(file)


if __name__ == "__main__":
    place = Path(sys.argv[1])
    signal.signal(signal.SIGUSR1, lambda *_: count(place))
    sys.exit(main(sys.argv[2:]))
