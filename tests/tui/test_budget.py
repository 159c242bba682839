"""Bytes over the link at the items of the main job that have most to show."""

from __future__ import annotations

from functools import cache

import pytest

from tests.demo.maker import commission, scenario, text_for
from tests.tui.counting import A_KEY, AN_ITEM, before, counting, without
from wizard.job import Job
from wizard.tui import answering

A_PAUSE = AN_ITEM
GIVEN = scenario("fifteen_hp")
ITEMS = (
    "supply.voltage",
    "relief.set",
    "hose.working_pressure",
    "switch.cut_out",
    "foot.target",
    "power.input",
    "pipe.main_bore",
    "start.exclusion",
    "oil.level_glass",
    "delivery.reference",
    "room.outdoor",
    "lift.angle",
    "belt.force",
    "pumpup.series",
    "anchor.surface",
)


@cache
def finished() -> Job:
    """The main job, all answered."""
    return commission("J1", GIVEN)


@pytest.mark.parametrize("key", ITEMS)
async def test_keys_and_the_answer_of_an_item_cost_little(
    key: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(answering, "PAUSE", 3600.0)  # comes when it is called for
    job = without(finished(), key)
    async with counting(job) as (walk, app):
        await walk.go(key)
        costs = {}
        app.count()
        text = text_for(job.procedure.items[key], GIVEN)
        for number, char in enumerate(text):
            await walk.type(char)
            costs[number, char] = app.count()
        assert max(costs.values()) <= A_KEY, costs
        walk.work.paint_below()
        await walk.settle()
        assert app.count() <= A_PAUSE
        await walk.press("enter")
        if walk.screen.status.asking:
            await walk.type("y", "enter")
        assert app.count() <= AN_ITEM
        assert key in walk.job.answers


@pytest.mark.parametrize(
    ("key", "text", "said"),
    [
        ("belt.force", "0.5 1 lbf", "Saved: FAIL. The slackest belt is 88.1 % below the least"),
        ("foot.gap_four", "0.05 0 0 0 in", "Saved: FAIL. A foot stands off its support by more"),
        ("overload.setting", "17 A", "Saved: ADVISORY. Below the nameplate current: it may trip"),
        ("supply.voltage", "400 400 400 V", "Saved: FAIL, holds the job."),
        ("hose.working_pressure", "150 psi", "Saved: FAIL, holds the job."),
        ("running.sound", "2", "Saved: FAIL, holds the job."),
    ],
)
async def test_an_answer_that_does_not_pass_is_named_within_the_same_bytes(
    key: str, text: str, said: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(answering, "PAUSE", 3600.0)
    job = without(finished(), key)
    async with counting(job) as (walk, app):
        await walk.go(key)
        await walk.type(text)
        app.count()
        await walk.press("enter")
        if walk.screen.status.asking:
            await walk.type("y", "enter")
        assert said in walk.text
        assert app.count() <= AN_ITEM


@pytest.mark.parametrize("key", ["start.lock_removed", "switch.condition", "place.hazard"])
async def test_an_item_with_another_layout_comes_in_one_frame(key: str) -> None:
    async with counting(before(finished(), key)) as (walk, app):
        await walk.type(text_for(walk.work.desk.item, GIVEN))
        app.count()
        await walk.press("enter")
        assert key in walk.job.answers
        assert app.frames == 1


async def test_a_quiet_screen_sends_nothing() -> None:
    async with counting(finished()) as (walk, app):
        await walk.go("supply.voltage")
        await walk.pilot.pause(1.0)
        app.count()
        await walk.pilot.pause(2.0)
        assert app.count() == 0
