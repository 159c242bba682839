"""Who is working, on which machine, and when.

Invariant: light to load, since the screens ask for it before their first paint.
"""

from __future__ import annotations

import getpass
import os
import socket
from typing import TYPE_CHECKING

from wizard.commands.site import site
from wizard.text import clean

if TYPE_CHECKING:
    from wizard.actions import Hand


def who(name: str = "") -> str:
    """The name given, else WIZARD_NAME, else that of the settings, else the login name."""
    for given in (name, os.environ.get("WIZARD_NAME", ""), site().name):
        if kept := clean(given):
            return kept[:80]
    try:
        return clean(getpass.getuser())[:80] or "unknown"
    except (KeyError, OSError):
        return "unknown"


def host() -> str:
    """The name of this machine."""
    return clean(socket.gethostname())[:80] or "unknown"


def hand(name: str = "") -> Hand:
    """Somebody acting now."""
    from wizard.actions import Hand  # deferred: the whole job, which a first paint does without
    from wizard.store.clock import now

    return Hand(who(name), now())
