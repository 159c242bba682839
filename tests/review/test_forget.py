"""A file that was taken away on purpose is missed no longer; its history stays known."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest

from wizard.cli import main
from wizard.commands.words import words_for
from wizard.job import Job
from wizard.record import dumps
from wizard.review.folder import Review

AT = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)


def look(folder: Path) -> Review:
    """One look over the folder."""
    review = Review(folder, AT, processes=1)
    list(review.run())
    return review


@pytest.fixture
def gone(folder: Path) -> Path:
    """The folder after a look, with two jobs taken away since."""
    look(folder)
    for name in ("F002", "F004"):
        (folder / f"{name}.toml").unlink()
    return folder


def test_it_is_missed_at_every_look_until_it_is_forgotten(
    gone: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for _ in range(2):
        main(["review", str(gone), "--plain"])
        told = capsys.readouterr().err
        assert "F004.toml was here when you looked last" in told and "--forget FILE" in told
    assert main(["review", str(gone), "--forget", "F004.toml"]) == 0
    said = capsys.readouterr()
    assert said.out == (
        "F004.toml is not missed any more; its history stays known, should it come back.\n"
    )
    assert said.err == ""
    assert look(gone).missing == ["F002.toml"]


def test_all_are_forgotten_at_once(gone: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["review", str(gone), "--forget", "all"]) == 0
    assert [line.split()[0] for line in capsys.readouterr().out.splitlines()] == [
        "F002.toml",
        "F004.toml",
    ]
    assert look(gone).missing == []
    assert main(["review", str(gone), "--forget", "all"]) == 3
    assert "a file that was here and is gone: there is none." in capsys.readouterr().err


@pytest.mark.parametrize("name", ["F001.toml", "F009.toml", "\x1b[31m.toml"])
def test_a_file_that_is_here_or_was_never_here_is_refused_in_a_sentence(
    gone: Path, name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["review", str(gone), "--forget", name]) == 3
    said = capsys.readouterr()
    assert said.out == "" and "\x1b" not in said.err
    assert said.err.endswith("a file that was here and is gone: F002.toml, F004.toml.\n")
    assert look(gone).missing == ["F002.toml", "F004.toml"]


def test_a_path_names_the_file(gone: Path) -> None:
    assert main(["review", str(gone), "--forget", str(gone / "F002.toml")]) == 0
    assert look(gone).missing == ["F004.toml"]


def test_a_file_seen_in_another_folder_since_is_not_missed(
    gone: Path, five: tuple[Job, ...], tmp_path: Path
) -> None:
    (tmp_path / "archive").mkdir()
    (tmp_path / "archive" / "F002.toml").write_bytes(dumps(five[1], 1))
    look(tmp_path / "archive")
    assert look(gone).missing == ["F004.toml"]
    assert main(["review", str(gone), "--forget", "F002.toml"]) == 3


def test_an_older_revision_that_comes_back_is_still_found_out(
    gone: Path, five: tuple[Job, ...]
) -> None:
    assert main(["review", str(gone), "--forget", "F004.toml"]) == 0
    job = five[3]
    cut = Job.replay(job.header, job.procedure, job.events[:-30])
    (gone / "F004.toml").write_bytes(dumps(cut, 1))
    assert look(gone).rows["F004.toml"].error.startswith("An earlier revision was put back")
    (gone / "F004.toml").write_bytes(dumps(job, 2))
    assert look(gone).rows["F004.toml"].error == ""
    (gone / "F004.toml").unlink()
    assert look(gone).missing == ["F002.toml", "F004.toml"], "what came back is missed again"


def test_the_shell_offers_what_is_missing(gone: Path) -> None:
    assert list(words_for("missing", str(gone))) == ["F002.toml", "F004.toml"]
    assert list(words_for("missing", str(gone / "nowhere"))) == []
