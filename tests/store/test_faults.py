"""Killed, refused, stopped: what was acknowledged is on the disk, what is there is whole."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.store.run import run


def test_no_kill_tears_a_record_or_loses_a_save(tmp_path: Path) -> None:
    counted = run("kills", tmp_path, 120)
    assert counted["kills"] == 120 and counted["acked"] > 120
    assert (counted["torn"], counted["lost"], counted["refused"]) == (0, 0, 0)


@pytest.mark.slow
def test_five_hundred_kills(tmp_path: Path) -> None:
    counted = run("kills", tmp_path, 500)
    assert counted["kills"] == 500
    assert (counted["torn"], counted["lost"], counted["refused"]) == (0, 0, 0)


@pytest.mark.parametrize(
    "fault",
    [
        "KILL",
        "EIO",
        "ENOSPC",
        "EDQUOT",
        "EIO+ever",
        "ENOSPC+ever",
        "EIO+unlink",
        "ENOSPC+fsync",
        "EROFS+ever",
    ],
)
def test_a_fault_at_any_call_leaves_old_or_new_and_a_retry_saves(
    fault: str, tmp_path: Path
) -> None:
    counted = run("calls", tmp_path / "job", fault)
    assert counted.pop("points") >= 15
    assert set(counted.values()) == {0}, counted


@pytest.mark.parametrize("saves", [60, pytest.param(300, marks=pytest.mark.slow)])
def test_two_writers_lose_nothing(saves: int, tmp_path: Path) -> None:
    counted = run("writers", tmp_path / "job", saves)
    assert counted["saved"] == 2 * saves
    assert (counted["lost"], counted["torn"]) == (0, 0)


def test_a_save_without_room_keeps_the_old_file_and_works_when_there_is_room(
    tmp_path: Path,
) -> None:
    counted = run("no_room", tmp_path / "job")
    assert counted == {"refused": 1, "torn": 0, "saved": 1, "left_over": 0}


@pytest.fixture
def open_folder() -> Iterator[Path]:
    """A folder that every user may enter."""
    with tempfile.TemporaryDirectory() as name:
        Path(name).chmod(0o755)
        yield Path(name)


def test_a_folder_without_the_right_to_write_is_refused_when_the_job_is_opened(
    open_folder: Path,
) -> None:
    counted = run("no_right", open_folder / "job")
    (open_folder / "job").chmod(0o755)
    assert counted == {"read_only": True, "read": 5, "told": True, "not_made": True}


def test_a_session_that_slept_does_not_overwrite_what_changed_meanwhile(tmp_path: Path) -> None:
    counted = run("stopped", tmp_path / "job")
    assert counted == {"conflict": True, "overwritten": False, "kept": True}


def test_text_being_typed_survives_a_kill(tmp_path: Path) -> None:
    counted = run("typing", tmp_path)
    assert counted == {"kills": 20, "lost": 0}
