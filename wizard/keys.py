"""Every command of the screens once: its keys, its word on the key bar, what it does, where.

Invariant: key bar, list of commands, help and documentation read this table, no key means two
things in one place, and each place can always be left, whatever keys a person chooses.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from string import ascii_lowercase

from wizard.text import show


@dataclass(frozen=True, slots=True)
class Command:
    """One command. `bar` is its rank on the key bar, 0 where it is not there."""

    name: str
    keys: tuple[str, ...]
    label: str
    about: str
    places: tuple[str, ...] = ("work",)
    bar: int = 0

    @property
    def key_text(self) -> str:
        """The first key as a person reads it."""
        return key_text(self.keys[0]) if self.keys else ""


_NAMES = {
    "pageup": "PgUp",
    "pagedown": "PgDn",
    "escape": "Esc",
    "enter": "Enter",
    "slash": "/",
    "question_mark": "?",
    "up": "Up",
    "down": "Down",
    "tab": "Tab",
}


def key_text(key: str) -> str:
    """A key as a person reads it.

    >>> key_text("f10"), key_text("ctrl+l"), key_text("pagedown"), key_text("slash")
    ('F10', 'Ctrl-L', 'PgDn', '/')
    """
    if key in _NAMES:
        return _NAMES[key]
    if key.startswith("ctrl+"):
        return f"Ctrl-{key[5:].upper()}"
    return key.upper() if key.startswith("f") and key[1:].isdigit() else key


SITE = ("site", "sight")
"""The places of practice: at an item, and looking at something with the item's field below it."""
TYPING = ("work", *SITE)
"""The places where an answer is typed."""
FIELDS = (*TYPING, "case")
"""The places where a field has the keys; a case is a job that a lead looks at."""
EVERYWHERE = (*FIELDS, "list", "read", "start", "choose", "told", "review")

COMMANDS: tuple[Command, ...] = (
    Command(
        "help",
        ("f1",),
        "help",
        "Why, how, usual mistake, working and source.",
        ("work", "site", "case"),
        bar=2,
    ),
    Command("waive", ("f2",), "not appl.", "Mark the item not applicable, with a reason."),
    Command("note", ("f3",), "note", "Write a note against the item.", bar=6),
    Command("instrument", ("f4",), "instrument", "Say which instrument the reading is from."),
    Command("watch", ("f5",), "watch", "Start or stop the stopwatch.", TYPING, bar=4),
    Command(
        "next",
        ("f6",),
        "next open",
        "Go to the holding item, or to the next open one.",
        FIELDS,
        bar=3,
    ),
    Command("undo", ("f7",), "undo", "Take back the last answer; the history keeps it.", bar=7),
    Command(
        "list", ("f8",), "all items", "All items by phase, with their verdicts.", FIELDS, bar=5
    ),
    Command("more", ("f9",), "more", "All commands.", FIELDS, bar=8),
    Command(
        "before", ("pageup",), "item before", "Go to the item before.", ("work", "site", "case")
    ),
    Command(
        "after", ("pagedown",), "item after", "Go to the item after.", ("work", "site", "case")
    ),
    Command("left", (), "what is left", "Open and failed items only.", FIELDS),
    Command(
        "finish",
        (),
        "summary",
        "State of the job, maintenance dates and sign-off.",
        ("work", "case"),
    ),
    Command("visit", (), "visit", "Recheck or service after the handover."),
    Command("go", ("f2",), "go to", "Walk to a place of the site and look.", SITE, bar=2),
    Command("do", ("f3",), "do", "Do something to the machine; the defect list.", SITE, bar=2),
    Command("sight", ("f4",), "look", "Look at what the item is read from.", ("site",), bar=2),
    Command("hands", ("f4",), "instrument", "Another instrument, or its knobs.", ("sight",), bar=2),
    Command("stop", ("f7",), "STOP", "Switch the machine off at once.", SITE, bar=2),
    Command("speed", ("ctrl+t",), "time", "Time as in life, faster, or standing.", SITE),
    Command("story", (), "what happened", "Everything noticed so far, with its time.", SITE),
    Command("place_before", ("pageup",), "place before", "Look at the place before.", ("sight",)),
    Command("place_after", ("pagedown",), "place after", "Look at the next place.", ("sight",)),
    Command("countersign", (), "countersign", "A mentor signs what was shown.", ("guided",)),
    Command("training", ("t",), "training record", "Runs, skills, lessons.", ("choose",), bar=2),
    Command("on", ("enter",), "go on", "What comes next.", ("told",), bar=1),
    Command(
        "copy",
        (),
        "copy value",
        "Copy the answer to the clipboard of the terminal.",
        ("work", "case"),
    ),
    Command("doubts", ("f2",), "doubts", "What to doubt, what differs, who signed.", ("case",), 1),
    Command("remark", ("f3",), "remark", "Write a remark against the item.", ("case",), bar=1),
    Command("beside", ("f4",), "compare", "Beside the other jobs.", ("case", "review"), bar=6),
    Command("accept", ("f5",), "accept", "Accept the job and sign.", ("case",), bar=1),
    Command("send_back", ("f7",), "send back", "Return the job to its technician.", ("case",), 1),
    Command("folder", ("escape",), "folder", "Back to the folder.", ("case",), bar=1),
    Command("picture", (), "save picture", "Save the screen as SVG and text.", EVERYWHERE),
    Command(
        "look", (), "next look", "Default, high contrast or the terminal's colours.", EVERYWHERE
    ),
    Command("repaint", ("ctrl+l",), "repaint", "Draw the whole screen again.", EVERYWHERE),
    Command(
        "search", ("slash",), "search", "Show rows that contain a word.", ("list", "review"), bar=2
    ),
    Command("all", ("a",), "all", "Show every row.", ("list", "review"), bar=3),
    Command("open", ("o",), "open", "Show open items.", ("list",), bar=4),
    Command("held", ("h",), "held", "Show what is held or failed.", ("list", "review"), bar=5),
    Command("doubtful", ("d",), "doubts", "Show jobs with doubts.", ("review",), bar=4),
    Command("damaged", ("x",), "damaged", "Show what cannot be relied on.", ("review",), bar=6),
    Command("waiting", ("w",), "waiting", "Show finished jobs that wait for you.", ("review",), 7),
    Command("forget", ("m",), "missing", "Forget a file taken away on purpose.", ("review",), 2),
    Command("sort", ("s",), "sort", "Put the rows in another order.", ("review",), bar=3),
    Command("keys", ("f1", "f9"), "help", "The marks, and all commands.", ("review",), bar=8),
    Command("afresh", ("f6",), "look again", "Look at the folder again.", ("review",)),
    Command("advisory", ("v",), "advisory", "Show items with an advisory.", ("list",), bar=6),
    Command("here", ("f1",), "help", "What can be done here.", ("start",), bar=5),
    Command("new", ("n",), "new job", "Start a record.", ("start",), bar=1),
    Command("path", ("o",), "open a file", "Open a job file by its path.", ("start",), bar=2),
    Command("practise", ("p",), "practise", "A simulated machine.", ("start",), bar=3),
    Command("review", ("r",), "review", "Look over many jobs.", ("start",), bar=4),
    Command(
        "back",
        ("escape",),
        "back",
        "Back to the work.",
        ("list", "read", "sight", "choose", "told", "review"),
        bar=2,
    ),
    Command(
        "quit", ("f10", "ctrl+q"), "quit", "Leave; everything accepted is saved.", EVERYWHERE, 9
    ),
)

BY_NAME = {c.name: c for c in COMMANDS}
QUIT = BY_NAME["quit"]


def table(keys: Mapping[str, tuple[str, ...]] | None = None) -> tuple[Command, ...]:
    """All commands, with other keys for those named in `keys`; quit keeps its own as well."""
    changed = keys or {}
    return tuple(
        replace(c, keys=(*changed[c.name], *(c.keys if c is QUIT else ())))
        if c.name in changed
        else c
        for c in COMMANDS
    )


def chosen(wanted: Mapping[str, tuple[str, ...]]) -> tuple[dict[str, tuple[str, ...]], list[str]]:
    """Those of the wanted keys that can be had, and a sentence for each command left as it is.

    >>> chosen({"help": ("f11",), "note": ("f10",)})
    ({'help': ('f11',)}, ['note: F10 is already quit.'])
    """
    problems = {n: p for n, ks in wanted.items() if (p := _unfit(n, ks))}
    taken = {n: ks for n, ks in wanted.items() if n not in problems}
    while clash := _clash(taken):
        name, problem = clash
        problems[name] = problem
        del taken[name]
    return taken, [f"{show(name)}: {problem}" for name, problem in problems.items()]


def _unfit(name: str, keys: tuple[str, ...]) -> str:
    """Why a command cannot have these keys, whatever the others have; empty where it can."""
    command = BY_NAME.get(name)
    if command is None:
        return "there is no such command."
    if not keys:
        return "without a key."
    unfit = [k for k in keys if k not in command.keys and not _usable(k, command.places)]
    return f"{show(unfit[0])} is not a key that it can have." if unfit else ""


def _clash(taken: Mapping[str, tuple[str, ...]]) -> tuple[str, str] | None:
    """The first command whose chosen key means something else in one of its places."""
    commands = table(taken)
    for name in taken:
        own = next(c for c in commands if c.name == name)
        for other in commands:
            both = set(own.keys) & set(other.keys)
            if other is not own and both and set(own.places) & set(other.places):
                return name, f"{key_text(min(both))} is already {other.label}."
    return None


_FUNCTION_KEYS = tuple(f"f{number}" for number in range(1, 13))
_NOT_WITH_CTRL = "abcdhijmoqsuz"
"""Letters that edit text, that multiplexers and terminals take, or that are quit."""


def _usable(key: str, places: tuple[str, ...]) -> bool:
    if key in _FUNCTION_KEYS:
        return True
    if key in ("pageup", "pagedown"):
        return set(places) <= set(FIELDS)
    if key.startswith("ctrl+"):
        return len(key) == 6 and key[5] in ascii_lowercase and key[5] not in _NOT_WITH_CTRL
    return len(key) == 1 and key.isascii() and key.isalnum() and not set(FIELDS) & set(places)


def of_place(commands: Iterable[Command], place: str) -> list[Command]:
    """The commands of one place."""
    return [c for c in commands if place in c.places]
