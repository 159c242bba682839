"""The working screen: what a technician presses, and what is then in the record."""

from __future__ import annotations

import pytest
from textual import events

from tests.small import hand, new_job
from tests.tui.fake import FakeDraft, FakeDrafts, FakeSession
from tests.tui.walk import walking
from wizard import actions
from wizard.job import Act, Job


def answered(**texts: str) -> Job:
    """A job with these answers."""
    job = new_job()
    for minute, (key, text) in enumerate(texts.items()):
        job = actions.answer(job, key.replace("__", "."), text, hand(minute))
    return job


def before_start() -> Job:
    """A job whose third phase can begin."""
    return answered(
        motor__phases="single", motor__voltage="230", machine__label="Shed 4", lock__on="yes"
    )


async def test_a_whole_job_is_done_by_keys() -> None:
    async with walking() as walk:
        await walk.type("1", "enter")
        await walk.type("230", "enter")
        await walk.type("Shed 4", "enter")
        await walk.type("y", "enter")
        await walk.type("1", "enter")
        await walk.type("0", "enter")
        await walk.type("0:08", "enter")
        await walk.type("0 100; 30 112.5; 60 124 psi", "enter")
        await walk.type("2026-03-02", "enter")
        assert "The job is finished" in walk.text
        assert "wizard sign T1.toml --role technician" in " ".join(walk.text.split())
        assert walk.job.state == "finished"
        assert walk.job.answers["motor.voltage"].value == 230.0
        assert walk.job.answers["vent.time"].value == 8.0
        assert walk.job.answers["lock.on"].by == "Tess Tester"
        assert len(walk.session.saved) == 9


async def test_options_are_chosen_by_arrow_and_shown_as_chosen() -> None:
    async with walking() as walk:
        await walk.press("down", "down")
        assert "►  2  three" in walk.text
        await walk.press("up", "enter")
        assert walk.job.answers["motor.phases"].value == "single"


async def test_verdict_is_shown_while_typing_and_nothing_is_saved() -> None:
    async with walking(FakeSession(before_start())) as walk:
        await walk.type("3")
        assert "FAIL, bars the handover" in walk.text
        await walk.press("backspace")
        await walk.type("2")
        assert "ADVISORY, wants a note" in walk.text
        assert walk.session.saved == []


async def test_a_failed_safety_item_holds_and_says_what_clears_it() -> None:
    async with walking(FakeSession(answered(motor__phases="single"))) as walk:
        await walk.go("lock.on")
        await walk.type("n", "enter")
        assert "HELD in phase 2" in walk.rows[0]
        assert "HELD in phase 2  by this item" in walk.text
        assert "Clears: Put it right, then answer again." in walk.text
        await walk.press("pageup")
        assert "by: Lock and tag on the disconnect" in walk.text
        await walk.press("f6")
        assert "Lock and tag on the disconnect" in walk.rows[3]
        await walk.type("y", "enter")
        await walk.type("lock found", "enter")
        assert "HELD" not in walk.text
        event = next(e for e in walk.job.events if e.act is Act.CORRECTED)
        assert (event.data["was"], event.data["reason"]) == ("n", "lock found")


async def test_from_wherever_one_is_the_key_goes_where_the_hold_says_it_goes() -> None:
    async with walking(FakeSession(answered(motor__phases="three", lock__on="no"))) as walk:
        for here in ("motor.voltage", "motor.phases", "wire.colours"):
            await walk.go(here)
            assert "F6 goes there" in walk.text
            await walk.press("f6")
            assert "Lock and tag on the disconnect" in walk.rows[3]
            assert "F6 goes there" not in walk.text
        await walk.press("f6")
        assert "Conductor colours match the diagram" in walk.rows[3]


async def test_an_answer_that_does_not_pass_is_named_as_it_is_saved() -> None:
    async with walking(FakeSession(answered(motor__phases="single", lock__on="yes"))) as walk:
        await walk.go("wire.colours")
        await walk.type("2", "enter")
        assert "Saved: ADVISORY. Different, recorded: noted." in walk.text
        await walk.go("machine.label")
        await walk.type("pump", "enter")
        assert " Saved.\n" in walk.text
        await walk.go("lock.on")
        await walk.type("no", "enter")
        await walk.type("seen", "enter")
        assert "Saved: FAIL, holds the job." in walk.text


async def test_a_gated_item_can_be_read_and_says_why_it_is_not_open() -> None:
    async with walking(FakeSession(answered(lock__on="no"))) as walk:
        await walk.go("gauge.reading")
        assert "Not yet: Held in phase 2" in walk.text
        await walk.type("0", "enter")
        assert walk.job.answers.keys() == {"lock.on"}
        assert "Held in phase 2" in walk.text


async def test_a_correction_shows_the_old_value_and_asks_why() -> None:
    async with walking(FakeSession(answered(motor__phases="single", motor__voltage="230"))) as walk:
        await walk.press("pageup")
        assert "Answered 230 V" in walk.text
        await walk.type("208", "enter")
        assert "Was 230 V. Reason for the change" in walk.text
        await walk.press("escape")
        assert walk.job.answers["motor.voltage"].value == 230.0
        assert "208" in walk.text
        await walk.press("enter")
        await walk.type("misread", "enter")
        assert walk.job.answers["motor.voltage"].value == 208.0


async def test_an_unlikely_value_is_asked_about_and_kept_as_typed() -> None:
    async with walking(FakeSession(before_start())) as walk:
        await walk.type("1", "enter")
        await walk.type("250", "enter")
        assert "250 is outside what is usual here, 0 psig to 200 psig." in walk.text
        assert "Take it as typed? y or n" in walk.text
        await walk.type("n", "enter")
        assert "gauge.reading" not in walk.job.answers
        await walk.press("enter")
        await walk.type("y", "enter")
        assert walk.job.answers["gauge.reading"].value == 250.0
        assert walk.job.answers["gauge.reading"].confirmed


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("abc", "given “abc”, accepted a number in V"),
        ("23x", "accepted units V, mV, kV"),
        ("1,234", "a comma before three digits can mean either"),
        ("900", "given 900, accepted 100 V to 690 V"),
        ("9**9**9", "accepted"),
        ("[bold]4[/]", "accepted"),
    ],
)
async def test_bad_text_gives_one_sentence_and_stays_in_the_field(text: str, sentence: str) -> None:
    async with walking(FakeSession(answered(motor__phases="single"))) as walk:
        await walk.type(text, "enter")
        assert sentence in " ".join(walk.text.replace("│", " ").split())
        assert f"› {text}" in walk.text
        assert walk.session.saved == []


async def test_pasted_garbage_becomes_one_visible_line() -> None:
    async with walking() as walk:
        walk.app.post_message(events.Paste("12\x1b[31m\u202e\n\x00[/] V\u200b"))
        await walk.settle()
        assert "› 12[31m [/] V" in walk.text
        assert "\x1b" not in walk.text


async def test_a_non_safety_item_is_waived_with_a_reason() -> None:
    async with walking() as walk:
        await walk.press("f2")
        await walk.type("no motor yet", "enter")
        assert walk.job.waived == {"motor.phases": "no motor yet"}
        await walk.press("pageup")
        assert "Not applicable: no motor yet" in walk.text


async def test_a_safety_item_cannot_be_waived_by_its_key() -> None:
    async with walking(FakeSession(answered(motor__phases="single"))) as walk:
        await walk.go("lock.on")
        await walk.press("f2")
        assert "because" not in walk.text
        assert walk.job.waived == {}


async def test_a_note_is_written_against_the_item() -> None:
    async with walking() as walk:
        await walk.press("f3")
        await walk.type("plate is scratched", "enter")
        assert walk.job.notes["motor.phases"][0].data["text"] == "plate is scratched"
        assert "Note by Tess Tester: plate is scratched" in walk.text


async def test_the_last_answer_is_undone_with_a_reason_filled_in() -> None:
    async with walking() as walk:
        await walk.type("1", "enter")
        await walk.press("f7", "enter")
        assert walk.job.answers == {}
        assert walk.job.events[-1].data["reason"] == "undone at once"
        assert "Phases of the motor" in walk.rows[3]


async def test_undo_does_not_lift_a_hold() -> None:
    async with walking(FakeSession(answered(motor__phases="single"))) as walk:
        await walk.go("lock.on")
        await walk.type("n", "enter")
        assert "Saved: FAIL, holds the job." in walk.text
        await walk.press("f7")
        assert "A hold is not taken back, answer again with a reason: “Lock and tag" in walk.text
        assert "Saved" not in walk.text and "because" not in walk.text
        assert walk.job.state == "held"
        await walk.type("y", "enter")
        await walk.type("lock found", "enter")
        assert walk.job.state == "in progress"


async def test_while_held_what_is_typed_next_is_no_correction_of_what_holds() -> None:
    async with walking(FakeSession(answered(motor__phases="three", lock__on="no"))) as walk:
        await walk.go("wire.colours")
        await walk.type("1", "enter")
        assert "Pads under the feet" in walk.rows[3]
        await walk.type("4", "enter")
        assert "Nameplate voltage" in walk.rows[3]
        await walk.press("f6")
        assert "Lock and tag on the disconnect" in walk.rows[3]
        assert walk.job.answers["lock.on"].value is False
        await walk.go("motor.voltage")
        await walk.type("230", "enter")
        await walk.type("Shed 4", "enter")
        assert "Lock and tag on the disconnect" in walk.rows[3]


async def test_text_left_in_a_field_is_there_on_return() -> None:
    async with walking() as walk:
        await walk.type("thr", "pagedown")
        assert "thr" not in walk.text
        await walk.press("pageup")
        assert "› thr" in walk.text


async def test_keys_typed_ahead_of_an_answer_belong_to_the_next_item() -> None:
    async with walking() as walk:
        await walk.pilot.press("1", "enter", "2", "3", "0", "enter", "S", "h", "enter")
        await walk.settle()
        assert walk.job.answers["motor.voltage"].value == 230.0
        assert walk.job.answers["machine.label"].value == "Sh"


async def test_a_failed_save_keeps_the_text_and_says_where_the_copy_is() -> None:
    session = FakeSession(failing="T1.toml is not saved: the disk is full. Kept in /rescue.")
    async with walking(session) as walk:
        await walk.type("1", "enter")
        assert "the disk is full. Kept in /rescue." in walk.text
        assert "› 1" in walk.text
        await walk.press("backspace")
        await walk.type("2")
        assert "the disk is full" in walk.text
        session.failing = ""
        await walk.press("enter")
        assert "the disk is full" not in walk.text
        assert walk.job.answers["motor.phases"].value == "three"


async def test_a_record_open_elsewhere_is_read_and_followed() -> None:
    sentence = "T1.toml is open by Ada Field on shop-pc since 08:10"
    session = FakeSession(read_only=sentence)
    async with walking(session) as walk:
        assert sentence in walk.text and "READ ONLY" in walk.rows[0]
        await walk.type("1", "enter")
        await walk.press("f3", "f2", "f5", "f7", "backspace")
        assert session.saved == []
        session.newer = answered(motor__phases="three")
        await walk.until("Answered three")


async def test_a_draft_is_offered_and_never_sent_by_itself() -> None:
    drafts = FakeDrafts({"0" * 32: FakeDraft("motor.voltage", "23")})
    async with walking(drafts=drafts) as walk:
        assert "Nameplate voltage" in walk.text and "› 23" in walk.text
        assert "This was being typed when the screen closed" in walk.text
        assert walk.job.answers == {}
        await walk.type("0", "enter")
        assert walk.job.answers["motor.voltage"].value == 230.0
        assert drafts.kept == {}


async def test_the_open_field_is_kept_within_a_second() -> None:
    async with walking() as walk:
        await walk.type("sing")
        await walk.pilot.pause(1.0)
        assert walk.drafts.kept["0" * 32].text == "sing"


async def test_entries_of_a_failed_save_are_offered() -> None:
    session = FakeSession(rescue=answered(motor__phases="single"))
    async with walking(session) as walk:
        await walk.until("A failed save has left 1 entry.")
        await walk.type("y", "enter")
        assert walk.job.answers["motor.phases"].value == "single"


async def test_warnings_of_the_folder_are_said_once() -> None:
    async with walking(FakeSession(warnings=("Anybody can change files here.",))) as walk:
        assert "Anybody can change files here." in walk.text
        await walk.press("escape")
        assert "Anybody" not in walk.text
        await walk.type("1", "enter")
        assert walk.job.answers["motor.phases"].value == "single"


async def test_a_stopwatch_gives_the_answer_of_a_timed_item() -> None:
    async with walking(FakeSession(before_start())) as walk:
        await walk.go("vent.time")
        await walk.press("f5")
        walk.clock.pass_by(75)
        await walk.until("1:15")
        walk.clock.pass_by(8)
        await walk.press("f5")
        assert "› 83.0 s" in walk.text
        await walk.press("enter")
        assert walk.job.answers["vent.time"].value == 83.0


async def test_readings_of_a_series_are_taken_while_the_stopwatch_runs() -> None:
    async with walking(FakeSession(before_start())) as walk:
        await walk.go("pump.series")
        await walk.press("f5")
        for seconds, reading in ((0, "100"), (30, "112.5"), (30, "124")):
            walk.clock.pass_by(seconds)
            await walk.type(reading, "enter")
        assert "3 readings" in walk.text and "124 psig ┤" in walk.text
        await walk.press("f5", "enter")
        assert walk.job.answers["pump.series"].value == ((0.0, 100.0), (30.0, 112.5), (60.0, 124.0))


async def test_a_stopwatch_started_elsewhere_says_that_it_goes_by_the_wall_clock() -> None:
    session = FakeSession(before_start())
    async with walking(session) as walk:
        await walk.go("vent.time")
        await walk.press("f5")
        walk.clock.boot = "boot-b"
        walk.clock.pass_by(60)
        await walk.until("by the wall clock")
        assert "1:00" in walk.text


async def test_nothing_ticks_while_no_stopwatch_runs() -> None:
    async with walking(FakeSession(before_start())) as walk:
        await walk.go("vent.time")
        await walk.press("f5")
        assert walk.work._ticking is not None
        await walk.press("f5")
        await walk.pilot.pause(1.1)
        assert walk.work._ticking is None
