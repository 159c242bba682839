"""Keys of the working screen beside the answers: key bar, pictures, explanation, refusals."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.tui.walk import walking
from wizard.keys import COMMANDS, of_place
from wizard.tui.key_bar import bar_line


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
