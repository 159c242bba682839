"""The shape of a record: what each table holds, how long, how large.

Invariant: a record that passes here can be folded without surprise: every text has a length,
every list a number of entries, every number is finite, every moment has its offset.

The tables are checked by pydantic's core, whose schemas are given here as they are: to have them
derived from annotated models would cost every command without a screen twice its other time.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence, Set
from datetime import date, datetime
from typing import Any, ClassVar, Literal, NamedTuple, Self

from pydantic_core import CoreSchema, SchemaValidator, ValidationError
from pydantic_core import core_schema as cs

from wizard.answer import MAX_ROWS
from wizard.job import Act

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


_ABSENT = object()


class _Column(NamedTuple):
    schema: CoreSchema
    absent: object


def _column(schema: CoreSchema, absent: object = _ABSENT) -> Any:
    """A column of a table, with what it is where it is left out, if it may be."""
    return _Column(schema, absent)


def _field(column: _Column) -> cs.ModelField:
    if column.absent is _ABSENT:
        return cs.model_field(column.schema)
    return cs.model_field(cs.with_default_schema(column.schema, default=column.absent))


class Shape:
    """A table; keys that this version does not know are let through and kept elsewhere.

    A shape is declared as a class of columns; one that is `closed` lets no other key through.
    """

    __slots__ = (
        "__dict__",
        "__pydantic_extra__",
        "__pydantic_fields_set__",
        "__pydantic_private__",
    )
    columns: ClassVar[Set[str]]
    schema: ClassVar[CoreSchema]
    _validator: ClassVar[SchemaValidator]

    def __init_subclass__(cls, *, closed: bool = False) -> None:
        own = {name: given for name, given in vars(cls).items() if isinstance(given, _Column)}
        for name in own:
            delattr(cls, name)
        fields = {name: _field(given) for name, given in own.items()}
        extra: cs.ExtraBehavior = "forbid" if closed else "ignore"
        config = cs.CoreConfig(strict=True, extra_fields_behavior=extra)
        cls.columns = own.keys()
        table = cs.model_fields_schema(fields, model_name=cls.__name__)
        cls.schema = cs.model_schema(cls, table, config=config)
        cls._validator = SchemaValidator(cls.schema)

    @classmethod
    def of(cls, table: Mapping[str, Any]) -> Self:
        """The table where it has this shape; ValidationError where it has not."""
        checked: Self = cls._validator.validate_python(table)
        return checked


def _rows(shape: type[Shape], most: int) -> Any:
    """An array of at most so many tables, which may be left out."""
    return _column(cs.list_schema(shape.schema, max_length=most), ())


class JobTable(Shape):
    """[job]"""

    id: str = _column(cs.str_schema(pattern=rf"^{ID}\z"))
    uuid: str = _column(cs.str_schema(pattern=r"^[0-9a-f]{32}\z"))
    created: datetime = _column(_MOMENT)
    units: Literal["us", "metric"] = _column(cs.literal_schema(["us", "metric"]))
    chain: str = _column(_SHA)


class AboutTable(Shape):
    """[about], the machine in words, for a reader and quick lists; nothing relies on it."""

    machine: str = _column(_SHORT, "")
    site: str = _column(_SHORT, "")
    technician: str = _column(_SHORT, "")
    day: str = _column(_SHORT, "")


class ProcedureTable(Shape):
    """[procedure]"""

    name: str = _column(_SHORT)
    version: str = _column(_SHORT)
    sha256: str = _column(_SHA)


class StateTable(Shape):
    """[state], a summary for quick lists; nothing relies on it."""

    state: str = _column(_SHORT)
    phase: str = _column(_SHORT, "")
    held: str = _column(_LONG, "")
    answered: int = _column(_INTEGER)
    open: int = _column(_INTEGER)
    holds: int = _column(_INTEGER)
    failures: int = _column(_INTEGER)
    advisories: int = _column(_INTEGER)


class InstrumentRow(Shape, closed=True):
    """One of [[instruments]], and the data of the event that listed it."""

    name: str = _column(_SHORT)
    kind: str = _column(_SHORT)
    quantity: str = _column(_SHORT, "")
    of_reading: float = _column(_NUMBER, 0.0)
    of_scale: float = _column(_NUMBER, 0.0)
    full_scale: float = _column(_NUMBER, 0.0)
    fixed: float = _column(_NUMBER, 0.0)
    calibration_due: date | None = _column(cs.nullable_schema(_DAY), None)


class MaintenanceRow(Shape):
    """One of [[maintenance]]"""

    key: str = _column(_KEY)
    name: str = _column(_LONG)
    due: date = _column(_DAY)
    repeats: str = _column(_SHORT, "")
    won_by: str = _column(_SHORT, "")


class AnswerRow(Shape):
    """One of [[answers]]: an answer as it stands, and what was seen of it."""

    phase: int = _column(_INTEGER, 0)
    key: str = _column(_KEY)
    ask: str = _column(_LONG, "")
    raw: str | None = _column(cs.nullable_schema(_RAW), None)
    value: Any = _column(cs.nullable_schema(PLAIN), None)
    readings: str = _column(_SHORT, "")
    unit: str = _column(_SHORT, "")
    verdict: str = _column(_SHORT, "")
    finding: str = _column(_LONG, "")
    limit: str = _column(_SHORT, "")
    instrument: str = _column(_SHORT, "")
    confirmed: str = _column(_LONG, "")
    waived: str = _column(_LONG, "")
    notes: list[str] | None = _column(
        cs.nullable_schema(cs.list_schema(_LONG, max_length=1_000)), None
    )
    by: str = _column(_SHORT)
    at: datetime = _column(_MOMENT)
    seq: int = _column(_POSITIVE)


class EventRow(Shape):
    """One of [[events]], its data apart from its own columns."""

    seq: int = _column(_POSITIVE)
    act: Act = _column(_ACT)
    key: str = _column(_KEY, "")
    at: datetime = _column(_MOMENT)
    by: str = _column(_SHORT)
    chain: str = _column(_SHA)
    data: dict[str, Any] = _column(cs.dict_schema(_KEY, PLAIN, max_length=50))


class SignoffRow(Shape):
    """One of [[signoffs]], a copy of what the event with this seq holds."""

    event: int = _column(_POSITIVE)


class SealTable(Shape):
    """[seal]"""

    sha256: str = _column(_SHA)


class Record(Shape):
    """A whole record."""

    format: str = _column(cs.literal_schema([*FORMATS.values()]))
    practice: bool = _column(cs.bool_schema(), False)
    min_writer: int = _column(_POSITIVE)
    revision: int = _column(_POSITIVE)
    job: JobTable = _column(JobTable.schema)
    about: AboutTable = _column(AboutTable.schema)
    state: StateTable = _column(StateTable.schema)
    procedure: ProcedureTable = _column(ProcedureTable.schema)
    settings: dict[str, Any] = _column(cs.dict_schema(_KEY, PLAIN, max_length=100))
    maintenance: Sequence[MaintenanceRow] = _rows(MaintenanceRow, 500)
    instruments: Sequence[InstrumentRow] = _rows(InstrumentRow, 200)
    answers: Sequence[AnswerRow] = _rows(AnswerRow, MAX_ANSWERS)
    events: Sequence[EventRow] = _rows(EventRow, MAX_EVENTS)
    signoffs: Sequence[SignoffRow] = _rows(SignoffRow, 50)
    seal: SealTable = _column(SealTable.schema)


def first_problem(problem: ValidationError) -> tuple[tuple[int | str, ...], str]:
    """Where the first thing that does not fit stands, and what is wrong with it."""
    first = problem.errors(include_url=False, include_input=False, include_context=False)[0]
    place = tuple(part for part in first["loc"] if part not in KINDS)
    if place[:1] == ("events",) and place[2:3] == ("data",):
        place = (*place[:2], *place[3:])
    if first["type"] == "union_tag_invalid" or first["type"] == "union_tag_not_found":
        return place, "not a number, text, date, yes or no, or a list of them"
    return place, first["msg"]
