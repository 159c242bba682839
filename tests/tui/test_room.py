"""Cautions and dangers have the rows that are free, and nothing moves while somebody types."""

from __future__ import annotations

import pytest

from tests.demo.maker import commission, scenario
from tests.tui.counting import counting, without
from wizard import actions
from wizard.actions import Hand


@pytest.mark.parametrize("key", ["place.hazard", "room.outdoor", "relief.capacity", "bond.loop"])
async def test_a_caution_is_whole_where_rows_are_free_and_stays_where_it_is(key: str) -> None:
    job = without(commission("J1", scenario("fifteen_hp")), key)
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


async def test_the_danger_of_a_hold_is_whole_where_rows_are_free() -> None:
    job = commission("J1", scenario("fifteen_hp"))
    hand = Hand("Tess Tester", job.events[-1].at)
    job = without(job, "hose.working_pressure")
    job = actions.answer(job, "hose.working_pressure", "150 psi", hand, confirmed=True)
    async with counting(job) as (walk, _):
        await walk.go("machine.label")
        await walk.settle()
        told = " ".join(walk.work.sheet("hold").text.split())
        held = job.holds()[0].finding
        assert f"Clears: {held.clears}" in told and f"Danger: {held.danger}" in told
