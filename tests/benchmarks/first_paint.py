"""First paint of the working screen against a bare Textual app with one label.

Both run in a pty, by turns, and the medians are compared: python -m tests.benchmarks.first_paint
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path

from tests.tui.terminal import Terminal

MOST = 1.3
ROUNDS = 9
BARE = """
from textual.app import App
from textual.widgets import Label
class Bare(App):
    def compose(self):
        yield Label("ready to go")
Bare().run()
"""


def seconds_to(command: Sequence[str], text: str, home: str) -> float:
    """Seconds from the start of a program to a text on its screen."""
    start = time.monotonic()
    terminal = Terminal(command, env={"HOME": home})
    try:
        while text not in terminal.text:
            if time.monotonic() - start > 20:
                raise AssertionError(f"{text!r} is not shown")
            terminal.read(0.005)
        return time.monotonic() - start
    finally:
        terminal.close()


def measure(rounds: int = ROUNDS) -> tuple[float, float, float]:
    """Median seconds of the bare app, of the frame, and of the item that can be answered."""
    with tempfile.TemporaryDirectory() as home:
        file = str(Path(home) / "J1.toml")
        new = [sys.executable, "-m", "wizard", "new", "J1", "--folder", home]
        subprocess.run(new, capture_output=True, env=os.environ | {"HOME": home}, check=False)
        ours = ["-m", "wizard", "open", file]
        seconds_to(ours, "item 1/", home)
        bare, frame, ready = [], [], []
        for _ in range(rounds):
            bare.append(seconds_to(["-c", BARE], "ready to go", home))
            frame.append(seconds_to(ours, "commissioning", home))
            ready.append(seconds_to(ours, "item 1/", home))
    return statistics.median(bare), statistics.median(frame), statistics.median(ready)


def main() -> int:
    """Print the comparison; 1 where the first paint is too late."""
    bare, frame, ready = measure()
    ratio = frame / bare
    print(f"bare app {bare * 1e3:.0f} ms, first paint {frame * 1e3:.0f} ms, ratio {ratio:.2f}")
    print(f"item to answer after {ready * 1e3:.0f} ms, {ready / bare:.2f} times the bare app")
    return int(ratio > MOST)


if __name__ == "__main__":
    sys.exit(main())
