"""The start screen: resume, new, open by path, practise, review."""

from __future__ import annotations

from dataclasses import dataclass, field

import pytest

from tests.tui.fake import FakeSession
from tests.tui.walk import walking
from wizard.errors import RecordDamaged
from wizard.record import check_id
from wizard.tui.doors import Doors, Recent


@dataclass
class House:
    """Doors that remember who came through."""

    came: list[tuple[str, ...]] = field(default_factory=list)
    session: FakeSession = field(default_factory=FakeSession)

    def open(self, path: str) -> FakeSession:
        self.came.append(("open", path))
        if "bad" in path:
            raise RecordDamaged(f"{path} is not a job record.")
        return self.session

    def create(self, job: str, units: str, practice: str, machine: str) -> FakeSession:
        self.came.append(("create", job, units, practice, machine))
        if "none" in machine:
            raise RecordDamaged(f"{machine} is not there, and this is a long sentence about it.")
        return self.session

    def practise(self) -> FakeSession:
        self.came.append(("practise",))
        return self.session

    def doors(self, **more: object) -> Doors:
        recent = [Recent("/jobs/J1.toml", "J1", "held, 12 open"), Recent("/jobs/J2.toml", "J2")]
        return Doors(lambda: recent, self.open, self.create, **more)  # type: ignore[arg-type]


async def test_a_recent_job_is_resumed_with_enter() -> None:
    house = House()
    async with walking(doors=house.doors()) as walk:
        assert "J1" in walk.text and "held, 12 open" in walk.text
        await walk.press("down", "enter")
        await walk.until("Phases of the motor")
        assert house.came == [("open", "/jobs/J2.toml")]


async def test_a_new_job_asks_for_number_units_practice_and_machine() -> None:
    house = House()
    async with walking(doors=house.doors()) as walk:
        await walk.press("n")
        await walk.type("J77", "enter")
        assert "Units: us or metric › us" in walk.text
        await walk.type("metric", "enter")
        assert "Electrical practice: US or IEC › IEC" in walk.text
        await walk.press("enter")
        await walk.type("plates.toml", "enter")
        await walk.until("Phases of the motor")
        assert house.came == [("create", "J77", "metric", "IEC", "plates.toml")]


async def test_what_is_proposed_is_taken_by_enter_and_beginnings_do() -> None:
    house = House()
    async with walking(doors=house.doors()) as walk:
        await walk.press("n")
        await walk.type("J77", "enter", "enter")
        assert "Electrical practice: US or IEC › US" in walk.text
        await walk.type("i", "enter", "enter")
        await walk.until("Phases of the motor")
        assert house.came == [("create", "J77", "us", "IEC", "")]


@pytest.mark.parametrize("typed", ["usmetric", "metrc", "mm", "imperial", "furlongs"])
async def test_unknown_units_are_refused_in_one_sentence_and_kept(typed: str) -> None:
    house = House()
    async with walking(doors=house.doors()) as walk:
        await walk.press("n")
        await walk.type("J77", "enter")
        await walk.type(typed, "enter")
        assert f"Units: given “{typed}”, accepted us or metric." in walk.text
        assert f"Units: us or metric › {typed}" in walk.text and house.came == []
        await walk.press("ctrl+u")
        await walk.type("us", "enter")
        assert "accepted us or metric" not in walk.text and "Electrical practice" in walk.text


async def test_a_job_number_is_judged_at_once_and_kept_for_correction() -> None:
    def vet(job_id: str) -> None:
        check_id(job_id)

    house = House()
    async with walking(doors=house.doors(vet=vet), size=(80, 24)) as walk:
        await walk.press("n")
        await walk.type("j77", "enter")
        assert "64 at most." in walk.text and "Job number, as J1042 › j77" in walk.text
        await walk.press("home", "delete")
        await walk.type("J", "enter")
        assert "64 at most." not in walk.text and "Units: us or metric" in walk.text


async def test_after_a_failure_everything_typed_is_proposed_again() -> None:
    house = House()
    async with walking(doors=house.doors(), size=(80, 24)) as walk:
        await walk.press("n")
        await walk.type("J77", "enter")
        await walk.type("m", "enter", "enter")
        await walk.type("machines/none-of-these-is-there.toml", "enter")
        await walk.until("sentence about it.")
        await walk.press("n", "enter", "enter", "enter")
        assert "none-of-these-is-there.toml" in walk.text
        await walk.type("plates.toml", "enter")
        await walk.until("Phases of the motor")
        assert house.came[-1] == ("create", "J77", "metric", "IEC", "plates.toml")


async def test_f1_says_what_can_be_done_and_what_is_asked() -> None:
    house = House()
    async with walking(doors=house.doors()) as walk:
        await walk.press("f1")
        assert "n starts a job" in walk.text
        await walk.press("f1")
        assert "n starts a job" not in walk.text
        await walk.press("n")
        await walk.type("J77", "enter", "enter", "f1")
        assert "The wiring rules of the place of installation" in walk.text
        await walk.press("enter")
        assert "The wiring rules" not in walk.text and "Machine file" in walk.text


async def test_a_file_that_is_no_record_is_named_and_the_screen_stays() -> None:
    house = House()
    async with walking(doors=house.doors()) as walk:
        await walk.press("o")
        await walk.type("/tmp/bad.toml", "enter")
        await walk.until("/tmp/bad.toml is not a job record.")
        assert "J1" in walk.text


async def test_only_doors_that_are_given_are_offered() -> None:
    house = House()
    async with walking(doors=house.doors()) as walk:
        assert "practise" not in walk.text and "review" not in walk.text
        await walk.press("p")
        assert house.came == []


async def test_practice_is_entered_by_its_key() -> None:
    house = House()
    async with walking(doors=house.doors(practise=house.practise)) as walk:
        await walk.press("p")
        await walk.until("Phases of the motor")
        assert house.came == [("practise",)]


async def test_escape_leaves_the_questions_of_a_new_job() -> None:
    house = House()
    async with walking(doors=house.doors()) as walk:
        await walk.press("n")
        await walk.type("J77", "escape")
        assert house.came == [] and "Job number" not in walk.text
        await walk.press("enter")
        await walk.until("Phases of the motor")
