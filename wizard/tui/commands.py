"""The table of commands as Textual's key bindings.

Invariant: nothing is bound that the table does not name.
"""

from __future__ import annotations

from collections.abc import Iterable

from textual.binding import Binding

from wizard.keys import BY_NAME, COMMANDS, QUIT, Command, key_text, of_place, table

__all__ = ["BY_NAME", "COMMANDS", "QUIT", "Command", "bindings", "key_text", "of_place", "table"]


def bindings(commands: Iterable[Command], *places: str) -> list[Binding]:
    """Textual's bindings of the commands of some places."""
    return [
        Binding(",".join(c.keys), f"command('{c.name}')", c.label, show=False, id=c.name)
        for c in commands
        if c.keys and set(places) & set(c.places)
    ]
