"""The start screen: resume, new, open by path, practise, review."""

from __future__ import annotations

from dataclasses import dataclass, field

from tests.tui.fake import FakeSession
from tests.tui.walk import walking
from wizard.errors import RecordDamaged
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

    def create(self, job: str, units: str, machine: str) -> FakeSession:
        self.came.append(("create", job, units, machine))
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


async def test_a_new_job_asks_for_number_units_and_machine() -> None:
    house = House()
    async with walking(doors=house.doors()) as walk:
        await walk.press("n")
        await walk.type("J77", "enter")
        assert "Units: us or metric" in walk.text
        await walk.press("ctrl+u")
        await walk.type("metric", "enter")
        await walk.type("plates.toml", "enter")
        await walk.until("Phases of the motor")
        assert house.came == [("create", "J77", "metric", "plates.toml")]


async def test_unknown_units_are_refused_in_one_sentence() -> None:
    house = House()
    async with walking(doors=house.doors()) as walk:
        await walk.press("n")
        await walk.type("J77", "enter")
        await walk.press("ctrl+u")
        await walk.type("furlongs", "enter")
        assert "Units: given furlongs, accepted us or metric." in walk.text
        assert house.came == []


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
