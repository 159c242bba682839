"""`wizard man`: the man page, made from the parser and the table of keys."""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Iterator, Sequence

from wizard import __version__
from wizard.commands.output import GOOD
from wizard.commands.usage import Argument, Usage, usage_of
from wizard.keys import BY_NAME, COMMANDS, EVERYWHERE, key_text

PLACES = {
    "work": "at an item",
    "site": "in practice, at an item",
    "sight": "in practice, looking at something",
    "list": "in a list",
    "read": "in a text",
    "start": "on the start screen",
    "choose": "choosing what to practise",
    "told": "being told something",
    "guided": "in guided training",
    "case": "at an item of a job under review",
    "review": "in the review of a folder",
}

NUMBERS = (
    "A number has a decimal point or a comma: 4.5 or 4,5. A unit may follow, with or without a "
    "space; without one the unit of the question is taken. Lengths may be fractions or feet and "
    "inches, as 3/8 in or 5 ft 3 1/2 in; times may be minutes and seconds, as 4:35. Several "
    "readings stand on one line with spaces between: 462 463 455 V. A series is pairs of time "
    "and reading: 0 100; 30 112.5; 60 124 psi."
)

ENVIRONMENT = (
    ("WIZARD_NAME", "Who works here, where --by is not given."),
    ("TERM", "dumb, or none: questions and answers in plain lines."),
    ("NO_COLOR", "No colours."),
    ("LC_ALL, LC_CTYPE, LANG", "C or POSIX: plain ASCII."),
    ("XDG_CONFIG_HOME, XDG_STATE_HOME, XDG_CACHE_HOME", "Where settings, drafts and memos are."),
)

FILES = (
    ("ID.toml", "The record of a job, with everything that was answered, and its history."),
    ("ID.toml.bak", "The record before the last save."),
    ("~/.config/wizard/settings.toml", "Settings; wizard settings --write makes it."),
    ("~/.local/state/wizard", "Drafts, rescue copies and the list of recent jobs."),
    ("~/.cache/wizard", "What makes the next start quicker; it may be deleted at any time."),
)

EXAMPLES = (
    ("wizard new J1042 --machine plates.toml --open", "A new job, its plates from a file."),
    ("wizard enter J1042.toml supply.voltage='462 463 455 V'", "One answer without a screen."),
    ("wizard check J1042.toml", "All findings; the exit status is 2 under a hold."),
    ("wizard calc supply_voltage nameplate='230 V' measured='241 V'", "One rule by itself."),
)

STATUS = (
    ("0", "Good."),
    (
        "1",
        "Not finished, or advisory only: of a job that is read, or of the finding of an answer. "
        "It is no error; a command that makes or writes something exits with 0.",
    ),
    ("2", "Something failed, or the job is held."),
    ("3", "A file cannot be read or written, or an input cannot be used."),
    ("64", "Wrong usage."),
)

_SAFE = {"\\": "\\e", "-": "\\-", "'": "\\(aq", "~": "\\(ti", "^": "\\(ha", "`": "\\(ga"}


def run(args: argparse.Namespace) -> int:
    """Print the page."""
    print("\n".join(page(*usage_of(args.parser))))
    return GOOD


def page(top: Usage, commands: Sequence[Usage]) -> Iterator[str]:
    """The lines of the page."""
    yield f'.TH WIZARD 1 "" "wizard {__version__}" "User Commands"'
    yield from (".SH NAME", f"wizard \\- {_text('commissioning of a piston air compressor')}")
    yield from (".SH SYNOPSIS", _synopsis(top))
    for usage in commands:
        yield from (".br", _synopsis(usage))
    yield from (".SH DESCRIPTION", _text(top.about))
    yield _text(
        "Without a command the start screen opens. Standard output is data, standard error is "
        "narration. A hold cannot be overridden: a failed safety item passes on a new reading only."
    )
    yield ".SH OPTIONS"
    yield from _options(top.options)
    yield ".SH COMMANDS"
    for usage in commands:
        yield from (f".SS {_text(usage.name)}", _text(_sentence(usage.about)))
        yield from _options((*usage.words, *usage.options[1:]))
    yield from _keys()
    yield from (".SH NUMBERS", _text(NUMBERS))
    for head, pairs in (
        ("EXIT STATUS", STATUS),
        ("ENVIRONMENT", ENVIRONMENT),
        ("FILES", FILES),
        ("EXAMPLES", EXAMPLES),
    ):
        yield f".SH {head}"
        for name, about in pairs:
            yield from (".TP", f".B {_text(name)}", _text(about))
    yield from (
        ".SH SEE ALSO",
        _text("wizard guide lists guides for the field, leads and learners."),
    )


def _synopsis(usage: Usage) -> str:
    options = ["[options]"] if usage.options[1:] else []
    words = [_word(w) for w in usage.words] if usage.name else ["[command]"]
    return f".B {_text(' '.join(['wizard', usage.name, *options, *words]))}".replace("  ", " ")


def _word(word: Argument) -> str:
    shown = f"{word.takes} ..." if word.many else word.takes
    return shown if word.needed else f"[{shown}]"


def _options(arguments: Iterable[Argument]) -> Iterator[str]:
    for argument in arguments:
        flags = ", ".join(argument.flags) or argument.takes
        value = f" {argument.takes}" if argument.flags and argument.takes else ""
        yield from (".TP", f".B {_text(flags + value)}", _text(_sentence(argument.about)) or "\\&")


def _keys() -> Iterator[str]:
    yield from (".SH KEYS", _text("The keys as they come; settings can give others."))
    for place in dict.fromkeys(place for command in COMMANDS for place in command.places):
        listed = place in BY_NAME["more"].places
        here = [
            c
            for c in COMMANDS
            if place in c.places and (c.keys or listed or c.places != EVERYWHERE)
        ]
        yield f".SS {_text(_sentence(PLACES.get(place, place)).rstrip('.'))}"
        for command in here:
            shown = ", ".join(map(key_text, command.keys)) or f"F9, {command.label}"
            yield from (".TP", f".B {_text(shown)}", _text(command.about))


def _sentence(text: str) -> str:
    shown = text[:1].upper() + text[1:]
    return f"{shown}." if shown and not shown.endswith(".") else shown


def _text(text: str) -> str:
    """Text that means nothing to roff."""
    safe = "".join(_SAFE.get(c) or (c if c.isascii() else f"\\[u{ord(c):04X}]") for c in text)
    return f"\\&{safe}" if safe.startswith(".") else safe
