"""Bytes of a record turned into plain tables, whatever the bytes are.

Invariant: nothing that the parser would choke on reaches it: dotted keys of thousands of parts,
deep nesting, endless numbers and multi-line strings are refused by scans that take linear time.
"""

from __future__ import annotations

import re
from typing import Any

import tomli

from wizard.errors import RecordDamaged
from wizard.text import show

MAX_BYTES = 4_000_000
MAX_PARTS = 16
MAX_NESTING = 8
MAX_LEFT = 60
MAX_TABLES = 20_000
MAX_BRACKETS = 400_000

_STRINGS = re.compile(rb'#[^\n]*|("""|\'\'\')|"(?:[^"\\\n]|\\.)*"|\'[^\'\n]*\'')
_DOTS = re.compile(rb"(?:\.[\w\- \t]*){%d}" % MAX_PARTS)
_DIGITS = re.compile(rb"0[xob]\w{100}")
_NOT_DOTS = bytes(set(range(256)) - set(b".\n"))
_NOT_BRACKETS = bytes(set(range(256)) - set(b"[]{}"))
_PLACE = re.compile(r" \(at (line (\d+), column \d+|end of document)\)$")


def parse(data: bytes, file: str) -> dict[str, Any]:
    """The tables in `data`; RecordDamaged with the line where they cannot be read."""
    text = _decoded(data, file)
    if problem := _too_much(data):
        raise RecordDamaged(problem, file)
    try:
        return tomli.loads(text)
    except (ValueError, RecursionError, MemoryError) as problem:
        said = show(problem)[:200] or "it does not fit in memory"
        place = _PLACE.search(said)
        raise RecordDamaged(
            f"not readable, {said[: place.start()] if place else said}",
            file,
            place[1].partition(",")[0] if place else "",
        ) from None


def _decoded(data: bytes, file: str) -> str:
    try:
        return data.decode()
    except UnicodeDecodeError as problem:
        line = f"line {data.count(10, 0, problem.start) + 1}"
        raise RecordDamaged("a byte that is not UTF-8 text", file, line) from None


def _too_much(data: bytes) -> str:
    """What makes the text unfit for the parser; empty where nothing does.

    The first look takes texts for syntax and so sees more than there is; only what looks suspect
    then is looked at again without its texts.
    """
    if data.count(b"\n[") > MAX_TABLES:
        return f"more than {MAX_TABLES} tables"
    if len(data.translate(None, _NOT_BRACKETS)) > MAX_BRACKETS:
        return f"more than {MAX_BRACKETS} brackets"
    if not _deep(data) and not _dotted(data) and not _DIGITS.search(data):
        return ""
    bare = _STRINGS.sub(rb"\1", _suspect(data))
    if b'"' in bare or b"'" in bare:
        return "a text that is not closed on its line"
    if _DOTS.search(bare):
        return f"a key of more than {MAX_PARTS} parts"
    if _DIGITS.search(bare):
        return "a number of more than 100 digits"
    return "brackets nested too deep" if _deep(bare) else ""


def _suspect(data: bytes) -> bytes:
    """The lines with too many dots, where nothing else is suspect and each line stands alone."""
    if b'"""' in data or b"'''" in data or _deep(data) or _DIGITS.search(data):
        return data
    return b"\n".join(row for row in data.split(b"\n") if row.count(b".") >= MAX_PARTS)


def _dotted(data: bytes) -> bool:
    """Whether a line has as many dots as a key may have parts."""
    return b"." * MAX_PARTS in data.translate(None, _NOT_DOTS)


def _deep(data: bytes) -> bool:
    """Whether many brackets are left when the innermost pairs are taken out a few times.

    A few that are left are a slip, and the parser names its line.
    """
    brackets = data.translate(None, _NOT_BRACKETS)
    for _ in range(MAX_NESTING):
        brackets = brackets.replace(b"[]", b"").replace(b"{}", b"")
    return len(brackets) > MAX_LEFT
