"""What a typed line means: an answer to the item, or a command.

Invariant: a line that can be an answer is one, but for the few that help or leave; a command with
a stroke before it is always a command.
"""

from __future__ import annotations

from dataclasses import dataclass

from wizard.answer import parse
from wizard.errors import InputError
from wizard.procedure.item import Item


@dataclass(frozen=True, slots=True)
class Command:
    """A command of the dialogue: its letter, its name, what it does, what may stand behind it."""

    letter: str
    name: str
    about: str
    rest: str = ""
    needs_rest: bool = False


COMMANDS = (
    Command("?", "help", "why, how, the usual mistake; what was found, with its working"),
    Command("n", "note", "a note against the item, or the reply to a remark", "TEXT", True),
    Command("x", "not-applicable", "not applicable; never for safety items", "REASON", True),
    Command("u", "undo", "take the last answer back; the history keeps it", "REASON"),
    Command("g", "go", "go to an item, by its key or a part of it", "KEY", True),
    Command("b", "before", "the item before"),
    Command("s", "skip", "leave the item open and go on"),
    Command("l", "list", "what is left; l all lists every item"),
    Command("h", "holds", "what holds the job and what clears it"),
    Command("w", "watch", "start or stop the stopwatch"),
    Command("i", "instrument", "the instrument of such readings; i new lists one", "NAME"),
    Command("a", "answer", "TEXT as the answer, whatever it looks like", "TEXT", True),
    Command("q", "quit", "leave; everything accepted is saved"),
)
BY_LETTER = {c.letter: c for c in COMMANDS}
ALONE_IN_TEXT = ("?", "q", "s", "l", "h")
"""Commands that are commands even where any text is an answer, if nothing else is on the line."""


@dataclass(frozen=True, slots=True)
class Typed:
    """A line understood: a command with what stands behind it, or an answer where it has none."""

    command: str
    rest: str


def understand(item: Item, line: str, units: str) -> Typed:
    """What the line means at this item; InputError for a stroke without a known command."""
    if line.startswith("/"):
        return _with_stroke(line[1:])
    word, _, rest = line.partition(" ")
    command = BY_LETTER.get(word)
    if command is None:
        return Typed("", line)
    if item.kind == "write":
        alone = not rest and word in ALONE_IN_TEXT
        return Typed(word, "") if alone else Typed("", line)
    if command.needs_rest and not rest.strip():
        return Typed("", line)
    return Typed("", line) if _is_answer(item, line, units) else Typed(word, rest.strip())


def _with_stroke(text: str) -> Typed:
    word, _, rest = text.partition(" ")
    found = [c for c in COMMANDS if word and (c.letter == word or c.name.startswith(word))]
    if not found:
        known = ", ".join(f"/{c.name}" for c in COMMANDS)
        raise InputError("command", f"/{word}", known)
    command = next((c for c in found if c.letter == word), found[0])
    if command.needs_rest and not rest.strip():
        raise InputError(f"/{command.name}", "nothing", f"/{command.name} {command.rest}")
    return Typed(command.letter, rest.strip())


def _is_answer(item: Item, line: str, units: str) -> bool:
    try:
        parse(item, line, units)
    except InputError:
        return False
    return True
