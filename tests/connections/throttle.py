"""A line that is slow, late and stalls, between a program and its terminal or its server.

python -m tests.connections.throttle [options] -- COMMAND...      a program in a pty of its own
python -m tests.connections.throttle [options] --to PORT          a TCP port, as ssh's ProxyCommand

Bytes are never lost or reordered, as TCP has it: what a real line drops arrives later, in a stall.
"""

from __future__ import annotations

import argparse
import fcntl
import os
import pty
import random
import select
import signal
import socket
import sys
import termios
import time
import tty
from collections import deque
from dataclasses import dataclass, field

PIECE = 64
WINDOW = 4096
"""Bytes that may be under way; the sender waits beyond that."""


@dataclass
class Way:
    """One direction: bytes read from `source` reach `sink` late, at a rate, after stalls."""

    source: int
    sink: int
    delay: float
    rate: float
    stalls: float
    chance: random.Random
    ready: float = 0.0
    under_way: int = 0
    ended: bool = False
    pieces: deque[tuple[float, bytes]] = field(default_factory=deque)

    @property
    def open(self) -> bool:
        """Whether it takes more."""
        return not self.ended and self.under_way < WINDOW

    @property
    def due(self) -> float:
        """When the next piece arrives."""
        return self.pieces[0][0] if self.pieces else float("inf")

    def take(self, now: float) -> None:
        """Read what the source has, and work out when it arrives."""
        try:
            data = os.read(self.source, WINDOW - self.under_way)
        except OSError:
            data = b""
        self.ended = not data
        for start in range(0, len(data), PIECE):
            piece = data[start : start + PIECE]
            if self.chance.random() < self.stalls:
                self.ready = max(self.ready, now) + self.chance.uniform(0.3, 1.0)
            self.ready = max(self.ready, now) + len(piece) / self.rate
            self.pieces.append((self.ready + self.delay, piece))
            self.under_way += len(piece)

    def give(self, now: float) -> None:
        """Hand over what has arrived."""
        while self.pieces and self.pieces[0][0] <= now:
            _, piece = self.pieces.popleft()
            self.under_way -= len(piece)
            try:
                while piece:
                    piece = piece[os.write(self.sink, piece) :]
            except OSError:
                self.ended = True
                self.pieces.clear()
                self.under_way = 0


def carry(there: Way, back: Way) -> None:
    """Carry bytes both ways until the far end is done and all it said has arrived."""
    while not back.ended or back.pieces:
        now = time.monotonic()
        ways = (there, back)
        timeout = max(0.0, min(0.5, *(way.due - now for way in ways)))
        sources = [way.source for way in ways if way.open]
        try:
            able = select.select(sources, [], [], timeout)[0]
        except InterruptedError:
            continue
        now = time.monotonic()
        for way in ways:
            if way.source in able:
                way.take(now)
            way.give(now)


def _copy_size(source: int, target: int, pid: int) -> None:
    size = fcntl.ioctl(source, termios.TIOCGWINSZ, b"\0" * 8)
    fcntl.ioctl(target, termios.TIOCSWINSZ, size)
    os.kill(pid, signal.SIGWINCH)


def run_program(command: list[str], options: argparse.Namespace) -> int:
    """Run a program behind the line; its exit status."""
    size = fcntl.ioctl(0, termios.TIOCGWINSZ, b"\0" * 8)
    pid, far = pty.fork()
    if pid == 0:
        fcntl.ioctl(0, termios.TIOCSWINSZ, size)
        os.execvp(command[0], command)
    tty.setraw(0)
    signal.signal(signal.SIGWINCH, lambda *_: _copy_size(0, far, pid))
    there, back = _ways(0, far, far, 1, options)
    carry(there, back)
    return os.waitstatus_to_exitcode(os.waitpid(pid, 0)[1])


def run_port(port: int, options: argparse.Namespace) -> int:
    """Stand between standard input and output and a port of this machine."""
    far = socket.create_connection(("127.0.0.1", port))
    there, back = _ways(0, far.fileno(), far.fileno(), 1, options)
    carry(there, back)
    return 0


def _ways(
    near_in: int, far_in: int, far_out: int, near_out: int, options: argparse.Namespace
) -> tuple[Way, Way]:
    chance = random.Random(options.seed)
    shape = (options.delay / 2, options.rate, options.stalls, chance)
    return Way(near_in, far_in, *shape), Way(far_out, near_out, *shape)


def main(argv: list[str]) -> int:
    """Read the command line and carry."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--delay", type=float, default=0.3, help="seconds there and back")
    parser.add_argument("--rate", type=float, default=2000.0, help="bytes a second each way")
    parser.add_argument("--stalls", type=float, default=0.02, help="share of pieces that stall")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--to", type=int, default=0, metavar="PORT")
    parser.add_argument("command", nargs="*")
    options = parser.parse_args(argv)
    if options.to:
        return run_port(options.to, options)
    return run_program(options.command, options)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
