"""Text from outside made safe to show.

Invariant: what `show` returns holds no control, bidirectional, zero-width or surrogate character,
so it cannot move the cursor, reach the clipboard or reorder what a person reads. It is still
plain text: whoever renders it must not read it as markup.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping

MAX_SHOWN = 2000
"""Characters shown of one text."""

_BLANK = (
    "\u034f\u115f\u1160\u17b4\u17b5\u180b-\u180f\u2800\u3164\ufe00-\ufe0f\uffa0"
    "\U000e0100-\U000e01ef"
)
_INVISIBLE = re.compile(f"[{_BLANK}]")
_SUSPECT = re.compile(r"[^\x20-\x7e]")


def show(text: object) -> str:
    """`text` with every character visible that a terminal or an eye could be fooled by.

    >>> show("4.2 bar"), show("a\\x1b[31mb"), show("1\\u202e2"), show("x\\ty")
    ('4.2 bar', 'a␛[31mb', '1‹U+202E›2', 'x␉y')
    """
    plain = str(text)
    if len(plain) > MAX_SHOWN:
        plain = f"{plain[: MAX_SHOWN - 1]}…"
    if plain.isprintable() and (plain.isascii() or not _INVISIBLE.search(plain)):
        return plain
    return _SUSPECT.sub(_visible, plain)


def clean(text: str) -> str:
    """Typed text without control, bidi and zero-width characters, on one line."""
    kept = "".join(c if c.isprintable() else " " if c.isspace() else "" for c in text)
    return " ".join(kept.split())


def wants_ascii(environment: Mapping[str, str]) -> bool:
    """Whether somebody asked for the plain C locale, which Python by itself takes for UTF-8.

    >>> wants_ascii({"LANG": "C", "LC_CTYPE": "C.UTF-8"}), wants_ascii({"LANG": "C.UTF-8"})
    (True, False)
    """
    kind = environment.get("LC_CTYPE", "")
    kind = "" if kind == "C.UTF-8" else kind  # what Python sets for itself in the C locale
    named = environment.get("LC_ALL") or kind or environment.get("LANG", "")
    return named in ("C", "POSIX")


def _visible(match: re.Match[str]) -> str:
    """One character as itself where it is harmless, else as a picture or its number."""
    char = match[0]
    code = ord(char)
    if code < 0x20:
        return chr(0x2400 + code)
    if code == 0x7F:
        return "␡"
    if char.isprintable() and not _INVISIBLE.match(char):
        return char
    return " " if unicodedata.category(char) == "Zs" else f"‹U+{code:04X}›"
