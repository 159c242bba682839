"""The first lines of a record, for lists of thousands: quick, and not to be relied on."""

from __future__ import annotations

import re
from dataclasses import dataclass

from wizard.errors import RecordDamaged
from wizard.record.guard import parse

HEAD = 8_192
"""Bytes that hold everything before the first row."""

_ROWS = re.compile(rb"\n\[\[[\w-]+\]\]|\n\[seal\]")


@dataclass(frozen=True, slots=True)
class Summary:
    """What a record says of itself; the seal and the history are not looked at."""

    id: str
    revision: int
    practice: bool
    units: str
    state: str
    phase: str
    answered: int
    open: int
    holds: int
    failures: int
    advisories: int
    held: str
    machine: str = ""
    site: str = ""
    technician: str = ""
    day: str = ""


def summary(first: bytes, file: str = "") -> Summary:
    """The summary from the first `HEAD` bytes of a record; RecordDamaged where there is none."""
    end = _ROWS.search(first)
    tables = parse(first[: end.start() + 1] if end else first, file)
    job, state, about = tables.get("job"), tables.get("state"), tables.get("about", {})
    if not isinstance(job, dict) or not isinstance(state, dict) or not isinstance(about, dict):
        raise RecordDamaged("without [job] or [state]", file)

    def text(name: str, table: dict[str, object] = state) -> str:
        given = table.get(name, "")
        return given[:400] if isinstance(given, str) else ""

    def number(name: str, table: dict[str, object] = state) -> int:
        given = table.get(name, 0)
        return given if type(given) is int and abs(given) < 2**53 else 0

    return Summary(
        id=text("id", job),
        revision=number("revision", tables),
        practice=tables.get("practice") is True,
        units=text("units", job),
        state=text("state"),
        phase=text("phase"),
        answered=number("answered"),
        open=number("open"),
        holds=number("holds"),
        failures=number("failures"),
        advisories=number("advisories"),
        held=text("held"),
        machine=text("machine", about),
        site=text("site", about),
        technician=text("technician", about),
        day=text("day", about),
    )
