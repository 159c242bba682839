"""`wizard check`, said again at once where the same bytes were checked by the same program.

Invariant: what is said is what a new check would say: it is kept under the digest of the files,
of the words of the command and of the whole program, and never for a file that cannot be read.
"""

from __future__ import annotations

import argparse
import io
import os
import sys
from contextlib import redirect_stderr, redirect_stdout
from hashlib import sha256

from wizard import memo
from wizard.commands.output import UNREADABLE


def run(args: argparse.Namespace) -> int:
    """Check each job, or say again what the check of these bytes said."""
    if args.fresh:
        return _checked(args)
    key = _key(args)
    try:
        status, out, err = memo.said(key)
    except memo.DAMAGED:
        return _kept(args, key)
    _say(out, err)
    return int(status)


def _checked(args: argparse.Namespace) -> int:
    from wizard.commands.check import run as check  # deferred: the 0.2 s that are saved

    memo.warm_procedure()
    return check(args)


def _kept(args: argparse.Namespace, key: str) -> int:
    out, err = io.StringIO(), io.StringIO()
    try:
        with redirect_stdout(out), redirect_stderr(err):
            status = _checked(args)
    finally:
        _say(out.getvalue(), err.getvalue())
    if key and status != UNREADABLE and key == _key(args):
        memo.keep_said(key, [status, out.getvalue(), err.getvalue()])
    return status


def _say(out: str, err: str) -> None:
    print(err, end="", file=sys.stderr)
    print(out, end="")


def _key(args: argparse.Namespace) -> str:
    """The digest of the command and of the files as they are; empty where one cannot be read."""
    words = sha256(repr(("check", args.json, args.jobs)).encode())
    for name in args.jobs:
        try:
            fd = os.open(name, os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK | os.O_CLOEXEC)
            with os.fdopen(fd, "rb") as file:
                words.update(sha256(file.read()).digest())
        except (OSError, ValueError):
            return ""
    return words.hexdigest()
