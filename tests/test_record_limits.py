"""What no record may hold: names, sizes and values that could not be read back."""

from __future__ import annotations

import tomllib
from dataclasses import replace
from datetime import datetime
from typing import Any

import pytest

from tests.small import START_TIME, new_job
from tests.test_job import full
from tests.test_record import PROCEDURE, rewritten, sealed
from wizard.errors import InputError, RecordDamaged, RecordError
from wizard.job import Act, Event, Job
from wizard.record import check_id, dumps, id_of, loads, shape
from wizard.record.columns import Shape

# -- what no record may hold ---------------------------------------------------------


@pytest.mark.parametrize(
    "event",
    [
        Event(1, Act.NOTED, START_TIME, "x" * 201, "", {"text": "hello"}),
        Event(1, Act.NOTED, START_TIME, "Tess", "", {"text": "x" * 200_001}),
        Event(1, Act.NOTED, datetime(2026, 3, 2), "Tess", "", {"text": "naive"}),
        Event(1, Act.NOTED, START_TIME, "Tess", "", {"text": "hello", "value": float("inf")}),
        Event(1, Act.NOTED, START_TIME, "Tess", "", {"text": "hello", "value": 2**60}),
        Event(1, Act.ANSWERED, START_TIME, "Tess", "", {"raw": "yes", "value": True}),
        Event(1, Act.ANSWERED, START_TIME, "Tess", "start.date", {"raw": "d", "value": START_TIME}),
        Event(1, Act.LAP, START_TIME, "Tess", "vent.time", {"raw": "1", "seconds": True}),
        Event(1, Act.NOTED, START_TIME, "Tess \ud800", "", {"text": "hello"}),
        Event(1, Act.NOTED, START_TIME, "Tess", "", {"text": "hello", "value": {"a": {"b": 1}}}),
        Event(1, Act.NOTED, START_TIME, "Tess", "", {"text": "hello", "value": object()}),
        Event(1, Act.NOTED, START_TIME, "Tess", "", {"text": "hello", "value": [2**60]}),
        Event(1, Act.NOTED, START_TIME, "Tess", "", {"text": "hello", "value": [[float("nan")]]}),
    ],
)
def test_what_could_not_be_read_back_is_not_written(event: Event) -> None:
    job = replace(new_job(), events=(event,))
    with pytest.raises(RecordError, match="cannot be recorded"):
        dumps(job, 1)


@pytest.mark.parametrize("name", ["seq", "act", "key", "at", "by", "chain"])
def test_no_datum_of_an_event_bears_the_name_of_a_column(name: str) -> None:
    event = Event(1, Act.NOTED, START_TIME, "Tess", "", {"text": "hello", name: "x"})
    with pytest.raises(RecordError, match=f"event 1.*{name} is a column of every event"):
        dumps(replace(new_job(), events=(event,)), 1)
    text = dumps(full(), 1).decode()
    head, mark, events = text.partition("[[events]]\n")
    with pytest.raises(RecordDamaged, match=r"line \d+: not readable, Cannot overwrite a value"):
        loads(sealed(head + mark + f"key = 'x'\n{name} = 'x'\n" + events), PROCEDURE)


def test_a_record_beyond_the_largest_that_is_read_is_not_written() -> None:
    note = {"text": "x" * 190_000}
    events = tuple(Event(n, Act.NOTED, START_TIME, "Tess", "", note) for n in range(1, 25))
    with pytest.raises(RecordError, match="larger than 4000000 bytes"):
        dumps(replace(new_job(), events=events), 1)


@pytest.mark.parametrize(
    "name",
    ["../x", "a/b", ".", "..", "-rf", "CON", "COM1", "Aux.x", "lpt9.1", "J" * 65, "J1\n", "",
     "é", "Jé", "e\u0301", "J1\udcff", "j1", " J1", "J1.", "J1.toml", "J1.conflict-a", "J\0"],
)  # fmt: skip
def test_a_name_that_could_mean_something_else_is_no_job_id(name: str) -> None:
    with pytest.raises(InputError, match="job id") as caught:
        check_id(name)
    assert str(caught.value).isprintable()
    assert check_id("J1042") == "J1042" and check_id("2026-03.A_b") == "2026-03.A_b"


@pytest.mark.parametrize("name", ["J1.txt", "J1", ".J1.toml", "j1.toml", "J1.toml\n", "a/J1.toml"])
def test_a_file_of_another_name_is_no_record(name: str) -> None:
    with pytest.raises(RecordError, match="not a job id followed by"):
        id_of(name)
    assert id_of("J1.toml") == id_of("J1.toml.bak") == "J1"
    assert id_of("J1.2.conflict-box-20260302T080000Z-2.toml") == "J1.2"


def test_a_record_under_the_name_of_another_job_is_refused() -> None:
    with pytest.raises(RecordDamaged, match=r"T2\.toml: the file holds job T1"):
        loads(dumps(full(), 1), PROCEDURE, "T2.toml")


def test_what_is_only_shown_never_keeps_a_job_from_being_saved() -> None:
    job = full()
    for n in range(30):
        note = {"text": f"{n} " + "x" * 100_000}
        job = job.apply(Event(job.next_seq, Act.NOTED, START_TIME, "Tess", "lock.on", note))
    (row,) = (a for a in tomllib.loads(dumps(job, 1).decode())["answers"] if a["key"] == "lock.on")
    assert len(row["notes"]) == 20 and row["notes"][-1].startswith("29 xxx")
    assert loads(dumps(job, 1), PROCEDURE).job.notes == job.notes


# -- answers that do not fit ---------------------------------------------------------


@pytest.mark.parametrize(
    ("key", "data"),
    [
        ("motor.phases", {"raw": "five", "value": "five"}),
        ("motor.phases", {"raw": "1", "value": 1.0}),
        ("motor.voltage", {"raw": "x", "value": "x"}),
        ("motor.voltage", {"raw": "230", "value": 230.0, "unit": "bar(g)"}),
        ("motor.voltage", {"raw": "230", "value": [230.0, 231.0], "unit": "V"}),
        ("motor.voltage", {"raw": "230", "value": 230, "unit": "V"}),
        ("motor.voltage", {"raw": ""}),
        ("lock.on", {"raw": "1", "value": 1}),
        ("pump.series", {"raw": "s", "value": [[1.0, 2.0], [0.5, 3.0]], "unit": "psig"}),
        ("pump.series", {"raw": "s", "value": [[1.0], [2.0]], "unit": "psig"}),
        ("pump.series", {"raw": "s", "value": 3.0, "unit": "psig"}),
        ("machine.label", {"raw": "m", "value": "m", "unit": "V"}),
    ],
)
def test_an_answer_that_does_not_fit_leaves_its_question_open(
    key: str, data: dict[str, Any]
) -> None:
    events = (Event(1, Act.ANSWERED, START_TIME, "Tess", key, data),)
    bare = replace(PROCEDURE, items={}, dependents={})
    job = replace(Job.replay(new_job().header, bare, events), findings={})
    text = dumps(job, 1).decode()
    found = loads(text.encode(), PROCEDURE)
    assert not found.grave and not found.read_only
    assert any(key in str(p) and "does not fit" in str(p) for p in found.problems)
    assert key in [i.key for i in found.job.open_items()]
    assert loads(dumps(found.job, 2, found.extra), PROCEDURE).job.events == events


def test_an_answer_to_a_question_that_is_gone_is_kept() -> None:
    job = full()
    items = {k: i for k, i in PROCEDURE.items.items() if k != "machine.label"}
    shorter = replace(PROCEDURE, items=items, sha256="f" * 64)
    found = loads(dumps(job, 1), shorter)
    assert not found.grave and found.job.answers["machine.label"].raw == "Shed 4"
    again = loads(dumps(found.job, 2, found.extra), shorter)
    assert again.job.answers == found.job.answers and not again.grave


def test_another_judgement_than_the_one_seen_is_told_and_does_not_lock_the_job() -> None:
    found = loads(rewritten('verdict = "PASS"', 'verdict = "FAIL"'), PROCEDURE)
    (problem,) = found.problems
    assert str(problem) == "motor.phases: recorded as FAIL, judged PASS now"
    assert not problem.grave and not found.read_only


@pytest.mark.parametrize(
    "table",
    [t for t in Shape.__subclasses__() if t.__module__ == shape.__name__],
    ids=lambda t: t.__name__,
)
def test_every_column_has_a_type_and_every_type_a_column(table: type[Shape]) -> None:
    assert table.columns == table.__annotations__.keys()
