"""The key bar: one row that names the keys that work here and now.

Invariant: the way to all other commands and the way to quit are always on it, whatever the width.
"""

from __future__ import annotations

from collections.abc import Iterable

from rich.cells import cell_len

from wizard.keys import Command
from wizard.tui.sheet import Sheet
from wizard.tui.spans import BLANK, Line, Span, between, line, width_of

ALWAYS = ("more", "quit")


def bar_line(commands: Iterable[Command], width: int) -> Line:
    """The commands by rank as far as they fit, more and quit at the right end.

    >>> from wizard.keys import COMMANDS, of_place
    >>> bar = bar_line(of_place(COMMANDS, "work"), 44)
    >>> "".join(s.text for s in bar)
    ' F1 help  F6 next open    F9 more  F10 quit '
    """
    ranked = sorted((c for c in commands if c.bar), key=lambda c: c.bar)
    always = sorted((c for c in ranked if c.name in ALWAYS), key=lambda c: ALWAYS.index(c.name))
    right = tuple(span for command in always for span in line(" ", *_piece(command), " "))
    room = width - width_of(right) - 2
    left: list[Span] = []
    for command in (c for c in ranked if c.name not in ALWAYS):
        piece = line(" ", *_piece(command), " ")
        if width_of(tuple(left)) + width_of(piece) > room:
            break
        left.extend(piece)
    return between(tuple(left), right or BLANK, width)


def _piece(command: Command) -> tuple[tuple[str, str], ...]:
    return ((command.key_text, "key"), (f" {command.label}", "text"))


class KeyBar(Sheet):
    """The bar of one screen."""

    def show_commands(self, commands: Iterable[Command], width: int) -> None:
        """Show what works now."""
        self._commands = tuple(commands)
        self.show_lines([bar_line(self._commands, width)])

    def command_at(self, column: int) -> str:
        """The command whose key or word stands in a column; empty where none does."""
        at = 0
        named = {c.key_text: c.name for c in self._commands}
        name = ""
        for span in self.lines[0] if self.lines else ():
            name = named[span.text] if span.role == "key" else name if span.text.strip() else ""
            at += cell_len(span.text)
            if column < at:
                return name
        return ""
