"""A job of the folder: read, doubted, remarked, accepted."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.test_signing import LEAD, make_key
from tests.tui.fake import FakeSession
from tests.tui.lead.looking import into, looking, sign_off_as
from wizard import remarks
from wizard.actions import Hand
from wizard.job import Job
from wizard.procedure import procedure
from wizard.record import dumps
from wizard.store import read_job
from wizard.tui.case import CaseScreen


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


async def test_a_job_with_no_remark_is_sent_back_with_a_word_on_the_whole_job(
    folder: Path,
) -> None:
    async with looking(folder) as walk:
        await into(walk, "F001")
        await walk.press("f7")
        assert "Send back with a word on the whole job" in walk.text


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
        page = " ".join(row[6:] for row in walk.rows[3:6])
        assert "undoes them”: Answered no." in " ".join(page.split()), "the reason to its end"
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
