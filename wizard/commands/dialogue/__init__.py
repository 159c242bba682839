"""One question at a time in plain lines, for a dumb terminal or a screen reader.

Invariant: the same job, gate and saving as on the screen; whatever is typed is answered with a
line, and leaving is always possible: with q, /q or the end of input.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable

from wizard.commands.check import status
from wizard.commands.dialogue.said import summary
from wizard.commands.dialogue.talk import Leave, Talk, read_line
from wizard.commands.output import print_folded
from wizard.store import Session


def ask_all(
    session: Session, args: argparse.Namespace, line: Callable[[str], str] = read_line
) -> int:
    """Ask from the next open item on until nothing is left or the person leaves."""
    talk = Talk(session, args.by, args.instrument, line)
    try:
        talk.hold()
    except (Leave, EOFError, KeyboardInterrupt):
        print()
    print_folded(summary(session.job))
    return status(session.job)
