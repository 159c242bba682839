"""Where in the file something stands, for messages that can be followed with an editor."""

from __future__ import annotations

import re
from collections.abc import Sequence


def line_of(data: bytes, place: Sequence[str | int]) -> str:
    """The line of a table, of a row by its index, or of a key in it, as "line 12".

    >>> text = b'format = "wizard-job"\\n[job]\\nid = "J1"\\n\\n[[events]]\\nseq = 1\\n'
    >>> line_of(text, ("job", "id")), line_of(text, ("events", 0)), line_of(text, ("events", 7))
    ('line 3', 'line 5', '')
    """
    if not place:
        return ""
    name = re.escape(str(place[0]).encode())
    rest = list(place[1:])
    if rest and isinstance(rest[0], int):
        starts = [m.start() for m in re.finditer(rb"^\[\[%s\]\]" % name, data, re.M)]
        number = int(rest.pop(0))
        if number >= len(starts):
            return ""
        start = starts[number]
    else:
        found = re.search(rb"^(\[%s\]|%s =)" % (name, name), data, re.M)
        if found is None:
            return ""
        start = found.start()
    end = data.find(b"\n[", start)
    key = str(rest[0]).encode() if rest else b""
    inner = re.compile(rb"^%s =" % re.escape(key), re.M) if key else None
    found = inner.search(data, start, end if end >= 0 else len(data)) if inner else None
    return f"line {data.count(10, 0, found.start() if found else start) + 1}"
