"""A real program in a pty, with an emulator that shows what its bytes draw."""

from __future__ import annotations

import fcntl
import os
import pty
import select
import signal
import struct
import sys
import termios
import time
from collections.abc import Mapping, Sequence
from pathlib import Path

import pyte

ROOT = Path(__file__).parents[2]
KEYS = {
    "enter": "\r",
    "esc": "\x1b",
    "tab": "\t",
    "up": "\x1b[A",
    "down": "\x1b[B",
    "right": "\x1b[C",
    "left": "\x1b[D",
    "pgup": "\x1b[5~",
    "pgdn": "\x1b[6~",
    "f1": "\x1bOP",
    "f2": "\x1bOQ",
    "f3": "\x1bOR",
    "f4": "\x1bOS",
    "f5": "\x1b[15~",
    "f6": "\x1b[17~",
    "f7": "\x1b[18~",
    "f8": "\x1b[19~",
    "f9": "\x1b[20~",
    "f10": "\x1b[21~",
    "backspace": "\x7f",
}
SYNC_QUERY, SYNC_ANSWER = b"\x1b[?2026$p", b"\x1b[?2026;2$y"
QUIET = 0.25
PATIENCE = 20.0


def _seen(c: pyte.screens.Char) -> tuple[str, str, str, bool, bool]:
    if c.data == " " and not c.reverse:
        return c.data, "", c.bg, False, False
    return c.data, c.fg, c.bg, c.bold, c.reverse


class Terminal:
    """One program, its bytes counted, its picture kept."""

    def __init__(
        self,
        command: Sequence[str],
        *,
        size: tuple[int, int] = (80, 24),
        env: Mapping[str, str] | None = None,
    ) -> None:
        self.screen = pyte.Screen(*size)
        self.stream = pyte.ByteStream(self.screen)
        self.raw = bytearray()
        self.size = size
        variables = {
            "PATH": os.environ["PATH"],
            "HOME": os.environ.get("HOME", "/tmp"),
            "XDG_CACHE_HOME": os.environ.get("XDG_CACHE_HOME", ""),
            "PYTHONPATH": str(ROOT),
            "TERM": "xterm-256color",
            "COLORTERM": "truecolor",
            "LANG": "C.UTF-8",
            **(env or {}),
        }
        self.pid, self.fd = pty.fork()
        if self.pid == 0:
            os.chdir(ROOT)
            os.execvpe(sys.executable, [sys.executable, *command], variables)
        self._set_size(size)

    def _set_size(self, size: tuple[int, int]) -> None:
        width, height = size
        fcntl.ioctl(self.fd, termios.TIOCSWINSZ, struct.pack("HHHH", height, width, 0, 0))

    def resize(self, width: int, height: int) -> int:
        """Another size; the bytes it cost."""
        self.screen.resize(height, width)
        self._set_size((width, height))
        os.kill(self.pid, signal.SIGWINCH)
        return self.settle()

    def read(self, patience: float) -> bytes:
        """Bytes that arrive within so long."""
        ready, _, _ = select.select([self.fd], [], [], patience)
        if not ready:
            return b""
        try:
            data = os.read(self.fd, 65536)
        except OSError:
            return b""
        self.raw += data
        self.stream.feed(data)
        if SYNC_QUERY in data:
            os.write(self.fd, SYNC_ANSWER)
        return data

    def settle(self, quiet: float = QUIET) -> int:
        """Wait until nothing more comes; how many bytes came."""
        count = 0
        while data := self.read(quiet):
            count += len(data)
        return count

    def wait_for(self, text: str, patience: float = PATIENCE) -> None:
        """Wait until the picture shows a text."""
        end = time.monotonic() + patience
        while text not in self.text:
            if time.monotonic() > end:
                raise AssertionError(f"{text!r} is not shown:\n{self.text}")
            self.read(0.1)
        self.settle()

    def press(self, *keys: str) -> int:
        """Press keys, one after another; the bytes they cost together."""
        count = 0
        for key in keys:
            os.write(self.fd, KEYS.get(key, key).encode())
            count += self.settle()
        return count

    def send(self, text: str) -> None:
        """Type without waiting."""
        os.write(self.fd, text.encode())

    @property
    def lines(self) -> list[str]:
        """The picture, row by row."""
        return [row.rstrip() for row in self.screen.display]

    @property
    def text(self) -> str:
        """The picture as one text."""
        return "\n".join(self.lines)

    def cells(self) -> list[list[tuple[str, str, str, bool, bool]]]:
        """The picture with colours; a blank is seen by its ground alone."""
        buffer = self.screen.buffer
        width, height = self.screen.columns, self.screen.lines
        return [[_seen(buffer[y][x]) for x in range(width)] for y in range(height)]

    def wait(self, patience: float = PATIENCE) -> int:
        """The exit status, once the program has ended."""
        end = time.monotonic() + patience
        while time.monotonic() < end:
            self.read(0.05)
            pid, status = os.waitpid(self.pid, os.WNOHANG)
            if pid:
                return os.waitstatus_to_exitcode(status)
        raise AssertionError("the program does not end")

    def close(self) -> None:
        """End the program, whatever it does."""
        try:
            os.kill(self.pid, signal.SIGKILL)
            os.waitpid(self.pid, 0)
        except (ProcessLookupError, ChildProcessError):
            pass
        os.close(self.fd)
