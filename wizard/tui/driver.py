"""The terminal at the other end of a line that can be slow, stand still or be cut.

Textual's own writer blocks the event loop while the line stands still, and dies with the terminal,
after which nothing ever runs again: no key is taken, no signal heard, and the record stays locked.
Invariant: the work never waits for the line. What cannot be sent now is painted later from what
the screen shows then; what is written to a terminal that is gone is dropped.
"""

from __future__ import annotations

import os
import select
import sys
from collections.abc import Callable
from typing import Any

from textual.app import App
from textual.drivers.linux_driver import LinuxDriver

AT_ONCE = 8192
"""Bytes kept together before they are sent."""
MOST_WAITING = 9
"""Writes that may wait; a frame takes three."""
LAST_WORDS = 2.0
"""Seconds for a line that stands still to take what restores the terminal."""


class Outlet:
    """What Textual's writer writes to; `sent` is called when nothing is left to send."""

    encoding = "utf-8"

    def __init__(self, fd: int, sent: Callable[[], None]) -> None:
        self._fd, self._sent = fd, sent
        self._pending = bytearray()
        self.gone = False

    def fileno(self) -> int:
        """The terminal."""
        return self._fd

    def write(self, text: str) -> None:
        """Keep text to be sent with what follows it."""
        self._pending += text.encode(self.encoding, "replace")
        if len(self._pending) > AT_ONCE:
            self._send()

    def flush(self) -> None:
        """Send what was written, however long the line takes."""
        self._send()
        self._sent()

    def _send(self) -> None:
        while self._pending and not self.gone:
            try:
                del self._pending[: os.write(self._fd, self._pending)]
            except BlockingIOError:
                select.select([], [self._fd], [])
            except OSError:
                self.gone = True
        self._pending.clear()


def _terminal() -> int:
    """Standard error, as Textual has it, or the standard output where that is elsewhere."""
    for file in (sys.__stderr__, sys.__stdout__):
        if file is not None and file.isatty():
            return file.fileno()
    return 2


class SteadyDriver(LinuxDriver):
    """Textual's driver, with an end that holds nothing up."""

    def __init__(self, app: App[Any], **options: Any) -> None:
        super().__init__(app, **options)
        self._late: Callable[[], object] | None = None
        # LinuxDriver hands this to its writer as a file and uses nothing but write and flush.
        outlet: Any = Outlet(_terminal(), self._sent)
        self._file = outlet

    def busy(self, later: Callable[[], object]) -> bool:
        """Whether the line is behind by some frames; `later` is called once it is not."""
        writer = self._writer_thread
        if writer is None or writer._queue.qsize() < MOST_WAITING:
            return False
        self._late = later
        if not writer._queue.empty():
            return True
        self._late = None
        return False

    def _sent(self) -> None:
        """In the writer's thread: let the screen be painted as it is now."""
        late, self._late = self._late, None
        if late is not None and not self._loop.is_closed():
            self._loop.call_soon_threadsafe(late)

    def close(self) -> None:
        """Let the writer end; a line that stands still is not waited for."""
        writer = self._writer_thread
        if writer is not None:
            writer._queue.put(None)
            writer.join(LAST_WORDS)
