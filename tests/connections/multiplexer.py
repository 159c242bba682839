"""A tmux server of the test's own, with one window in which the program runs."""

from __future__ import annotations

import os
import shlex
import shutil
import subprocess
import sys
import time
from collections.abc import Sequence
from pathlib import Path

from tests.connections.server import EXEC
from tests.tui.terminal import ROOT, Terminal

PATIENCE = 20.0


def missing() -> str:
    """Why there can be no multiplexer here; empty where there can."""
    return "" if shutil.which("tmux") else "not installed: tmux"


class Multiplexer:
    """One session of a server that nobody else uses."""

    def __init__(
        self, home: Path, program: Sequence[str], *, kind: str, size: tuple[int, int] = (80, 24)
    ) -> None:
        self.socket = str(home / "tmux.socket")
        self.home = home
        config = home / "tmux.conf"
        config.write_text(f'set -g default-terminal "{kind}"\nset -g status off\n')
        cache = os.environ.get("XDG_CACHE_HOME", "")
        env = {"HOME": str(home), "XDG_CACHE_HOME": cache, "PYTHONPATH": str(ROOT)}
        env["LANG"] = "C.UTF-8"
        words = ["env", *(f"{k}={v}" for k, v in env.items()), sys.executable, *program]
        width, height = (str(n) for n in size)
        self.run(
            "-f", str(config), "new-session", "-d", "-s", "job", "-x", width, "-y", height,
            "-c", str(ROOT), f"exec {shlex.join(words)}",
        )  # fmt: skip

    def run(self, *words: str) -> str:
        """A command to the server; what it prints."""
        env = {"PATH": os.environ["PATH"], "HOME": str(self.home), "LANG": "C.UTF-8"}
        done = subprocess.run(
            ["tmux", "-u", "-S", self.socket, *words],
            capture_output=True,
            text=True,
            env=env | {"TERM": "xterm-256color"},
            timeout=PATIENCE,
            check=True,
        )
        return done.stdout

    def keys(self, *names: str) -> None:
        """Press keys by tmux's names for them."""
        self.run("send-keys", "-t", "job", *names)

    def picture(self) -> str:
        """What the window shows, as tmux has it."""
        return self.run("capture-pane", "-p", "-t", "job")

    def wait_for(self, words: str) -> str:
        """The picture, once it shows these words and has come to rest."""
        end = time.monotonic() + PATIENCE
        shown = self.picture()
        while True:
            time.sleep(0.2)
            before, shown = shown, self.picture()
            if words in shown and shown == before:
                return shown
            if time.monotonic() > end:
                raise AssertionError(f"{words!r} is not shown:\n{shown}")

    def attach(self, size: tuple[int, int] = (80, 24)) -> Terminal:
        """A terminal that shows the window."""
        return Terminal(["-c", EXEC, "tmux", "-u", "-S", self.socket, "attach"], size=size)

    def stop(self) -> None:
        """End the server, if it still runs."""
        subprocess.run(
            ["tmux", "-S", self.socket, "kill-server"], capture_output=True, check=False, timeout=20
        )
