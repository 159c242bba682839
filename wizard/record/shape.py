"""The shape of a record: what each table holds, how long, how large.

Invariant: a record that passes here can be folded without surprise: every text has a length,
every list a number of entries, every number is finite, every moment has its offset.
"""

from __future__ import annotations

from datetime import date
from typing import Annotated, Literal

from pydantic import AwareDatetime, BaseModel, ConfigDict, Field

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
Scalar = bool | int | Number | Raw | AwareDatetime | date
"""The range of an int is looked at elsewhere: refused here, it would pass as a float."""

Entries = Annotated[
    list[Scalar | Annotated[list[Scalar], Field(max_length=100)]], Field(max_length=MAX_ROWS)
]
Plain = Scalar | Entries


class Shape(BaseModel):
    """A table; keys that this version does not know are let through and kept elsewhere."""

    model_config = ConfigDict(strict=True, extra="ignore", frozen=True)


class JobTable(Shape):
    """[job]"""

    id: Annotated[str, Field(pattern=rf"^{ID}\z")]
    uuid: Annotated[str, Field(pattern=r"^[0-9a-f]{32}\z")]
    created: AwareDatetime
    units: Literal["us", "metric"]


class ProcedureTable(Shape):
    """[procedure]"""

    name: Short
    version: Short
    sha256: Sha


class StateTable(Shape):
    """[state], a summary for quick lists; nothing relies on it."""

    state: Short
    phase: Short = ""
    answered: Integer
    open: Integer
    holds: Integer
    failures: Integer
    advisories: Integer
    held: Text = ""
    machine: Short = ""
    site: Short = ""
    technician: Short = ""
    day: Short = ""


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
    unit: Short = ""
    verdict: Short = ""
    finding: Text = ""
    limit: Short = ""
    instrument: Short = ""
    confirmed: Text = ""
    waived: Text = ""
    notes: Annotated[list[Text], Field(max_length=1_000)] = []
    by: Short
    at: AwareDatetime
    seq: Positive


class EventRow(Shape):
    """One of [[events]]"""

    seq: Positive
    act: Annotated[Act, Field(strict=False)]
    key: Key = ""
    at: AwareDatetime
    by: Short
    data: Annotated[dict[Key, Plain], Field(max_length=50)] = {}
    digest: Sha
    chain: Sha


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
    procedure: ProcedureTable
    settings: Annotated[dict[Key, Plain], Field(max_length=100)]
    state: StateTable
    instruments: Annotated[list[InstrumentRow], Field(max_length=200)] = []
    maintenance: Annotated[list[MaintenanceRow], Field(max_length=500)] = []
    answers: Annotated[list[AnswerRow], Field(max_length=MAX_ANSWERS)] = []
    events: Annotated[list[EventRow], Field(max_length=MAX_EVENTS)] = []
    signoffs: Annotated[list[SignoffRow], Field(max_length=50)] = []
    seal: SealTable
