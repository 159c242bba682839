"""Entries that cannot be saved where they belong."""

from __future__ import annotations

import errno
import os
import stat
from pathlib import Path

import pytest

from tests.store.jobs import answered, create, failing, long_job
from tests.store.test_session import PROCEDURE, opened
from wizard.errors import StoreError
from wizard.record import dumps, loads


@pytest.fixture
def path(tmp_path: Path) -> Path:
    create(tmp_path, long_job(5)).close()
    return tmp_path / "T1.toml"


def test_what_cannot_be_saved_is_rescued_offered_and_then_forgotten(
    path: Path, monkeypatch: pytest.MonkeyPatch, state_home: Path
) -> None:
    with opened(path) as session:
        job = answered(session.job, 1, "244 V")
        monkeypatch.setattr(os, "link", failing(errno.ENOSPC))
        with pytest.raises(StoreError, match=r"disk is full.*kept in /.*/rescue/.*T1\.toml"):
            session.save(job)
        monkeypatch.undo()
        assert session.rescued and session.rescued.is_relative_to(state_home)
        assert stat.S_IMODE(session.rescued.parent.stat().st_mode) == 0o700
        assert session.job.events != job.events
    monkeypatch.setenv("XDG_STATE_HOME", str(state_home))
    with opened(path) as again:
        assert again.rescue and again.rescue.answers["supply.voltage_1"].raw == "244 V"
        assert any("later entries" in w and "rescue" in w for w in again.warnings)
        again.save(again.rescue)
    with opened(path) as last:
        assert last.rescue is None and not last.warnings
    assert not session.rescued.exists()


def test_a_rescue_copy_that_does_not_follow_is_pointed_out_and_stays(
    path: Path, monkeypatch: pytest.MonkeyPatch, state_home: Path
) -> None:
    with opened(path) as session:
        monkeypatch.setattr(os, "link", failing(errno.EIO))
        with pytest.raises(StoreError):
            session.save(answered(session.job, 1, "244 V"))
        monkeypatch.undo()
        monkeypatch.setenv("XDG_STATE_HOME", str(state_home))
        rescued = session.rescued
    elsewhere = dumps(answered(long_job(5), 2, "249 V"), 9)
    path.write_bytes(elsewhere)
    with opened(path) as again:
        assert again.rescue is None
        assert any("do not follow" in w for w in again.warnings)
    assert rescued and rescued.exists()


def test_a_second_rescue_sets_the_first_aside(
    path: Path, monkeypatch: pytest.MonkeyPatch, state_home: Path
) -> None:
    for text in ("244 V", "251 V"):
        with opened(path) as session, monkeypatch.context() as failing_disk:
            failing_disk.setattr(os, "link", failing(errno.EIO))
            for _ in range(2):
                with pytest.raises(StoreError, match="kept in"):
                    session.save(answered(session.job, 1, text))
    kept = [loads(p.read_bytes(), PROCEDURE, p.name) for p in state_home.rglob("T1*.toml")]
    assert {k.job.answers["supply.voltage_1"].raw for k in kept} == {"244 V", "251 V"}
    assert len(kept) == 2
