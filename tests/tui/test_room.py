"""Cautions and dangers have the rows that are free, and nothing moves while somebody types."""

from __future__ import annotations

from functools import cache

import pytest

from tests.demo.maker import commission, scenario
from tests.tui.counting import counting, without
from tests.tui.fake import FakeSession
from tests.tui.walk import walking
from wizard import actions
from wizard.actions import Hand
from wizard.job import Job
from wizard.tui.pages import Pages
from wizard.tui.spans import text_of

CAUTIOUS = ("place.hazard", "room.outdoor", "relief.capacity", "bond.loop", "supply.voltage",
            "start.rotation")  # fmt: skip


@pytest.mark.parametrize("key", CAUTIOUS)
async def test_a_caution_is_whole_where_rows_are_free_and_stays_where_it_is(key: str) -> None:
    job = without(finished(), key)
    async with counting(job) as (walk, _):
        await walk.go(key)
        await walk.settle()
        shown = walk.work.sheet("question")
        assert "F1" not in shown.text
        assert " ".join(job.procedure.items[key].caution.split()) in " ".join(shown.text.split())
        before = shown.region, walk.work.field.region, walk.work.sheet("below").region
        await walk.type("1")
        walk.work.paint_below()
        await walk.settle()
        assert before == (shown.region, walk.work.field.region, walk.work.sheet("below").region)


@cache
def finished() -> Job:
    """The main job, all answered."""
    return commission("J1", scenario("fifteen_hp"))


def held_by(key: str, text: str) -> Job:
    """The main job, held by an answer."""
    job = without(finished(), key)
    hand = Hand("Tess Tester", job.events[-1].at)
    return actions.answer(job, key, text, hand, confirmed=True)


def running(text: str) -> str:
    """Text without its line breaks."""
    return " ".join(text.split())


@pytest.mark.parametrize(
    ("held", "text"), [("hose.working_pressure", "150 psi"), ("supply.voltage", "400 400 400 V")]
)
@pytest.mark.parametrize("front", ["machine.label", "motor.speed", "machine.mass"])
async def test_what_a_hold_found_clears_and_threatens_is_whole_where_rows_are_free(
    held: str, text: str, front: str
) -> None:
    job = held_by(held, text)
    async with counting(job) as (walk, _):
        await walk.go(front)
        told, found = running(walk.work.sheet("hold").text), job.holds()[0].finding
        assert found.text in told
        assert f"Clears: {found.clears}" in told and f"Danger: {found.danger}" in told


@pytest.mark.parametrize("size", [(80, 24), (60, 20)])
async def test_the_explanation_of_any_item_has_the_hold_that_the_band_cuts(
    size: tuple[int, int],
) -> None:
    job = held_by("supply.voltage", "400 400 400 V")
    found = job.holds()[0].finding
    async with walking(FakeSession(job), size=size) as walk:
        await walk.go("anchor.surface")
        assert "… F1" in walk.text and "… …" not in walk.text and "……" not in walk.text
        assert found.danger not in running(walk.text)
        await walk.press("f1")
        page = running(text_of(walk.work.query_one("#help", Pages).everything))
        assert "Held by: Line voltage, compressor off" in page
        assert found.text in page
        assert f"Clears: {found.clears}" in page and f"Danger: {found.danger}" in page


async def test_a_question_that_fills_its_rows_leaves_one_to_the_caution() -> None:
    job = without(finished(), "supply.voltage")
    async with walking(FakeSession(job), size=(60, 20)) as walk:
        await walk.go("supply.voltage")
        assert "Caution: Live on the line side" in running(walk.text)


async def test_an_answer_that_holds_leaves_the_field_where_it_was() -> None:
    job = without(finished(), "supply.voltage")
    async with walking(FakeSession(job)) as walk:
        await walk.go("supply.voltage")
        before = walk.work.field.region
        await walk.type("400 400 400 V", "enter")
        await walk.type("y", "enter")
        assert walk.job.state == "held" and walk.work.desk.key == "supply.voltage"
        assert walk.work.field.region == before


@pytest.mark.parametrize(
    ("key", "typed", "accepted"),
    [
        ("receiver.plate", "7", "1 read in full; 2 partly unreadable; 3 missing."),
        ("anchor.surface", "7", "4 anti-seize; 5 unknown."),
        ("supply.voltage", "7", "3 numbers with spaces between: L1-L2, L2-L3, L3-L1."),
    ],
)
@pytest.mark.parametrize("held", [False, True])
async def test_the_explanation_has_rows_to_read_and_leaves_a_refusal_whole(
    key: str, typed: str, accepted: str, held: bool
) -> None:
    job = held_by("hose.working_pressure", "150 psi") if held else finished()
    async with walking(FakeSession(without(job, key)), size=(60, 20)) as walk:
        await walk.go(key)
        await walk.press("f1")
        pane = walk.work.query_one("#help", Pages)
        where = pane.region
        assert where.height >= 4
        first = walk.rows[where.y]
        await walk.type(typed, "enter")
        assert accepted in running(" ".join(row[5:] for row in walk.rows))
        assert pane.region == where and walk.rows[where.y] == first
        await walk.press("tab")
        assert walk.rows[where.y] != first
        if held:
            assert "HELD in phase 11" in walk.rows[where.y - 1]


async def test_closing_the_explanation_gives_the_rows_back() -> None:
    async with walking(FakeSession(finished()), size=(60, 20)) as walk:
        await walk.go("relief.set")
        before = walk.text
        await walk.press("f1", "f1")
        assert walk.text == before
