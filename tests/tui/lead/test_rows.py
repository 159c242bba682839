"""The folder on the screen: rows fill in, keys work, what is missing is told."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from tests.tui.counting import A_KEY, CountingApp
from tests.tui.lead.looking import AT, first_cells, foot, looking
from wizard.procedure import procedure
from wizard.review.folder import Review
from wizard.review.lead import Lead

LONG = "11 hands-on answers in 10 s, from the first of a long phase to the last one of the next"


async def test_every_file_is_a_row_and_the_worst_come_first(folder: Path) -> None:
    async with looking(folder) as walk:
        assert first_cells(walk) == ["F003", "F004", "CUT.toml", "F002", "F001"]
        assert "5 files  2 not sound  1 held  2 waiting" in walk.rows[0]
        assert "NOT SOUND" in walk.rows[4] and "unreadable" in walk.rows[6]
        assert "HELD" in walk.rows[5] and "?" in walk.rows[7][:3]
        assert "Changed outside the tool" in foot(walk) and "(relief.plate_set)." in foot(walk)


async def test_the_marked_row_says_why_it_is_where_it_is(folder: Path) -> None:
    async with looking(folder) as walk:
        await walk.press("down", "down")
        assert "The first line" in walk.rows[-2] or "format" in walk.rows[-2]
        await walk.press("down")
        assert "hands-on answers" in foot(walk)


async def test_what_is_said_of_a_row_has_the_rows_that_the_list_leaves_free(folder: Path) -> None:
    async with looking(folder) as walk:
        walk.screen.reviewing.rows["F002.toml"] = replace(  # type: ignore[attr-defined]
            walk.screen.reviewing.rows["F002.toml"],  # type: ignore[attr-defined]
            doubts=(("too fast", "prep.instruction_book", LONG),),
        )
        await walk.press("end", "up")
        assert first_cells(walk)[:5] == ["F003", "F004", "CUT.toml", "F002", "F001"]
        assert f"{LONG} (prep.instruction_book)" in foot(walk) and "…" not in foot(walk)
        await walk.press("end")
        assert LONG[:20] not in walk.text


async def test_rows_are_filtered_sorted_and_searched_by_keys(folder: Path) -> None:
    async with looking(folder) as walk:
        await walk.press("h")
        assert first_cells(walk) == ["F004"] and "held or failed" in walk.rows[1]
        await walk.press("d")
        assert first_cells(walk) == ["F003", "F002"]
        await walk.press("x")
        assert first_cells(walk) == ["F003", "CUT.toml"]
        await walk.press("w")
        assert "F001" in first_cells(walk) and "F004" not in first_cells(walk)
        await walk.press("a", "s")
        assert "by day" in walk.rows[1]
        await walk.press("slash")
        await walk.type("cut", "enter")
        assert first_cells(walk) == ["CUT.toml"] and "with “cut”" in walk.rows[1]
        await walk.press("escape")
        assert len(first_cells(walk)) == 5


async def test_enter_on_a_file_that_is_no_record_says_what_is_wrong_with_it(folder: Path) -> None:
    async with looking(folder) as walk:
        await walk.press("down", "down", "enter")
        text = " ".join(walk.text.split())
        assert "CUT.toml" in text and "not the record of a job" in text
        assert "No copy from the save before lies beside it." in text and ".bak" not in text
        await walk.press("escape")
        assert len(first_cells(walk)) == 5


@pytest.mark.parametrize("key", ["f1", "f9"])
async def test_the_list_tells_its_marks_and_keys(folder: Path, key: str) -> None:
    async with looking(folder) as walk:
        await walk.press(key)
        text = " ".join(walk.text.split())
        assert "held by a safety item" in text and "look again: Look at the folder again." in text
        await walk.press("escape")
        assert len(first_cells(walk)) == 5


async def test_a_held_job_that_was_sent_back_shows_both_and_other_files_are_counted(
    folder: Path,
) -> None:
    (folder / "notes.txt").write_text("buy milk")
    Lead("Lea", "desk", procedure()).send_back(folder / "F004.toml", "Fit the guard.")
    async with looking(folder) as walk:
        assert "HELD, returned" in walk.text
        assert "1 other file" in walk.rows[1] and "notes.txt" not in walk.text


async def test_where_no_row_is_shown_it_says_how_to_see_all_again(folder: Path) -> None:
    async with looking(folder) as walk:
        await walk.press("down")
        said = walk.rows[-2].strip()
        await walk.press("slash")
        await walk.type("no such word", "enter")
        assert "0 shown" in walk.rows[1] and "Nothing here." in walk.rows[4]
        assert walk.rows[-2].strip() == "Nothing is shown; a or Esc shows all files again."
        await walk.press("f4")
        assert walk.rows[-2].strip().startswith("Nothing is shown")
        await walk.press("a")
        assert len(first_cells(walk)) == 5
        assert walk.rows[5].startswith("►") and walk.rows[-2].strip() == said


async def test_a_folder_without_files_says_so(tmp_path: Path) -> None:
    async with looking(tmp_path) as walk:
        assert "There is no file in this folder." in walk.rows[-2]


@pytest.fixture
def emptied(folder: Path) -> Path:
    """The folder after a look at it, and with three jobs taken away since."""
    assert list(Review(folder, AT).run())
    for name in ("F001", "F002", "F004"):
        (folder / f"{name}.toml").unlink()
    return folder


async def test_missing_files_are_counted_and_each_is_forgotten_or_kept(emptied: Path) -> None:
    async with looking(emptied) as walk:
        assert walk.rows[0].rstrip().endswith("3 missing")
        assert "m missing" in walk.rows[-1]
        await walk.press("m")
        assert "F001.toml is gone (1 of 3). Forget it? y, n or all" in walk.rows[-2]
        await walk.type("n", "enter")
        assert "F002.toml is gone (2 of 3)." in walk.rows[-2]
        await walk.type("y", "enter", "escape")
        assert walk.rows[0].rstrip().endswith("2 missing")
        await walk.press("m")
        await walk.type("all", "enter")
        assert "missing" not in walk.rows[0] + walk.rows[-1]
    assert Review(emptied, AT).missing == []


@pytest.mark.parametrize("keys", [("escape",), ("enter",) * 3, ("n", "enter", "y", "escape")])
async def test_a_missing_file_is_kept_where_nobody_says_yes(
    emptied: Path, keys: tuple[str, ...]
) -> None:
    async with looking(emptied) as walk:
        await walk.press("m", *keys)
        assert "is gone (" not in walk.rows[-2]
        assert walk.rows[0].rstrip().endswith("3 missing")
    assert len(Review(emptied, AT).missing) == 3


async def test_a_question_about_missing_files_costs_as_little_as_a_key(emptied: Path) -> None:
    async with looking(emptied) as walk:
        app = walk.app
        assert isinstance(app, CountingApp)
        costs = {}
        app.count()
        for key in ("m", "n", "enter", "escape", "slash", "escape"):
            await walk.press(key)
            costs[key] = app.count()
        assert "m missing" in walk.rows[-1]
        assert max(costs.values()) <= A_KEY, costs
        assert costs["escape"] > 0
