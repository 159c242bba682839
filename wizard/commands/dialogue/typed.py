"""What a typed line means: an answer to the item, or a command.

Invariant: a line that can be an answer is one, but for the few that help or leave, and a letter
that is no more than the beginning of a choice: a slip would be recorded as a finding. A command
with a stroke before it is always a command.
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
    Command("l", "list", "what is left in this phase; l all lists every item of the job", "all"),
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
    if item.kind == "choose" and not rest:
        chosen = any(line.casefold() == option.casefold() for option in item.options)
        meant = f"{word} {command.rest}, or the number or more of the words of a choice"
        return Typed("", line) if chosen else _complete(command, "", word, meant)
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
    typed = f"/{command.name}"
    return _complete(command, rest, typed, f"{typed} {command.rest}")


def _complete(command: Command, rest: str, typed: str, accepted: str) -> Typed:
    """The command with what stands behind it; InputError where that is wanted and missing."""
    if command.needs_rest and not rest.strip():
        raise InputError(typed, "nothing", accepted)
    return Typed(command.letter, rest.strip())


def is_letter(text: str) -> bool:
    """Whether a text is the letter of a command and nothing else, with or without its stroke."""
    return text.removeprefix("/") in BY_LETTER


def _is_answer(item: Item, line: str, units: str) -> bool:
    try:
        parse(item, line, units)
    except InputError:
        return False
    return True
