"""The shape of a record: what each table holds, how long, how large.

Invariant: a record that passes here can be folded without surprise: every text has a length,
every list a number of entries, every number is finite, every moment has its offset.
"""

from __future__ import annotations

from datetime import date
from typing import Annotated, Any, Literal

from pydantic import (
    AwareDatetime,
    BaseModel,
    ConfigDict,
    Discriminator,
    Field,
    Tag,
    ValidationError,
)

from wizard.answer import MAX_ROWS
from wizard.job import Act

ID = r"[A-Z0-9][A-Za-z0-9._-]{0,63}"
MAX_EVENTS = 10_000
MAX_ANSWERS = 2_000
MAX_RAW = 200_000
"""Characters of one text as typed: a series of readings pasted in."""

Sha = Annotated[str, Field(pattern=r"^[0-9a-f]{64}\z", max_length=64)]
Short = Annotated[str, Field(max_length=200)]
Key = Annotated[str, Field(max_length=100)]
Text = Annotated[str, Field(max_length=4_000)]
Raw = Annotated[str, Field(max_length=MAX_RAW)]
Integer = Annotated[int, Field(ge=-(2**53), le=2**53)]
Positive = Annotated[int, Field(ge=1, le=2**53)]
Number = Annotated[float, Field(allow_inf_nan=False)]


def _kind(value: Any) -> str | None:
    """Which of the kinds of plain values this is; its own one alone is asked, not all in turn."""
    name = type(value).__name__
    if name in KINDS:
        return name
    return "str" if isinstance(value, str) else None


KINDS = frozenset({"bool", "int", "float", "str", "datetime", "date", "list"})
_Bool = Annotated[bool, Tag("bool")]
_Int = Annotated[Integer, Tag("int")]
_Float = Annotated[Number, Tag("float")]
_Str = Annotated[Raw, Tag("str")]
_Moment = Annotated[AwareDatetime, Tag("datetime")]
_Day = Annotated[date, Tag("date")]
Scalar = Annotated[_Bool | _Int | _Float | _Str | _Moment | _Day, Discriminator(_kind)]
_Row = Annotated[list[Scalar], Field(max_length=100), Tag("list")]
_Entry = Annotated[_Bool | _Int | _Float | _Str | _Moment | _Day | _Row, Discriminator(_kind)]
_Entries = Annotated[list[_Entry], Field(max_length=MAX_ROWS), Tag("list")]
Plain = Annotated[_Bool | _Int | _Float | _Str | _Moment | _Day | _Entries, Discriminator(_kind)]
"""What an event or an answer may hold."""


class Shape(BaseModel):
    """A table; keys that this version does not know are let through and kept elsewhere."""

    model_config = ConfigDict(strict=True, extra="ignore", frozen=True)


class JobTable(Shape):
    """[job]"""

    id: Annotated[str, Field(pattern=rf"^{ID}\z")]
    uuid: Annotated[str, Field(pattern=r"^[0-9a-f]{32}\z")]
    created: AwareDatetime
    units: Literal["us", "metric"]
    chain: Sha


class AboutTable(Shape):
    """[about], the machine in words, for a reader and quick lists; nothing relies on it."""

    machine: Short = ""
    site: Short = ""
    technician: Short = ""
    day: Short = ""


class ProcedureTable(Shape):
    """[procedure]"""

    name: Short
    version: Short
    sha256: Sha


class StateTable(Shape):
    """[state], a summary for quick lists; nothing relies on it."""

    state: Short
    phase: Short = ""
    held: Text = ""
    answered: Integer
    open: Integer
    holds: Integer
    failures: Integer
    advisories: Integer


class InstrumentRow(Shape):
    """One of [[instruments]], and the data of the event that listed it."""

    model_config = ConfigDict(strict=True, extra="forbid", frozen=True)

    name: Short
    kind: Short
    quantity: Short = ""
    of_reading: Number = 0.0
    of_scale: Number = 0.0
    full_scale: Number = 0.0
    fixed: Number = 0.0
    calibration_due: date | None = None


class MaintenanceRow(Shape):
    """One of [[maintenance]]"""

    key: Key
    name: Text
    due: date
    repeats: Short = ""
    won_by: Short = ""


class AnswerRow(Shape):
    """One of [[answers]]: an answer as it stands, and what was seen of it."""

    phase: Integer = 0
    key: Key
    ask: Text = ""
    raw: Raw | None = None
    value: Plain | None = None
    readings: Short = ""
    unit: Short = ""
    verdict: Short = ""
    finding: Text = ""
    limit: Short = ""
    instrument: Short = ""
    confirmed: Text = ""
    waived: Text = ""
    notes: Annotated[list[Text], Field(max_length=1_000)] | None = None
    by: Short
    at: AwareDatetime
    seq: Positive


class EventRow(Shape):
    """One of [[events]], its data apart from its own columns."""

    seq: Positive
    act: Annotated[Act, Field(strict=False)]
    key: Key = ""
    at: AwareDatetime
    by: Short
    chain: Sha
    data: Annotated[dict[Key, Plain], Field(max_length=50)]


class SignoffRow(Shape):
    """One of [[signoffs]], a copy of what the event with this seq holds."""

    event: Positive


class SealTable(Shape):
    """[seal]"""

    sha256: Sha


class Record(Shape):
    """A whole record."""

    format: Literal["wizard-job", "wizard-practice"]
    practice: bool = False
    min_writer: Positive
    revision: Positive
    job: JobTable
    about: AboutTable
    state: StateTable
    procedure: ProcedureTable
    settings: Annotated[dict[Key, Plain], Field(max_length=100)]
    maintenance: Annotated[list[MaintenanceRow], Field(max_length=500)] = []
    instruments: Annotated[list[InstrumentRow], Field(max_length=200)] = []
    answers: Annotated[list[AnswerRow], Field(max_length=MAX_ANSWERS)] = []
    events: Annotated[list[EventRow], Field(max_length=MAX_EVENTS)] = []
    signoffs: Annotated[list[SignoffRow], Field(max_length=50)] = []
    seal: SealTable


def first_problem(problem: ValidationError) -> tuple[tuple[int | str, ...], str]:
    """Where the first thing that does not fit stands, and what is wrong with it."""
    first = problem.errors(include_url=False, include_input=False, include_context=False)[0]
    place = tuple(part for part in first["loc"] if part not in KINDS)
    if place[:1] == ("events",) and place[2:3] == ("data",):
        place = (*place[:2], *place[3:])
    if first["type"] == "union_tag_invalid" or first["type"] == "union_tag_not_found":
        return place, "not a number, text, date, yes or no, or a list of them"
    return place, first["msg"]
