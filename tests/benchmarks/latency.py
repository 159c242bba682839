"""From a key to its echo: the working screen, with band and verdict, against a bare Textual input.

Both run in a pty, by turns, key by key, and the medians are compared:
python -m tests.benchmarks.latency
"""

from __future__ import annotations

import os
import select
import statistics
import sys
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path

from tests.connections.records import demo_record
from tests.tui.terminal import Terminal

MOST = 1.5
KEYS, PATIENCE = 60, 5.0
GAP = 0.12
"""Seconds between keys, so that a program has come to rest."""
BARE = """
from textual.app import App
from textual.widgets import Input
class Bare(App):
    def compose(self):
        yield Input(placeholder="ready to go")
Bare().run()
"""


def echo(terminal: Terminal, key: str) -> float:
    """Seconds until the key is painted."""
    start = time.monotonic()
    os.write(terminal.fd, key.encode())
    seen = b""
    while key.encode() not in seen.partition(b"H")[2]:
        left = start + PATIENCE - time.monotonic()
        if left <= 0 or not select.select([terminal.fd], [], [], left)[0]:
            raise AssertionError(f"{key!r} has no echo")
        seen += os.read(terminal.fd, 65536)
    took = time.monotonic() - start
    terminal.settle(GAP)
    return took


def typed(terminal: Terminal, number: int) -> float:
    """One letter or digit that stands nowhere in the codes around it, and out again."""
    took = echo(terminal, "xyz"[number % 3])
    if number % 6 == 5:
        os.write(terminal.fd, b"\x7f" * 6)
        terminal.settle(GAP * 2)
    return took


def measure(keys: int = KEYS) -> tuple[float, float]:
    """Median seconds of the bare input and of the working screen."""
    with tempfile.TemporaryDirectory() as name:
        home = Path(name)
        env = {"HOME": str(home), "XDG_STATE_HOME": str(home / "state")}
        path = demo_record(home, "fifteen_hp_held", "hose.working_pressure")
        ours: Sequence[str] = ("-m", "wizard", "open", str(path), "--by", "Tess Tester")
        programs = [Terminal(words, env=env) for words in (("-c", BARE), ours)]
        try:
            for terminal, shown in zip(programs, ("ready to go", "item 6/"), strict=True):
                terminal.wait_for(shown)
            times: list[list[float]] = [[], []]
            for number in range(keys):
                for terminal, taken in zip(programs, times, strict=True):
                    taken.append(typed(terminal, number))
        finally:
            for terminal in programs:
                terminal.close()
    return statistics.median(times[0]), statistics.median(times[1])


def main() -> int:
    """Print the comparison; 1 where the echo takes too long."""
    bare, ours = measure()
    ratio = ours / bare
    print(f"bare input {bare * 1e3:.2f} ms, working screen {ours * 1e3:.2f} ms, ratio {ratio:.2f}")
    return int(ratio > MOST)


if __name__ == "__main__":
    sys.exit(main())
