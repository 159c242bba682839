"""Printing: JSON that scripts rely on, text that is safe on a terminal.

Invariant: whatever the locale can show, printing raises nothing: characters that it lacks become
ones that it has, in words as a technician types them; JSON stays JSON.
"""

from __future__ import annotations

import codecs
import io
import json
import os
import sys
from collections.abc import Iterable
from contextlib import suppress
from datetime import date
from typing import Any

from wizard.pictures.plain import SPELLED, plain
from wizard.text import show, wants_ascii

GOOD, UNFINISHED, FAILED, UNREADABLE, USAGE = 0, 1, 2, 3, 64
"""Exit status: good; not finished or advisory only; failed or held; unreadable or bad input;
wrong usage."""

STATUS_OF_VERDICT = {
    "PASS": GOOD,
    "NOT APPLICABLE": GOOD,
    "ADVISORY": UNFINISHED,
    "OPEN": UNFINISHED,
    "INCONCLUSIVE": FAILED,
    "FAIL": FAILED,
}


def print_json(data: Any) -> None:
    """One JSON value on stdout; never NaN."""
    escaped = not _encoding(sys.stdout).startswith("utf")
    print(json.dumps(data, ensure_ascii=escaped, indent=2, allow_nan=False, default=_plain))


def _plain(value: object) -> str:
    if isinstance(value, date):
        return value.isoformat()
    raise TypeError(f"{type(value).__name__} has no JSON form")


_TYPED = {**SPELLED, "·": "-"}


def settle() -> None:
    """Let stdin, stdout and stderr take any text, in the characters of the locale."""
    codecs.register_error("plainly", _plainly)
    ascii_only = wants_ascii(os.environ)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            encoding = "ascii" if ascii_only else stream.encoding
            stream.reconfigure(encoding=encoding, errors="plainly")
    if isinstance(sys.stdin, io.TextIOWrapper):
        sys.stdin.reconfigure(errors="replace")


def _plainly(problem: UnicodeError) -> tuple[str, int]:
    if not isinstance(problem, UnicodeEncodeError):
        raise problem
    lacking = problem.object[problem.start : problem.end]
    return "".join(_TYPED.get(c) or plain(c) for c in lacking), problem.end


def _encoding(stream: object) -> str:
    return str(getattr(stream, "encoding", None) or "utf-8").lower()


def print_lines(lines: Iterable[str]) -> None:
    """Lines of data on stdout."""
    for line in lines:
        print(line)


def columns() -> int:
    """The width asked for by COLUMNS, or that of the terminal; 80 where there is none.

    The standard function for it loads a module of 2 ms.
    """
    with suppress(KeyError, ValueError):
        if (asked := int(os.environ["COLUMNS"])) > 0:
            return asked
    with suppress(OSError, ValueError, AttributeError):
        return os.get_terminal_size(sys.__stdout__.fileno()).columns or 80  # type: ignore[union-attr]
    return 80


def print_folded(lines: Iterable[str]) -> None:
    """Lines for a person, broken between words where stdout is a terminal that is too narrow."""
    width = columns() if sys.stdout.isatty() else 0
    for line in lines:
        print("\n".join(folded(line, width)))


def folded(line: str, width: int) -> list[str]:
    """A line broken between words, as deep as it began; whole where `width` is 0.

    >>> folded("  the meter reads 240 V", 14)
    ['  the meter', '  reads 240 V']
    """
    if not width or len(line) < width:
        return [line]
    import textwrap  # deferred: 1 ms that most commands do without

    depth = " " * (len(line) - len(line.lstrip()))
    return textwrap.wrap(
        line.strip(),
        width - 1,
        initial_indent=depth,
        subsequent_indent=depth,
        break_long_words=False,
        break_on_hyphens=False,
    )


def narrate(text: str) -> None:
    """A sentence for the person, on stderr."""
    print(show(text), file=sys.stderr)
