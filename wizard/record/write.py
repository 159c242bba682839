"""A job as the bytes of its record.

Invariant: whatever is written here can be read back: rows are checked against the shape before
they become text. The file reads from top to bottom: what job, how it stands, the answers in
order, then the history, the sign-offs and the seal over every byte before it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict, dataclass, field
from hashlib import sha256
from typing import Any

import tomli_w
from pydantic_core import ValidationError

from wizard.errors import RecordError
from wizard.job import Act, Event, Job
from wizard.record import shape
from wizard.record.about import about
from wizard.record.chain import event_row, header_tables, link, parted, start
from wizard.record.columns import Shape
from wizard.record.entry import entry, signoff, told
from wizard.record.extra import NOTHING, Extra, Values
from wizard.record.fits import event_problem
from wizard.record.guard import MAX_BYTES
from wizard.record.plan import plan
from wizard.render import limit_text, units_for
from wizard.text import show

_UNLINKED = "0" * 64
SHOWN_NOTES = 20
SHORT, SHOWN = 200, 2000


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
    _events: list[tuple[Event, str, str]] = field(default_factory=list)
    _answers: dict[str, tuple[tuple[object, ...], str]] = field(default_factory=dict)

    def dumps(self, job: Job, revision: int, extra: Extra = NOTHING) -> bytes:
        """As the function of the same name."""
        first = start(job.header, extra)
        top, last = _unknown(extra)
        signed = [e for e in job.events if e.act is Act.SIGNED]
        parts = [
            _head(job, revision, extra, first, top),
            *_rows("maintenance", _maintenance_rows(job, extra), shape.MaintenanceRow),
            *_rows("instruments", _instrument_rows(job, extra), shape.InstrumentRow),
            *self._answer_texts(job, extra),
            *self._event_texts(job, first),
            *_rows("signoffs", map(signoff, signed), shape.SignoffRow),
            *last,
        ]
        body = "".join(parts).encode()
        seal = tomli_w.dumps({"seal": {"sha256": sha256(body).hexdigest()}}).encode()
        if len(body) + len(seal) > MAX_BYTES:
            raise RecordError(f"larger than {MAX_BYTES} bytes", job.header.id)
        return body + seal

    def _event_texts(self, job: Job, first: str) -> Iterable[str]:
        kept = self._events if first == self._first else []
        same = 0
        for (event, _, _), now in zip(kept, job.events, strict=False):
            if event is not now:
                break
            same += 1
        made = kept[:same]
        for event in job.events[same:]:
            row, what = event_row(event), f"event {event.seq}"
            _checked(shape.EventRow, {**parted(row), "chain": _UNLINKED}, what)
            if problem := event_problem(event.act, event.key, event.data):
                raise RecordError(f"cannot be recorded, {problem}", what)
            linked = link(made[-1][1] if made else first, row)
            made.append((event, linked, _row("events", {**row, "chain": linked})))
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
                before = (sources, _row("answers", row))
                self._answers[key] = before
            yield before[1]


def _head(job: Job, revision: int, extra: Extra, first: str, unknown: Values) -> str:
    """Everything before the first row; `unknown` are keys of a newer version at the top."""
    header, procedure = job.header, job.procedure
    top: dict[str, Any] = {"format": shape.FORMATS[header.practice_run]}
    if header.practice_run:
        top["practice"] = True
    top |= {"schema": extra.schema, "min_writer": extra.min_writer, "revision": revision}
    known = header_tables(header, extra)
    tables: dict[str, dict[str, Any]] = {
        "job": {**known["job"], "chain": first},
        "about": {name: text for name, text in asdict(about(job)).items() if text},
        "state": state_of(job),
        "procedure": {
            "name": procedure.name,
            "version": procedure.version,
            "sha256": procedure.sha256,
        },
        "settings": known["settings"],
    }
    for name in ("about", "state", "procedure"):
        tables[name] |= extra.of(name)
    _checked(shape.Record, {**top, **tables, "seal": {"sha256": _UNLINKED}}, "the head")
    return tomli_w.dumps({**top, **unknown, **tables}) + "\n"


def state_of(job: Job) -> dict[str, Any]:
    """The summary of how a job stands."""
    holds, following = job.holds(), job.next_item()
    state: dict[str, Any] = {"state": job.state}
    if following:
        phase = job.procedure.phase_of(following.key)
        state["phase"] = f"{phase.number} {phase.title}"[:SHORT]
    if holds:
        held = job.procedure.items[holds[0].key]
        said = f"{held.ask}: {holds[0].finding.text} {holds[0].finding.clears}"
        state["held"] = cut(f"Held in phase {held.phase} by {said.strip()}")
    return state | {
        "answered": len(job.answers),
        "open": len(job.open_items()),
        "holds": len(holds),
        "failures": len(job.failures()),
        "advisories": len(job.advisories()),
    }


def _answer_row(job: Job, key: str, waiver: Event | None) -> dict[str, Any]:
    """One answer with what was seen of it; what is absent is left out."""
    item, answer, finding = job.procedure.items.get(key), job.answers.get(key), job.finding(key)
    row: dict[str, Any] = {"phase": item.phase} if item else {}
    row |= {"key": key, "ask": cut(item.ask) if item else ""}
    given = entry(answer) if answer else {}
    if waiver and not answer:
        given = {"waived": job.waived[key], "by": waiver.by, "at": waiver.at, "seq": waiver.seq}
    row |= {n: given[n] for n in ("raw", "value", "readings", "unit") if n in given}
    if item and finding:
        limit = limit_text(finding.limit, units_for(item, answer, job.header.units))
        row |= {"verdict": finding.verdict.value, "finding": cut(told(finding.text))}
        row |= {"limit": limit[:SHORT]}
    row |= {n: v for n, v in given.items() if n not in row}
    notes = job.notes.get(key, ())[-SHOWN_NOTES:]
    row |= {
        "notes": [f"{cut(n.data['text'])} ({n.by}, {n.at:%Y-%m-%d %H:%M})" for n in notes] or None
    }
    return {k: v for k, v in row.items() if v is not None and (v != "" or k == "raw")}


def cut(text: str) -> str:
    """A text that is only shown, not longer than the record takes it."""
    return text if len(text) <= SHOWN else f"{text[: SHOWN - 1]}…"


def _instrument_rows(job: Job, extra: Extra) -> Iterable[Values]:
    for name, instrument in job.instruments.items():
        listed = {n: getattr(instrument, n) for n in instrument.__slots__}
        kept = {k: v for k, v in listed.items() if v}
        yield {"name": name, **kept, **extra.row("instruments", name)}


def _maintenance_rows(job: Job, extra: Extra) -> Iterable[Values]:
    for task in plan(job):
        row = {"key": task.key, "name": task.name, "due": task.due, "repeats": task.repeats}
        yield {**row, "won_by": task.won, **extra.row("maintenance", task.key)}


def _rows(name: str, rows: Iterable[Values], model: type[Shape]) -> Iterable[str]:
    for row in rows:
        _checked(model, row, name)
        yield _row(name, row)


def _row(name: str, row: Values) -> str:
    """One row of an array of tables, and an empty line.

    Asked for an array, tomli-w would put a short row on one line, which only goes at the top.
    """
    return tomli_w.dumps({name: row}).replace(f"[{name}]", f"[[{name}]]", 1) + "\n"


def _unknown(extra: Extra) -> tuple[dict[str, Any], list[str]]:
    """What a newer version has at the top: what stands there, and the text of its tables."""
    top, last = {}, []
    for name, given in extra.of("").items():
        text = tomli_w.dumps({name: given})
        if text.startswith("["):
            last.append(text + "\n")
        else:
            top[name] = given
    return top, last


def _checked(model: type[Shape], row: Values, what: str) -> None:
    try:
        model.of(row)
    except ValidationError as problem:
        place, said = shape.first_problem(problem)
        named = show(".".join(map(str, place)))[:200]
        raise RecordError(f"cannot be recorded, {named}: {said}", show(what)) from None
