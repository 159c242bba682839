"""The bytes of a record as a job.

Invariant: a record is used only when its seal, its shape and its history agree; what differs is
named, with its line, and nothing is repaired. Judgements are made anew, never read.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Set
from dataclasses import dataclass, field, replace
from hashlib import sha256
from math import isfinite
from types import MappingProxyType
from typing import Any, NamedTuple

from pydantic_core import ValidationError

from wizard.errors import InputError, RecordDamaged, RecordNewer
from wizard.job import Act, Event, Header, Job
from wizard.procedure.item import Procedure
from wizard.record import shape
from wizard.record.chain import links, parted, start
from wizard.record.differences import (
    Problem,
    chain_problems,
    entry_problems,
    instrument_problems,
    signoff_problems,
    verdict_problems,
)
from wizard.record.extra import Extra
from wizard.record.fits import answer_fits, event_problem
from wizard.record.guard import MAX_BYTES, MAX_NESTING, parse
from wizard.record.migrate import SCHEMA, STEPS, Step, migrated
from wizard.record.name import misnamed, named
from wizard.record.places import line_of
from wizard.settings import CHOICES, settings_from
from wizard.text import show
from wizard.visit import Visit

_SEAL = re.compile(rb'\n\[seal\]\nsha256 = "([0-9a-f]{64})"\n\Z')
_FIRST = re.compile(rb'format = "(wizard-job|wizard-practice)"\n')
_TABLES = ("", "job", "about", "state", "procedure")
_ROWS = {"instruments": "name", "maintenance": "key", "answers": "key"}
_KNOWN: Mapping[str, Set[str]] = {
    "": {*shape.Record.columns, "schema"},
    "job": shape.JobTable.columns,
    "about": shape.AboutTable.columns,
    "state": shape.StateTable.columns,
    "procedure": shape.ProcedureTable.columns,
    "instruments": shape.InstrumentRow.columns,
    "maintenance": shape.MaintenanceRow.columns,
    "answers": shape.AnswerRow.columns,
}
"""Tables and the rows of arrays, with the keys that this version knows; what stands beside the
columns of an event are its data."""


class Seen(NamedTuple):
    """What the record says was seen of an answer when it was saved; not to be relied on."""

    verdict: str
    finding: str
    limit: str


@dataclass(frozen=True)
class Loaded:
    """A record read: the job, its revision, what is wrong with it, what else it holds.

    `read_only` is a sentence that says why it may not be written; empty where it may.
    """

    job: Job
    revision: int
    problems: tuple[Problem, ...]
    read_only: str
    extra: Extra
    sha256: str
    older: int | None = None
    procedure: tuple[str, str] = ("", "")
    """The version and digest of the procedure that it was last written with."""
    seen: Mapping[str, Seen] = field(default_factory=dict)
    """What the record says was seen, by item."""
    chains: Mapping[int, str] = field(default_factory=dict)
    """The chain after each event, as the events make it; 0 is the point before the first."""

    @property
    def grave(self) -> tuple[Problem, ...]:
        """The problems that mean the record was changed outside the tool."""
        return tuple(p for p in self.problems if p.grave)


def loads(
    data: bytes,
    procedure: Procedure,
    name: str = "",
    *,
    schema: int = SCHEMA,
    steps: Mapping[int, Step] = STEPS,
) -> Loaded:
    """The record in `data`; `name` is its file name, which must go with the job's id.

    RecordDamaged where the seal, the syntax or the shape is broken; RecordNewer where a newer
    version wrote what this one cannot read. Breaks in the history are `problems` of the result.
    """
    file = show(name)
    _first_line(data, file)
    seal = _SEAL.search(data)
    sealed = seal and sha256(data[: seal.start() + 1]).hexdigest() == seal[1].decode()
    tables = _parsed(data, file, whole=bool(seal))
    found = _schema(tables, file)
    try:
        tables = migrated(tables, schema, steps)
        loaded = _loaded(tables, procedure, data, file)
    except (RecordDamaged, KeyError) as problem:
        if found > schema and sealed:
            raise RecordNewer(f"written by a newer version (schema {found})", file) from None
        if isinstance(problem, KeyError):
            raise RecordDamaged(f"no way from schema {found} to {schema}", file) from None
        raise
    if not sealed:
        where = next((p for p in loaded.grave), None)
        place = f"; {where}" if where else ""
        raise RecordDamaged(f"the seal does not match, something was changed{place}", file)
    if name and named(name) != loaded.job.header.id:
        raise misnamed(name, loaded.job.header.id)
    return replace(
        loaded,
        sha256=sha256(data).hexdigest(),
        older=found if found < schema else None,
        read_only=_why_read_only(loaded, found, schema),
    )


def _first_line(data: bytes, file: str) -> None:
    if len(data) > MAX_BYTES:
        raise RecordDamaged(f"larger than {MAX_BYTES} bytes, which no job is", file)
    if _FIRST.match(data):
        return
    if not data.strip(b"\0"):
        raise RecordDamaged("the file is empty", file)
    if data.startswith(b"\xef\xbb\xbf") or data[:60].count(b"\r\n"):
        raise RecordDamaged("saved again by an editor that changes line ends or marks", file)
    raise RecordDamaged("not the record of a job: the first line is not its format", file, "line 1")


def _parsed(data: bytes, file: str, *, whole: bool) -> dict[str, Any]:
    """The tables; where the file is not whole, the line that shows it or else that it was cut."""
    try:
        tables = parse(data, file)
    except RecordDamaged as problem:
        if whole or problem.where.startswith("line"):
            raise
    else:
        if whole:
            return tables
    raise RecordDamaged("the end is missing or altered; the file was cut or edited", file)


def _schema(tables: Mapping[str, Any], file: str) -> int:
    given = tables.get("schema")
    if type(given) is not int or not 0 <= given <= 10_000:
        raise RecordDamaged("without a schema number", file)
    return given


def _why_read_only(loaded: Loaded, found: int, schema: int) -> str:
    if loaded.grave:
        return f"Changed outside the tool: {loaded.grave[0]}"
    if found > schema and loaded.extra.min_writer > schema:
        return "Written by a newer version of the tool; this one can only read it."
    if found < schema and any(e.act is Act.SIGNED for e in loaded.job.events):
        return "Signed under an older version of the tool; signed records are never converted."
    return ""


def _loaded(tables: dict[str, Any], procedure: Procedure, data: bytes, file: str) -> Loaded:
    record = _shaped(tables, data, file)
    header = _header(record, file)
    extra = _extra(tables, record, file)
    events = tuple(Event(r.seq, r.act, r.at, r.by, r.key, r.data) for r in record.events)
    for place, event in enumerate(events):
        if problem := _event_problem(event):
            where = line_of(data, ("events", place))
            raise RecordDamaged(f"event {event.seq}: {problem}", file, where)
    job, misfits = _fold(header, procedure, events)
    first = start(header, extra)
    rows = tables.get("events", [])
    for row in rows:
        del row["chain"]  # a link covers all of its row but itself
    broken = [*chain_problems(record, first, rows, data)]
    problems = [
        *broken,
        *entry_problems(record, job, misfits, data),
        *instrument_problems(record, job),
        *signoff_problems(tables.get("signoffs", []), job),
        *verdict_problems(record, job, misfits),
    ]
    written = (record.procedure.version, record.procedure.sha256)
    seen = {r.key: Seen(r.verdict, r.finding, r.limit) for r in record.answers}
    made = links(first, rows) if broken else [r.chain for r in record.events]
    chains = {0: first} | {e.seq: linked for e, linked in zip(events, made, strict=True)}
    return Loaded(job, record.revision, tuple(problems), "", extra, "", None, written, seen, chains)


def _shaped(tables: dict[str, Any], data: bytes, file: str) -> shape.Record:
    try:
        return shape.Record.of(_apart(tables))
    except ValidationError as problem:
        place, said = shape.first_problem(problem)
        named = ".".join(map(str, place))
        raise RecordDamaged(show(f"{named}: {said}")[:300], file, line_of(data, place)) from None


def _apart(tables: dict[str, Any]) -> dict[str, Any]:
    """The tables with the data of each event apart from its columns."""
    rows = tables.get("events")
    if not isinstance(rows, list) or not all(isinstance(r, dict) for r in rows):
        return tables
    return {**tables, "events": [parted(row) for row in rows]}


def _header(record: shape.Record, file: str) -> Header:
    if record.format != shape.FORMATS[record.practice]:
        raise RecordDamaged("its first line and its practice mark disagree", file)
    known = {k: v for k, v in record.settings.items() if k in CHOICES}
    try:
        settings = settings_from(known)
    except InputError as problem:
        raise RecordDamaged(show(problem), file) from None
    job = record.job
    return Header(job.id, job.uuid, job.created, job.units, record.practice, settings)


def _event_problem(event: Event) -> str:
    if event.act is Act.INSTRUMENT:
        try:
            shape.InstrumentRow.of(dict(event.data))
        except ValidationError:
            return "not an instrument"
    return event_problem(event.act, event.key, event.data)


def _extra(tables: dict[str, Any], record: shape.Record, file: str) -> Extra:
    """All keys that the shape does not know."""

    def beyond(row: Mapping[str, Any], known: Set[str]) -> dict[str, Any]:
        more = {k: row[k] for k in row if k not in known} if row.keys() - known else {}
        if not _sound(more):
            raise RecordDamaged("an unknown key with a value nested too deep or not finite", file)
        return more

    unknown = {name: beyond(tables[name] if name else tables, _KNOWN[name]) for name in _TABLES}
    rows: dict[str, dict[Any, dict[str, Any]]] = {}
    for name, identity in _ROWS.items():
        found = {r[identity]: m for r in tables.get(name, ()) if (m := beyond(r, _KNOWN[name]))}
        if found:
            rows[name] = found
    return Extra(tables["schema"], record.min_writer, tables["settings"], unknown, rows)


def _sound(given: Any, levels: int = MAX_NESTING) -> bool:
    """Whether all numbers are finite and nothing is nested deeper than this."""
    if isinstance(given, float):
        return isfinite(given)
    inner = given.values() if isinstance(given, dict) else given if isinstance(given, list) else ()
    return levels > 0 and all(_sound(v, levels - 1) for v in inner)


def _fold(
    header: Header, procedure: Procedure, events: tuple[Event, ...]
) -> tuple[Job, tuple[str, ...]]:
    """The job of these events, and the answers that do not fit their item and are left out."""
    bare = replace(procedure, items={}, dependents={})
    job = replace(Job.replay(header, bare, events), procedure=procedure)
    misfits = tuple(
        key
        for key, answer in job.answers.items()
        if key in procedure.items and not answer_fits(procedure.items[key], answer)
    )
    fitting = {k: a for k, a in job.answers.items() if k not in misfits}
    visits = {number: _fitting(visit, procedure) for number, visit in job.visits.items()}
    job = replace(job, answers=MappingProxyType(fitting), visits=visits)
    return job.judged(tuple(procedure.items)), misfits


def _fitting(visit: Visit, procedure: Procedure) -> Visit:
    """The visit with those of its answers that fit their items."""
    known = procedure.items
    fits = {k: a for k, a in visit.answers.items() if k in known and answer_fits(known[k], a)}
    return replace(visit, answers=fits)
