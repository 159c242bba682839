"""A folder under review: every file a row, nothing looked at twice, nothing missed."""

from __future__ import annotations

import os
import socket
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from tests.demo.fleet import hasty
from tests.store.hostile import endless, unsound
from wizard.errors import Refused
from wizard.job import Job
from wizard.procedure import procedure
from wizard.record import dumps
from wizard.review.advice import advice
from wizard.review.cache import Cache
from wizard.review.folder import Review
from wizard.review.last_seen import FILE, LastSeen
from wizard.review.lead import Lead
from wizard.review.look import Lens
from wizard.review.pool import shared
from wizard.review.row import UNREADABLE, Row
from wizard.settings import Settings
from wizard.store.state import state_home

NOW = datetime(2026, 12, 1, 9, 0, tzinfo=UTC)


def reviewed(folder: Path, **options: object) -> Review:
    """The folder looked at to the end."""
    review = Review(folder, NOW, **options)  # type: ignore[arg-type]
    for _ in review.run():
        pass
    return review


def rows(folder: Path, **options: object) -> dict[str, Row]:
    return reviewed(folder, **options).rows


def test_sound_jobs_are_rows_that_can_be_trusted(folder: Path, five: tuple[Job, ...]) -> None:
    got = rows(folder)
    assert [r.job for r in got.values()] == [j.header.id for j in five]
    assert all(r.trusted and r.state == "finished" and not r.doubtful for r in got.values())
    assert all(set(r.metrics) >= {"pump-up ratio", "leak rate"} for r in got.values())


def test_whatever_lies_in_the_folder_is_a_row_with_one_sentence(
    folder: Path, five: tuple[Job, ...]
) -> None:
    job = five[0]
    data = dumps(job, 1)
    (folder / "CUT.toml").write_bytes(data[:5000])
    (folder / "EMPTY.toml").write_bytes(b"")
    (folder / "OTHER.toml").write_bytes(data)
    (folder / "HUGE.toml").write_bytes(b"x" * 5_000_000)
    (folder / "LINK.toml").symlink_to(folder / "F001.toml")
    (folder / "NOWHERE.toml").symlink_to("/dev/zero")
    (folder / "FOLDER.toml").mkdir()
    (folder / "notes.txt").write_text("buy milk")
    os.mkfifo(folder / "PIPE.toml")
    with socket.socket(socket.AF_UNIX) as plug:
        plug.bind(str(folder / "PLUG.toml"))
        (folder / os.fsdecode(b"B\xffD.toml")).write_bytes(data)
        review = reviewed(folder)
    got = review.rows
    bad = {name: row for name, row in got.items() if row.job not in {j.header.id for j in five}}
    assert len(got) == 5 + 10 and len(bad) == 10 and review.others == 1
    for name, row in bad.items():
        assert row.state == UNREADABLE and row.error.endswith("."), name
        row.file.encode()
    assert got["LINK.toml"].error == "It is a link, which is not followed."
    assert got["PIPE.toml"].error == "It is a pipe, not a file."
    assert got["PLUG.toml"].error == "It is a socket, not a file."
    assert got["FOLDER.toml"].error == "It is a folder, not a file."
    assert got["OTHER.toml"].error.startswith(f"The file holds job {job.header.id}")


def test_a_file_that_does_not_claim_to_be_a_job_is_no_row(
    folder: Path, five: tuple[Job, ...]
) -> None:
    (folder / "notes.txt").write_text("buy milk")
    (folder / "handover.html").write_text("<html></html>")
    (folder / "allowed_signers").write_text("lea@example.invalid ssh-ed25519 AAAA\n")
    (folder / "F001 copy").write_bytes(dumps(five[0], 1))
    (folder / "job.txt").write_text("not yet")
    review = reviewed(folder)
    assert set(review.rows) == {*(f"{job.header.id}.toml" for job in five), "F001 copy"}
    assert review.others == 4
    said = review.rows["F001 copy"].error
    assert said.startswith("The file holds job F001; rename it to F001.toml")
    assert said.endswith("an id is a capital letter or digit, then letters, digits, dots, dashes "
                         "or underscores, 64 at most.")  # fmt: skip


@pytest.mark.parametrize("name", ["F001 (1).toml", "F001 copy.toml", "f001.toml", "demo.toml"])
def test_a_sound_record_under_a_bad_name_says_which_job_it_holds(
    folder: Path, five: tuple[Job, ...], name: str
) -> None:
    (folder / name).write_bytes(dumps(five[0], 1))
    got = rows(folder)
    assert got[name].error.startswith("The file holds job F001; rename it to F001.toml")
    assert "a capital letter or digit" in got[name].error
    assert "is sound, but F001.toml is here already" in advice(folder / name)
    (folder / "F001.toml").unlink()
    assert "is sound. Rename it to F001.toml" in advice(folder / name)


def test_what_to_do_about_a_damaged_file_names_a_copy_only_where_one_lies_beside_it(
    folder: Path, five: tuple[Job, ...]
) -> None:
    path, backup = folder / "F001.toml", folder / "F001.toml.bak"
    path.write_bytes(dumps(five[0], 1)[:5000])
    assert advice(path).startswith("No copy from the save before lies beside it.")
    backup.write_bytes(b"cut")
    assert "F001.toml.bak lies beside it, but cannot be relied on either." in advice(path)
    backup.write_bytes(dumps(five[0], 1))
    assert "lies beside it as F001.toml.bak and is sound" in advice(path)
    path.unlink()
    path.symlink_to(backup)
    assert advice(path).startswith("A record is a plain file")


def test_folders_are_named_but_for_hidden_ones(folder: Path) -> None:
    for name in ("siteB", "demo_jobs", ".git"):
        (folder / name).mkdir()
    review = reviewed(folder)
    assert review.folders == ("demo_jobs", "siteB") and review.others == 0


def test_files_that_belong_to_a_job_are_no_rows(folder: Path) -> None:
    for name in ("F001.toml.bak", "F001.html", ".F001.toml.lock", "F002.ics"):
        (folder / name).write_text("x")
    assert len(rows(folder)) == 5


@pytest.mark.parametrize("kind", ["endless", "unsound"])
def test_hostile_files_leave_the_others_alone(folder: Path, kind: str) -> None:
    made = {"endless": endless, "unsound": unsound}[kind]()
    count = 0
    for count, (_, data) in enumerate(made, 1):
        (folder / f"BAD{count}.toml").write_bytes(data)
    got = rows(folder, processes=2)
    assert sum(r.trusted for r in got.values()) == 5
    bad = [r for n, r in got.items() if n.startswith("BAD")]
    assert len(bad) == count and all(r.error for r in bad)


def test_an_unchanged_folder_is_not_looked_at_again(folder: Path) -> None:
    first, second = reviewed(folder), reviewed(folder)
    assert (first.looked, second.looked) == (5, 0)
    assert second.rows == first.rows
    assert second.cache.keys == first.cache.keys and second.cache.measured


def test_a_changed_file_is_looked_at_again_even_with_its_old_time(
    folder: Path, five: tuple[Job, ...]
) -> None:
    reviewed(folder)
    path = folder / "F002.toml"
    before = path.stat()
    data = path.read_bytes().replace(b'by = "', b'by = "', 1)
    assert len(data) == before.st_size
    path.write_bytes(data.replace(b"Tess", b"Tosa").replace(b"Ivo ", b"Ovi "))
    os.utime(path, ns=(before.st_atime_ns, before.st_mtime_ns))
    again = reviewed(folder)
    assert again.looked == 1


def test_other_settings_and_a_damaged_cache_mean_a_fresh_look(folder: Path, home: Path) -> None:
    assert reviewed(folder).looked == 5
    assert reviewed(folder, settings=Settings(noise_trigger=90.0)).looked == 5
    for path in (home / "cache").rglob("*.jsonl"):
        path.write_bytes(path.read_bytes()[:-40] + b"}}")
    assert reviewed(folder).looked == 5


def test_the_lists_of_keys_are_part_of_what_is_kept(folder: Path, home: Path) -> None:
    reviewed(folder)
    (home / "config" / "wizard").mkdir(parents=True)
    (home / "config" / "wizard" / "allowed_signers").write_text("lea@example.invalid ssh-x AAAA\n")
    assert reviewed(folder).looked == 5


def test_several_processes_find_what_one_finds(folder: Path, five: tuple[Job, ...]) -> None:
    for number in range(4):
        (folder / f"X{number}.toml").write_bytes(dumps(five[0], 1))
    assert rows(folder, processes=2) == rows(folder, processes=1, fresh=True)


def test_rows_are_there_at_once_and_say_that_they_are_not_verified(folder: Path) -> None:
    (folder / "CUT.toml").write_bytes(b'format = "wizard-job"\nschema = 1')
    first = {r.file: r for r in Review(folder, NOW).begin()}
    assert len(first) == 6 and not any(r.verified for r in first.values())
    assert first["F001.toml"].job == "F001" and first["F001.toml"].machine
    assert first["CUT.toml"].state == UNREADABLE
    assert not any(r.trusted for r in first.values())


def test_a_review_that_is_left_keeps_what_it_has_seen(folder: Path) -> None:
    review = Review(folder, NOW, processes=1)
    run: Iterator[Row] = review.run()
    next(run)
    next(run)
    run.close()  # type: ignore[attr-defined]
    assert reviewed(folder).looked == 3


class Deadly(dict[str, tuple[int, str]]):
    """A memory that ends the process that looks up one job."""

    def __init__(self, uuid: str) -> None:
        super().__init__()
        self.uuid = uuid

    def __contains__(self, uuid: object) -> bool:
        if uuid == self.uuid:
            os._exit(9)
        return False

    def __reduce__(self) -> tuple[type[Deadly], tuple[str]]:
        return Deadly, (self.uuid,)


def test_a_file_that_kills_a_process_costs_its_own_row_only(
    folder: Path, five: tuple[Job, ...]
) -> None:
    lens = Lens(NOW, known=Deadly(five[2].header.uuid))
    names = [f"{job.header.id}.toml" for job in five]
    got = dict(shared(folder, names, lens, 2))
    assert set(got) == set(names)
    assert got["F003.toml"].error == "Looking at it ended the process that did."
    assert [r.job for n, r in sorted(got.items()) if n != "F003.toml"] == [
        "F001",
        "F002",
        "F004",
        "F005",
    ]


def test_copies_of_one_job_are_told_of_each_other(folder: Path) -> None:
    copy = "F001.conflict-box-20260401T080000Z.toml"
    (folder / copy).write_bytes((folder / "F001.toml").read_bytes())
    got = rows(folder)
    assert got["F001.toml"].error == f"The same job is in {copy}."
    assert got[copy].error == "The same job is in F001.toml."


def test_an_older_revision_put_back_is_found_on_the_next_look(
    folder: Path, five: tuple[Job, ...]
) -> None:
    reviewed(folder)
    job = five[1]
    cut = Job.replay(job.header, job.procedure, job.events[:-30])
    (folder / "F002.toml").write_bytes(dumps(cut, 1))
    got = rows(folder)
    assert got["F002.toml"].error.startswith("An earlier revision was put back")
    (folder / "F002.toml").write_bytes(dumps(job, 2))
    assert rows(folder)["F002.toml"].error == ""


def test_an_original_is_an_older_copy_where_the_later_one_is_elsewhere(
    folder: Path, five: tuple[Job, ...], tmp_path: Path
) -> None:
    job, away = five[1], tmp_path / "away"
    away.mkdir()
    cut = Job.replay(job.header, job.procedure, job.events[:-30])
    (folder / "F002.toml").write_bytes(dumps(cut, 1))
    (away / "F002.toml").write_bytes(dumps(job, 2))
    reviewed(away)
    for _ in range(2):
        row = rows(folder)["F002.toml"]
        (said,) = (text for rule, _, text in row.doubts if rule == "older copy")
        assert row.error == "" and f"was seen at {away}/F002.toml." in said
    with pytest.raises(Refused, match="This is an older copy"):
        Lead("Lea", "desk", procedure()).accept(folder / "F002.toml")
    (away / "F002.toml").write_bytes(dumps(cut, 3))
    assert rows(away)["F002.toml"].error.startswith("An earlier revision was put back")


def test_the_memory_is_not_in_the_folder_and_survives_what_it_cannot_read(folder: Path) -> None:
    reviewed(folder)
    assert all(path.name.startswith("F00") for path in folder.iterdir())
    path = state_home() / FILE
    assert len(LastSeen.load().sights) == 5
    path.write_text("[1, 2")
    assert LastSeen.load().sights == {}


def test_a_job_that_has_gone_is_missed_until_told(folder: Path) -> None:
    reviewed(folder)
    (folder / "F004.toml").unlink()
    gone = reviewed(folder)
    assert gone.missing == ["F004.toml"]
    gone.seen.forget(str(folder.resolve()), "F004.toml")
    assert gone.missing == []


def test_doubts_come_with_the_row(folder: Path, five: tuple[Job, ...]) -> None:
    (folder / "F005.toml").write_bytes(dumps(hasty(five[4]), 1))
    got = rows(folder)["F005.toml"]
    assert {rule for rule, _, _ in got.doubts} >= {"too fast"} and got.doubtful > len(got.doubts)


def test_a_cache_of_another_folder_is_not_taken(folder: Path, tmp_path: Path) -> None:
    reviewed(folder)
    assert Cache.load(tmp_path, "any").rows == {}
