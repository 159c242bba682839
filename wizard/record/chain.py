"""The chain over the events: each link covers everything before it.

Invariant: the canonical form is JSON with sorted keys, no spaces, floats by repr and datetimes by
isoformat with their offset; a link is sha256(previous link + canonical event) in hexadecimal.
The first link follows the digest of what the record says of the job itself.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from datetime import date, datetime, time
from hashlib import sha256
from typing import Any, NamedTuple

from wizard.job import Event, Header, Job
from wizard.record.extra import NOTHING, Extra, Values
from wizard.settings import as_mapping


class Link(NamedTuple):
    """The digest of one event by itself, and the chain up to and including it."""

    digest: str
    chain: str


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


def event_row(event: Event, extra: Values | None = None) -> dict[str, Any]:
    """An event as the record holds it, without its link; what is absent is left out."""
    row: dict[str, Any] = {"seq": event.seq, "act": event.act.value}
    if event.key:
        row["key"] = event.key
    row |= {"at": event.at, "by": event.by}
    data = {name: v for name, v in event.data.items() if v is not None}
    if data:
        row["data"] = data
    return row | dict(extra) if extra else row


def link(previous: str, row: Mapping[str, Any]) -> Link:
    """The link of an event row after the link before it."""
    covered = canonical(row)
    return Link(sha256(covered).hexdigest(), sha256(previous.encode() + covered).hexdigest())


def links(first: str, rows: Iterable[Mapping[str, Any]]) -> list[Link]:
    """The links of all rows in order, after `first`."""
    out: list[Link] = []
    for row in rows:
        out.append(link(out[-1].chain if out else first, row))
    return out


def chains(job: Job, extra: Extra = NOTHING) -> dict[int, str]:
    """The chain after each event, by its seq; 0 is the point before the first."""
    first = start(job.header, extra)
    made = links(first, (event_row(e, extra.row("events", e.seq)) for e in job.events))
    return {0: first} | {e.seq: m.chain for e, m in zip(job.events, made, strict=True)}


def head(job: Job, extra: Extra = NOTHING) -> tuple[int, str]:
    """(seq, chain) of the last event: the point in the history that a sign-off accepts."""
    return list(chains(job, extra).items())[-1]
