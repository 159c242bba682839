"""An apprentice's training record among the jobs: apart, on one page, harmless."""

from __future__ import annotations

import csv
import io
import json
import os
from collections.abc import Callable
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from tests.store.hostile import NASTY
from wizard.cli import main
from wizard.errors import RecordDamaged
from wizard.job import Job
from wizard.practice.acts import Act, act
from wizard.practice.record import (
    Lesson,
    TrainingRecord,
    dumped,
    new_record,
    summary,
    with_lesson,
    with_run,
)
from wizard.practice.run import Run
from wizard.record import dumps
from wizard.review import cache, training
from wizard.review.folder import Review
from wizard.review.row import TRAINING, UNREADABLE, Row
from wizard.review.table import BY_NAME, chosen

AT = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)
NAME = "ada-prentice-0a1b2c3d.toml"


def trained(learner: str = "Ada Prentice") -> TrainingRecord:
    """One run in a hurry and one lesson."""
    record = new_record(learner, date(2026, 3, 1))
    record = with_run(record, act(Run.new("first_day", 3), Act("finish")), AT)
    return with_lesson(record, Lesson(at=AT.replace(day=9), item="relief.set", right=True))


GOOD = dumped(trained())


def review(folder: Path) -> Review:
    """The folder looked at to the end."""
    made = Review(folder, datetime(2026, 12, 1, 9, 0, tzinfo=UTC))
    for _ in made.run():
        pass
    return made


def put(folder: Path, text: str | bytes, name: str = NAME) -> Path:
    path = folder / name
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return path


def run(capsys: pytest.CaptureFixture[str], *words: object) -> tuple[int, str, str]:
    status = main(["review", *map(str, words)])
    return (status, *capsys.readouterr())


def test_it_is_listed_last_names_no_machine_and_leaves_the_status_alone(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before, _, _ = run(capsys, folder, "--plain")
    put(folder, GOOD, "A-first-by-name.toml")
    status, out, _ = run(capsys, folder, "--plain")
    *_, listed, told = out.splitlines()
    assert status == before
    assert listed.split() == [
        "A-first-by-name…",
        "Ada",
        "Prentice",
        "2026-03-09",
        *TRAINING.split(),
    ]
    assert told.startswith("  training record, not a machine: 1 practice run, 1 lesson; next: ")


def test_it_comes_after_practice_runs_in_every_order() -> None:
    rows = [training.row(GOOD.encode(), NAME), Row("Z.toml", "Z", "finished", practice=True)]
    for by in BY_NAME:
        assert [r.file for r in chosen(rows, by=by)] == ["Z.toml", NAME]
    assert [r.file for r in chosen(rows, "training")] == [NAME]
    assert chosen(rows, "attention") == chosen(rows, "held") == chosen(rows, "finished") == []


def test_data_marks_it_as_practice(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    put(folder, GOOD)
    _, out, _ = run(capsys, folder, "--json")
    *others, got = json.loads(out)["jobs"]
    assert got["state"] == TRAINING and got["practice"] is True and got["file"] == NAME
    assert got["training"].startswith("1 practice run, 1 lesson; next: ")
    assert got["technician"] == "Ada Prentice" and got["day"] == "2026-03-09"
    assert got["job"] is got["machine"] is got["uuid"] is got["error"] is None
    assert len(others) == 5 and not any(o["practice"] or o["training"] for o in others)
    _, out, _ = run(capsys, folder, "--csv")
    row = list(csv.DictReader(io.StringIO(out)))[-1]
    assert (row["state"], row["practice"], row["machine"]) == (TRAINING, "yes", "")


def test_by_itself_it_is_read_on_one_page(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = put(folder, GOOD)
    status, out, _ = run(capsys, path)
    assert status == 0 and out.splitlines() == list(summary(trained()))
    status, out, _ = run(capsys, path, "--json")
    got = json.loads(out)
    assert status == 0 and got["practice"] is True
    assert got["inspection"] == {"Training record": list(summary(trained()))}


@pytest.mark.parametrize("change", [lambda t: t.replace("\n", "\r\n"), lambda t: "\ufeff" + t])
def test_an_editor_that_changes_line_ends_or_marks_does_no_harm(
    change: Callable[[str], str],
) -> None:
    data = change(GOOD).encode()
    assert training.is_training(data)
    assert training.lines(data, NAME) == summary(trained())


def test_no_job_is_taken_for_one(folder: Path, five: tuple[Job, ...]) -> None:
    data = dumps(five[0], 1)
    first = GOOD.encode().splitlines(keepends=True)[:2]
    assert not training.is_training(data)
    assert not training.is_training(data.splitlines(keepends=True)[0] + b"".join(first) + data)
    put(folder, b"".join(first) + data)
    row = review(folder).rows[NAME]
    assert row.state == UNREADABLE and row.practice and "training record" in row.error


BAD: dict[str, tuple[str | bytes, str]] = {
    "cut": (GOOD[: len(GOOD) // 2], "training record is damaged"),
    "newer": (GOOD.replace("version = 1", "version = 7"), "newer version (7)"),
    "total": (GOOD.replace("total = ", "total = 9"), "damaged at runs.0.total"),
    "skills": (GOOD.replace('skill = "', 'skill = "x'), "no known skill"),
    "bar": (GOOD.replace("won = 1.0, had = 1.0", "won = 99.0, had = 1e-300"), "more were taken"),
    "bytes": (GOOD.encode().replace(b"Ada", b"\xe4da"), "not UTF-8"),
    "nested": (GOOD + "x = " + "[" * 100_000, "nested too deep"),
    "dotted": (GOOD + "a." * 50_000 + "b = 1\n", "more than 16 parts"),
    "key": (GOOD + '"\\u001b]0;t\\u0007\\u202e" = 1\n', "Extra inputs"),
    "huge": (GOOD + "#" * 5_000_000, "larger than 4000000 bytes"),
}


@pytest.mark.parametrize("name", BAD)
def test_a_damaged_newer_or_hostile_one_is_unreadable_with_one_sentence(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text, said = BAD[name]
    path = put(tmp_path, text)
    row = review(tmp_path).rows[NAME]
    assert row.state == UNREADABLE and said.casefold() in row.error.casefold()
    assert row.error.endswith(".") and row.error.isprintable() and len(row.error) < 300
    assert row.practice is (name != "huge"), "what is too large to be read is not looked into"
    status, out, err = run(capsys, path, "--json")
    assert (status, out) == (3, "") and said in err and err.strip().isprintable()


def test_hostile_text_is_shown_and_does_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for number, text in enumerate(NASTY):
        escaped = "".join(f"\\U{ord(c):08x}" for c in f"A{text}"[:60])
        given = GOOD.replace("Ada Prentice", escaped).replace('"first_day"', f'"{escaped}"')
        path = put(tmp_path, given.replace("handed over", escaped), f"N{number}.toml")
        for words in ([path], [path, "--json"]):
            status, out, _ = run(capsys, *words)
            assert status == 0 and out.replace("\n", "").isprintable()
    for form in ("--plain", "--json", "--jsonl", "--csv"):
        status, out, _ = run(capsys, tmp_path, form)
        assert status == 0 and out.replace("\n", "").replace("\r", "").isprintable()
    assert all(row.is_training for row in review(tmp_path).rows.values())


def test_it_is_known_at_once_and_not_read_twice(folder: Path) -> None:
    put(folder, GOOD)
    at_once = {r.file: r for r in Review(folder, AT).begin()}[NAME]
    assert at_once.is_training and at_once.practice and not at_once.verified
    first, second = review(folder), review(folder)
    assert (first.looked, second.looked) == (6, 0)
    assert second.rows[NAME] == first.rows[NAME] and second.rows[NAME].is_training


def test_a_job_that_a_training_record_took_the_place_of_is_missed(folder: Path) -> None:
    review(folder)
    put(folder, GOOD, "F003.toml")
    assert review(folder).missing == ["F003.toml"]


def test_another_advice_of_the_practice_means_a_fresh_look(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "practice").mkdir()
    (tmp_path / "practice" / "faults.toml").write_text("")
    monkeypatch.setattr(cache, "PACKAGE", tmp_path)
    before = cache.rules.__wrapped__()
    os.utime(tmp_path / "practice" / "faults.toml", ns=(1, 1))
    assert cache.rules.__wrapped__() != before


def test_a_record_with_nothing_in_it_is_read(tmp_path: Path) -> None:
    data = dumped(new_record("Bo", date(2026, 3, 1))).encode()
    row = training.row(data, NAME)
    assert row.practised == "0 practice runs, 0 lessons; next: first_day"
    assert row.day == "2026-03-01"
    with pytest.raises(RecordDamaged):
        training.row(data.replace(b'"Bo"', b"7"), NAME)
