"""Bytes on the line at 80x24, over every screen there is, counted from the real program.

A key costs at most 400 B, an accepted item 1.5 kB and so does what follows when the keys pause, a
page of other text 2 kB, the first paint 20 kB, and a screen where nothing happens nothing.
"""

from __future__ import annotations

import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple

import pytest

from tests.connections.records import demo_record, new_record
from tests.connections.technician import FRAME_END, Technician
from tests.demo.maker import scenario
from tests.tui.counting import A_KEY, A_PAGE, A_START, AN_ITEM
from tests.tui.terminal import Terminal
from wizard.procedure import procedure

IDLE, LONG_IDLE = 1.2, 5.0
PAUSE = 0.8


@dataclass(frozen=True)
class Place:
    """A screen: how to come to it, what shows that it is there, which keys move in it."""

    name: str
    words: tuple[str, ...]
    shown: str
    keys: tuple[str, ...] = ()
    moves: tuple[str, ...] = ()
    pages: tuple[str, ...] = ()
    first: str = "item 6/"


OPEN = ("open", "{job}")
PLACES = (
    Place("start", (), "Jobs", first="Jobs", moves=("down", "up", "tab")),
    Place(
        "question of the start screen",
        (),
        "Job number",
        ("n",),
        first="Jobs",
        moves=("J", "1", "left"),
    ),
    Place("working screen", OPEN, "item 6/", moves=("3", "0", "left", "backspace", "tab")),
    Place("help", OPEN, "Caution", ("f1",), moves=("3",), pages=("down", "up", "tab")),
    Place("all items", OPEN, "All items", ("f8",), moves=("down", "up"), pages=("pgdn", "pgup")),
    Place("commands", OPEN, "Commands", ("f9",), moves=("down", "down", "up")),
    Place("note", OPEN, "Note ›", ("f3",), moves=("a", "b", "left", "backspace")),
    Place("leaving", OPEN, "Quit?", ("f10",), moves=("x", "backspace")),
    Place("guided", (*OPEN, "--guided"), "item 6/", moves=("3", "backspace"), pages=("tab",)),
    Place(
        "review",
        ("review", "{folder}"),
        "by attention",
        first="by attention",
        moves=("down", "up", "s", "a"),
    ),
    Place(
        "case",
        ("review", "{folder}"),
        "F2 doubts",
        ("enter",),
        first="by attention",
        moves=("tab",),
        pages=("pgdn", "f2"),
    ),
    Place("scenarios", ("practise",), "What to practise", first="What to", moves=("down", "up")),
    Place(
        "practice",
        ("practise", "first_day"),
        "Phase ",
        ("enter",),
        first="Enter goes on",
        moves=("y", "backspace"),
    ),
)


@contextmanager
def at(place: Place, home: Path) -> Iterator[Terminal]:
    """The real program on that screen, at rest."""
    jobs = home / "jobs"
    jobs.mkdir(exist_ok=True)
    path = demo_record(jobs, "fifteen_hp_held", "hose.working_pressure")
    words = [word.format(job=path, folder=jobs) for word in place.words]
    terminal = Terminal(
        ["-m", "wizard", *words, "--by", "Tess Tester"],
        env={"HOME": str(home), "XDG_STATE_HOME": str(home / "state")},
    )
    try:
        terminal.wait_for(place.first)
        terminal.settle(PAUSE)
        assert len(terminal.raw) <= A_START
        for key in place.keys:
            terminal.press(key)
        terminal.wait_for(place.shown)
        terminal.settle(PAUSE)
        yield terminal
    finally:
        terminal.close()


COMMON = ("working screen", "all items", "practice")
QUICK = [
    pytest.param(p, id=p.name, marks=[] if p.name in COMMON else [pytest.mark.slow]) for p in PLACES
]


@pytest.mark.parametrize("place", QUICK)
def test_moving_about_costs_little_and_resting_nothing(home: Path, place: Place) -> None:
    with at(place, home) as terminal:
        costs = {key: terminal.press(key) for key in place.moves}
        assert max(costs.values()) <= A_KEY, costs
        pages = {key: terminal.press(key) for key in place.pages}
        assert max(pages.values(), default=0) <= A_PAGE, pages
        terminal.settle(PAUSE)
        assert terminal.settle(IDLE) == 0


@pytest.mark.slow
@pytest.mark.parametrize("place", PLACES, ids=lambda p: p.name)
def test_five_seconds_of_rest_cost_nothing(home: Path, place: Place) -> None:
    with at(place, home) as terminal:
        assert terminal.settle(LONG_IDLE) == 0


def test_a_follower_is_sent_what_changes_and_nothing_else(home: Path) -> None:
    path = new_record(home)
    words = ["-m", "wizard", "open", str(path), "--by"]
    env = {"HOME": str(home), "XDG_STATE_HOME": str(home / "state")}
    first, second = Terminal([*words, "Tess Tester"], env=env), None
    try:
        first.wait_for("item 1/")
        second = Terminal([*words, "Cas Other"], env=env)
        second.wait_for("Read only: ")
        assert len(second.raw) <= A_START
        assert second.settle(LONG_IDLE) == 0
        first.send("Alder Creek\r")
        first.wait_for("item 2/")
        before = len(second.raw)
        second.wait_for("Answered Alder Creek")
        second.settle(PAUSE)
        assert len(second.raw) - before <= AN_ITEM
    finally:
        first.close()
        if second:
            second.close()


class Cost(NamedTuple):
    """Bytes of an item: the most a key costs, what comes when the keys pause, the answer."""

    key: str
    typed: int
    paused: int
    answered: int


class Meter(Technician):
    """Counts what each key and each answer costs."""

    def cost(self, keys: str) -> int:
        """Bytes that a key brings until the frame is whole."""
        before = len(self.terminal.raw)
        self.terminal.send(keys)
        end = time.monotonic() + 0.1
        while time.monotonic() < end:
            if self.terminal.read(0.02).endswith(FRAME_END):
                break
        return len(self.terminal.raw) - before

    def measured(self) -> Cost:
        """Answer the item in front: what it costs."""
        item = self.look()
        self.terminal.settle(0.05)
        text = self.text(item)
        a_key = max((self.cost(char) for char in text), default=0)
        before = len(self.terminal.raw)
        self.terminal.settle(PAUSE - 0.1)
        paused = len(self.terminal.raw) - before
        before = len(self.terminal.raw)
        place, head = self.place, self.head
        self.keys("enter")
        self.until(lambda: (self.place, self.head) != (place, head) or self._doubtful())
        if self._doubtful():
            self.keys("y", "enter")
            self.until(lambda: (self.place, self.head) != (place, head))
        self.terminal.settle(0.1)
        self.answered.append(item.key)
        return Cost(item.key, a_key, paused, len(self.terminal.raw) - before)


@pytest.mark.slow
def test_every_item_of_the_main_job_keeps_the_budget(home: Path) -> None:
    path = new_record(home)
    terminal = Terminal(
        ["-m", "wizard", "open", str(path), "--by", "Tess Tester"],
        env={"HOME": str(home), "XDG_STATE_HOME": str(home / "state")},
    )
    rows: list[Cost] = []
    try:
        person = Meter(terminal, procedure(), scenario("fifteen_hp"))
        while "FINISHED" not in (person.head if any(person.lines) else ""):
            assert len(rows) < 900
            rows.append(person.measured())
            if rows[-1].key in person.given.notes:
                person.note(person.given.notes[rows[-1].key])
    finally:
        terminal.close()
    print(f"{len(rows)} items")
    _within("key", {r.key: r.typed for r in rows}, A_KEY)
    _within("pause", {r.key: r.paused for r in rows}, AN_ITEM)
    _within("answer", {r.key: r.answered for r in rows}, AN_ITEM)


def _within(name: str, costs: dict[str, int], most: int) -> None:
    worst = sorted(costs, key=lambda key: -costs[key])[:5]
    mean = sum(costs.values()) / len(costs)
    print(f"{name}: mean {mean:.0f} B, most {[(key, costs[key]) for key in worst]}")
    assert costs[worst[0]] <= most
