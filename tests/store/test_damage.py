"""Bit rot, cuts, edits by hand and tampering: found, named, and never mended in place."""

from __future__ import annotations

import random
import re
import tomllib
from dataclasses import replace
from datetime import timedelta
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
import tomli_w

from tests.small import START_TIME, hand
from tests.store.jobs import header, long_job
from tests.test_job import full
from tests.test_record import PROCEDURE, busy, rewritten, sealed, signed_job
from wizard import actions, store
from wizard.errors import RecordDamaged, RecordError
from wizard.job import Act, Event, Job
from wizard.record import chains, dumps, loads
from wizard.record.chain import event_row, link, links, parted, start

ITEMS = 12
JOB = long_job(ITEMS)
DATA = dumps(JOB, 3)


def in_event_2(old: bytes, new: bytes) -> bytes:
    """The record with a text changed in the second event only."""
    before, mark, after = DATA.partition(b"[[events]]\nseq = 2\n")
    assert old in after
    return before + mark + after.replace(old, new, 1)


def refused(data: bytes) -> RecordError | None:
    """Why the record is not used; None where it is."""
    try:
        loads(data, JOB.procedure, "T1.toml")
    except RecordError as problem:
        return problem
    return None


def test_every_flipped_bit_is_found() -> None:
    luck, missed = random.Random(1), 0
    for _ in range(1000):
        bad = bytearray(DATA)
        bad[luck.randrange(len(bad))] ^= 1 << luck.randrange(8)
        missed += refused(bytes(bad)) is None
    print(f"1000 flipped bits, {missed} missed")
    assert missed == 0


def test_every_cut_is_found() -> None:
    lines = [m.end() for m in re.finditer(b"\n", DATA)][:-1]
    anywhere = random.Random(2).sample(range(len(DATA)), 200)
    missed = [at for at in {*lines, *anywhere, 0, 1, len(DATA) - 1} if not refused(DATA[:at])]
    print(f"{len(lines)} cuts at a line, {len(anywhere)} anywhere, {len(missed)} missed")
    assert missed == []


def test_every_removed_line_and_every_swap_of_two_events_is_found() -> None:
    lines = DATA.splitlines(keepends=True)
    for n in range(len(lines)):
        assert refused(b"".join(lines[:n] + lines[n + 1 :])), lines[n]
    blocks = DATA.split(b"[[events]]")
    for n in range(1, len(blocks) - 2):
        swapped = [*blocks[:n], blocks[n + 1], blocks[n], *blocks[n + 2 :]]
        assert refused(b"[[events]]".join(swapped))


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        (b"\xef\xbb\xbf" + DATA, "an editor that changes line ends or marks"),
        (DATA.replace(b"\n", b"\r\n"), "an editor that changes line ends or marks"),
        (b"", "the file is empty"),
        (b"\0" * 4096, "the file is empty"),
        (b"PK\x03\x04", r"line 1: not the record of a job"),
        (DATA + b"\n", "the end is missing or altered"),
        (DATA + b"# note\n", "the end is missing or altered"),
        (DATA[:-80], "the end is missing or altered"),
        (DATA.replace(b"231.0", b"23l.0"), r"line \d+: not readable, Expected newline"),
        (DATA.replace(b"[[events]]", b"[{events]]", 3), r"line \d+: not readable"),
        (DATA.replace(b"231 V", b"231 \xb0V"), r"line \d+: a byte that is not UTF-8"),
        (DATA.replace(b'raw = "231 V"', b'raw = "232 V"', 1), "here is “232 V”"),
        (in_event_2(b'raw = "231 V"', b'raw = "239 V"'), r"event 2 was altered, or does not"),
        (DATA.replace(b"revision = 3", b"revision = 4"), "the seal does not match"),
        (DATA.replace(b"seq = 2", b"seq = true"), r"line \d+: answers.1.seq: Input should be"),
    ],
)  # fmt: skip
def test_the_message_says_what_is_wrong_and_where(changed: bytes, said: str) -> None:
    problem = refused(changed)
    assert problem and re.search(said, str(problem)), problem
    assert str(problem).startswith("T1.toml") and "\n" not in str(problem)


def test_one_damaged_record_leaves_its_neighbours_alone(tmp_path: Path) -> None:
    for n in range(1, 6):
        job = Job.replay(header(f"T{n}"), JOB.procedure, JOB.events)
        (tmp_path / f"T{n}.toml").write_bytes(dumps(job, 1))
    (tmp_path / "T3.toml").write_bytes(DATA[:500])
    good = 0
    for path in sorted(tmp_path.iterdir()):
        try:
            good += not store.read_job(path, JOB.procedure).problems
        except RecordError:
            assert path.name == "T3.toml"
    assert good == 4


# -- somebody who can make the seal, and more ---------------------------------------------------


def tables() -> dict[str, Any]:
    return tomllib.loads(dumps(busy(), 1).decode())


def resealed(given: dict[str, Any]) -> bytes:
    """The tables written by another program, with a good seal."""
    given.pop("seal")
    body = f'format = "{given.pop("format")}"\n{tomli_w.dumps(given)}\n'
    return f'{body}[seal]\nsha256 = "{sha256(body.encode()).hexdigest()}"\n'.encode()


def rechain(given: dict[str, Any]) -> None:
    """Make the whole chain anew."""
    bare = [{k: v for k, v in e.items() if k != "chain"} for e in given["events"]]
    for row, linked in zip(given["events"], links(start(busy().header), bare), strict=True):
        row["chain"] = linked


def rechained(given: dict[str, Any]) -> bytes:
    """The tables with a good chain and a good seal."""
    rechain(given)
    return resealed(given)


def graves(data: bytes) -> list[str]:
    found = loads(data, PROCEDURE, "T1.toml")
    assert bool(found.grave) == bool(found.read_only)
    return [str(p) for p in found.grave]


def test_another_programs_writing_of_the_same_values_is_the_same_record() -> None:
    assert graves(resealed(tables())) == []
    assert graves(rechained(tables())) == []


def test_an_edited_value_is_named_with_its_event() -> None:
    (problem,) = graves(rewritten("value = 230.0", "value = 203.0"))
    said = "motor.voltage: the value here is “203.0”, and the history has “230.0” (event 2)"
    line, _, rest = problem.partition(": ")
    assert rest == said
    data = rewritten("value = 230.0", "value = 203.0").splitlines()
    assert data[int(line.removeprefix("line ")) - 1] == b"value = 203.0"


def test_of_a_long_answer_the_place_that_was_edited_is_shown() -> None:
    text = "0 85; 30 97.5; " + "; ".join(f"{60 + n} {98 + n}" for n in range(30)) + " psig"
    job = actions.answer(full(), "pump.series", text, hand(20), reason="again")
    (problem,) = graves(sealed(dumps(job, 1).decode().replace("70 108", "70 100", 1)))
    assert "what was typed here is “…" in problem and "70 100" in problem and "70 108" in problem
    assert len(problem) < 220


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("230.0", '"230.0"'),
        ("230.0", "230"),
        ('raw = "230"', 'raw = "231"'),
        ('unit = "V"', 'unit = "kV"'),
        ('by = "Tess Tester"', 'by = "Bob Builder"'),
        ("at = 2026-03-02 08:01:00+00:00", "at = 2026-03-02 07:01:00+00:00"),
        ('key = "motor.voltage"', 'key = "motor.phases"'),
        ("seq = 2", "seq = 1"),
        ("[[answers]]", "[[remarks]]"),
    ],
)
def test_an_edited_entry_is_found_whatever_field_it_is(old: str, new: str) -> None:
    text = dumps(signed_job(), 1).decode()
    if old != "[[answers]]":
        start_of = text.index('key = "motor.voltage"') - len("[[answers]]\nphase = 1\n")
        text = text[:start_of] + text[start_of:].replace(old, new, 1)
    else:
        text = text.replace(old, new, 1)
    assert graves(sealed(text))


def test_an_edited_event_is_named() -> None:
    given = tables()
    given["events"][1]["value"] = 23.0
    data = resealed(given)
    assert [p.partition(": ")[2] for p in graves(data)] == [
        "event 2 was altered, or does not follow from event 1",
        "motor.voltage: the value here is “230.0”, and the history has “23.0” (event 2)",
    ]
    assert data.splitlines()[int(graves(data)[0].split()[1][:-1]) :][0] == b"seq = 2"


def test_every_altered_event_is_located_by_its_line_whatever_was_altered() -> None:
    for n, event in enumerate(busy().events):
        changes = {"by": "Bob", "at": START_TIME - timedelta(days=1)}
        if event.act is not Act.INSTRUMENT:
            changes["novel"] = 1
        for name, other in changes.items():
            given = tables()
            given["events"][n][name] = other
            data = resealed(given)
            line, _, said = graves(data)[0].partition(": ")
            before = f"event {n}" if n else "the job's own data"
            assert said == f"event {n + 1} was altered, or does not follow from {before}"
            assert data.splitlines()[int(line.split()[1])] == b"seq = %d" % (n + 1)


def test_each_of_several_altered_events_is_named() -> None:
    given = tables()
    for n in (3, 7, 20):
        given["events"][n]["by"] = "Bob"
    said = [p for p in graves(resealed(given)) if "was altered" in p]
    assert [p.partition(": ")[2].split()[1] for p in said] == ["4", "8", "21"]


def test_an_altered_link_is_named_with_both_events_it_joins() -> None:
    given = tables()
    given["events"][4]["chain"] = "0" * 64
    said = [p.partition(": ")[2] for p in graves(resealed(given))]
    assert said == [
        "event 5 was altered, or does not follow from event 4",
        "event 6 was altered, or does not follow from event 5",
    ]


def test_an_event_altered_with_its_own_link_is_named_by_the_next_one() -> None:
    given = tables()
    given["events"][4]["by"] = "Bob"
    bare = {k: v for k, v in given["events"][4].items() if k != "chain"}
    given["events"][4]["chain"] = link(given["events"][3]["chain"], bare)
    assert any(
        "event 6 was altered, or does not follow from event 5" in p for p in graves(resealed(given))
    )


def test_a_removed_event_is_named() -> None:
    given = tables()
    del given["events"][9]
    said = [p.partition(": ")[2] for p in graves(resealed(given)) if "event 1" in p]
    assert said[0] == "event 11 is out of order, or one before it is missing"
    assert not any("altered" in p for p in said)


def test_two_events_that_change_places_are_named() -> None:
    given = tables()
    events = given["events"]
    events[4], events[5] = events[5], events[4]
    assert any("event 6 is out of order" in p for p in graves(resealed(given)))


def test_edited_data_of_the_job_break_the_chain_at_its_start() -> None:
    for old, new in (('units = "us"', 'units = "metric"'), ('practice = "US"', 'practice = "IEC"')):
        (problem,) = graves(rewritten(old, new))
        assert re.fullmatch(r"line \d+: the job's own data or its settings were altered", problem)


def test_edited_data_of_the_job_with_their_link_break_the_chain_at_its_start() -> None:
    given = tables()
    given["job"]["units"] = "metric"
    given["job"]["chain"] = start(replace(busy().header, units="metric"))
    (problem,) = graves(resealed(given))
    assert "event 1 was altered, or does not follow from the job's own data" in problem


def test_an_instrument_that_is_not_as_listed_is_named() -> None:
    given = tables()
    given["instruments"][0]["of_scale"] = 0.0001
    (problem,) = graves(resealed(given))
    assert problem == "instrument G-7 differs from its event"
    given = tables()
    given["instruments"].append({"name": "G-8", "kind": "gauge"})
    (problem,) = graves(resealed(given))
    assert problem == "instrument G-8 was listed by no event"


def test_a_sign_off_that_is_not_as_its_event_has_it_is_named() -> None:
    event = len(signed_job().events)
    differs = f"a sign-off differs from event {event}"
    (row,) = tomllib.loads(dumps(signed_job(), 1).decode())["signoffs"]
    for rows, said in (
        ([{**row, "decision": "accepted"}], differs),
        ([{**row, "by": "Bob Builder"}], differs),
        ([row, row], differs),
        ([row, {"event": 1}], "a sign-off differs from event 1"),
        ([], f"the sign-off of event {event} is missing"),
    ):
        given = tomllib.loads(dumps(signed_job(), 1).decode())
        given["signoffs"] = rows
        assert graves(resealed(given)) == [said]


def test_a_chain_made_anew_is_sound_by_itself_but_not_what_was_signed() -> None:
    given = tables()
    given["events"][1]["value"] = 203.0
    entry = next(a for a in given["answers"] if a["key"] == "motor.voltage")
    entry["value"] = 203.0
    data = rechained(given)
    assert graves(data) == []
    before, after = chains(busy()), chains(loads(data, PROCEDURE).job)
    assert before[1] == after[1] and not set(list(before.values())[2:]) & set(after.values())


def test_a_tampered_record_is_shown_to_a_reader_and_not_opened_for_writing(
    tmp_path: Path,
) -> None:
    path = tmp_path / "T1.toml"
    path.write_bytes(rewritten("value = 230.0", "value = 203.0"))
    found = store.read_job(path, PROCEDURE)
    assert found.job.answers["motor.voltage"].value == 230.0 and found.grave
    assert "Changed outside the tool" in found.read_only
    with pytest.raises(RecordDamaged, match=r"motor\.voltage: the value here is “203\.0”"):
        store.open_job(path, PROCEDURE, "Tess", "box")


def test_events_are_hashed_as_they_are_written() -> None:
    for event in busy().events:
        row = event_row(event)
        assert "chain" not in row and row["act"] == event.act.value
        assert parted(row)["data"] == {k: v for k, v in event.data.items() if v is not None}
    bare = event_row(Event(1, busy().events[0].act, header().created, "Tess"))
    assert set(bare) == {"seq", "act", "at", "by"}
