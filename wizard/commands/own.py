"""The options of the commands about the tool: settings, self-check, guide, completion, man."""

from __future__ import annotations

import argparse
from collections.abc import Callable

Add = Callable[[str, str, str], argparse.ArgumentParser]


def declare(add: Add, top: argparse.ArgumentParser) -> None:
    """Declare the commands; `add` takes name, module and what it does, `top` is described."""
    settings = add("settings", "settings", "show the settings")
    settings.add_argument("--write", action="store_true", help="write a file with all of them")
    check = add("self-check", "self_check", "say what the tool runs on, for a bug report")
    check.add_argument("--json", action="store_true", help="one JSON value")
    guide = add("guide", "guide", "read a guide")
    guide.add_argument("name", metavar="NAME", nargs="?", default="", help="none: list them")
    completion = add("completion", "completion", "print the completion script of a shell")
    completion.add_argument(
        "shell", choices=("bash", "zsh", "fish"), nargs="?", default="bash", help="whose script"
    )
    completion.add_argument("--words", nargs="+", default=[], help=argparse.SUPPRESS)
    completion.set_defaults(parser=top)
    man = add("man", "man", "print the man page; wizard man | man -l - shows it")
    man.set_defaults(parser=top)
