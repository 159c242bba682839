"""`wizard report`: where it writes, and what it says of a record that is not sound."""

from __future__ import annotations

import io
import shlex
import shutil
import subprocess
from dataclasses import replace
from pathlib import Path

import icalendar
import pytest

from tests.demo.fleet import finished
from tests.report.sheets import EVIDENCE, MADE, section
from tests.test_signing import make_key
from wizard import remarks, service
from wizard.actions import Hand
from wizard.cli import main
from wizard.job import Job
from wizard.record import dumps
from wizard.report.blocks import (
    Code,
)
from wizard.report.sheet import sheet
from wizard.signing import Checked, sign_off


@pytest.mark.parametrize("form", ["md", "html", "txt"])
def test_the_sheet_is_written_where_it_is_asked_for(record: Path, form: str) -> None:
    out = record.with_name(f"sheet.{form}")
    assert main(["report", str(record), "-o", str(out)]) == 0
    written = out.read_text("utf-8")
    assert "Handover sheet" in written or "HANDOVER SHEET" in written
    from hashlib import sha256

    assert sha256(record.read_bytes()).hexdigest() in written.replace("\\", "")


def test_the_sheet_is_printed_where_no_file_is_named(
    record: Path, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    assert main(["report", str(record), "--format", "txt"]) == 0
    assert capfdbinary.readouterr().out.startswith(b"HANDOVER SHEET")


def test_on_a_terminal_the_sheet_is_text_to_read(
    record: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shown = io.StringIO()
    monkeypatch.setattr(shown, "isatty", lambda: True)
    monkeypatch.setattr("sys.stdout", shown)
    assert main(["report", str(record)]) == 0
    assert shown.getvalue().startswith("HANDOVER SHEET")


def test_in_a_pipe_the_sheet_is_markdown(
    record: Path, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    assert main(["report", str(record)]) == 0
    assert capfdbinary.readouterr().out.startswith(b"# Handover sheet")


def test_a_calendar_takes_the_plan(record: Path) -> None:
    out = record.with_name("plan.ics")
    assert main(["report", str(record), "-o", str(out)]) == 0
    calendar = icalendar.Calendar.from_ical(out.read_bytes())
    tasks = service.due(finished("five_hp"), rounds=True)
    assert len(list(calendar.walk("VEVENT"))) == len(tasks) > 10


def test_a_report_never_takes_the_place_of_a_record(
    record: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = record.read_bytes()
    assert main(["report", str(record), "--format", "md", "-o", str(record)]) == 3
    assert "not that of a job file" in capsys.readouterr().err
    assert main(["report", str(record), "-o", str(record.with_name("sheet.doc"))]) == 3
    assert "ends in .md, .html" in capsys.readouterr().err
    assert main(["report", str(record), "-o", "/nowhere/at/all.md"]) == 3
    assert record.read_bytes() == before


def test_a_link_at_the_place_of_a_report_is_replaced_and_not_followed(record: Path) -> None:
    victim = record.with_name("victim")
    victim.write_text("precious")
    out = record.with_name("sheet.md")
    out.symlink_to(victim)
    assert main(["report", str(record), "-o", str(out)]) == 0
    assert victim.read_text() == "precious" and not out.is_symlink()


def test_a_tampered_record_is_reported_with_its_warning(record: Path) -> None:
    from tests.demo.fleet import edited

    record.write_bytes(edited(finished("five_hp")))
    out = record.with_name("sheet.md")
    assert main(["report", str(record), "-o", str(out)]) == 2
    assert "DO NOT RELY ON THIS RECORD" in out.read_text()


def test_a_job_that_was_sent_back_says_so_and_that_it_was_replied_to() -> None:
    job, hand = finished("five_hp"), Hand("Lea", MADE)
    job = remarks.remark(job, "", "Photos are missing.", hand)
    job = sign_off(job, "lead", "returned", "Lea", hand)
    seen = replace(EVIDENCE, checked=(Checked(job.events[-1], None, ""),))

    def brief(job: Job) -> str:
        made = section(sheet(job, seen, MADE), "The machine in brief")
        return " ".join(made.split())

    told = "The lead Lea sent it back on 2026-04-01"
    assert f"{told}." in brief(job)
    job = remarks.reply(job, "", "Sent by mail.", hand)
    assert f"{told}, and it was replied to on 2026-04-01;" in brief(job)


@pytest.mark.skipif(shutil.which("ssh-keygen") is None, reason="no ssh-keygen")
def test_the_commands_of_the_sheet_verify_a_signature(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    key = make_key(tmp_path, "lea")
    job = sign_off(finished("five_hp"), "lead", "accepted", "lea o", Hand("Lea", MADE), str(key))
    (tmp_path / "BASE.toml").write_bytes(dumps(job, 2))
    public = key.with_suffix(".pub").read_text()
    (tmp_path / "allowed_signers").write_text(f'"lea o" {public}')
    seen = replace(EVIDENCE, checked=(Checked(job.events[-1], None, ""),))
    (how,) = (s for s in sheet(job, seen, MADE).sections if s.title == "How to verify it")
    *_, commands = (block for block in how.blocks if isinstance(block, Code))
    *shows, verify = commands.lines
    for command in shows:
        words, _, file = command.partition(" > ")
        name, *rest = shlex.split(words)
        assert (
            name == "wizard"
            and main([str(tmp_path / w) if w == "BASE.toml" else w for w in rest]) == 0
        )
        (tmp_path / file).write_text(capsys.readouterr().out)
    done = subprocess.run(verify, shell=True, cwd=tmp_path, capture_output=True, text=True)
    assert done.returncode == 0 and 'Good "wizard-lead-v1" signature' in done.stdout
