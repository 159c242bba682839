"""The program, which at SIGUSR1 writes how many objects it holds: FILE, then its own words."""

from __future__ import annotations

import gc
import signal
import sys
from pathlib import Path

from textual.dom import DOMNode

from wizard.cli import main


def count(file: Path) -> None:
    """Write the number of objects that are still in use.

    Textual remembers up to 1,024 look-ups in each part of a screen; these come to an end only
    after a day of keys, and are forgotten here first.
    """
    for node in [o for o in gc.get_objects() if isinstance(o, DOMNode)]:
        node._query_one_cache.clear()
    gc.collect()
    partial = file.with_suffix(".part")
    partial.write_text(str(len(gc.get_objects())))
    partial.replace(file)


if __name__ == "__main__":
    place = Path(sys.argv[1])
    signal.signal(signal.SIGUSR1, lambda *_: count(place))
    sys.exit(main(sys.argv[2:]))
