"""Keys of the working screen beside the answers: key bar, pictures, explanation, refusals."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.demo.maker import commission, scenario
from tests.tui.counting import without
from tests.tui.fake import FakeSession
from tests.tui.walk import walking
from wizard.keys import COMMANDS, of_place
from wizard.tui.key_bar import bar_line
from wizard.tui.status_row import fitting


async def test_the_key_bar_can_be_clicked() -> None:
    async with walking() as walk:
        column = walk.rows[-1].index("all items")
        await walk.pilot.click("#keys", offset=(column + 2, 0))
        await walk.settle()
        assert "All items" in walk.text
        column = walk.rows[-1].index("Esc")
        await walk.pilot.click("#keys", offset=(column, 0))
        await walk.settle()
        assert "Phases of the motor" in walk.rows[3]


async def test_a_picture_of_the_screen_is_saved_as_svg_and_text(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    async with walking() as walk:
        for number in (1, 2):
            walk.screen.run_command("picture")
            await walk.until(f"wizard-screen-{number}.svg")
        assert "Phases of the motor" in (tmp_path / "wizard-screen-1.txt").read_text("utf-8")
        assert (tmp_path / "wizard-screen-2.svg").read_text("utf-8").startswith("<svg")


async def test_the_explanation_opens_beside_the_item_where_there_is_room_for_it() -> None:
    async with walking(size=(120, 40)) as walk:
        assert "Usual mistake" in walk.text
        await walk.pilot.resize_terminal(80, 24)
        await walk.settle()
        assert "Usual mistake" not in walk.text
        await walk.press("f1")
        assert "Why" in walk.text and "more rows, Down or Tab" in walk.text
        await walk.press("tab")
        assert "Usual mistake" in walk.text
        await walk.type("1", "enter")
        assert walk.job.answers["motor.phases"].value == "single"


async def test_a_question_mark_opens_the_explanation_where_it_cannot_be_an_answer() -> None:
    async with walking() as walk:
        await walk.type("?")
        assert "Why" in walk.text
        await walk.go("machine.label")
        await walk.type("?")
        assert "› ?" in walk.text


async def test_a_key_that_can_do_nothing_here_says_why() -> None:
    async with walking() as walk:
        await walk.go("lock.on")
        await walk.press("f2")
        assert "A safety item is never marked not applicable" in walk.rows[-2]
        await walk.press("f5")
        assert "This item is not timed." in walk.rows[-2]
        await walk.press("f4")
        assert "This item is not read from an instrument." in walk.rows[-2]
        await walk.press("f7")
        assert "There is no answer to take back." in walk.rows[-2]


async def test_saved_does_not_stay_under_an_error() -> None:
    async with walking() as walk:
        await walk.type("three", "enter")
        assert "Saved." in walk.rows[-2]
        await walk.press("enter")
        assert "given nothing" in walk.text
        assert "Saved." not in walk.text


@pytest.mark.parametrize("size", [(60, 20), (80, 24)])
async def test_undo_shows_the_beginning_of_the_reason_it_proposes(size: tuple[int, int]) -> None:
    async with walking(size=size) as walk:
        await walk.type("three", "enter")
        await walk.press("f7")
        assert "› undone at once" in walk.rows[-2]
        assert "Take back “three”" in walk.rows[-2]


@pytest.mark.parametrize("width", [60, 80, 100])
def test_more_and_quit_stay_on_the_key_bar_beside_the_stopwatch(width: int) -> None:
    bar = "".join(span.text for span in bar_line(of_place(COMMANDS, "work"), width))
    assert "F5 watch" in bar or width < 80
    assert bar.endswith(" F9 more  F10 quit ") and len(bar) == width


SIZES = [(60, 20), (80, 24)]


@pytest.mark.parametrize("size", SIZES)
async def test_a_question_says_what_its_keys_do_however_narrow_the_screen(
    size: tuple[int, int],
) -> None:
    async with walking(size=size) as walk:
        await walk.press("f10")
        assert "Quit?" in walk.rows[-2] and "Enter or y quits ›" in walk.rows[-2]
        assert walk.rows[-2].endswith("Esc leaves")
        await walk.press("escape")
        await walk.type("three", "enter")
        await walk.press("f7")
        assert "Take back “three”" in walk.rows[-2] and "because › undone at" in walk.rows[-2]
        assert walk.rows[-2].endswith("Esc leaves")


def test_the_longest_questions_keep_what_can_be_answered() -> None:
    asked = "12 safety items open or failed. Hand over? y or n"
    assert fitting(asked, "", 60)[0].endswith("Hand over? y or n")
    accuracy = "Accuracy, as 1 % + 2 V or 1 % + 3 digits; empty if unknown"
    assert fitting(accuracy, "", 80)[0] == accuracy
    assert fitting(accuracy, "", 60)[0].endswith("… empty if unknown")


async def test_a_refused_value_is_replaced_by_what_is_typed_next() -> None:
    async with walking() as walk:
        await walk.go("motor.voltage")
        await walk.type("9000", "enter")
        assert "given 9000" in walk.text and "› 9000" in walk.text
        await walk.type("230")
        assert walk.work.field.value == "230" and "given" not in walk.text
        await walk.press("enter")
        assert walk.job.answers["motor.voltage"].value == 230


@pytest.mark.parametrize(
    ("keys", "then", "left"),
    [
        (("left",), "1", "90010"),
        (("end",), "1", "90001"),
        (("backspace",), "", "900"),
        (("escape",), "2", "2"),
    ],
)
async def test_a_refused_value_is_edited_by_an_edit_key_and_outlives_its_message(
    keys: tuple[str, ...], then: str, left: str
) -> None:
    async with walking() as walk:
        await walk.go("motor.voltage")
        await walk.type("9000", "enter")
        await walk.press(*keys)
        await walk.type(then)
        assert walk.work.field.value == left


async def test_a_set_that_is_not_complete_is_typed_on() -> None:
    session = FakeSession(without(commission("J1", scenario("fifteen_hp")), "supply.voltage"))
    async with walking(session) as walk:
        await walk.go("supply.voltage")
        await walk.type("478 480", "enter")
        assert "given" in walk.text
        await walk.type(" 476")
        assert walk.work.field.value == "478 480 476"


async def test_a_reading_that_is_not_meant_is_replaced_too() -> None:
    session = FakeSession(without(commission("J1", scenario("fifteen_hp")), "supply.voltage"))
    async with walking(session) as walk:
        await walk.go("supply.voltage")
        await walk.type("277 277 277", "enter")
        assert "Take it as typed? y or n" in walk.rows[-2]
        await walk.type("400", "enter")
        assert "“400” is neither y nor n. Take it as typed? y or n ›" in walk.rows[-2]
        await walk.press("enter")
        assert "Nothing is typed. Take it as typed? y or n ›" in walk.rows[-2]
        await walk.type("n", "enter")
        assert "supply.voltage" not in walk.job.answers and "› 277 277 277" in walk.text
        await walk.type("480 480 480")
        assert walk.work.field.value == "480 480 480"
