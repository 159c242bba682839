"""Guided training on a real job: the limit first, the comparison, the mentor, the two records."""

from __future__ import annotations

from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager

import pytest

from tests.small import START_TIME, TEXTS, hand
from tests.tui.fake import FakeClock, FakeDrafts, FakeSession
from tests.tui.walk import Walk, arrived
from wizard import actions
from wizard.commands.shelf import Shelf
from wizard.errors import StoreError
from wizard.job import Header, Job
from wizard.pictures.choice import picture
from wizard.practice.record import Lesson
from wizard.procedure import procedure
from wizard.procedure.loader import build
from wizard.tui.app import WizardApp
from wizard.tui.guided import GuidedScreen
from wizard.tui.parts import Parts, dates_of

SUPPLY = f"""
[phase]
number = 1
title = "Supply"
place = "At the starter"
risk = "Live parts."

[[item]]
key = "motor.voltage"
ask = "Nameplate voltage"
kind = "measure"
quantity = "voltage"
unit = "V"
severity = "handover"
{TEXTS}

[[item]]
key = "supply.voltage"
ask = "Line voltage at the starter"
kind = "measure"
quantity = "voltage"
unit = "V"
labels = ["L1-L2"]
severity = "safety"
caution = "By the licensed electrician."
checks = [ {{ rule = "supply_voltage", with = {{ nameplate = "motor.voltage", measured = "supply.voltage" }} }} ]
why = "Because of the windings, which burn above 253 V."
how = "Within 10 % of the plate."
mistake = "Line to ground."
"""  # noqa: E501


def job() -> Job:
    """A job whose second item has a band from its first."""
    made = Job.new(Header("T1", "0" * 32, START_TIME), build({"01_supply.toml": SUPPLY}))
    return actions.answer(made, "motor.voltage", "230", hand())


@asynccontextmanager
async def guided(
    of: Job | None = None,
    learned: Callable[[Lesson], object] | None = None,
    size: tuple[int, int] = (80, 24),
) -> AsyncIterator[Walk]:
    """The guided screen on a session in memory and a real training record."""
    session, clock, drafts = FakeSession(of or job()), FakeClock(), FakeDrafts()
    parts = Parts(clock, drafts, picture, dates_of)
    keep = learned or Shelf("Tess Tester").learned

    def door() -> Callable[[], GuidedScreen]:
        from wizard.keys import table

        return lambda: GuidedScreen(table(), session, "Tess Tester", parts, keep)

    app = WizardApp("Tess Tester", opening=door)
    async with app.run_test(size=size) as pilot:
        walk = Walk(app, session, pilot)
        walk.clock, walk.drafts = clock, drafts
        await arrived(walk)
        await walk.settle()
        yield walk


def lessons() -> list[Lesson]:
    """What the training record of the learner holds."""
    return Shelf("Tess Tester").training().lessons


async def test_the_explanation_is_open_and_the_caution_comes_first() -> None:
    async with guided() as walk:
        rows = [" ".join(row.split("│")[-1].split()) for row in walk.rows]
        assert rows.index("Caution") < rows.index("Why")


async def test_no_limit_is_shown_before_it_is_worked_out() -> None:
    async with guided() as walk:
        assert "First: what is the limit? Supply voltage against the motor nameplate" in walk.text
        assert "two numbers, V: the lowest and the highest that pass" in walk.text
        assert "Nameplate voltage: 230 V" in walk.text
        await walk.type("225")
        assert "burn above … V" in " ".join(walk.text.split())
        for told in ("207", "253", "10 %", "NEMA", "PASS"):
            assert told not in walk.text


async def test_a_guess_is_compared_step_by_step_and_learned() -> None:
    async with guided() as walk:
        await walk.type("218.5 241.5", "enter")
        assert "You said 218.5 V to 241.5 V. Near." in walk.text
        assert "207 V to 253 V" in walk.text
        assert "you would have refused what" in walk.text
        await walk.press("tab")
        assert "230 V × (1 ± 10 %)" in walk.text
        assert [(n.item, n.right, n.predicted) for n in lessons()] == [
            ("supply.voltage", False, "218.5 241.5")
        ]
        assert walk.session.saved == []
        await walk.type("241", "enter")
        assert walk.job.answers["supply.voltage"].value == (241.0,)
        assert all("218.5" not in str(event.data) for event in walk.job.events)


@pytest.mark.parametrize(
    ("width", "keys", "where"),
    [
        (80, (), "The limit and its working are below."),
        (100, (), "The limit and its working are beside the item."),
        (120, ("f1",), "F1 shows the limit and its working."),
    ],
)
async def test_the_limit_is_where_the_sentence_says(
    width: int, keys: tuple[str, ...], where: str
) -> None:
    async with guided(size=(width, 30)) as walk:
        await walk.press(*keys)
        await walk.type("207 253", "enter")
        assert f"Right. {where}" in walk.text
        beside = [row for row in walk.rows if "Supply voltage against" in row]
        assert bool(beside) == (not keys)


async def test_a_right_guess_in_another_unit_counts() -> None:
    async with guided() as walk:
        await walk.type("0.207 kV 0.253 kV", "enter")
        assert "Right." in walk.text
        assert lessons()[0].right


async def test_the_limit_is_shown_to_whoever_does_not_guess() -> None:
    async with guided() as walk:
        await walk.press("enter")
        assert "207 V to 253 V" in walk.text and "You said" not in walk.text
        assert lessons() == []
        await walk.press("pageup", "pagedown")
        assert "First: what is the limit?" not in walk.text


@pytest.mark.parametrize("text", ["207", "abc", "207 253 300", "207 A 253 A"])
async def test_a_guess_that_is_no_limit_is_refused_and_stays(text: str) -> None:
    async with guided() as walk:
        await walk.type(text, "enter")
        assert "accepted" in walk.text
        assert f"limit › {text}" in walk.text
        assert lessons() == []


async def test_a_guess_is_never_kept_as_a_draft_of_the_answer() -> None:
    async with guided() as walk:
        await walk.type("207 25")
        await walk.pilot.pause(1.0)
        assert walk.drafts.kept == {}
        await walk.press("pageup", "pagedown")
        assert "207 25" not in walk.text


async def test_a_training_record_that_cannot_be_saved_is_said_and_the_limit_shown() -> None:
    def full(lesson: Lesson) -> object:
        raise StoreError("The training record is not saved: the disk is full.")

    async with guided(learned=full) as walk:
        await walk.type("207 253", "enter")
        assert "the disk is full" in walk.text
        assert "207 V to 253 V" in walk.text


async def test_a_mentor_countersigns_what_was_done() -> None:
    async with guided() as walk:
        await walk.press("enter")
        await walk.type("241", "enter")
        await walk.press("escape", "f9")
        assert "countersign" in walk.text
        walk.work.run_command("back")
        walk.work.run_command("countersign")
        await walk.settle()
        assert "Line voltage at the starter" in walk.text
        assert "Mentor's name for this item" in walk.text
        await walk.type("Mo Mentor", "enter")
        await walk.type("y", "enter")
        assert "Countersigned by Mo Mentor" in walk.text
        assert [(n.item, n.mentor, n.right) for n in lessons()] == [
            ("supply.voltage", "Mo Mentor", True)
        ]
        assert all(event.by == "Tess Tester" for event in walk.job.events)


async def test_nobody_is_their_own_mentor() -> None:
    async with guided() as walk:
        walk.work.run_command("countersign")
        await walk.settle()
        await walk.type("tess tester", "enter")
        assert "A mentor is somebody else" in walk.text
        assert lessons() == []


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_the_drawing_stands_with_the_explanation(size: tuple[int, int]) -> None:
    made = Job.new(Header("T2", "1" * 32, START_TIME), procedure())
    async with guided(made, size=size) as walk:
        await walk.go("place.wall_flywheel")
        assert "at least 12 in" not in walk.text
        await walk.type("12", "enter")
        await walk.press("tab")
        assert "at least 12 in ─►" in walk.text
        assert "Right." in walk.text or "Distance to the wall: at least 12 in" in walk.text
