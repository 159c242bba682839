"""`wizard settings`: what is set, and a file with comments to set it in."""

from __future__ import annotations

import argparse

from wizard.commands.output import GOOD, UNFINISHED, narrate
from wizard.commands.site import site
from wizard.settings_file import settings_path, settings_text, write_settings
from wizard.text import show


def run(args: argparse.Namespace) -> int:
    """Print the settings in force; with --write, make the file."""
    own = site()
    if args.write:
        narrate(f"{show(write_settings(own))} is written.")
        return GOOD
    state = "" if settings_path().is_file() else " is not there; --write makes it"
    narrate(f"{show(settings_path())}{state or ':'}")
    print(settings_text(own), end="")
    return UNFINISHED if own.warnings else GOOD
