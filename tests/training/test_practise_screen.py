"""On the site: what an apprentice presses, sees, and what is then in run and record."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.training.site import Visit, choosing, practising
from wizard.commands.exercise import Look
from wizard.commands.shelf import Shelf
from wizard.errors import StoreError
from wizard.practice.acts import reported
from wizard.practice.record import Lesson
from wizard.practice.scoring import readings
from wizard.store import now


async def front(visit: Visit, key: str) -> None:
    """Put an item in front through the list."""
    await visit.press("f8", "slash")
    await visit.type(key, "enter")
    await visit.press("enter")
    assert visit.site.desk.key == key


def ended(visit: Visit) -> str:
    """How the run has ended; empty while it goes on."""
    return visit.run.ended


async def test_the_run_says_practice_on_every_screen() -> None:
    async with practising("first_day") as visit:
        assert visit.rows[0].startswith(" PRACTICE  First day")
        assert "locked off, still" in visit.rows[2]
        await visit.press("f2")
        assert visit.rows[0].startswith(" PRACTICE")
        await visit.press("enter")
        assert visit.rows[0].startswith(" PRACTICE")


async def test_an_item_is_looked_at_and_read_into_the_practice_record() -> None:
    async with practising("first_day") as visit:
        await front(visit, "relief.set")
        assert "F4 looks at it: Stamp on the relief valve" in visit.text
        await visit.press("f4")
        assert "RELIEF VALVE" in visit.text and "150 psi" in visit.text
        assert "Set pressure stamped on the relief valve as fitted" in visit.text
        await visit.type("150")
        assert "PASS" in visit.text
        await visit.press("enter")
        assert visit.exercise.job.answers["relief.set"].value == 150.0
        assert visit.exercise.job.answers["relief.set"].by == "Ada Prentice"
        assert [e.where for e in visit.run.log if e.kind == "look"] == ["relief.stamp"]
        noted = [e for e in visit.run.log if e.kind == "note"]
        assert [e.what for e in noted] == ["relief.set"]


async def test_a_set_of_readings_is_taken_place_after_place() -> None:
    async with practising("which_way_round") as visit:
        await front(visit, "supply.voltage")
        await visit.press("f4")
        shown = []
        for number in range(3):
            assert f"{number + 1} of 3 places of this item" in visit.text
            row = next(r for r in visit.rows if " V  " in r and "|" in r)
            shown.append(row.strip(" |").split()[0])
            await visit.type(shown[-1] + " ")
            if number < 2:
                await visit.press("pagedown")
        await visit.press("enter")
        if visit.site.status.asking:
            await visit.type("y", "enter")
        taken = visit.exercise.job.answers["supply.voltage"].value
        assert taken == tuple(float(text) for text in shown)
        noted = [e.what for e in visit.run.log if e.kind == "note"]
        assert noted == [f"multimeter at supply.{p}" for p in ("L1-L2", "L2-L3", "L3-L1")]


async def test_walking_puts_the_item_in_front_that_is_read_there() -> None:
    async with practising("first_day") as visit:
        await visit.go_to("Print along the hose")
        assert visit.site.desk.key == "hose.working_pressure"
        await visit.go_to("Under the pump")
        assert "No item is read here now" in visit.text
        assert "red wooden blocks" in visit.text
        await visit.type("12")
        assert visit.site.unsent == {}
        await visit.press("escape")
        assert visit.site.desk.key == "hose.working_pressure"


async def test_an_instrument_is_exchanged_and_set_wrong() -> None:
    async with practising("first_day") as visit:
        await visit.go_to("Disconnect, line side, L1 to L2")
        await visit.press("f4")
        await visit.pick("60 V")
        assert "OL" in visit.text and "range 60 V" in visit.text
        await visit.do("Belt guard: off")
        await visit.go_to("Belt, middle")
        await visit.press("f4")
        await visit.pick("force gauge")
        assert "Force gauge: Belt" in visit.text


async def test_a_defect_is_listed_put_right_and_struck_off() -> None:
    async with practising("first_day") as visit:
        await visit.do("Write on the defect list")
        await visit.pick("Oil below the mark")
        assert reported(visit.run) == ("oil_low",)
        assert "It is on the defect list." in visit.text
        await visit.do("Write on the defect list")
        await visit.pick("A joint leaks")
        await visit.do("Strike off the defect list")
        await visit.pick("A joint leaks")
        assert reported(visit.run) == ("oil_low",)
        await visit.do("Have it put right")
        await visit.pick("Oil below the mark")
        assert "oil_low" not in visit.run.present


async def test_an_act_that_cannot_be_done_is_refused_with_a_sentence() -> None:
    async with practising("off_the_truck") as visit:
        await visit.press("f3")
        assert "Take your lock off" not in visit.text
        await visit.pick("skid points")
        await visit.type("y", "enter")
        assert visit.run.placed
        await visit.do("Back a foot off a quarter turn, lock its nut: foot 1")
        assert "That foot is loose." in visit.text


async def test_a_dangerous_act_is_asked_about_then_ends_the_run_soberly() -> None:
    async with practising("first_day") as visit:
        await visit.do("Open the starter panel yourself", yes=False)
        await visit.type("n", "enter")
        assert ended(visit) == ""
        await visit.do("Open the starter panel yourself")
        assert ended(visit) == "live_panel"
        assert "THE RUN HAS ENDED" in visit.text
        assert "What would have happened" in visit.text
        await visit.press("f3", "f2", "f4", "f7")
        assert "THE RUN HAS ENDED" in visit.text
        await visit.press("enter")
        read = await visit.tell("Next")
        assert "First day: " in read and "Missed: Oil below the mark" in read
        record = Shelf("Ada Prentice").training()
        assert [run.ended for run in record.runs] == ["live_panel"]


@pytest.mark.parametrize("on", [False, True], ids=["lock off", "switched on"])
async def test_energising_under_a_hold_ends_the_run(on: bool) -> None:
    async with practising("the_stamp") as visit:
        if on:
            await visit.do("Take your lock off")
        await visit.go_to("Stamp on the relief valve")
        await front(visit, "relief.set")
        await read_too_high(visit)
        assert "HELD in phase 7" in visit.rows[0]
        await visit.do("Switch at the machine: on" if on else "Take your lock off")
        assert visit.run.ended == "energised_under_hold"
        assert "Energised while the job was held" in visit.text


async def read_too_high(visit: Visit) -> None:
    """Answer that the relief valve is set far above the tank's limit."""
    await visit.type("300", "enter")
    if visit.site.status.asking:
        await visit.type("y", "enter")


async def test_the_hold_and_what_is_open_are_said_before_lock_off_and_handover() -> None:
    async with practising("first_day") as visit:
        await visit.go_to("Stamp on the relief valve")
        await visit.type("1", "enter")
        await read_too_high(visit)
        await visit.do("Take your lock off", yes=False)
        assert "HELD in phase 7. Lock off all the same? y or n" in visit.text
        await visit.press("escape")
        await visit.do("Hand over", yes=False)
        assert "safety items open or failed. Hand over? y or n" in visit.text
        await visit.press("escape")
        assert not visit.run.ended


async def test_unlocking_with_open_safety_items_is_asked_about_in_numbers() -> None:
    async with practising("first_day") as visit:
        await visit.do("Take your lock off", yes=False)
        assert "safety items are open. Lock off? y or n" in visit.text
        await visit.press("escape")
        assert visit.run.state.locked


async def test_time_stands_until_something_can_move_and_runs_then() -> None:
    async with practising("nothing_wrong") as visit:
        assert visit.site._clock is None and "stands" in visit.rows[2]
        await visit.do("Take your lock off")
        assert visit.site._clock is not None
        await visit.do("Switch at the machine: on")
        before = visit.run.state.time
        await visit.press("ctrl+t", "ctrl+t")
        assert "runs x20" in visit.rows[2]
        visit.site._second()
        await visit.settle()
        assert visit.run.state.time - before >= 20.0
        assert visit.run.gauge > 0
        await visit.press("f7")
        assert "power on, still" in visit.rows[2]
        await visit.do("Lock and tag")
        assert visit.site._clock is None


async def test_the_needle_moves_while_it_is_looked_at_and_one_look_is_logged() -> None:
    async with practising("nothing_wrong") as visit:
        await visit.do("Take your lock off")
        await visit.do("Switch at the machine: on")
        await visit.go_to("Test port of the tank")
        first = visit.text
        looks = sum(e.kind == "look" for e in visit.run.log)
        visit.site.pace = 20
        visit.site._second()
        await visit.settle()
        assert visit.text != first
        assert sum(e.kind == "look" for e in visit.run.log) == looks


async def test_the_stopwatch_of_an_item_runs_in_the_time_of_the_machine() -> None:
    async with practising("nothing_wrong") as visit:
        clock = visit.site.desk.clock
        visit.exercise.pass_time(90.0)
        assert clock.monotonic()["monotonic"] == 90.0


@pytest.mark.parametrize("text", ["soon", "0 min", "5 h", "-3 s", "9**9 min"])
async def test_a_wait_that_makes_no_sense_is_refused(text: str) -> None:
    async with practising("nothing_wrong") as visit:
        await visit.do("Wait", yes=False)
        await visit.type(text, "enter")
        assert "accepted" in visit.text
        assert visit.run.state.time == 0.0


async def test_a_run_is_left_and_taken_up_where_it_was() -> None:
    async with practising("first_day") as visit:
        await visit.go_to("Oil level")
        await visit.do("Write on the defect list")
        await visit.pick("Oil below the mark")
        record = visit.exercise.held.record
        log = visit.run.log
        visit.app.stop()
    async with choosing(resume=True) as again:
        assert again.exercise.held.record == record
        assert again.run.log == log
        assert reported(again.run) == ("oil_low",)


async def test_another_session_of_the_same_run_can_only_look() -> None:
    async with practising("first_day") as visit:
        await visit.go_to("Oil level")
        async with choosing(resume=True) as second:
            assert "Read only" in second.text
            await second.press("f3")
            assert "Do  " not in second.rows[3]


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (60, 20)])
async def test_the_sight_its_item_and_the_keys_fit(size: tuple[int, int]) -> None:
    async with practising("first_day", size=size) as visit:
        await front(visit, "relief.set")
        await visit.press("f4")
        assert "150 psi" in visit.text
        assert "Set pressure stamped" in visit.text
        assert "F10 quit" in visit.rows[-1]
        assert all(len(row) <= size[0] for row in visit.rows)


async def test_what_was_noticed_is_told_again_with_its_time() -> None:
    async with practising("nothing_wrong") as visit:
        await visit.do("Take your lock off")
        await visit.do("Switch at the machine: on")
        visit.exercise.pass_time(65.0)
        await visit.press("f7", "f9")
        await visit.pick("what happened")
        assert "0:01:05  The contactor pulls in with a clack" in visit.text
        assert "0:02:15  The motor drops out" in visit.text
        await visit.press("escape")
        assert visit.site.place == "site"


async def test_wrong_jacks_across_live_lines_end_the_run() -> None:
    async with practising("first_day") as visit:
        await visit.go_to("Disconnect, line side, L1 to L2")
        await visit.press("f4")
        await visit.pick("10A")
        assert ended(visit) == "amps_jack"
        assert "Leads in the current jack across live lines" in visit.text


async def test_the_next_item_closes_what_belongs_to_the_one_before() -> None:
    async with practising("first_day") as visit:
        await visit.go_to("Under the pump")
        await visit.press("f6")
        assert visit.site.place == "site" and "red wooden blocks" not in visit.text
        assert visit.site.desk.key in visit.exercise.job.procedure.items


async def test_a_disk_that_is_full_leaves_the_run_as_it_was(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    async with practising("first_day") as visit:

        def full(*_: object) -> None:
            raise StoreError("The run is not saved: the disk is full.")

        monkeypatch.setattr(visit.exercise.shelf, "keep", full)
        before = visit.run
        await visit.do("Drain valve of the tank: open")
        assert "the disk is full" in visit.text
        assert visit.run is before
        await visit.go_to("Oil level")
        assert "Sight glass" not in visit.text


async def test_a_run_that_ends_with_a_damaged_training_record_is_told_all_the_same(
    state_home: Path,
) -> None:
    async with practising("first_day") as visit:
        Shelf("Ada Prentice").learned(Lesson(at=now(), item="x", right=True))
        (file,) = (state_home / "training").glob("*.toml")
        file.write_text("practice = ")
        await visit.do("Open the starter panel yourself")
        assert "THE RUN HAS ENDED" in visit.text
        assert "not readable" in visit.text
        await visit.press("enter")
        assert "Safety: 0 of 35" in visit.text


async def test_a_terminal_with_ascii_only_sees_the_gauge() -> None:
    async with practising("nothing_wrong") as visit:
        visit.app.painter.ascii_only = True
        await visit.go_to("Test port of the tank")
        drawn = "\n".join(row for row in visit.rows[3:20])
        assert "V" in drawn and "|" in drawn
        assert not any(0x2800 <= ord(char) <= 0x28FF for char in drawn)


async def test_a_reading_is_judged_by_what_stood_there_when_it_was_typed() -> None:
    async with practising("first_day") as visit:
        await visit.go_to("Oil level")
        await visit.type("1", "enter")
        assert visit.site.desk.key == "oil.level_glass"
        for title in ("Write on the defect list", "Have it put right"):
            await visit.do(title)
            await visit.pick("Oil below the mark")
        shown = visit.exercise.glance(Look("eye", "oil.glass")).shown
        assert shown is not None and shown.value > 0.5
        await visit.type(f"{shown.value * 100:.0f}", "enter")
        assert visit.exercise.job.answers["oil.level_glass"].unit == "%"
        assert [taken.steps for taken in readings(visit.run)] == [pytest.approx(0.0, abs=0.01)]


async def test_stopping_a_machine_that_stands_says_that_it_does() -> None:
    async with practising("first_day") as visit:
        await visit.press("f7")
        assert "The machine is switched off already: it stands still." in visit.rows[-2]


async def test_a_reading_typed_over_one_that_was_refused_is_a_look_of_its_own() -> None:
    async with practising("first_day") as visit:
        await visit.go_to("Oil level")
        await visit.type("1", "enter")
        await visit.type("600", "enter")
        assert "given 600" in visit.text
        for title in ("Write on the defect list", "Have it put right"):
            await visit.do(title)
            await visit.pick("Oil below the mark")
        looks = sum(entry.kind == "look" for entry in visit.run.log)
        await visit.type("6")
        assert visit.site.field.value == "6"
        assert sum(entry.kind == "look" for entry in visit.run.log) == looks + 1
