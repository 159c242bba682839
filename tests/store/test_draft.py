"""Half-typed text: kept at once, offered again, never an answer."""

from __future__ import annotations

import errno
import os
import stat
from pathlib import Path

import pytest

from tests.store.jobs import create, long_job
from wizard import store
from wizard.errors import StoreError
from wizard.store.draft import MAX_DRAFT

UUID = "a" * 32


def test_a_draft_comes_back_until_it_is_dropped(state_home: Path) -> None:
    assert store.read_draft(UUID) is None
    store.keep_draft(UUID, "supply.voltage_1", "23")
    store.keep_draft(UUID, "supply.voltage_1", '230 V "as read" \\')
    assert store.read_draft(UUID) == store.Draft("supply.voltage_1", '230 V "as read" \\')
    assert store.read_draft("b" * 32) is None
    store.drop_draft(UUID)
    store.drop_draft(UUID)
    assert store.read_draft(UUID) is None
    assert list((state_home / "wizard" / "drafts").iterdir()) == []


def test_only_the_user_can_read_drafts(state_home: Path) -> None:
    store.keep_draft(UUID, "k.v", "x")
    for folder in (state_home / "wizard", state_home / "wizard" / "drafts"):
        assert stat.S_IMODE(folder.stat().st_mode) == 0o700


def test_a_draft_belongs_to_its_job_and_is_no_answer(tmp_path: Path) -> None:
    with create(tmp_path, long_job(2)) as session:
        session.keep_draft("supply.voltage_1", "24")
    path = tmp_path / "T1.toml"
    with store.open_job(path, session.job.procedure, "Tess", "box") as again:
        assert again.read_draft() == store.Draft("supply.voltage_1", "24")
        assert again.job.answers["supply.voltage_1"].raw == "231 V"
        again.drop_draft()
        assert again.read_draft() is None


def test_control_characters_of_a_paste_do_not_come_back() -> None:
    store.keep_draft(UUID, "k.v", "23\x1b[31m0\n\u202eV")
    draft = store.read_draft(UUID)
    assert draft and draft.text == "23[31m0 V"


def test_a_very_long_draft_is_kept_up_to_its_limit() -> None:
    store.keep_draft(UUID, "k.v", "中" * 100_000)
    draft = store.read_draft(UUID)
    assert draft and draft.text == "中" * MAX_DRAFT


@pytest.mark.parametrize(
    "content", [b"", b"\xff", b"key = 1\ntext = 2\n", b"[", b"a." * 50_000, b"x" * 1_000_000]
)
def test_a_damaged_draft_is_no_draft(content: bytes, state_home: Path) -> None:
    store.keep_draft(UUID, "k.v", "x")
    (state_home / "wizard" / "drafts" / f"{UUID}.toml").write_bytes(content)
    assert store.read_draft(UUID) is None
    store.keep_draft(UUID, "k.v", "y")
    assert store.read_draft(UUID) == store.Draft("k.v", "y")


def test_a_planted_link_in_the_drafts_is_replaced_and_not_followed(state_home: Path) -> None:
    store.keep_draft(UUID, "k.v", "x")
    place, victim = state_home / "wizard" / "drafts" / f"{UUID}.toml", state_home / "victim"
    victim.write_text("mine")
    place.unlink()
    place.symlink_to(victim)
    assert store.read_draft(UUID) is None
    store.keep_draft(UUID, "k.v", "y")
    assert victim.read_text() == "mine" and not place.is_symlink()


def test_what_a_killed_keeper_left_is_swept(state_home: Path) -> None:
    store.keep_draft(UUID, "k.v", "x")
    left = state_home / "wizard" / "drafts" / f".{UUID}.toml.{'0' * 12}.tmp"
    left.write_text("half")
    store.read_draft(UUID)
    assert not left.exists()


def test_a_draft_that_cannot_be_kept_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    def full(_: int) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(StoreError, match="typed is not kept: the disk is full"):
        store.keep_draft(UUID, "k.v", "x")
    with pytest.raises(StoreError, match="uuid of 32"):
        store.keep_draft("../x", "k.v", "x")


def test_the_state_folder_is_where_the_system_says(monkeypatch: pytest.MonkeyPatch) -> None:
    assert store.state_home({"XDG_STATE_HOME": "/var/state"}) == Path("/var/state/wizard")
    home = Path.home() / ".local" / "state" / "wizard"
    assert store.state_home({}) == store.state_home({"XDG_STATE_HOME": "relative"}) == home


def test_a_state_folder_that_cannot_be_made_is_told(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    (tmp_path / "file").write_text("")
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "file"))
    with pytest.raises(StoreError, match="cannot be made"):
        store.keep_draft(UUID, "k.v", "x")
