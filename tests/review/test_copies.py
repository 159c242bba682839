"""Two copies of one job that have grown apart: said in both, with the event and both files."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from tests.review.test_folder import NOW, reviewed, rows
from wizard import actions
from wizard.actions import Hand
from wizard.errors import Refused
from wizard.job import Job
from wizard.procedure import procedure
from wizard.record import dumps
from wizard.review.case import Case
from wizard.review.folder import Review
from wizard.review.lead import Lead

COPY = "F001.conflict-box-20260401T080000Z.toml"
TO_DO = "Find out which one is true, enter there what only the other has, and put the other away."


def shorter(job: Job, events: int = 30) -> Job:
    return Job.replay(job.header, job.procedure, job.events[:-events])


def otherwise(job: Job, events: int = 30, notes: int = 1) -> Job:
    """The job gone on in another way from so many events before its end."""
    made = shorter(job, events)
    for number in range(notes):
        hand = Hand("Tess Example", made.events[-1].at + timedelta(minutes=1))
        made = actions.note(made, "", f"went on elsewhere {number}", hand)
    return made


def parted(job: Job, events: int = 30) -> int:
    """The event from which on such a job is another."""
    return job.events[-events].seq


def two_copies(job: Job, one: object, other: object) -> str:
    first, second = sorted((str(one), str(other)))
    return (
        f"Two copies of this job exist that differ from event {parted(job)} on: {first} and "
        f"{second}. {TO_DO}"
    )


@pytest.mark.parametrize("seen_before", [False, True])
@pytest.mark.parametrize("notes", [1, 60])
def test_copies_in_one_folder_that_differ_are_told_in_both_rows(
    folder: Path, five: tuple[Job, ...], seen_before: bool, notes: int
) -> None:
    if seen_before:
        reviewed(folder)
    (folder / COPY).write_bytes(dumps(otherwise(five[0], notes=notes), 2))
    said = two_copies(five[0], "F001.toml", COPY)
    for _ in range(2):
        got = rows(folder)
        assert got["F001.toml"].error == got[COPY].error == said
        assert not got["F001.toml"].trusted and not got[COPY].trusted
        assert got["F002.toml"].error == ""


@pytest.mark.parametrize("name", [COPY, "F001 (1).toml"])
def test_no_copy_is_accepted_while_one_that_differs_lies_beside_it(
    folder: Path, five: tuple[Job, ...], name: str
) -> None:
    (folder / name).write_bytes(dumps(otherwise(five[0]), 2))
    said = two_copies(five[0], "F001.toml", name)
    before = (folder / "F001.toml").read_bytes()
    with pytest.raises(Refused) as caught:
        Lead("Lea", "desk", procedure()).accept(folder / "F001.toml")
    assert str(caught.value) == f"The job cannot be accepted. {said}"
    assert (folder / "F001.toml").read_bytes() == before
    case = Case(folder / "F001.toml", procedure(), reviewed(folder).lens)
    assert not case.look.usable and said in case.read_only
    case.close()
    (folder / name).unlink()
    Lead("Lea", "desk", procedure()).accept(folder / "F001.toml")


def test_of_two_copies_of_which_one_goes_on_only_that_one_is_accepted(
    folder: Path, five: tuple[Job, ...]
) -> None:
    job, longer = five[0], folder / "F001.toml"
    (folder / "F001 (1).toml").write_bytes(longer.read_bytes())
    longer.write_bytes(dumps(shorter(job), 2))
    with pytest.raises(Refused, match=r"in F001 \(1\)\.toml, which goes on from here to event"):
        Lead("Lea", "desk", procedure()).accept(longer)
    longer.write_bytes((folder / "F001 (1).toml").read_bytes())
    (folder / "F001 (1).toml").write_bytes(dumps(shorter(job), 2))
    assert Lead("Lea", "desk", procedure()).accept(longer).events[-1].data["decision"] == "accepted"


def test_of_copies_of_which_one_goes_on_the_older_is_named(
    folder: Path, five: tuple[Job, ...]
) -> None:
    job = five[0]
    (folder / COPY).write_bytes(dumps(shorter(job), 2))
    got = rows(folder)
    last = job.events[-1].seq
    goes_on = f"The same job is in F001.toml, which goes on from here to event {last}."
    assert got[COPY].error == goes_on
    older = f"The same job is in {COPY}, an older copy up to event {shorter(job).events[-1].seq}."
    assert got["F001.toml"].error == older


def away_of(tmp_path: Path) -> Path:
    away = tmp_path / "away"
    away.mkdir(exist_ok=True)
    return away


@pytest.mark.parametrize("notes", [1, 60])
def test_a_copy_that_differs_from_one_seen_in_another_folder_names_both(
    folder: Path, five: tuple[Job, ...], tmp_path: Path, notes: int
) -> None:
    away = away_of(tmp_path)
    reviewed(folder)
    (away / "F001.toml").write_bytes(dumps(otherwise(five[0], notes=notes), 2))
    row = rows(away)["F001.toml"]
    assert row.error == two_copies(five[0], folder / "F001.toml", away / "F001.toml")
    assert not any(rule == "older copy" for rule, _, _ in row.doubts)
    with pytest.raises(Refused, match=f"differ from event {parted(five[0])} on"):
        Lead("Lea", "desk", procedure()).accept(away / "F001.toml")
    assert rows(folder)["F001.toml"].error == ""


def test_a_copy_that_differs_is_told_by_memory_where_the_one_seen_has_gone(
    folder: Path, five: tuple[Job, ...], tmp_path: Path
) -> None:
    away, job = away_of(tmp_path), five[0]
    reviewed(folder)
    (away / "F001.toml").write_bytes(dumps(otherwise(job, notes=60), 2))
    assert "exist that differ from event" in rows(away)["F001.toml"].error
    (folder / "F001.toml").unlink()
    error = rows(away)["F001.toml"].error
    assert f"differ at event {job.events[-1].seq} or before" in error
    assert f"seen at {folder}/F001.toml, which is not there now" in error and error.endswith(TO_DO)


def test_a_copy_that_was_put_right_is_looked_at_again(
    folder: Path, five: tuple[Job, ...], tmp_path: Path
) -> None:
    away = away_of(tmp_path)
    reviewed(folder)
    (away / "F001.toml").write_bytes(dumps(otherwise(five[0]), 2))
    assert rows(away)["F001.toml"].error
    (away / "F001.toml").write_bytes(dumps(five[0], 3))
    assert rows(away)["F001.toml"].error == ""


def test_what_is_no_copy_of_the_job_any_more_is_not_held_against_it(
    folder: Path, five: tuple[Job, ...], tmp_path: Path
) -> None:
    away = away_of(tmp_path)
    reviewed(folder)
    (away / "F001.toml").write_bytes(dumps(otherwise(five[0], notes=60), 2))
    (folder / "F001.toml").write_bytes(b"\0" * 400)
    assert "which is not there now" in rows(away)["F001.toml"].error


def test_many_copies_are_named_without_reading_each(folder: Path, five: tuple[Job, ...]) -> None:
    data = dumps(five[0], 1)
    for second in range(13):
        (folder / f"F001.conflict-box-20260401T0800{second:02}Z.toml").write_bytes(data)
    review = Review(folder, NOW, processes=1)
    for _ in review.run():
        pass
    assert review.rows["F001.toml"].error.count("The same job is in") == 13
