"""Values as TOML 1.0 text.

Invariant: what is written here reads back as the same value of the same type, on one line.
Inline tables keep an event's data on its own line, which tomli-w does not do.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from datetime import date, datetime, time
from typing import Any

_BARE = re.compile(r"[A-Za-z0-9_-]+")
_PLAIN = re.compile(r'[^\x00-\x1f\x7f"\\]*')
_SPECIAL = re.compile(r'[\x00-\x1f\x7f"\\]')
_SHORT = {"\b": r"\b", "\t": r"\t", "\n": r"\n", "\f": r"\f", "\r": r"\r", '"': r"\"", "\\": r"\\"}


def value(given: Any) -> str:
    """`given` as it stands after the equals sign.

    >>> value({"raw": 'say "5"', "value": [1.0, True]})
    '{ raw = "say \\\\"5\\\\"", value = [1.0, true] }'
    """
    kind = type(given)
    if kind is str:
        return _string(given)
    if kind is float:
        return repr(given)
    if kind is int:
        return str(given)
    if kind is bool:
        return "true" if given else "false"
    if kind in (datetime, date, time):
        return str(given.isoformat())
    if isinstance(given, Mapping):
        return f"{{ {', '.join(f'{key(k)} = {value(v)}' for k, v in given.items())} }}"
    if isinstance(given, list | tuple):
        return f"[{', '.join(map(value, given))}]"
    if isinstance(given, str):
        return _string(str(given))
    raise TypeError(f"no TOML for {kind.__name__}")


def key(name: str) -> str:
    """A key, quoted where it must be."""
    return name if _BARE.fullmatch(name) else _string(name)


def table(head: str, pairs: Iterable[tuple[str, Any]]) -> str:
    """A table with its head line, one pair a line, and an empty line after it."""
    lines = [head, *(f"{key(k)} = {value(v)}" for k, v in pairs), "\n"]
    return "\n".join(lines)


def _string(text: str) -> str:
    if _PLAIN.fullmatch(text):
        return f'"{text}"'
    return f'"{_SPECIAL.sub(_escaped, text)}"'


def _escaped(match: re.Match[str]) -> str:
    char = match[0]
    return _SHORT.get(char) or f"\\u{ord(char):04x}"
