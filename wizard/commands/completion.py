"""`wizard completion SHELL`: a script that completes commands, options, files, keys and names.

Invariant: what the shells offer is what the parser takes; the scripts hold no list of their own.
Words that only the program knows are asked of it when they are wanted.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable, Mapping, Sequence

from wizard.commands.output import GOOD, print_lines
from wizard.commands.shells import bash, fish, zsh
from wizard.commands.usage import Usage, usage_of
from wizard.commands.words import words_for

SHELLS: Mapping[str, Callable[[Usage, Sequence[Usage]], str]] = {
    "bash": bash.script,
    "zsh": zsh.script,
    "fish": fish.script,
}


def run(args: argparse.Namespace) -> int:
    """Print the script of a shell, or the words that a script asks for."""
    if args.words:
        print_lines(words_for(*args.words[:2]))
        return GOOD
    print(SHELLS[args.shell](*usage_of(args.parser)), end="")
    return GOOD
