"""The table of commands as Textual's key bindings.

Invariant: nothing is bound that the table does not name.
"""

from __future__ import annotations

from wizard.keys import BY_NAME, COMMANDS, QUIT, Command, key_text, of_place, table

__all__ = ["BY_NAME", "COMMANDS", "QUIT", "Command", "bindings", "key_text", "of_place", "table"]
