"""The choice of what to practise: levels, runs in hand, briefings, seeds."""

from __future__ import annotations

import pytest

from tests.training.site import choosing, practising
from wizard.commands.practise import chooser, seed_from
from wizard.errors import InputError
from wizard.practice.scenario import scenario_names
from wizard.tui.list_pane import ListPane
from wizard.tui.practise import PractiseScreen


async def test_every_scenario_is_offered_and_the_advice_is_marked() -> None:
    async with choosing() as visit:
        assert visit.rows[0].startswith(" PRACTICE  simulated machines")
        marked = next(row for row in visit.rows if row.startswith("►"))
        assert "First day" in marked
        picks = [row.pick for row in visit.screen.query_one(ListPane).rows]
        assert picks == [f"new {name}" for name in (*scenario_names(), "endless")]
        await visit.press("end")
        assert "An unknown machine" in next(row for row in visit.rows if row.startswith("►"))


async def test_a_briefing_is_read_before_anything_begins_and_can_be_left() -> None:
    async with choosing() as visit:
        await visit.press("down", "enter")
        assert "Off the truck" in visit.rows[3] and "Enter goes on" in visit.text
        await visit.press("escape")
        assert "What to practise" in visit.text


async def test_enter_pressed_twice_begins_one_run() -> None:
    async with choosing("first_day", 3) as visit:
        await visit.press("enter", "enter", "enter")
        await visit.arrive(PractiseScreen)
        assert len(visit.exercise.shelf.in_hand()) == 1
        assert visit.run.seed == 3


async def test_a_run_in_hand_is_offered_first() -> None:
    async with practising("first_day") as visit:
        await visit.go_to("Oil level")
        visit.app.stop()
    async with choosing() as visit:
        marked = next(row for row in visit.rows if row.startswith("►"))
        assert "Go on: First day" in marked and "left at 0:00:20" in marked
        await visit.press("enter")
        await visit.arrive(PractiseScreen)
        assert [e.where for e in visit.run.log] == ["oil.glass"]


async def test_an_unknown_machine_comes_from_the_seed() -> None:
    async with choosing("", 41) as visit:
        assert "Unknown machine, seed 41" in visit.text
        await visit.press("enter")
        await visit.arrive(PractiseScreen)
        assert visit.run.seed == 41


@pytest.mark.parametrize("text", ["x", "-1", "1.5", "99999999999", "1e3", "٣"])
def test_a_seed_that_is_no_number_is_refused(text: str) -> None:
    with pytest.raises(InputError, match="accepted a whole number"):
        seed_from(text)


def test_an_unknown_scenario_and_nothing_to_resume_are_said_in_a_sentence() -> None:
    with pytest.raises(InputError, match="accepted first_day"):
        chooser("Ada", "tuesday")
    with pytest.raises(InputError, match="a run that was left"):
        chooser("Ada", resume=True)()
