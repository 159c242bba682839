"""The chain over the events: each link covers everything before it.

Invariant: the canonical form is JSON with sorted keys, no spaces, floats by repr and datetimes by
isoformat with their offset; a link is sha256(previous link + canonical event) in hexadecimal.
The first link follows the digest of what the record says of the job itself. The data of an event
stand beside its own columns and never bear the name of one.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from datetime import date, datetime, time
from hashlib import sha256
from typing import Any

from wizard.errors import RecordError
from wizard.job import Event, Header, Job
from wizard.record.extra import NOTHING, Extra
from wizard.settings import as_mapping

COLUMNS = frozenset({"seq", "act", "key", "at", "by", "chain"})
"""What the row of every event has of its own."""


def _iso(given: Any) -> str:
    if isinstance(given, datetime | date | time):
        return given.isoformat()
    raise TypeError(f"no canonical form for {type(given).__name__}")


_ENCODER = json.JSONEncoder(
    sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False, default=_iso
)


def canonical(given: Any) -> bytes:
    """The one byte form of a value that is hashed.

    >>> canonical({"b": 1.0, "a": [True, "é"]})
    b'{"a":[true,"\\xc3\\xa9"],"b":1.0}'
    """
    return _ENCODER.encode(given).encode()


def header_tables(header: Header, extra: Extra = NOTHING) -> dict[str, dict[str, Any]]:
    """[job] and [settings]: what the record says of the job before any event."""
    job = {
        "id": header.id,
        "uuid": header.uuid,
        "created": header.created,
        "units": header.units,
    }
    settings = as_mapping(header.settings) if extra.settings is None else extra.settings
    return {"job": {**job, **extra.of("job")}, "settings": dict(settings)}


def start(header: Header, extra: Extra = NOTHING) -> str:
    """What the first link follows."""
    tables = {**header_tables(header, extra), "practice": header.practice_run}
    return sha256(canonical(tables)).hexdigest()


def event_row(event: Event) -> dict[str, Any]:
    """An event as the record holds it, without its link; what is absent is left out."""
    if taken := COLUMNS & event.data.keys():
        said = f"cannot be recorded, {min(taken)} is a column of every event and none of its data"
        raise RecordError(said, f"event {event.seq}")
    row: dict[str, Any] = {"seq": event.seq, "act": event.act.value}
    if event.key:
        row["key"] = event.key
    row |= {"at": event.at, "by": event.by}
    return row | {name: v for name, v in event.data.items() if v is not None}


def parted(row: Mapping[str, Any]) -> dict[str, Any]:
    """The columns of an event row, and its data apart from them."""
    data = dict(row)
    own = {name: data.pop(name) for name in COLUMNS if name in data}
    own["data"] = data
    return own


def link(previous: str, row: Mapping[str, Any]) -> str:
    """The link of an event row after the link before it."""
    return sha256(previous.encode() + canonical(row)).hexdigest()


def links(first: str, rows: Iterable[Mapping[str, Any]]) -> list[str]:
    """The links of all rows in order, after `first`."""
    out = [first]
    for row in rows:
        out.append(link(out[-1], row))
    return out[1:]


def chains(job: Job, extra: Extra = NOTHING) -> dict[int, str]:
    """The chain after each event, by its seq; 0 is the point before the first."""
    first = start(job.header, extra)
    made = links(first, map(event_row, job.events))
    return {0: first} | {e.seq: linked for e, linked in zip(job.events, made, strict=True)}


def head(job: Job, extra: Extra = NOTHING) -> tuple[int, str]:
    """(seq, chain) of the last event: the point in the history that a sign-off accepts."""
    return list(chains(job, extra).items())[-1]
