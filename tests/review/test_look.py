"""One record looked at: nothing it says of itself is believed, nothing it holds can hurt."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.small import START_TIME, hand, small_procedure
from tests.test_job import full
from tests.test_record import busy, rewritten, sealed
from wizard import actions, remarks
from wizard.job import Job
from wizard.record import dumps
from wizard.review import look as looking
from wizard.review.inspection import sections
from wizard.review.look import Lens, look, row_for
from wizard.review.row import UNREADABLE, Row, bits_of, keys_of, plain, row_of
from wizard.settings import Settings

PROCEDURE = small_procedure()
LENS = Lens(START_TIME)


def row(data: bytes, lens: Lens = LENS, file: str = "T1.toml") -> Row:
    return row_for(data, file, PROCEDURE, lens)


def of(job: Job, lens: Lens = LENS) -> Row:
    return row(dumps(job, 1), lens)


def test_a_sound_record_is_trusted_and_counted() -> None:
    got = of(busy())
    assert (got.job, got.state, got.error) == ("T1", "in progress", "")
    assert got.machine == "" and got.technician == "Tess Tester"
    assert got.trusted and got.open > 0 and got.corrected > 0
    assert keys_of(got.open_bits, tuple(PROCEDURE.items)) == [i.key for i in busy().open_items()]


def test_an_edited_reading_cannot_be_relied_on_and_its_event_is_named() -> None:
    data = rewritten('raw = "230"', 'raw = "231"')
    got = row(sealed(data.decode().replace('raw = "230"', 'raw = "231"')))
    assert got.state == "finished" and not got.trusted
    assert got.error.startswith("Changed outside the tool:") and "event 2" in got.error


def test_a_verdict_written_over_is_shown_beside_the_one_judged_now() -> None:
    data = rewritten('verdict = "PASS"', 'verdict = "FAIL"')
    found = look(data, "T1.toml", PROCEDURE, LENS)
    (difference,) = found.differences
    assert difference.seen.startswith("FAIL") and difference.now.startswith("PASS")
    assert "with today's rules" in str(difference)
    assert found.row.state == "finished" and found.row.concerns == 1


def test_what_other_settings_would_change_is_told_and_the_practice_stays() -> None:
    from tests.demo.fleet import finished

    job = finished("five_hp")
    data = dumps(job, 1)
    lens = Lens(START_TIME, settings=Settings("IEC", nrr_derating="full", noise_trigger=90.0))
    found = look(data, "BASE.toml", job.procedure, lens)
    assert found.differences
    assert all("with noise_trigger 90.0, nrr_derating full" in str(d) for d in found.differences)
    assert look(data, "BASE.toml", job.procedure, LENS).differences == ()


def test_an_earlier_revision_is_found_by_what_was_seen() -> None:
    whole, cut = full(), replace(full(), events=full().events[:-2])
    cut = Job.replay(cut.header, PROCEDURE, cut.events)
    seen = of(whole)
    known = {seen.uuid: (seen.seq, seen.chain)}
    assert of(whole, Lens(START_TIME, known=known)).error == ""
    later = actions.note(whole, "", "one more", hand(99))
    assert of(later, Lens(START_TIME, known=known)).error == ""
    back = of(cut, Lens(START_TIME, known=known))
    assert back.error == (
        "An earlier revision was put back: its history ends at event 7, but 9 events were seen "
        "before."
    )
    other = Job.replay(whole.header, PROCEDURE, [replace(e, by="Somebody") for e in whole.events])
    forged = actions.note(other, "", "one more", hand(99))
    assert "is not the one that was seen before" in of(forged, Lens(START_TIME, known=known)).error


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "empty"),
        (b"\0" * 900, "empty"),
        (b"hello\n", "not the record of a job"),
        (dumps(full(), 1)[:900], "the file was cut"),
        (b"\xff\xfe", "not the record of a job"),
        (dumps(full(), 1).replace(b"\n", b"\r\n"), "editor"),
    ],
)
def test_what_is_no_record_is_a_row_with_one_sentence(data: bytes, words: str) -> None:
    got = row(data)
    assert got.state == UNREADABLE and words in got.error
    assert got.error.endswith(".") and "T1.toml" not in got.error


def test_a_record_that_breaks_a_rule_of_ours_is_a_row_too(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(_: Job, **__: bool) -> None:
        raise ZeroDivisionError("unheard of")

    monkeypatch.setattr(looking, "doubts", broken)
    assert "ZeroDivisionError" in of(full()).error


def test_hostile_text_is_made_visible_in_the_row() -> None:
    text = dumps(full(), 1).decode().replace("Tess Tester", "T\\u001b[31m\\u202eess")
    got = row(sealed(text))
    assert got.job == "T1" or "T1" in got.file
    for value in plain(got):
        assert "\x1b" not in str(value) and "\u202e" not in str(value)


def test_open_remarks_and_their_replies_are_counted() -> None:
    job = remarks.remark(full(), "motor.voltage", "Which plate?", hand(50, "Lea"))
    assert job.state == "in progress" and of(job).remarks == 1
    following = job.next_item()
    assert following is not None and following.key == "motor.voltage"
    job = remarks.reply(job, "motor.voltage", "The one on the frame", hand(51))
    assert job.state == "finished" and of(job).remarks == 0


def test_an_answer_given_again_closes_the_remark() -> None:
    job = remarks.remark(full(), "motor.voltage", "Which plate?", hand(50, "Lea"))
    job = actions.answer(job, "motor.voltage", "208", hand(51), reason="the other plate")
    assert job.open_remarks() == ()


def test_sections_tell_corrections_notes_and_settings() -> None:
    found = look(dumps(busy(), 1), "T1.toml", PROCEDURE, LENS)
    told = {s.title: " ".join(s.lines) for s in sections(found)}
    assert "0:08 was taken back" in told["Corrected or taken back"] or told[
        "Corrected or taken back"
    ].count("became")
    assert "Rain all day" in told["Notes"]
    asked = "What the machine is called on site [machine.label]"
    assert f"{asked}: Not applicable: only one machine" in told["Not applicable"]
    assert told["Settings of the record"] == "as usual"
    assert "Unsigned" in told["Record"]


def test_a_row_comes_back_from_json_as_it_was() -> None:
    got = of(busy())
    assert row_of(json.loads(json.dumps(plain(got)))) == got


@given(st.sets(st.integers(0, 900)))
def test_bits_and_keys_are_two_sides_of_one_thing(numbers: set[int]) -> None:
    keys = [f"k{n}" for n in range(901)]
    places = {key: n for n, key in enumerate(keys)}
    wanted = [f"k{n}" for n in sorted(numbers)]
    assert keys_of(bits_of(wanted, places), keys) == wanted
