"""The settings of this person or site, read once, what they say in vain said once."""

from __future__ import annotations

from functools import cache

from wizard.commands.output import narrate
from wizard.settings_file import Site, read_settings


@cache
def site() -> Site:
    """The settings; a sentence on stderr for every line of theirs that cannot be used."""
    found = read_settings()
    for warning in found.warnings:
        narrate(warning)
    return found
