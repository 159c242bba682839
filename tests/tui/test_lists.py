"""The lists of the working screen: items, commands, instruments, what is left."""

from __future__ import annotations

from datetime import date

import pytest

from tests import small
from tests.small import hand, new_job
from tests.tui.fake import FakeSession
from tests.tui.walk import walking
from wizard import actions
from wizard.instrument import Instrument
from wizard.job import Header, Job
from wizard.procedure.loader import build

VOLTS = f"""
[phase]
number = 1
title = "Supply"
place = "At the starter"
risk = "Live parts."

[[item]]
key = "supply.voltage"
ask = "Line voltage"
kind = "measure"
quantity = "voltage"
unit = "V"
labels = ["L1-L2", "L2-L3", "L3-L1"]
severity = "handover"
instrument = "voltmeter"
{small.TEXTS}
"""


def held() -> Job:
    job = new_job()
    for minute, (key, text) in enumerate(
        {"motor.phases": "single", "wire.colours": "2", "lock.on": "no"}.items()
    ):
        job = actions.answer(job, key, text, hand(minute))
    return job


async def test_every_item_is_listed_by_phase_with_its_state_in_words() -> None:
    async with walking(FakeSession(held())) as walk:
        await walk.press("f8")
        rows = [" ".join(row.split()) for row in walk.rows]
        assert any("Phases of the motor single PASS" in r for r in rows)
        assert any("Lock and tag on the disconnect no FAIL" in r for r in rows)
        assert any("Conductor colours match the diagram different, recorded ADV" in r for r in rows)
        assert any("Gauge with the drain open later" in r for r in rows)


async def test_filters_show_what_holds_what_is_open_and_what_wants_a_note() -> None:
    async with walking(FakeSession(held())) as walk:
        await walk.press("f8", "h")
        assert "Lock and tag" in walk.text and "Phases of" not in walk.text
        await walk.press("o")
        assert "Nameplate voltage" in walk.text and "Lock and tag" not in walk.text
        await walk.press("v")
        assert "Conductor colours" in walk.text and "Nameplate" not in walk.text
        await walk.press("a")
        assert "Conductor colours" in walk.text and "Nameplate" in walk.text


async def test_search_finds_a_word_and_enter_goes_to_the_item() -> None:
    async with walking(FakeSession(held())) as walk:
        await walk.press("f8", "slash")
        await walk.type("vent", "enter")
        assert "All items with “vent”" in walk.text and "Phases of" not in walk.text
        await walk.press("enter")
        assert "Time for the head to vent" in walk.rows[3]
        assert "Not yet: Held in phase 2" in walk.text


async def test_escape_goes_back_to_the_item_that_was_in_front() -> None:
    async with walking(FakeSession(held())) as walk:
        before = walk.rows[3]
        await walk.press("f8", "down", "escape")
        assert walk.rows[3] == before


async def test_a_command_without_a_key_is_done_from_the_list_of_commands() -> None:
    async with walking(FakeSession(held())) as walk:
        await walk.press("f9")
        assert "Copy the answer" in walk.text and "Start or stop" not in walk.text
        walk.work.lists.pane.put((), walk.work.lists.pane.rows, "left")
        await walk.press("enter")
        assert "What is left" in walk.text


async def test_typing_narrows_the_list_of_commands_and_enter_does_what_is_left() -> None:
    async with walking(FakeSession(held())) as walk:
        await walk.press("f9")
        await walk.type("clip")
        assert "Commands with “clip”" in walk.text and "1 of 1" in walk.text
        assert "copy value" in walk.text and "what is left" not in walk.text
        await walk.press("backspace", "backspace", "backspace", "backspace")
        assert "Commands   type to find one" in walk.text and "what is left" in walk.text
        await walk.type("open and failed", "enter")
        assert "What is left" in walk.text


async def test_typing_where_nothing_is_found_does_nothing_and_escape_leaves() -> None:
    async with walking(FakeSession(held())) as walk:
        await walk.press("f9")
        await walk.type("zzz", "enter")
        assert "Nothing here." in walk.text
        await walk.press("escape")
        assert "› " in walk.text


async def test_letters_still_filter_the_list_of_items() -> None:
    async with walking(FakeSession(held())) as walk:
        await walk.press("f9", "escape", "f8", "h")
        assert "Lock and tag" in walk.text and "Phases of" not in walk.text


async def test_the_summary_names_what_holds_the_job() -> None:
    async with walking(FakeSession(held())) as walk:
        await walk.press("f9")
        walk.work.lists.pane.put((), walk.work.lists.pane.rows, "finish")
        await walk.press("enter")
        assert "HELD: the job cannot go on" in walk.text
        assert "Held or failed: 1" in walk.text and "Wants a note: 1" in walk.text
        await walk.press("escape")
        assert "› " in walk.text


async def test_a_new_instrument_is_asked_for_line_by_line_and_used_for_the_reading() -> None:
    procedure = build({"01_supply.toml": VOLTS})
    session = FakeSession(Job.new(Header("T1", "0" * 32, small.START_TIME), procedure))
    async with walking(session) as walk:
        await walk.press("f4")
        assert "A new voltmeter" in walk.text
        await walk.press("enter")
        await walk.type("Meter 7", "enter")
        await walk.type("1 % + 2 V", "enter")
        await walk.type("2026-12-01", "enter")
        listed = walk.job.instruments["Meter 7"]
        assert (listed.kind, listed.of_reading, listed.fixed) == ("voltmeter", 0.01, 2.0)
        assert "voltmeter: Meter 7" in walk.text
        await walk.type("462 463 455", "enter")
        assert walk.job.answers["supply.voltage"].instrument == "Meter 7"


async def test_an_accuracy_that_is_not_understood_is_asked_for_again_and_the_name_kept() -> None:
    procedure = build({"01_supply.toml": VOLTS})
    session = FakeSession(Job.new(Header("T1", "0" * 32, small.START_TIME), procedure))
    async with walking(session, size=(80, 24)) as walk:
        await walk.press("f4", "enter")
        await walk.type("Meter 7", "enter")
        await walk.type("good", "enter")
        assert "Accepted: 1 %" in walk.text and "› good" in walk.text
        assert walk.job.instruments == {}
        await walk.type("0.5 % + 3 digits", "enter")
        assert "Size of one digit, as 0.1 V" in walk.text
        await walk.type("a few", "enter")
        await walk.type("0.1 V", "enter")
        await walk.type("1/12/2026", "enter")
        assert "Accepted: a date as 2026-03-01" in walk.text
        await walk.type("2026-12-01", "enter")
        listed = walk.job.instruments["Meter 7"]
        assert listed.of_reading == 0.005 and listed.fixed == pytest.approx(0.3)
        assert listed.calibration_due == date(2026, 12, 1)


async def test_a_listed_instrument_is_picked_for_the_reading() -> None:
    procedure = build({"01_supply.toml": VOLTS})
    job = Job.new(Header("T1", "0" * 32, small.START_TIME), procedure)
    job = actions.list_instrument(job, Instrument("Meter 7", "voltmeter", "voltage"), hand(0))
    async with walking(FakeSession(job)) as walk:
        await walk.press("f4")
        assert "voltmeter, accuracy not given" in walk.text
        await walk.press("enter")
        assert walk.work.desk.instrument == "Meter 7"


@pytest.mark.parametrize("size", [(60, 20), (80, 24)])
async def test_an_answer_that_is_cut_in_the_list_says_so(size: tuple[int, int]) -> None:
    job = actions.answer(new_job(), "motor.phases", "single", hand(0))
    job = actions.answer(job, "machine.label", "Dairy on the hill, plant room", hand(1))
    async with walking(FakeSession(job), size=size) as walk:
        await walk.press("f8")
        assert "Dairy on the hill, plan…  PASS" in walk.text
        assert "  single  PASS" in walk.text
