"""The screens of the review: rows fill in, keys work, a job is read, remarked, accepted."""

from __future__ import annotations

import random
import shutil
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from tests.demo.fleet import edited, hasty, sibling
from tests.test_signing import LEAD, make_key
from tests.tui.fake import FakeSession
from tests.tui.walk import Walk, arrived
from wizard import actions, remarks
from wizard.actions import Hand
from wizard.commands.reviewing import Reviewing, file_door, folder_door
from wizard.job import Job
from wizard.practice.acts import Act, act
from wizard.practice.record import dumped, new_record, with_run
from wizard.practice.run import Run
from wizard.procedure import procedure
from wizard.record import dumps
from wizard.review.folder import Review
from wizard.review.lead import Lead
from wizard.signing import sign_off
from wizard.store import read_job
from wizard.tui.app import WizardApp
from wizard.tui.case import CaseScreen
from wizard.tui.review import FolderScreen

AT = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)
TRAINING = dumped(
    with_run(
        new_record("Ada Prentice", date(2026, 3, 1)),
        act(Run.new("first_day", 3), Act("finish")),
        AT,
    )
)


@pytest.fixture(autouse=True)
def home(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The lead's own folders."""
    folder = tmp_path_factory.mktemp("home")
    for name in ("STATE", "CACHE", "CONFIG"):
        monkeypatch.setenv(f"XDG_{name}_HOME", str(folder / name.lower()))
    return folder


@pytest.fixture(scope="module")
def jobs() -> dict[str, Job]:
    """A sound job, a hasty one, one to be edited, one held."""
    rng = random.Random(5)
    made = [sibling("five_hp", number, rng) for number in range(1, 5)]
    made[1] = hasty(made[1])
    hand = Hand("Tess", made[3].events[-1].at)
    made[3] = actions.answer(made[3], "guard.fitted", "no", hand, reason="it was off again")
    return {job.header.id: job for job in made}


@pytest.fixture
def folder(jobs: dict[str, Job], tmp_path: Path) -> Path:
    place = tmp_path / "jobs"
    place.mkdir()
    for name, job in jobs.items():
        data = edited(job) if name == "F003" else dumps(job, 1)
        (place / f"{name}.toml").write_bytes(data)
    (place / "CUT.toml").write_bytes(b"nothing")
    return place


def sign_off_as(job: Job, name: str, key: str) -> Job:
    """The job as a lead accepted it who had no list to be verified by."""
    return sign_off(job, "lead", "accepted", name, Hand(name, job.events[-1].at), key)


@asynccontextmanager
async def looking(folder: Path, size: tuple[int, int] = (80, 24)) -> AsyncIterator[Walk]:
    """The review of a folder on the screen, looked at to the end."""
    app = WizardApp("Lea", opening=folder_door(Reviewing(folder, "Lea")))
    async with app.run_test(size=size) as pilot:
        walk = Walk(app, FakeSession(), pilot)
        await arrived(walk)
        await looked_at(walk)
        yield walk


async def looked_at(walk: Walk) -> None:
    """Wait until every file of the folder is looked at."""
    assert isinstance(walk.screen, FolderScreen)
    for _ in range(400):
        if walk.screen.reviewing.done:
            break
        await walk.pilot.pause(0.02)
    await walk.settle()


def first_cells(walk: Walk) -> list[str]:
    """The jobs on the screen from top to bottom."""
    return [row[3:16].strip() for row in walk.rows[4:-2] if row.strip()]


async def into(walk: Walk, job: str) -> None:
    """Mark a job and go into it."""
    screen = walk.screen
    assert isinstance(screen, FolderScreen)
    names = [row.pick for row in screen.pane.rows]
    await walk.press("home", *["down"] * names.index(f"{job}.toml"), "enter")
    await walk.until("READ ONLY")
    assert isinstance(walk.screen, CaseScreen)


async def test_every_file_is_a_row_and_the_worst_come_first(folder: Path) -> None:
    async with looking(folder) as walk:
        assert first_cells(walk) == ["F003", "F004", "CUT.toml", "F002", "F001"]
        assert "5 files  2 not sound  1 held  2 waiting" in walk.rows[0]
        assert "NOT SOUND" in walk.rows[4] and "unreadable" in walk.rows[6]
        assert "HELD" in walk.rows[5] and "?" in walk.rows[7][:3]
        assert "Changed outside the tool" in walk.rows[-2]


async def test_the_marked_row_says_why_it_is_where_it_is(folder: Path) -> None:
    async with looking(folder) as walk:
        await walk.press("down", "down")
        assert "The first line" in walk.rows[-2] or "format" in walk.rows[-2]
        await walk.press("down")
        assert "hands-on answers" in walk.rows[-2]


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
        assert "CUT.toml.bak" in text
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
        assert "Training record: 1 practice run, 0 lessons; next: " in walk.rows[-2]
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


async def test_a_job_opens_read_only_at_what_fails_and_esc_leads_back(folder: Path) -> None:
    async with looking(folder) as walk:
        await into(walk, "F004")
        ask = procedure().items["guard.fitted"].ask
        assert ask[:30] in walk.text and "HELD" in walk.rows[0]
        await walk.press("pagedown", "pageup")
        await walk.type("y", "enter")
        assert read_job(folder / "F004.toml", procedure()).job.holds()
        await walk.press("escape")
        await walk.until("5 files")
        assert walk.rows[5].startswith("►■ F004")


async def test_doubts_of_a_job_are_read_on_a_page(folder: Path) -> None:
    async with looking(folder) as walk:
        await into(walk, "F002")
        assert "to doubt" in walk.rows[-2]
        await walk.press("f2")
        assert "Seal, history and entries agree" in walk.text
        await walk.press("pagedown")
        assert "Too fast" in walk.text
        await walk.press("escape")
        assert "hands-on answers" in walk.text, "the doubt stands with its item"


async def test_an_edited_record_can_be_read_and_nothing_else(folder: Path) -> None:
    async with looking(folder) as walk:
        await into(walk, "F003")
        assert "DO NOT RELY ON IT" in walk.rows[-2]
        assert "accept" not in walk.rows[-1] and "send back" not in walk.rows[-1]
        before = (folder / "F003.toml").read_bytes()
        await walk.press("f5", "f3", "f7")
        assert (folder / "F003.toml").read_bytes() == before


async def test_a_remark_is_written_and_the_job_sent_back(folder: Path) -> None:
    async with looking(folder) as walk:
        await into(walk, "F001")
        await walk.press("f3")
        await walk.type("Photo of the plate, please", "enter")
        await walk.until("Saved.")
        assert "Remark by Lea: Photo of the plate, please" in " ".join(walk.text.split())
        await walk.press("f7", "enter", "enter", "enter")
        await walk.until("Sent back.")
        job = read_job(folder / "F001.toml", procedure()).job
        assert [r.data["text"] for r in job.open_remarks()] == ["Photo of the plate, please"]
        await walk.press("escape")
        await walk.until("5 files")
        assert "returned" in walk.text


async def test_a_job_is_accepted_and_shown_as_accepted(folder: Path) -> None:
    async with looking(folder) as walk:
        await into(walk, "F001")
        await walk.press("f5", "enter", "enter")
        await walk.until("Accepted.")
        await walk.press("escape")
        await walk.until("5 files")
        assert "accepted" in walk.text


async def test_a_held_job_is_not_accepted_and_the_screen_says_why(folder: Path) -> None:
    async with looking(folder) as walk:
        await into(walk, "F004")
        before = (folder / "F004.toml").read_bytes()
        await walk.press("f5")
        await walk.until("under a hold")
        assert "SSH key" not in walk.text and "Sign as" not in walk.text
        assert (folder / "F004.toml").read_bytes() == before


@pytest.mark.skipif(shutil.which("ssh-keygen") is None, reason="no ssh-keygen")
async def test_a_lead_signs_by_the_name_of_the_list_and_can_sign_anew(
    folder: Path, home: Path, tmp_path: Path
) -> None:
    key, path = make_key(tmp_path, "lea"), folder / "F001.toml"
    job = sign_off_as(read_job(path, procedure()).job, "Lea Lead", str(key))
    path.write_bytes(dumps(job, 2))
    own = home / "config" / "wizard"
    own.mkdir(parents=True)
    public = key.with_suffix(".pub").read_text()
    (own / "allowed_signers").write_text(f'{LEAD} namespaces="wizard-lead-v1" {public}')
    async with looking(folder) as walk:
        await into(walk, "F001")
        assert "DO NOT RELY ON IT" in walk.text
        await walk.press("f5")
        await walk.type(str(key), "enter")
        await walk.until(LEAD)
        await walk.press("enter")
        await walk.until("Accepted.")
        assert "DO NOT RELY ON IT" not in walk.text
        await walk.press("f2")
        assert "signed anew" in " ".join(walk.text.split())


async def test_a_question_that_is_left_writes_nothing(folder: Path) -> None:
    async with looking(folder) as walk:
        await into(walk, "F001")
        before = (folder / "F001.toml").read_bytes()
        for keys in (("f3", "escape"), ("f7", "escape"), ("f5", "enter", "escape")):
            await walk.press(*keys)
        assert (folder / "F001.toml").read_bytes() == before
        assert isinstance(walk.screen, CaseScreen)


async def test_a_job_is_shown_among_the_others(folder: Path) -> None:
    async with looking(folder) as walk:
        await walk.press("end", "f4")
        assert "jobs of the same model" in walk.text and "◆" in walk.text
        await walk.press("escape")
        assert "F001" in walk.text


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40), (200, 60)])
async def test_every_column_is_on_the_screen_at_any_width(
    folder: Path, size: tuple[int, int]
) -> None:
    async with looking(folder, size) as walk:
        for title in ("Job", "Machine", "By", "State", "H  F  A   O  D"):
            assert title in walk.rows[2]
        assert all(len(row) <= size[0] for row in walk.rows)


# -- the technician's side ---------------------------------------------------------------


async def test_a_technician_sees_remarks_as_open_work_and_replies_with_a_note(
    jobs: dict[str, Job],
) -> None:
    from tests.tui.walk import walking

    job = jobs["F001"]
    hand = Hand("Lea", job.events[-1].at)
    job = remarks.remark(job, "running.pressure", "Which gauge was it?", hand)
    job = remarks.remark(job, "", "Photos are missing.", hand)
    session = FakeSession(job)
    async with walking(session) as walk:
        assert procedure().items["running.pressure"].ask[:30] in walk.text
        assert "Remark by Lea: Which gauge was it?" in " ".join(walk.text.split())
        await walk.press("f9")
        await walk.press("escape", "f3")
        assert "Reply to the lead" in walk.text
        await walk.type("The test gauge", "enter")
        assert [r.key for r in walk.job.open_remarks()] == [""]
        walk.work.do_finish()
        await walk.settle()
        assert "The whole job: Photos are missing." in walk.text
