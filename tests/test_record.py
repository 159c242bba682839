"""The record: readable, whole, the same job again, and unknown parts carried along."""

from __future__ import annotations

import re
import tomllib
from dataclasses import replace
from datetime import UTC, date, timedelta, timezone
from hashlib import sha256
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.small import START_TIME, hand, new_job, small_procedure
from tests.test_job import full
from wizard import actions
from wizard.errors import RecordDamaged, RecordError, RecordNewer
from wizard.instrument import Instrument
from wizard.job import Act, Event, Header, Job
from wizard.record import Extra, Writer, chains, dumps, head, loads
from wizard.record.entry import SILENT
from wizard.record.summary import summary
from wizard.settings import Settings

PROCEDURE = small_procedure()


def busy() -> Job:
    """A job in which everything has happened that can."""
    job = actions.answer(full(), "wire.colours", "2", hand(20), reason="looked again")
    job = actions.note(job, "wire.colours", "Brown used for red, tagged", hand(21))
    job = actions.note(job, "", "Rain all day", hand(22))
    job = actions.waive(job, "machine.label", "only one machine", hand(23))
    gauge = Instrument("G-7", "gauge", "gauge pressure", of_scale=0.01, full_scale=2e6)
    job = actions.list_instrument(job, replace(gauge, calibration_due=date(2027, 1, 1)), hand(24))
    job = actions.answer(job, "gauge.reading", "0", hand(25), instrument="G-7", reason="again")
    job = actions.start_timer(job, "vent.time", hand(26), {"monotonic": 10.25, "boot": "b"})
    job = actions.lap(job, "vent.time", 3.5, "3.5", hand(27))
    job = actions.stop_timer(job, "vent.time", 7.25, hand(28))
    job = actions.withdraw(job, "start.date", "wrong page", hand(29))
    job = actions.answer(job, "lock.on", "no", hand(30), reason="it was borrowed")
    job = actions.answer(job, "lock.on", "yes", hand(-30), reason="it is back")
    for data in (
        {"visit": 1, "kind": "first recheck"},
        {"visit": 1, "raw": "231 V", "value": 231.0, "unit": "V"},
        {"visit": 1, "task": "belts"},
        {"visit": 1, "text": "all quiet"},
        {"visit": 1, "closed": True},
    ):
        key = "motor.voltage" if "raw" in data else ""
        job = job.apply(Event(job.next_seq, Act.VISIT, hand(90).at, "Tess", key, data))
    return job


def sealed(text: str) -> bytes:
    """The text with its seal made anew, as somebody with a little knowledge would."""
    body = text.partition("\n[seal]\n")[0] + "\n"
    return f'{body}[seal]\nsha256 = "{sha256(body.encode()).hexdigest()}"\n'.encode()


def rewritten(old: str, new: str, job: Job | None = None) -> bytes:
    """The record with a text changed and sealed again."""
    text = dumps(job or full(), 1).decode()
    assert old in text
    return sealed(text.replace(old, new, 1))


# -- the same job again --------------------------------------------------------------


def test_a_record_gives_the_same_job_and_the_same_bytes() -> None:
    job = busy()
    data = dumps(job, 42)
    found = loads(data, PROCEDURE, "T1.toml")
    assert not found.problems and not found.read_only and found.revision == 42
    for name in (
        "header",
        "events",
        "answers",
        "waived",
        "notes",
        "timers",
        "instruments",
        "visits",
    ):
        assert getattr(found.job, name) == getattr(job, name), name
    assert found.job.findings == job.findings
    assert dumps(found.job, 42, found.extra) == data


def test_a_writer_that_goes_on_writes_what_a_new_one_would() -> None:
    writer, job = Writer(), busy()
    for n in range(len(job.events) + 1):
        part = Job.replay(job.header, PROCEDURE, job.events[:n])
        assert writer.dumps(part, n + 1) == dumps(part, n + 1)
    for text in ("2", "3"):
        job = actions.answer(full(), "wire.colours", text, hand(20), reason="looked again")
        assert writer.dumps(job, 1) == dumps(job, 1)
    other = Job.replay(replace(job.header, units="metric"), PROCEDURE, job.events)
    assert writer.dumps(other, 1) == dumps(other, 1)


def test_a_person_can_read_the_record_from_top_to_bottom() -> None:
    job = actions.answer(busy(), "lock.on", "no", hand(40), reason="gone again")
    text = dumps(job, 7).decode()
    assert text.startswith('format = "wizard-job"\nschema = 1\nmin_writer = 1\nrevision = 7\n')
    tables = re.findall(r"^\[+(\w+)\]", text, re.M)
    assert list(dict.fromkeys(tables)) == [
        "job",
        "about",
        "state",
        "procedure",
        "settings",
        "instruments",
        "answers",
        "events",
        "seal",
    ]
    about = tomllib.loads(text)["about"]
    assert about == {"technician": "Tess Tester", "day": "2026-03-02"}
    state = tomllib.loads(text)["state"]
    assert state["state"] == "held" and state["phase"] == "2 Supply"
    assert state["held"].startswith("Held in phase 2 by Lock and tag on the disconnect: Answered")
    keys = re.findall(r'^\[\[answers\]\]\nphase = \d\nkey = "(.+)"', text, re.M)
    assert keys == [k for k in PROCEDURE.items if k in keys]
    assert 'raw = "no"\nvalue = false\nwas = "yes"\nreason = "gone again"\nchain = "' in text


def test_an_answer_says_nothing_twice() -> None:
    job = full()
    assert job.findings["machine.label"][0].text in SILENT
    text = "0 85; 30 100.5; 65.5 120"
    job = actions.answer(job, "pump.series", text, hand(20), reason="again")
    data = dumps(job, 1)
    rows = {a["key"]: a for a in tomllib.loads(data.decode())["answers"]}
    assert rows["pump.series"]["readings"] == "3, from 85 psig at 0 s to 120 psig at 65.5 s"
    assert rows["pump.series"]["raw"] == text and "value" not in rows["pump.series"]
    label, voltage = rows["machine.label"], rows["motor.voltage"]
    assert label["raw"] == "Shed 4" and not {"value", "finding"} & label.keys()
    assert voltage["value"] == 230.0 and voltage["verdict"] == "PASS"
    assert rows["lock.on"]["value"] is True and "finding" not in rows["lock.on"]
    found = loads(data, PROCEDURE)
    assert not found.problems and found.job.answers == job.answers
    for old, new in (('"3, from 85', '"4, from 85'), ("to 120 psig", "to 12 psig")):
        (problem,) = loads(sealed(data.decode().replace(old, new)), PROCEDURE).grave
        assert "pump.series: the readings in brief here" in str(problem)


def test_practice_is_said_in_the_first_two_lines() -> None:
    job = Job.new(Header("T1", "0" * 32, START_TIME, practice_run=True), PROCEDURE)
    data = dumps(job, 1)
    assert data.startswith(b'format = "wizard-practice"\npractice = true\n')
    assert loads(data, PROCEDURE).job.header.practice_run
    for lie in (
        data.replace(b"practice = true\n", b""),
        data.replace(b"wizard-practice", b"wizard-job"),
    ):
        with pytest.raises(RecordDamaged, match="practice mark"):
            loads(sealed(lie.decode()), PROCEDURE)


def test_the_settings_a_job_was_judged_with_come_back() -> None:
    settings = Settings(practice="IEC", sling_legs_credited=3, noise_trigger=90.0)
    job = Job.new(Header("T1", "0" * 32, START_TIME, "metric", settings=settings), PROCEDURE)
    assert loads(dumps(job, 1), PROCEDURE).job.header == job.header
    with pytest.raises(RecordDamaged, match=r"setting noise_trigger: given 9\.0"):
        loads(rewritten("noise_trigger = 85.0", "noise_trigger = 9.0"), PROCEDURE)


def test_the_first_lines_tell_how_a_job_stands() -> None:
    job = actions.answer(busy(), "lock.on", "no", hand(40), reason="gone again")
    data = dumps(job, 7)
    found = summary(data[:2000], "T1.toml")
    assert (found.id, found.revision, found.state, found.holds) == ("T1", 7, "held", 1)
    assert found.held.startswith("Held in phase 2")
    assert summary(dumps(new_job(), 1)).state == "in progress"
    for bad in (b"", b"[job]\n", b"job = 1\nstate = 2\n", b"[[[", b"\xff", b"a." * 40_000):
        with pytest.raises(RecordError):
            summary(bad, "T1.toml")
    odd = summary(b"revision = 'x'\n[job]\nid = 4\n[state]\nholds = 1.5\nanswered = true\n")
    assert (odd.id, odd.revision, odd.holds, odd.answered) == ("", 0, 0, 0)


PLAIN = st.one_of(
    st.text(),
    st.integers(),
    st.floats(allow_nan=False, allow_infinity=False),
    st.booleans(),
    st.dates(),
    st.times().map(lambda t: t.replace(fold=0)),
    st.datetimes(timezones=st.sampled_from([UTC, timezone(timedelta(hours=-9, minutes=-30))])).map(
        lambda t: t.replace(fold=0)
    ),
)
NESTED = st.recursive(
    PLAIN, lambda inner: st.lists(inner) | st.dictionaries(st.text(), inner), max_leaves=8
)


ROWS = st.dictionaries(st.text().map("x{}".format), NESTED, max_size=4)
BUSY = busy()
PLAIN_STATE = tomllib.loads(dumps(BUSY, 1).decode())["state"]


def exact(value: Any) -> Any:
    """A value with the types of all that it holds, whatever the order of its keys."""
    if isinstance(value, dict):
        return sorted((name, exact(inner)) for name, inner in value.items())
    return [*map(exact, value)] if isinstance(value, list) else repr(value)


@given(ROWS, ROWS, st.lists(ROWS))
def test_every_unknown_key_reads_back_as_it_was_written(
    top: dict[str, Any], row: dict[str, Any], rows: list[dict[str, Any]]
) -> None:
    top["rows"] = rows
    extra = Extra(tables={"": top, "state": row}, rows={"answers": {"lock.on": row}})
    again = tomllib.loads(dumps(BUSY, 1, extra).decode())
    (lock,) = (a for a in again["answers"] if a["key"] == "lock.on")
    for place, wrote in ((again, top), (again["state"], row), (lock, row)):
        assert {k: exact(place[k]) for k in wrote} == {k: exact(v) for k, v in wrote.items()}
    rest = {k: v for k, v in again["state"].items() if k not in row}
    assert rest == PLAIN_STATE


# -- what this version does not know -------------------------------------------------


UNKNOWN = """
[weather]
sky = "“grey”, \\u0007"
hours = [1, 2.5, 1e300, { at = 07:30:00, odd.key = [-0.0] }]

[[visitors]]
name = "Ann"
until = 2026-03-02T09:00:00.000001+05:45

[[visitors]]
"quoted name" = 9007199254740992
"""


def with_unknown() -> bytes:
    text = dumps(busy(), 5).decode()
    text = text.replace("revision = 5\n", 'revision = 5\nmood = "fair"\nlist = []\n')
    text = text.replace("[state]\n", '[state]\nweather = "dry"\n', 1)
    text = text.replace("[procedure]\n", "[procedure]\nedition = [2026]\n", 1)
    text = text.replace('[[answers]]\nphase = 2\nkey = "lock.on"\n', "\\g", 1)
    text = text.replace(
        "\\g", '[[answers]]\nphase = 2\nkey = "lock.on"\nphoto = { file = "a.png" }\n'
    )
    return sealed(text.replace("\n[seal]\n", f"{UNKNOWN}\n[seal]\n"))


def test_what_is_not_known_keeps_its_value_through_a_save() -> None:
    data = with_unknown()
    found = loads(data, PROCEDURE, "T1.toml")
    assert not found.problems and not found.read_only
    job = actions.answer(found.job, "motor.voltage", "208", hand(50), reason="misread")
    again = tomllib.loads(dumps(job, 6, found.extra).decode())
    before = tomllib.loads(data.decode())
    for name in ("mood", "list", "weather", "visitors"):
        assert repr(again[name]) == repr(before[name])
    assert again["state"]["weather"] == "dry" and again["procedure"]["edition"] == [2026]
    (photo,) = (a["photo"] for a in again["answers"] if a["key"] == "lock.on")
    assert photo == {"file": "a.png"}
    twice = loads(dumps(job, 6, found.extra), PROCEDURE, "T1.toml")
    assert not twice.problems and twice.extra == found.extra


def newer(job: Job, min_writer: int, **unknown: str) -> bytes:
    """A record as a later version writes it: its own keys are in the chain too."""
    tables = {"job": {"client": unknown["client"]}} if "client" in unknown else {}
    extra = Extra(9, min_writer, {"practice": "US", "novel": True}, tables)
    second = replace(job.events[1], data={**job.events[1].data, "gps": [1.5]})
    job = replace(job, events=(job.events[0], second, *job.events[2:]))
    return dumps(job, 3, extra)


def test_a_newer_record_that_may_be_written_keeps_schema_keys_and_chain() -> None:
    found = loads(newer(full(), 1, client="Acorn"), PROCEDURE)
    assert not found.problems and not found.read_only
    job = actions.answer(found.job, "motor.voltage", "208", hand(50), reason="misread")
    again = loads(dumps(job, 4, found.extra), PROCEDURE)
    assert not again.problems and again.extra == found.extra and again.extra.schema == 9
    assert head(job, found.extra)[1] in dumps(job, 4, found.extra).decode()
    assert head(job) != head(job, found.extra)


def test_a_newer_record_that_may_not_be_written_is_read_only() -> None:
    found = loads(newer(full(), 9), PROCEDURE)
    assert "newer version" in found.read_only and not found.problems
    assert found.job.answers == full().answers


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('act = "answered"', 'act = "teleported"'),
        ("revision = 3", 'revision = "three"'),
        ('units = "us"', 'units = "nautical"'),
    ],
)
def test_a_newer_record_that_cannot_be_read_says_so(old: str, new: str) -> None:
    text = newer(full(), 9).decode()
    assert old in text
    with pytest.raises(RecordNewer, match="written by a newer version"):
        loads(sealed(text.replace(old, new)), PROCEDURE, "T1.toml")


@pytest.mark.parametrize("schema", ["0", "-1", "1.0", "true", '"1"', "99999999999999999999"])
def test_a_schema_without_a_way_to_this_one_is_refused(schema: str) -> None:
    with pytest.raises(RecordDamaged, match="schema"):
        loads(rewritten("schema = 1", f"schema = {schema}"), PROCEDURE)


def test_an_older_record_is_brought_up_in_memory_with_its_history_unchanged() -> None:
    def renamed(tables: dict[str, Any]) -> dict[str, Any]:
        job = dict(tables["job"])
        job["units"] = {"imperial": "us"}.get(job["units"], job["units"])
        return {**tables, "job": job}

    data = dumps(full(), 3)
    found = loads(data, PROCEDURE, schema=2, steps={1: renamed})
    assert found.older == 1 and not found.problems and not found.read_only
    assert found.job.events == full().events
    signed = loads(dumps(signed_job(), 3), PROCEDURE, schema=2, steps={1: renamed})
    assert "signed records are never converted" in signed.read_only


# -- sign-offs and the chain ---------------------------------------------------------


def signed_job() -> Job:
    job = full()
    covers, chain = head(job)
    data = {
        "role": "technician",
        "principal": "tess@example.invalid",
        "decision": "complete",
        "covers": covers,
        "covers_chain": chain,
        "signed_at": hand(60).at,
        "signature": "-----BEGIN SSH SIGNATURE-----\nU1NIU0lH\n-----END SSH SIGNATURE-----\n",
    }
    return job.apply(Event(job.next_seq, Act.SIGNED, hand(60).at, "Tess Tester", "", data))


def test_sign_offs_stand_in_a_table_of_their_own() -> None:
    job = signed_job()
    data = dumps(job, 1)
    (row,) = tomllib.loads(data.decode())["signoffs"]
    assert row["event"] == len(job.events) and row["role"] == "technician"
    assert row["covers_chain"] == chains(job)[row["covers"]] and "\n" in row["signature"]
    assert loads(data, PROCEDURE).job.events == job.events


def test_the_chain_is_what_its_definition_says() -> None:
    job = full()
    first = sha256(
        b'{"job":{"created":"2026-03-02T08:00:00+00:00","id":"T1","units":"us","uuid":"'
        + b"0" * 32
        + b'"},"practice":false,"settings":{"ampacity_cool_credit":false,'
        b'"derate_at_3_percent":0.89,"impedance_method":"R cos + X sin","noise_trigger":85.0,'
        b'"nrr_derating":"half","overload_dial":"ask","practice":"US","sling_legs_credited":2,'
        b'"voltage_drop_strict":false}}'
    ).hexdigest()
    event = (
        '{"act":"answered","at":"2026-03-02T08:00:00+00:00","by":"Tess Tester",'
        '"key":"motor.phases","raw":"single","seq":1,"value":"single"}'
    )
    assert chains(job)[0] == first
    assert chains(job)[1] == sha256((first + event).encode()).hexdigest()
    assert chains(new_job())[0] == head(new_job())[1] == first
    tables = tomllib.loads(dumps(job, 1).decode())
    assert [tables["job"]["chain"], *(e["chain"] for e in tables["events"])] == [
        *chains(job).values()
    ]
