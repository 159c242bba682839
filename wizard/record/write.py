"""A job as the bytes of its record.

Invariant: whatever is written here can be read back: rows are checked against the shape before
they become text. The file reads from top to bottom: what job, how it stands, the answers in
order, then the history, the sign-offs and the seal over every byte before it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass, field
from hashlib import sha256
from typing import Any

from pydantic import BaseModel, ValidationError

from wizard.errors import RecordError
from wizard.job import Act, Event, Job
from wizard.record import shape, toml
from wizard.record.about import about
from wizard.record.chain import Link, event_row, header_tables, link, start
from wizard.record.extra import NOTHING, Extra, Values
from wizard.record.fits import event_problem
from wizard.record.guard import MAX_BYTES
from wizard.record.plan import plan
from wizard.render import limit_text, units_for
from wizard.text import show

_UNLINKED = {"digest": "0" * 64, "chain": "0" * 64}
SHOWN_NOTES = 20
SHORT, SHOWN = 200, 2000
FORMATS = {False: "wizard-job", True: "wizard-practice"}


def dumps(job: Job, revision: int, extra: Extra = NOTHING) -> bytes:
    """The record of `job`; RecordError where it holds what no record may."""
    return Writer().dumps(job, revision, extra)


@dataclass
class Writer:
    """Writes one job again and again; rows that have not changed keep their text.

    The history only grows, so a save costs what the last answer changed and not what the
    whole job holds.
    """

    _first: str = ""
    _events: list[tuple[Event, Link, str]] = field(default_factory=list)
    _answers: dict[str, tuple[tuple[object, ...], str]] = field(default_factory=dict)

    def dumps(self, job: Job, revision: int, extra: Extra = NOTHING) -> bytes:
        """As the function of the same name."""
        parts = [
            *_head(job, revision, extra),
            *_rows("instruments", _instrument_rows(job, extra), shape.InstrumentRow),
            *_rows("maintenance", _maintenance_rows(job, extra), shape.MaintenanceRow),
            *self._answer_texts(job, extra),
            *self._event_texts(job, extra),
            *_rows("signoffs", _signoff_rows(job, extra), shape.SignoffRow),
            *_unknown(extra),
        ]
        body = "".join(parts).encode()
        seal = f'[seal]\nsha256 = "{sha256(body).hexdigest()}"\n'.encode()
        if len(body) + len(seal) > MAX_BYTES:
            raise RecordError(f"larger than {MAX_BYTES} bytes", job.header.id)
        return body + seal

    def _event_texts(self, job: Job, extra: Extra) -> Iterable[str]:
        first = start(job.header, extra)
        kept = self._events if first == self._first else []
        same = 0
        for (event, _, _), now in zip(kept, job.events, strict=False):
            if event is not now:
                break
            same += 1
        made = kept[:same]
        for event in job.events[same:]:
            row = event_row(event, extra.row("events", event.seq))
            _checked(shape.EventRow, {**row, **_UNLINKED}, f"event {event.seq}")
            if problem := event_problem(event.act, event.key, event.data):
                raise RecordError(f"cannot be recorded, {problem}", f"event {event.seq}")
            linked = link(made[-1][1].chain if made else first, row)
            row |= linked._asdict()
            made.append((event, linked, toml.table("[[events]]", row.items())))
        self._first, self._events = first, made
        return (text for _, _, text in made)

    def _answer_texts(self, job: Job, extra: Extra) -> Iterable[str]:
        waivers = {e.key: e for e in job.events if e.act is Act.NOT_APPLICABLE}
        known = job.procedure.items
        keys = [k for k in known if k in job.answers or k in job.waived]
        keys += [k for k in (*job.answers, *job.waived) if k not in known]
        for key in keys:
            sources = (
                job.answers.get(key),
                waivers.get(key),
                job.findings.get(key),
                job.notes.get(key),
                known.get(key),
                extra,
            )
            before = self._answers.get(key)
            if before is None or any(a is not b for a, b in zip(before[0], sources, strict=True)):
                row = {**_answer_row(job, key, waivers.get(key)), **extra.row("answers", key)}
                _checked(shape.AnswerRow, row, key)
                before = (sources, toml.table("[[answers]]", row.items()))
                self._answers[key] = before
            yield before[1]


def _head(job: Job, revision: int, extra: Extra) -> Iterable[str]:
    """Everything before the first row."""
    header, procedure = job.header, job.procedure
    top: dict[str, Any] = {"format": FORMATS[header.practice_run]}
    if header.practice_run:
        top["practice"] = True
    top |= {"schema": extra.schema, "min_writer": extra.min_writer, "revision": revision}
    top |= {k: v for k, v in extra.of("").items() if not _is_table(v)}
    tables = {
        **header_tables(header, extra),
        "procedure": {
            "name": procedure.name,
            "version": procedure.version,
            "sha256": procedure.sha256,
            **extra.of("procedure"),
        },
        "state": {**state_of(job), **extra.of("state")},
    }
    _checked(shape.Record, {**top, **tables, "seal": {"sha256": "0" * 64}}, "the head")
    yield "\n".join(f"{toml.key(k)} = {toml.value(v)}" for k, v in top.items()) + "\n\n"
    for name in ("job", "procedure", "settings", "state"):
        yield toml.table(f"[{name}]", tables[name].items())


def state_of(job: Job) -> dict[str, Any]:
    """The summary of how a job stands."""
    holds, following = job.holds(), job.next_item()
    state: dict[str, Any] = {"state": job.state}
    if following:
        phase = job.procedure.phase_of(following.key)
        state["phase"] = f"{phase.number} {phase.title}"[:SHORT]
    state |= {
        "answered": len(job.answers),
        "open": len(job.open_items()),
        "holds": len(holds),
        "failures": len(job.failures()),
        "advisories": len(job.advisories()),
    }
    if holds:
        held = job.procedure.items[holds[0].key]
        said = f"{held.ask}: {holds[0].finding.text} {holds[0].finding.clears}"
        state["held"] = cut(f"Held in phase {held.phase} by {said.strip()}")
    return state | {name: text for name, text in asdict(about(job)).items() if text}


def _answer_row(job: Job, key: str, waiver: Event | None) -> dict[str, Any]:
    """One answer with what was seen of it; what is absent is left out."""
    item, answer, finding = job.procedure.items.get(key), job.answers.get(key), job.finding(key)
    row: dict[str, Any] = {}
    if item:
        row |= {"phase": item.phase}
    row |= {"key": key, "ask": cut(item.ask) if item else ""}
    if answer:
        row |= {"raw": answer.raw, "value": _listed(answer.value), "unit": answer.unit}
    if item and finding:
        limit = limit_text(finding.limit, units_for(item, answer, job.header.units))
        row |= {"verdict": finding.verdict.value, "finding": cut(finding.text)}
        row |= {"limit": limit[:SHORT]}
    if answer:
        row |= {"instrument": answer.instrument, "confirmed": answer.confirmed}
        row |= {"by": answer.by, "at": answer.at, "seq": answer.seq}
    elif waiver:
        row |= {"waived": job.waived[key], "by": waiver.by, "at": waiver.at, "seq": waiver.seq}
    told = job.notes.get(key, ())[-SHOWN_NOTES:]
    row |= {
        "notes": [f"{cut(n.data['text'])} ({n.by}, {n.at:%Y-%m-%d %H:%M})" for n in told] or None
    }
    return {k: v for k, v in row.items() if v is not None and (v != "" or k == "raw")}


def cut(text: str) -> str:
    """A text that is only shown, not longer than the record takes it."""
    return text if len(text) <= SHOWN else f"{text[: SHOWN - 1]}…"


def _listed(value: Any) -> Any:
    return [_listed(v) for v in value] if isinstance(value, tuple) else value


def _instrument_rows(job: Job, extra: Extra) -> Iterable[Values]:
    for name, instrument in job.instruments.items():
        listed = {n: getattr(instrument, n) for n in instrument.__slots__}
        kept = {k: v for k, v in listed.items() if v}
        yield {"name": name, **kept, **extra.row("instruments", name)}


def _maintenance_rows(job: Job, extra: Extra) -> Iterable[Values]:
    for task in plan(job):
        row = {"key": task.key, "name": task.name, "due": task.due, "repeats": task.repeats}
        yield {**row, "won_by": task.won, **extra.row("maintenance", task.key)}


def _signoff_rows(job: Job, extra: Extra) -> Iterable[Values]:
    for event in job.events:
        if event.act is Act.SIGNED:
            row = {"event": event.seq, **event.data, "by": event.by, "at": event.at}
            yield {**row, **extra.row("signoffs", event.seq)}


def _rows(name: str, rows: Iterable[Values], model: type[BaseModel]) -> Iterable[str]:
    for row in rows:
        _checked(model, row, name)
        yield toml.table(f"[[{name}]]", row.items())


def _unknown(extra: Extra) -> Iterable[str]:
    """Tables of a newer version, as they were."""
    for name, given in extra.of("").items():
        if isinstance(given, Mapping):
            yield toml.table(f"[{toml.key(name)}]", given.items())
        elif _is_table(given):
            yield from (toml.table(f"[[{toml.key(name)}]]", row.items()) for row in given)


def _is_table(given: Any) -> bool:
    rows = isinstance(given, list) and bool(given) and all(isinstance(r, Mapping) for r in given)
    return rows or isinstance(given, Mapping)


def _checked(model: type[BaseModel], row: Values, what: str) -> None:
    try:
        model.model_validate(row)
    except ValidationError as problem:
        first = problem.errors(include_url=False, include_input=False)[0]
        place = ".".join(map(str, first["loc"]))
        raise RecordError(f"cannot be recorded, {place}: {first['msg']}", show(what)) from None
