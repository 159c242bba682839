"""What stands beside a look: choices, cautions and their key, what was seen before, whose item."""

from __future__ import annotations

import pytest

from tests.training.site import Visit, practising
from wizard.commands.deeds import deeds, objects
from wizard.commands.exercise import Look


async def at_item(visit: Visit, key: str, look: Look) -> None:
    """An item in front, and what it is read from looked at."""
    visit.site.desk.go(key)
    visit.site.show_item()
    visit.site.look_at(look)
    await visit.settle()


async def test_choices_and_caution_take_the_rows_that_the_look_leaves_free() -> None:
    async with practising("first_day") as visit:
        await at_item(visit, "start.unloaded_sound", Look("ear", "machine"))
        assert "even, nothing unusual" in visit.text and "smoke or burning smell" in visit.text
        assert "Caution: Knock, scrape, smoke or smell: stop at once, then think." in visit.text
        await at_item(visit, "belt.frequency", Look("belt frequency meter", "belt.middle"))
        assert "Never hold a phone near a turning belt." in visit.text


@pytest.mark.parametrize("size", [(80, 24), (60, 20)])
async def test_a_caution_is_whole_beside_a_look_that_leaves_rows_free(
    size: tuple[int, int],
) -> None:
    async with practising("first_day", size=size) as visit:
        await visit.press("f4")
        said = " ".join(visit.text.split())
        assert "turn the face away, one hand, then look at the blades or the marking." in said


async def test_the_caution_that_is_cut_over_a_drawing_is_read_in_full_by_its_key() -> None:
    async with practising("first_day") as visit:
        await at_item(visit, "lift.pressure", Look("test gauge", "tank.test_port"))
        assert "… F1" in visit.text and "F1 help" in visit.rows[-1]
        await visit.press("f1")
        assert "relief setting to test the valve." in " ".join(visit.text.split())
        await visit.press("escape")
        assert visit.site.place == "sight" and visit.site.desk.key == "lift.pressure"


async def test_what_came_of_a_deed_is_told_before_what_was_done() -> None:
    async with practising("first_day") as visit:
        await visit.do("Pull the ring of the relief valve")
        assert "The ring comes up; nothing blows." in visit.text


async def test_the_last_look_says_when_it_was_and_that_it_may_have_changed() -> None:
    async with practising("first_day") as visit:
        await at_item(visit, "relief.set", Look("eye", "relief.stamp"))
        await visit.press("escape")
        assert "As it was looked at, 0:00:20." in visit.text
        assert "may have changed" not in visit.text
        await visit.do("Drain valve of the tank: open")
        assert "As it was looked at, 0:00:20. It may have changed since." in visit.text


async def test_looking_keeps_an_item_under_power_and_says_where_the_other_is() -> None:
    async with practising("first_day") as visit:
        await at_item(visit, "lift.pressure", Look("test gauge", "tank.test_port"))
        await visit.go_to("Oil level")
        assert visit.site.desk.key == "lift.pressure" and visit.site.has_class("-only")
        assert "Read here in phase 10" in visit.text
        await visit.type("12")
        assert visit.site.unsent == {}


async def test_a_phase_under_power_is_not_left_while_something_in_it_is_open() -> None:
    async with practising("first_day") as visit:
        visit.site.desk.go("lift.pressure")
        visit.site.show_item()
        await visit.press("f6")
        assert visit.site.desk.item.phase <= 12


async def test_the_list_of_deeds_says_that_it_goes_on() -> None:
    async with practising("first_day") as visit:
        await visit.press("f3")
        assert "rows, the arrows go on below" in visit.text


async def test_what_is_put_right_stands_last_in_its_list() -> None:
    async with practising("first_day") as visit:
        for name in ("blocks_in", "oil_low"):
            visit.exercise.do("report", name)
        visit.exercise.do("repair", "oil_low")
        rows = [title for _, title, _ in objects(visit.run, "repair")]
        assert rows == ["Shipping blocks left in", "Oil below the mark"]
        visit.exercise.do("repair", "blocks_in")
        assert not [d for d in deeds(visit.run) if d.verb == "repair"]
