"""Files that are no jobs, training records among them."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from tests.tui.fake import FakeSession
from tests.tui.lead.looking import AT, first_cells, foot, looked_at, looking
from tests.tui.walk import Walk, arrived
from wizard.commands.reviewing import Reviewing, file_door
from wizard.practice.acts import Act, act
from wizard.practice.record import dumped, new_record, with_run
from wizard.practice.run import Run
from wizard.tui.app import WizardApp
from wizard.tui.case import CaseScreen
from wizard.tui.review import FolderScreen

TRAINING = dumped(
    with_run(
        new_record("Ada Prentice", date(2026, 3, 1)),
        act(Run.new("first_day", 3), Act("finish")),
        AT,
    )
)


async def test_a_file_that_is_no_job_is_not_entered(folder: Path) -> None:
    async with looking(folder) as walk:
        await walk.press("x", "down", "enter")
        assert isinstance(walk.screen, FolderScreen)
        assert "not the record" in walk.text


@pytest.fixture
def trained(folder: Path) -> Path:
    """The folder with an apprentice's training record, and with one that is damaged."""
    (folder / "ADA.toml").write_text(TRAINING)
    (folder / "BO.toml").write_text(TRAINING.replace("version = 1", "version = 7"))
    return folder


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
async def test_a_training_record_is_listed_apart_and_read_on_a_page(
    trained: Path, size: tuple[int, int]
) -> None:
    async with looking(trained, size) as walk:
        assert "7 files  3 not sound  1 held  2 waiting" in walk.rows[0]
        cells = [name.removesuffix(".toml") for name in first_cells(walk)]
        assert [c[:3] for c in cells[-2:]] == ["BO", "ADA"]
        await walk.press("end")
        marked = next(row for row in walk.rows if row.startswith("►"))
        assert marked[1:].split()[0] == "ADA.toml" and "training" in marked
        assert "Training record: 1 practice run, 0 lessons; next: " in foot(walk)
        await walk.press("f4")
        assert "There is no job in this file" in walk.text
        await walk.press("escape", "enter")
        await walk.until("Training record of Ada Prentice, begun 2026-03-01.")
        assert isinstance(walk.screen, FolderScreen)
        assert "First day" in " ".join(walk.text.split())
        await walk.press("end")
        assert "Next: " in walk.text
        await walk.press("escape")
        assert next(row for row in walk.rows if row.startswith("►")) == marked


async def test_a_training_record_that_cannot_be_used_says_why_and_is_not_opened(
    trained: Path,
) -> None:
    async with looking(trained) as walk:
        await walk.press("end", "up", "enter")
        assert "newer version (7)" in walk.text
        await walk.press("escape")
        assert first_cells(walk)[-1] == "ADA.toml"
        (trained / "ADA.toml").write_text(TRAINING.replace("total = ", "total = 9"))
        await walk.press("down", "enter")
        await walk.until("damaged at runs.0.total")
        assert first_cells(walk)[-1] == "ADA.toml"


async def test_one_file_opens_on_its_page_and_esc_leads_to_its_folder(trained: Path) -> None:
    app = WizardApp("Lea", opening=file_door(Reviewing(trained, "Lea"), "ADA.toml"))
    async with app.run_test(size=(80, 24)) as pilot:
        walk = Walk(app, FakeSession(), pilot)
        await arrived(walk)
        await walk.until("Training record of Ada Prentice")
        assert isinstance(walk.screen, FolderScreen)
        assert not walk.screen.reviewing.rows, "the folder is not looked at before it is asked for"
        await walk.press("escape")
        await looked_at(walk)
        assert "7 shown" in walk.rows[1]
        assert next(row for row in walk.rows if row.startswith("►"))[3:].startswith("ADA.toml")


async def test_one_file_that_is_a_job_opens_as_a_job(folder: Path) -> None:
    app = WizardApp("Lea", opening=file_door(Reviewing(folder, "Lea"), "F001.toml"))
    async with app.run_test(size=(80, 24)) as pilot:
        walk = Walk(app, FakeSession(), pilot)
        await arrived(walk)
        assert isinstance(walk.screen, CaseScreen)
