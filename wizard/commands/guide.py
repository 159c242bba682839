"""`wizard guide`: the guides that come with the tool, read on any terminal."""

from __future__ import annotations

import argparse
import os
import sys
from contextlib import suppress

from wizard.commands.output import GOOD, print_lines
from wizard.guide import about, names, plain, text

NARROWEST, WIDEST = 40, 92


def run(args: argparse.Namespace) -> int:
    """List the guides, or print one."""
    if args.name:
        print_lines(plain(text(args.name), _width()))
    else:
        print_lines(f"{name:<12} {about(name)}" for name in names())
    return GOOD


def _width() -> int:
    with suppress(OSError, ValueError, AttributeError):
        columns = os.get_terminal_size(sys.stdout.fileno()).columns
        return max(NARROWEST, min(WIDEST, columns - 1))
    return 78
