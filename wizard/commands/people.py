"""Who is working, on which machine, and when."""

from __future__ import annotations

import getpass
import os
import socket

from wizard.actions import Hand
from wizard.answer import clean
from wizard.store import now


def who(name: str = "") -> str:
    """The name given, else WIZARD_NAME, else the login name."""
    given = clean(name) or clean(os.environ.get("WIZARD_NAME", ""))
    if given:
        return given[:80]
    try:
        return clean(getpass.getuser())[:80] or "unknown"
    except (KeyError, OSError):
        return "unknown"


def host() -> str:
    """The name of this machine."""
    return clean(socket.gethostname())[:80] or "unknown"


def hand(name: str = "") -> Hand:
    """Somebody acting now."""
    return Hand(who(name), now())
