"""A visit after the handover on the working screen: begun, answered, closed, what is due."""

from __future__ import annotations

import pytest

from tests.demo.fleet import finished
from tests.small import new_job
from tests.tui.fake import FakeSession
from tests.tui.walk import Walk, walking
from wizard.job import Job


@pytest.fixture
def session() -> FakeSession:
    return FakeSession(finished("five_hp"))


async def to_visit(walk: Walk) -> None:
    walk.work.run_command("visit")
    await walk.settle()


async def begun(walk: Walk) -> None:
    await to_visit(walk)
    await walk.press("enter")
    await walk.type("y", "enter")


async def at(walk: Walk, key: str) -> None:
    """Mark the row of an item."""
    picks = [row.pick for row in walk.work.lists.pane.rows]
    await walk.press("home", *["down"] * [p for p in picks if p].index(f"item {key}"))


def of(walk: Walk) -> Job:
    return walk.session.job


async def test_a_visit_is_begun_and_says_what_to_be_careful_of(session: FakeSession) -> None:
    async with walking(session) as walk:
        await to_visit(walk)
        assert "Recheck after the first days" in walk.text and "Yearly service" in walk.text
        assert "Due" in walk.text and of(walk).visits == {}
        await walk.press("enter")
        await walk.type("y", "enter")
        assert of(walk).visits[1].kind == "recheck"
        assert "Lock out, drain the tank" in walk.text


async def test_a_reading_that_does_not_pass_is_named_as_it_is_saved(session: FakeSession) -> None:
    async with walking(session) as walk:
        await begun(walk)
        await at(walk, "belt.condition")
        await walk.press("enter")
        await walk.type("no", "enter")
        assert "Saved: FAIL. Answered no." in walk.text


async def test_a_reading_is_shown_beside_that_of_the_commissioning(session: FakeSession) -> None:
    async with walking(session, size=(120, 30)) as walk:
        await begun(walk)
        await at(walk, "belt.deflection")
        await walk.press("enter")
        assert "was 0.37 in" in walk.rows[-2]
        await walk.type("0.42 in", "enter")
        assert "0.37 in > 0.42 in +0.05 in" in walk.text
        assert of(walk).visits[1].answers["belt.deflection"].value == 0.42
        assert of(walk).answers["belt.deflection"].value == 0.37


async def test_a_failed_safety_item_holds_and_says_so(session: FakeSession) -> None:
    async with walking(session) as walk:
        await begun(walk)
        await at(walk, "belt.lockout")
        await walk.press("enter")
        await walk.type("n", "enter")
        assert "HELD" in walk.rows[0]
        await at(walk, "belt.condition")
        await walk.press("enter")
        await walk.type("y", "enter")
        assert "Held at this visit" in walk.text
        assert "belt.condition" not in of(walk).visits[1].answers


async def test_a_visit_is_closed_and_a_task_gets_its_next_date(session: FakeSession) -> None:
    async with walking(session, size=(100, 60)) as walk:
        await begun(walk)
        rows = [row.pick for row in walk.work.lists.pane.rows if row.pick]
        await walk.press("home", *["down"] * rows.index("task belts"), "enter")
        await walk.type("y", "enter")
        assert "belts" in of(walk).visits[1].done
        await walk.press("home", *["down"] * rows.index("close"), "enter")
        assert "22 of its 22 items are open." in walk.text
        await walk.press("enter")
        assert of(walk).visits[1].closed is None, "not without a reason"
        await walk.press("home", *["down"] * rows.index("close"), "enter")
        await walk.type("called away", "enter")
        closed = of(walk).visits[1].closed
        assert closed is not None and closed.data["reason"] == "called away"
        assert "Yearly service" in walk.text


async def test_a_question_that_is_left_changes_nothing(session: FakeSession) -> None:
    async with walking(session) as walk:
        await begun(walk)
        saved = len(session.saved)
        await at(walk, "belt.deflection")
        await walk.press("enter", "escape", "enter")
        await walk.type("soft", "enter")
        assert len(session.saved) == saved and "soft" in walk.text
        await walk.press("escape")
        assert walk.work.place == "work"


async def test_there_is_no_visit_before_the_handover() -> None:
    async with walking(FakeSession(new_job())) as walk:
        assert not any(c.name == "visit" and walk.work.usable(c) for c in walk.work.commands)
