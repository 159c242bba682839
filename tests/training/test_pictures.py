"""The drawings of the guided items: there, narrow enough, and readable in plain ASCII."""

from __future__ import annotations

import pytest

from tests.small import START_TIME, hand
from wizard import actions
from wizard.answer import Parsed
from wizard.job import Header, Job
from wizard.pictures.choice import DRAWN, picture
from wizard.pictures.plain import plain
from wizard.pictures.scene import Scene
from wizard.procedure import procedure

WIDEST = 76
JOB = Job.new(Header("T1", "0" * 32, START_TIME), procedure())
ANSWERS = {
    "supply.voltage": Parsed("241 239 240", (241.0, 239.0, 240.0), "V"),
    "start.rotation": Parsed("2", "against the arrow"),
    "oil.level_dipstick": Parsed("60 %", 60.0, "%"),
    "oil.level_glass": Parsed("60 %", 60.0, "%"),
    "place.wall_flywheel": Parsed("40 in", 40.0, "in"),
    "place.wall_pump": Parsed("4 in", 4.0, "in"),
    "foot.back_off": Parsed("90 °", 90.0, "°"),
    "lift.sling_length": Parsed("5 ft", 5.0, "ft"),
}


def job() -> Job:
    """A job with the pressures of its plates."""
    made = JOB
    for key, text in {
        "receiver.mawp": "200 psi",
        "relief.plate_set": "175 psi",
        "switch.plate_cut_out": "145 psi",
        "switch.plate_cut_in": "110 psi",
        "hose.plate_pressure": "150 psi",
    }.items():
        made = actions.answer(made, key, text, hand(), confirmed=True)
    return made


@pytest.mark.parametrize("key", sorted(DRAWN))
def test_every_drawing_belongs_to_an_item_and_is_at_most_76_columns_wide(key: str) -> None:
    scene = Scene(job(), procedure().items[key], ANSWERS.get(key))
    rows = picture(scene, WIDEST, 12)
    assert len(rows) > 2, key
    assert max(map(len, rows)) <= WIDEST


@pytest.mark.parametrize("key", sorted(DRAWN))
def test_every_drawing_survives_a_terminal_with_ascii_only(key: str) -> None:
    rows = picture(Scene(job(), procedure().items[key], ANSWERS.get(key)), WIDEST, 12)
    for row in rows:
        assert plain(row).isascii() and len(plain(row)) == len(row)
        assert plain(row).count("?") == row.count("?"), row


def test_leads_stand_on_the_terminals_that_the_reading_is_named_after() -> None:
    item = procedure().items["supply.voltage"]
    rows = picture(Scene(JOB, item, ANSWERS["supply.voltage"]), WIDEST, 10)
    at = {name: rows[1].index(name) for name in ("L1", "L2", "L3")}
    for row, (first, second, reading) in zip(
        rows[2:5],
        (("L1", "L2", "241 V"), ("L2", "L3", "239 V"), ("L1", "L3", "240 V")),
        strict=True,
    ):
        assert [n for n, c in enumerate(row) if c == "●"] == [at[first], at[second]]
        assert reading in row


@pytest.mark.parametrize(
    ("key", "side", "meter"),
    [
        ("supply.voltage", "Line side of the open disconnect, live", "black in COM, red in V"),
        ("supply.to_ground", "Line side of the open disconnect, live", "black in COM, red in V"),
        ("energy.dead_between", "Load side of the open disconnect", "two-pole tester, proved"),
        ("running.voltage", "Line terminals of the starter", "black in COM, red in V"),
    ],
)
def test_the_drawing_is_of_the_terminals_and_the_meter_that_the_item_asks_for(
    key: str, side: str, meter: str
) -> None:
    rows = picture(Scene(JOB, procedure().items[key], ANSWERS.get(key)), WIDEST, 10)
    assert rows[0] == side and rows[-1].startswith(meter)


def test_a_wheel_that_turned_the_wrong_way_is_marked_at_the_words_that_say_so() -> None:
    item = procedure().items["start.rotation"]
    rows = picture(Scene(JOB, item, ANSWERS["start.rotation"]), WIDEST, 10)
    marked = [row for row in rows if "► ◄" in row]
    assert len(marked) == 1 and "against it: stop, lock off" in marked[0]


def test_the_way_of_the_air_turns_round_on_the_pump_side() -> None:
    side = {key: "\n".join(_wall(key)) for key in ("place.wall_flywheel", "place.wall_pump")}
    assert "fan ► pump ► air out" in side["place.wall_flywheel"]
    assert "pump ◄ fan ◄ air in" in side["place.wall_pump"]


def _wall(key: str) -> list[str]:
    return picture(Scene(JOB, procedure().items[key], ANSWERS[key]), WIDEST, 10)


def test_a_wide_gap_is_cut_to_the_width_and_a_weak_hose_is_named() -> None:
    wide = Parsed("200 in", 200.0, "in")
    rows = picture(Scene(JOB, procedure().items["place.wall_flywheel"], wide), WIDEST, 10)
    assert max(map(len, rows)) <= WIDEST
    hose = picture(Scene(job(), procedure().items["hose.working_pressure"]), WIDEST, 10)
    assert any("hose rating" in row and "below relief valve set" in row for row in hose)
