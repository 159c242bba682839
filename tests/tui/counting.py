"""An app without a terminal that counts the bytes it would send to one."""

from __future__ import annotations

import io
from typing import Any

from rich.console import Console, RenderableType
from textual._compositor import CompositorUpdate
from textual.screen import Screen

from wizard.tui.app import WizardApp

A_KEY, AN_ITEM, A_PAGE, A_START = 400, 1500, 2000, 20_000
"""The most bytes of a key, an accepted item, a page of other text, the first paint."""
FRAME = len("\x1b[?2026h\x1b[24;80H\x1b[?2026l")


class CountingApp(WizardApp):
    """Counts the bytes of every frame at 80x24 in 256 colours or more."""

    sent = 0

    def count(self) -> int:
        """Bytes since the last time of asking."""
        sent, self.sent = self.sent, 0
        return sent

    def _display(self, screen: Screen[Any], renderable: RenderableType | None) -> None:
        if isinstance(renderable, CompositorUpdate) and not self._batch_count:
            if not hasattr(self, "_out"):
                self._out = Console(
                    file=io.StringIO(), force_terminal=True, color_system="truecolor"
                )
            data = self.painter.sequence(renderable, self._out)
            self.sent += len(data.encode()) + FRAME
        super()._display(screen, renderable)
