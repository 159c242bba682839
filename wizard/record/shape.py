"""The shape of a record: what each table holds, how long, how large.

Invariant: a record that passes here can be folded without surprise: every text has a length,
every list a number of entries, every number is finite, every moment has its offset.
"""

from __future__ import annotations

from datetime import date, datetime
from typing import Any, Literal

from pydantic_core import CoreSchema, ValidationError
from pydantic_core import core_schema as cs

from wizard.answer import MAX_ROWS
from wizard.job import Act
from wizard.record.columns import Shape, column, rows

ID = r"[A-Z0-9][A-Za-z0-9._-]{0,63}"
FORMATS = {False: "wizard-job", True: "wizard-practice"}
"""The format that the first line names, for a job and for a practice run."""

MAX_EVENTS = 10_000
MAX_ANSWERS = 2_000
MAX_RAW = 200_000
"""Characters of one text as typed: a series of readings pasted in."""

KINDS = frozenset({"bool", "int", "float", "str", "datetime", "date", "list"})


def _kind(value: Any) -> str | None:
    """Which of the kinds of plain values this is; its own one alone is asked, not all in turn."""
    name = type(value).__name__
    if name in KINDS:
        return name
    return "str" if isinstance(value, str) else None


def _one_of(choices: dict[str, CoreSchema]) -> CoreSchema:
    """Any of these kinds of values."""
    return cs.tagged_union_schema(dict[Any, CoreSchema](choices), _kind)


def _text(most: int) -> CoreSchema:
    """A text of at most so many characters."""
    return cs.str_schema(max_length=most)


_SHA = cs.str_schema(pattern=r"^[0-9a-f]{64}\z", max_length=64)
_SHORT, _KEY, _LONG, _RAW = _text(200), _text(100), _text(4_000), _text(MAX_RAW)
_INTEGER = cs.int_schema(ge=-(2**53), le=2**53)
_POSITIVE = cs.int_schema(ge=1, le=2**53)
_NUMBER = cs.float_schema(allow_inf_nan=False)
_MOMENT = cs.datetime_schema(tz_constraint="aware")
_DAY = cs.date_schema()
_ACT = cs.enum_schema(Act, list(Act), sub_type="str", strict=False)
_SINGLE: dict[str, CoreSchema] = {
    "bool": cs.bool_schema(),
    "int": _INTEGER,
    "float": _NUMBER,
    "str": _RAW,
    "datetime": _MOMENT,
    "date": _DAY,
}
_ROW = cs.list_schema(_one_of(_SINGLE), max_length=100)
_ENTRIES = cs.list_schema(_one_of({**_SINGLE, "list": _ROW}), max_length=MAX_ROWS)
PLAIN = _one_of({**_SINGLE, "list": _ENTRIES})
"""What an event or an answer may hold."""


class JobTable(Shape):
    """[job]"""

    id: str = column(cs.str_schema(pattern=rf"^{ID}\z"))
    uuid: str = column(cs.str_schema(pattern=r"^[0-9a-f]{32}\z"))
    created: datetime = column(_MOMENT)
    units: Literal["us", "metric"] = column(cs.literal_schema(["us", "metric"]))
    chain: str = column(_SHA)


class AboutTable(Shape):
    """[about], the machine in words, for a reader and quick lists; nothing relies on it."""

    machine: str = column(_SHORT, default="")
    site: str = column(_SHORT, default="")
    technician: str = column(_SHORT, default="")
    day: str = column(_SHORT, default="")


class ProcedureTable(Shape):
    """[procedure]"""

    name: str = column(_SHORT)
    version: str = column(_SHORT)
    sha256: str = column(_SHA)


class StateTable(Shape):
    """[state], a summary for quick lists; nothing relies on it."""

    state: str = column(_SHORT)
    phase: str = column(_SHORT, default="")
    held: str = column(_LONG, default="")
    answered: int = column(_INTEGER)
    open: int = column(_INTEGER)
    holds: int = column(_INTEGER)
    failures: int = column(_INTEGER)
    advisories: int = column(_INTEGER)


class InstrumentRow(Shape, closed=True):
    """One of [[instruments]], and the data of the event that listed it."""

    name: str = column(_SHORT)
    kind: str = column(_SHORT)
    quantity: str = column(_SHORT, default="")
    of_reading: float = column(_NUMBER, default=0.0)
    of_scale: float = column(_NUMBER, default=0.0)
    full_scale: float = column(_NUMBER, default=0.0)
    fixed: float = column(_NUMBER, default=0.0)
    calibration_due: date | None = column(cs.nullable_schema(_DAY), default=None)


class MaintenanceRow(Shape):
    """One of [[maintenance]]"""

    key: str = column(_KEY)
    name: str = column(_LONG)
    due: date = column(_DAY)
    repeats: str = column(_SHORT, default="")
    won_by: str = column(_SHORT, default="")


class AnswerRow(Shape):
    """One of [[answers]]: an answer as it stands, and what was seen of it."""

    phase: int = column(_INTEGER, default=0)
    key: str = column(_KEY)
    ask: str = column(_LONG, default="")
    raw: str | None = column(cs.nullable_schema(_RAW), default=None)
    value: Any = column(cs.nullable_schema(PLAIN), default=None)
    readings: str = column(_SHORT, default="")
    unit: str = column(_SHORT, default="")
    verdict: str = column(_SHORT, default="")
    finding: str = column(_LONG, default="")
    limit: str = column(_SHORT, default="")
    instrument: str = column(_SHORT, default="")
    confirmed: str = column(_LONG, default="")
    waived: str = column(_LONG, default="")
    notes: list[str] | None = column(
        cs.nullable_schema(cs.list_schema(_LONG, max_length=1_000)), default=None
    )
    by: str = column(_SHORT)
    at: datetime = column(_MOMENT)
    seq: int = column(_POSITIVE)


class EventRow(Shape):
    """One of [[events]], its data apart from its own columns."""

    seq: int = column(_POSITIVE)
    act: Act = column(_ACT)
    key: str = column(_KEY, default="")
    at: datetime = column(_MOMENT)
    by: str = column(_SHORT)
    chain: str = column(_SHA)
    data: dict[str, Any] = column(cs.dict_schema(_KEY, PLAIN, max_length=50))


class SignoffRow(Shape):
    """One of [[signoffs]], a copy of what the event with this seq holds."""

    event: int = column(_POSITIVE)


class SealTable(Shape):
    """[seal]"""

    sha256: str = column(_SHA)


class Record(Shape):
    """A whole record."""

    format: str = column(cs.literal_schema([*FORMATS.values()]))
    practice: bool = column(cs.bool_schema(), default=False)
    min_writer: int = column(_POSITIVE)
    revision: int = column(_POSITIVE)
    job: JobTable = column(JobTable.schema)
    about: AboutTable = column(AboutTable.schema)
    state: StateTable = column(StateTable.schema)
    procedure: ProcedureTable = column(ProcedureTable.schema)
    settings: dict[str, Any] = column(cs.dict_schema(_KEY, PLAIN, max_length=100))
    maintenance: list[MaintenanceRow] = column(rows(MaintenanceRow, 500), default=[])
    instruments: list[InstrumentRow] = column(rows(InstrumentRow, 200), default=[])
    answers: list[AnswerRow] = column(rows(AnswerRow, MAX_ANSWERS), default=[])
    events: list[EventRow] = column(rows(EventRow, MAX_EVENTS), default=[])
    signoffs: list[SignoffRow] = column(rows(SignoffRow, 50), default=[])
    seal: SealTable = column(SealTable.schema)


def first_problem(problem: ValidationError) -> tuple[tuple[int | str, ...], str]:
    """Where the first thing that does not fit stands, and what is wrong with it."""
    first = problem.errors(include_url=False, include_input=False, include_context=False)[0]
    place = tuple(part for part in first["loc"] if part not in KINDS)
    if place[:1] == ("events",) and place[2:3] == ("data",):
        place = (*place[:2], *place[3:])
    if first["type"] == "union_tag_invalid" or first["type"] == "union_tag_not_found":
        return place, "not a number, text, date, yes or no, or a list of them"
    return place, first["msg"]
