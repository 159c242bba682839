"""The command line as data, read from the parser: what completion and the man page are made of."""

from __future__ import annotations

import argparse
from dataclasses import dataclass

PLACES = {
    "JOB": "jobs",
    "FILE": "files",
    "KEY=@FILE.csv": "files",
    "FOLDER": "folders",
    "DIR": "folders",
    "KEY=VALUE": "keys",
    "KEY=TEXT": "keys",
    "KEY=REASON": "keys",
    "PARAM=VALUE": "parameters",
    "SCENARIO": "scenarios",
}
"""What stands where, by the word the usage has for it; see `words_for`."""
_BY_NAME = {
    ("calc", "name"): "calculations",
    ("guide", "name"): "guides",
    ("review", "folder"): "jobs",
    ("review", "forget"): "missing",
    ("review", "setting"): "settings",
    ("sign", "role"): "roles",
    ("sign", "decision"): "decisions",
    ("visit", "start"): "visits",
    ("visit", "did"): "tasks",
}


@dataclass(frozen=True, slots=True)
class Argument:
    """An option or a word: its flags, what is said of it, and what may stand there.

    `place` names the kind of words to offer; `choices` are all that are taken, where there are
    such; `takes` is what the usage calls its value, empty for a switch.
    """

    name: str
    flags: tuple[str, ...]
    about: str
    takes: str
    choices: tuple[str, ...]
    place: str
    many: bool
    needed: bool


@dataclass(frozen=True, slots=True)
class Usage:
    """A command, or the program itself where `name` is empty."""

    name: str
    about: str
    options: tuple[Argument, ...]
    words: tuple[Argument, ...]


def usage_of(parser: argparse.ArgumentParser) -> tuple[Usage, tuple[Usage, ...]]:
    """The program and its commands, in the order of the parser."""
    commands: list[Usage] = []
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction):
            abouts = {a.dest: a.help or "" for a in action._choices_actions}
            commands.extend(
                _usage(name, abouts.get(name, ""), command)
                for name, command in action.choices.items()
            )
    return _usage("", parser.description or "", parser), tuple(commands)


def _usage(name: str, about: str, parser: argparse.ArgumentParser) -> Usage:
    found = [
        _argument(name, action)
        for action in parser._actions
        if not isinstance(action, argparse._SubParsersAction) and action.help != argparse.SUPPRESS
    ]
    return Usage(
        name,
        about,
        tuple(a for a in found if a.flags),
        tuple(a for a in found if not a.flags),
    )


def _argument(command: str, action: argparse.Action) -> Argument:
    choices = tuple(map(str, action.choices or ()))
    metavar = action.metavar if isinstance(action.metavar, str) else ""
    takes = "" if action.nargs == 0 else metavar or "|".join(choices) or action.dest.upper()
    place = _BY_NAME.get((command, action.dest)) or PLACES.get(metavar, "")
    return Argument(
        action.dest,
        tuple(action.option_strings),
        action.help or "",
        takes,
        choices,
        "choices" if choices else place,
        action.nargs in ("*", "+"),
        action.required if action.option_strings else action.nargs not in ("?", "*"),
    )
