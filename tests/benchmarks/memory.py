"""Memory of the working screen over a bare Textual app with one label.

Resident memory at rest, at a first start and at a later one, which uses what the first has worked
out: python -m tests.benchmarks.memory
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path

from tests.benchmarks.first_paint import BARE
from tests.connections.records import demo_record, new_record
from tests.tui.terminal import Terminal

MOST = 20.0
"""MiB over the bare app, at a later start."""


def resident(pid: int) -> float:
    """Memory of a process that is in use, in MiB."""
    rows = Path(f"/proc/{pid}/status").read_text("ascii").splitlines()
    return int(next(r for r in rows if r.startswith("VmRSS")).split()[1]) / 1024


def at_rest(words: Sequence[str], shown: str, home: Path) -> float:
    """Memory of a program that has come to rest."""
    env = {"HOME": str(home), "XDG_STATE_HOME": str(home / "state")}
    terminal = Terminal(words, env=env)
    try:
        terminal.wait_for(shown)
        terminal.settle(1.0)
        return resident(terminal.pid)
    finally:
        terminal.close()


def main() -> int:
    """Print the comparison; 1 where the screen of a new job is too heavy."""
    with tempfile.TemporaryDirectory() as name:
        home = Path(name)
        for folder in ("new", "full"):
            (home / folder).mkdir()
        new = new_record(home / "new")
        full = demo_record(home / "full", "fifteen_hp_held", "hose.working_pressure")
        bare = at_rest(("-c", BARE), "ready to go", home)
        opened = ("-m", "wizard", "open")
        first = at_rest((*opened, str(new)), "item 1/", home)
        later = at_rest((*opened, str(new)), "item 1/", home)
        screens = {
            "job in phase 11": at_rest((*opened, str(full)), "item 6/", home),
            "guided training": at_rest((*opened, "--guided", str(new)), "item 1/", home),
            "review of a folder": at_rest(
                ("-m", "wizard", "review", str(home / "full")), "J1042", home
            ),
            "practice": at_rest(("-m", "wizard", "practise", "first_day"), "First day", home),
        }
    print(f"bare app {bare:.1f} MiB; over it:")
    for told, used in {"first start": first, "new job": later, **screens}.items():
        print(f"  {told}: {used - bare:.1f} MiB")
    return int(max(later, *screens.values()) - bare > MOST)


if __name__ == "__main__":
    sys.exit(main())
