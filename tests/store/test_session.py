"""Opening, saving, following and sharing jobs, in one process."""

from __future__ import annotations

import errno
import fcntl
import json
import os
import stat
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from tests.store.jobs import HOST, WHO, answered, create, failing, header, long_job, long_procedure
from wizard import actions, store
from wizard.errors import Conflict, LockedElsewhere, RecordDamaged, RecordError, StoreError
from wizard.job import Act, Job
from wizard.store import clock

PROCEDURE = long_procedure(5)


def opened(path: Path, who: str = WHO, host: str = HOST) -> store.Session:
    return store.open_job(path, PROCEDURE, who, host)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    create(tmp_path, long_job(5)).close()
    return tmp_path / "T1.toml"


def test_a_new_job_is_on_the_disk_before_anything_is_answered(tmp_path: Path) -> None:
    with create(tmp_path, Job.new(header(), PROCEDURE)) as session:
        assert session.revision == 1 and not session.read_only
    assert store.read_job(tmp_path / "T1.toml", PROCEDURE).job.events == ()


def test_what_is_saved_is_there_when_the_job_is_opened_again(path: Path) -> None:
    with opened(path) as session:
        session.save(answered(session.job, 1, "244 V"))
        saved = session.job
    with opened(path) as again:
        assert again.job.answers == saved.answers
        assert again.job.findings == saved.findings
        assert again.revision == session.revision
    backup = store.read_job(path.with_name("T1.toml.bak"), PROCEDURE)
    assert backup.revision == session.revision - 1


def test_a_job_is_not_made_over_another(path: Path) -> None:
    before = path.read_bytes()
    with pytest.raises(StoreError, match=r"T1\.toml exists already"):
        create(path.parent, Job.new(header(), PROCEDURE))
    assert path.read_bytes() == before


def test_the_second_who_opens_reads_along_and_is_told_who_writes(path: Path) -> None:
    with opened(path) as writer, opened(path, "Bob Builder", "office") as reader:
        assert reader.holder.startswith("Tess Tester on field-box since 20")
        assert reader.holder in reader.read_only
        with pytest.raises(StoreError, match="Tess Tester on field-box"):
            reader.save(answered(reader.job, 1, "244 V"))
        assert not reader.refresh()
        writer.save(answered(writer.job, 1, "244 V"))
        assert reader.refresh() and not reader.refresh()
        assert reader.job.answers["supply.voltage_1"].raw == "244 V"
    with opened(path, "Bob Builder", "office") as session:
        assert not session.read_only


def test_a_lock_that_a_dead_session_left_does_not_hold(path: Path) -> None:
    note = {"who": "Ghost", "host": "gone", "pid": 1, "since": "2020-01-01T00:00:00+00:00"}
    path.with_name(".T1.toml.lock").write_text(json.dumps(note))
    with opened(path) as session:
        assert not session.read_only and not session.holder


@pytest.mark.parametrize("note", [b"", b"\xff\x00", b"[[[[", b'{"who": 1}', b"9" * 5000])
def test_a_lock_with_anything_in_it_still_tells_that_somebody_writes(
    note: bytes, path: Path
) -> None:
    with opened(path):
        path.with_name(".T1.toml.lock").write_bytes(note)
        with opened(path) as reader:
            assert reader.holder == "somebody else"


def test_where_locks_do_not_work_the_loser_is_kept_apart(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(fcntl, "flock", lambda *_: None)
    with opened(path) as first, opened(path, "Bob", "other box!") as second:
        first.save(answered(first.job, 1, "244 V"))
        winner = path.read_bytes()
        with pytest.raises(Conflict, match=r"changed by somebody else.*T1\.conflict-otherbox-"):
            second.save(answered(second.job, 1, "251 V"))
        with pytest.raises(Conflict):
            second.save(answered(answered(second.job, 1, "251 V"), 2, "252 V"))
        aside = path.with_name(second.conflict)
    assert path.read_bytes() == winner
    kept = store.read_job(aside, PROCEDURE).job.answers
    assert (kept["supply.voltage_1"].raw, kept["supply.voltage_2"].raw) == ("251 V", "252 V")
    assert len(list(path.parent.glob("T1.conflict-*.toml"))) == 1
    with opened(aside) as copy:
        assert "set aside" in copy.read_only


def test_a_folder_that_knows_no_locks_is_pointed_out(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def flock(*_: object) -> None:
        raise OSError(errno.ENOLCK, "No locks available")

    monkeypatch.setattr(fcntl, "flock", flock)
    with opened(path) as session:
        assert any("knows no locks" in w for w in session.warnings)
        session.save(answered(session.job, 1, "244 V"))


def test_a_removed_record_is_not_brought_back_but_the_entries_are_kept(path: Path) -> None:
    with opened(path) as session:
        path.unlink()
        with pytest.raises(Conflict, match=r"your entries are in T1\.conflict-"):
            session.save(answered(session.job, 1, "244 V"))
        aside = session.conflict
    assert not path.exists()
    kept = store.read_job(path.with_name(aside), PROCEDURE).job
    assert kept.answers["supply.voltage_1"].raw == "244 V"


def test_a_rename_that_reports_an_error_but_happened_counts_as_saved(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = os.rename

    def rename(source: str, target: str, **folders: Any) -> None:
        real(source, target, **folders)
        if target == "T1.toml":
            raise OSError(errno.EIO, "Input/output error")

    with opened(path) as session:
        monkeypatch.setattr(os, "rename", rename)
        session.save(answered(session.job, 1, "244 V"))
        monkeypatch.undo()
        session.save(answered(session.job, 2, "244 V"))
    assert len(store.read_job(path, PROCEDURE).job.events) == len(session.job.events)


def test_a_folder_that_is_not_flushed_is_told_and_saving_again_is_enough(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = os.fsync

    def fsync(fd: int) -> None:
        if stat.S_ISDIR(os.fstat(fd).st_mode):
            raise OSError(errno.EIO, "Input/output error")
        real(fd)

    with opened(path) as session:
        job = answered(session.job, 1, "244 V")
        monkeypatch.setattr(os, "fsync", fsync)
        with pytest.raises(StoreError, match="written, but the disk did not confirm it"):
            session.save(job)
        monkeypatch.setattr(os, "fsync", real)
        session.save(job)
    assert store.read_job(path, PROCEDURE).job.answers["supply.voltage_1"].raw == "244 V"


def test_a_job_that_lost_history_is_not_saved(path: Path) -> None:
    with opened(path) as session, pytest.raises(StoreError, match="history differs"):
        session.save(long_job(5).replay(header(), PROCEDURE, session.job.events[:2]))


def test_a_closed_job_is_not_saved(path: Path) -> None:
    session = opened(path)
    session.close()
    session.close()
    with pytest.raises(StoreError, match="closed"):
        session.save(answered(session.job, 1, "244 V"))


def test_mode_and_group_stay_as_the_folder_has_them(path: Path) -> None:
    path.chmod(0o660)
    group = 54321 if os.geteuid() == 0 else os.getegid()
    os.chown(path, -1, group)
    with opened(path) as session:
        session.save(answered(session.job, 1, "244 V"))
    after = path.stat()
    assert (stat.S_IMODE(after.st_mode), after.st_gid) == (0o660, group)


def test_a_group_that_cannot_be_kept_gets_no_rights(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path.chmod(0o660)
    real = os.fstat

    def fstat(fd: int) -> os.stat_result:
        state = list(real(fd))
        if not state[stat.ST_SIZE]:
            state[stat.ST_GID] += 1
        return os.stat_result(state)

    monkeypatch.setattr(os, "fchown", failing(errno.EPERM))
    with opened(path) as session:
        monkeypatch.setattr(os, "fstat", fstat)
        session.save(answered(session.job, 1, "244 V"))
        monkeypatch.undo()
    assert stat.S_IMODE(path.stat().st_mode) == 0o600


def test_on_a_disk_without_links_and_modes_the_copy_before_is_still_kept(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for call in ("link", "fchmod"):
        monkeypatch.setattr(os, call, failing(errno.EPERM))
    before = path.read_bytes()
    with opened(path) as session:
        session.save(answered(session.job, 1, "244 V"))
    assert path.with_name("T1.toml.bak").read_bytes() == before
    with create(path.parent, long_job(2, "T2")) as other:
        assert other.revision == 2
    assert (
        sorted(p.suffix for p in path.parent.iterdir())
        == [".bak"] * 2 + [".lock"] * 2 + [".toml"] * 2
    )


def test_a_write_protected_file_is_only_read(path: Path) -> None:
    path.chmod(0o444)
    with opened(path) as session:
        assert "write-protected" in session.read_only


def test_a_folder_that_anybody_may_change_is_pointed_out(path: Path) -> None:
    path.parent.chmod(0o777)
    with opened(path) as session:
        assert any("Anybody on this machine" in w for w in session.warnings)
    path.parent.chmod(0o1777)
    with opened(path) as session:
        assert not session.warnings


def test_only_what_killed_saves_left_is_swept(path: Path) -> None:
    folder = path.parent
    ours, theirs = folder / f".T1.toml.{'a' * 12}.tmp", folder / f".T2.toml.{'b' * 12}.tmp"
    old, other = folder / f".T3.toml.{'c' * 12}.tmp", folder / "notes.tmp"
    for file in (ours, theirs, old, other):
        file.write_text("left")
    os.utime(old, (1_000_000, 1_000_000))
    os.utime(other, (1_000_000, 1_000_000))
    opened(path).close()
    assert [f.exists() for f in (ours, theirs, old, other)] == [False, True, False, True]


def test_a_damaged_record_offers_the_copy_before(path: Path) -> None:
    with opened(path) as session:
        session.save(answered(session.job, 1, "244 V"))
    path.write_bytes(path.read_bytes().replace(b"244", b"245"))
    before = path.read_bytes()
    for read in (lambda: opened(path), lambda: store.read_job(path, PROCEDURE)):
        with pytest.raises(RecordDamaged, match=r"T1\.toml\.bak, from the save before") as caught:
            read()
        assert caught.value.backup == "T1.toml.bak"
    assert path.read_bytes() == before
    with opened(path.with_name("T1.toml.bak")) as copy:
        assert copy.read_only and copy.job.answers["supply.voltage_1"].raw == "231 V"


def test_going_back_to_the_copy_before_keeps_the_damaged_file(path: Path) -> None:
    with opened(path) as session:
        session.save(answered(session.job, 1, "244 V"))
    with pytest.raises(StoreError, match="is not damaged"):
        store.restore_backup(path, PROCEDURE, WHO, HOST)
    damaged = path.read_bytes().replace(b"244", b"245")
    path.write_bytes(damaged)
    aside = store.restore_backup(path, PROCEDURE, WHO, HOST)
    assert aside.read_bytes() == damaged
    with opened(path) as again:
        assert again.job.answers["supply.voltage_1"].raw == "231 V"
        with pytest.raises(LockedElsewhere, match="Tess Tester on field-box"):
            store.restore_backup(path, PROCEDURE, WHO, HOST)
    path.write_bytes(damaged)
    path.with_name("T1.toml.bak").write_bytes(b"")
    with pytest.raises(StoreError, match="not sound either"):
        store.restore_backup(path, PROCEDURE, WHO, HOST)
    assert path.read_bytes() == damaged


def test_a_new_version_of_the_procedure_is_written_into_the_history(path: Path) -> None:
    longer = long_procedure(6)
    with store.open_job(path, longer, WHO, HOST) as session:
        event = session.job.events[-1]
        assert event.act is Act.MIGRATED
        assert event.data["procedure"] == PROCEDURE.sha256 and event.data["now"] == longer.sha256
        session.save(answered(session.job, 5))
    found = store.read_job(path, longer)
    assert not found.problems and "supply.voltage_5" in found.job.answers


def test_opening_a_job_that_is_not_there_leaves_no_trace(tmp_path: Path) -> None:
    with pytest.raises(RecordError, match="no such file"):
        opened(tmp_path / "T9.toml")
    with pytest.raises(StoreError, match="cannot be opened"):
        opened(tmp_path / "nowhere" / "T9.toml")
    assert list(tmp_path.iterdir()) == []


def test_a_clock_set_back_or_far_forward_changes_no_order(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    times = [
        "2026-11-01T01:30:00-04:00",
        "2026-11-01T01:10:00-05:00",
        "2026-10-31T01:10:00-05:00",
        "2036-11-01T01:10:00+13:00",
        "2036-10-31T12:00:00+00:00",
    ]
    for n, text in enumerate(times):
        moment = datetime.fromisoformat(text)
        monkeypatch.setattr(clock, "now", lambda moment=moment: moment)
        with opened(path) as session:
            by = actions.Hand(WHO, clock.now())
            key = f"supply.voltage_{n}"
            session.save(actions.answer(session.job, key, "222 V", by, reason="again"))
    found = store.read_job(path, PROCEDURE)
    events = found.job.events
    assert not found.problems
    assert [e.seq for e in events] == list(range(1, len(events) + 1))
    steps = [e.data["from"].isoformat() for e in events if e.act is Act.CLOCK_STEPPED]
    assert steps == [times[1], times[3]]
    assert all(e.at.tzinfo for e in events)


def test_the_time_of_day_has_its_offset_and_the_other_clock_its_boot() -> None:
    assert store.now().utcoffset() is not None
    first, second = store.monotonic(), store.monotonic()
    assert first["boot"] == second["boot"] and second["monotonic"] >= first["monotonic"]
