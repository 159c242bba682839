"""Rows in order, chosen, compared, and as data for scripts."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from tests.demo.fleet import copied_from
from wizard.cli import main
from wizard.commands.review import row_json
from wizard.commands.rows import table_lines
from wizard.csv_file import Cell, csv_text
from wizard.job import Job
from wizard.record import dumps
from wizard.render import Units
from wizard.review.compare import Comparison, compare, lines
from wizard.review.metrics import measured_keys, prints, split
from wizard.review.row import Row
from wizard.review.table import BY_NAME, FILTERS, chosen, doubts_of

AT = "2026-03-02"
CONTRACT = {"file", "job", "state", "holds", "open", "failures", "advisories", "error"}


def made(file: str, **fields: Any) -> Row:
    values = {"job": file.removesuffix(".toml"), "state": "finished", "uuid": file, **fields}
    return Row(file, **values)


ROWS = [
    made("A.toml", machine="Mill 5 hp", technician="Tess", day="2026-03-02"),
    made("B.toml", state="held", holds=("hose.working_pressure",), technician="Noor"),
    Row("C.toml", error="The file was cut."),
    made("D.toml", error="Changed outside the tool: event 7 was altered.", day="2026-03-05"),
    made("E.toml", doubtful=2, day="2026-03-04"),
    made("F.toml", decision="accepted"),
    made("G.toml", practice=True, holds=("lock.on",)),
    made("H.toml", state="in progress", open_bits=7),
]


def files(**options: Any) -> str:
    return "".join(r.file[0] for r in chosen(ROWS, **options))


def test_what_needs_a_lead_comes_first_and_practice_last() -> None:
    assert files() == "DBCEHAFG"


def test_a_job_just_begun_comes_after_one_with_failures() -> None:
    rows = [
        made("A.toml", state="in progress", open_bits=(1 << 500) - 1),
        made("B.toml", state="in progress", open_bits=3),
        made("C.toml", state="in progress", failures=("running.current",)),
    ]
    assert [row.job for row in chosen(rows)] == ["C", "B", "A"]


def test_rows_are_put_in_the_order_asked_for() -> None:
    assert files(by="day")[:3] == "DEA"
    assert files(by="open")[0] == "H"
    assert files(by="technician")[:2] == "BA"
    for name in BY_NAME:
        assert len(files(by=name)) == len(ROWS)


def test_filters_and_search_keep_what_they_name() -> None:
    assert files(only="held") == "BG" and files(only="damaged") == "DC"
    assert files(only="doubts") == "E" and files(only="accepted") == "F"
    assert files(only="finished") == "EA" and files(only="practice") == "G"
    assert files(only="attention") == "DBCEG"
    assert files(word="mill") == "A" and files(word="NOOR") == "B" and files(word="event 7") == "D"
    assert all(files(only=name, word="zzz") == "" for name in FILTERS)


def test_a_spreadsheet_gets_no_formula_and_numbers_stay_numbers() -> None:
    cells: list[Cell] = ["=1+1", "@SUM(A1)", "+49 30", "-5.2 bar", "\tx", "two\nlines", -5.2, None]
    (row,) = list(csv.reader(io.StringIO(csv_text(["a"] * 8, [cells]))))[1:]
    assert row[:6] == ["'=1+1", "'@SUM(A1)", "'+49 30", "'-5.2 bar", "'\tx", "two lines"]
    assert row[6:] == ["-5.2", ""]


def test_the_odd_machine_among_the_same_stands_out() -> None:
    rows = [
        made(f"J{n}.toml", machine="Mill 5 hp", metrics={"leak rate": value})
        for n, value in enumerate((0.010, 0.011, 0.012, 0.011, 0.010, 0.045))
    ]
    against = compare(rows, ())
    assert against.outliers == {"J5.toml": ("leak rate",)}
    assert doubts_of(rows[5], against) == ["Its leak rate stands out among the same machines."]
    drawn = "\n".join(lines(rows, rows[5], "model", Units("us"), ascii_only=True))
    assert "6 jobs of the same model" in drawn and "OUTLIER" in drawn and "X 4.5 %" in drawn


def test_practice_and_unreadable_files_are_not_compared() -> None:
    rows = [made(f"J{n}.toml", machine="M", metrics={"leak rate": 0.01 * n}) for n in range(6)]
    odd = made("P.toml", machine="M", metrics={"leak rate": 9.0}, practice=True)
    assert compare([*rows, odd, Row("X.toml")], ()).outliers == {}


def test_readings_taken_from_another_machine_are_named(five: tuple[Job, ...]) -> None:
    import random

    copy = copied_from(five[2], 9, random.Random(1))
    measured = measured_keys(copy.procedure)
    rows = [
        made(f"{j.header.id}.toml", technician=j.events[0].by, prints=prints(j, measured))
        for j in (*five, copy)
    ]
    found = compare(rows, measured).copied
    assert set(found) == {"F003.toml", "F009.toml"}
    assert found["F009.toml"][0].same == found["F009.toml"][0].shared > 40
    assert dict(split(rows[0].prints, measured)).keys() <= set(measured)


# -- the command ----------------------------------------------------------------------


def run(capsys: pytest.CaptureFixture[str], *words: object) -> tuple[int, str]:
    status = main(["review", *map(str, words)])
    return status, capsys.readouterr().out


def test_json_has_the_keys_that_scripts_rely_on(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (folder / "CUT.toml").write_bytes(b"nothing")
    status, out = run(capsys, folder, "--json")
    jobs = {job["file"]: job for job in json.loads(out)["jobs"]}
    assert status == 3 and len(jobs) == 6
    assert all(job.keys() >= CONTRACT for job in jobs.values())
    assert jobs["CUT.toml"]["state"] == "unreadable" and jobs["CUT.toml"]["job"] is None
    assert jobs["CUT.toml"]["error"].endswith(".")
    one = jobs["F001.toml"]
    assert one["error"] is None and one["holds"] == one["open"] == one["failures"] == []


def test_other_files_are_one_line_and_no_reason_for_a_bad_status(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before, _ = run(capsys, folder, "--plain")
    for name in ("notes.txt", "handover.html", "allowed_signers"):
        (folder / name).write_text("x")
    status, out = run(capsys, folder, "--plain")
    assert status == before and out.count("other file") == 1 and "3 other files" in out
    assert "unreadable" not in out


def test_open_items_are_the_same_from_the_cache(
    folder: Path, five: tuple[Job, ...], capsys: pytest.CaptureFixture[str]
) -> None:
    job = five[0]
    cut = Job.replay(job.header, job.procedure, job.events[:-20])
    (folder / "F001.toml").write_bytes(dumps(cut, 1))
    first, again = run(capsys, folder, "--json"), run(capsys, folder, "--json")
    assert first == again
    (got,) = (j for j in json.loads(again[1])["jobs"] if j["file"] == "F001.toml")
    assert got["open"] == [item.key for item in cut.open_items()] != []


def test_one_json_value_a_line_carries_the_readings(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    _, out = run(capsys, folder, "--jsonl")
    entries = [json.loads(line) for line in out.splitlines()]
    assert len(entries) == 5
    assert all(e.keys() >= CONTRACT and len(e["readings"]) > 30 for e in entries)


def test_csv_and_plain_name_every_file(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (folder / "=cmd.toml").write_bytes(b"nothing")
    _, out = run(capsys, folder, "--csv")
    table = list(csv.DictReader(io.StringIO(out)))
    assert len(table) == 6 and {"'=cmd.toml", "F001.toml"} <= {row["file"] for row in table}
    jobs = [row for row in table if row["job"]]
    assert all(0 < float(row["leak_rate_percent"]) < 10 for row in jobs)
    assert all(60 < float(row["discharge_temperature_C"]) < 220 for row in jobs)
    assert all(len(row["discharge_temperature_C"].partition(".")[2]) < 2 for row in jobs)
    _, plain = run(capsys, folder, "--plain", "--compare", "model")
    assert "F003" in plain and "5 jobs of the same model" in plain and "pump-up ratio" in plain


def test_rows_can_be_chosen_and_a_folder_that_is_not_there_is_one_sentence(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    _, out = run(capsys, folder, "--json", "--only", "held")
    assert json.loads(out)["jobs"] == []
    _, out = run(capsys, folder, "--json", "--search", "f002")
    assert [j["job"] for j in json.loads(out)["jobs"]] == ["F002"]
    assert main(["review", str(folder / "absent")]) == 3
    assert "cannot be opened" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("option", "other", "accepted"), [("--only", "--sort", FILTERS), ("--sort", "--only", BY_NAME)]
)
def test_a_wrong_choice_names_its_option_alone_and_help_says_what_is_taken(
    capsys: pytest.CaptureFixture[str], option: str, other: str, accepted: Mapping[str, object]
) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["review", ".", option, "foo"])
    said = capsys.readouterr().err.splitlines()[-1]
    assert ended.value.code == 64 and option in said and "foo" in said and other not in said
    assert all(name in said for name in accepted)
    with pytest.raises(SystemExit):
        main(["review", "--help"])
    shown = " ".join(capsys.readouterr().out.split())
    assert f": {', '.join(accepted)}" in shown


def test_folders_in_the_folder_are_counted_and_named_for_a_look_of_their_own(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for name in ("siteB", "demo jobs"):
        (folder / name).mkdir()
    _, out = run(capsys, folder, "--plain")
    assert "2 folders not looked into\n" in out
    assert f"  wizard review {folder}/siteB\n" in out
    assert f"  wizard review '{folder}/demo jobs'\n" in out
    _, out = run(capsys, folder, "--json")
    assert json.loads(out)["folders"] == ["demo jobs", "siteB"]


@pytest.mark.parametrize("width", [60, 80, 100])
def test_on_a_terminal_no_row_is_wider_and_nothing_is_left_out(width: int) -> None:
    rows = [
        made("A.toml", state="in progress", decision="returned", machine="Mill 5 hp", day=AT,
             site="A hall with a long name, 12 Very Long Road", technician="Noor Example"),
        made("B.toml", state="held", holds=("hose.working_pressure",), machine="Press", day=AT),
        Row("DEMO-15HP copy (1).toml", error="The file was cut."),
    ]  # fmt: skip
    for row in table_lines(rows, Comparison(), width):
        assert len(row) < width or row.startswith("  "), row
    out = "\n".join(table_lines(rows, Comparison(), width))
    for told in ("Mill 5 hp", "12 Very Long Road", "Noor Example", "copy (1).toml", "in progr", AT):
        assert told in out
    assert "The file was cut." in out and "H holds" in out


def test_a_pipe_gets_every_column_on_the_line_of_the_row() -> None:
    row = made("A.toml", machine="Mill 5 hp", site="Milltown", technician="Noor", day=AT)
    for lines_ in (table_lines([row], Comparison()), table_lines([row], Comparison(), 200)):
        head, only = lines_
        assert head.split() == ["Job", "Machine", "Place", "Technician", "Date", "State", "Holds",
                                "Failures", "Advisories", "Open", "Doubts"]  # fmt: skip
        assert only.split() == [
            "A",
            "Mill",
            "5",
            "hp",
            "Milltown",
            "Noor",
            AT,
            "finished",
            *"00000",
        ]


def test_one_job_is_inspected(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    status, out = run(capsys, folder / "F001.toml")
    assert status in (0, 1) and "Seal, history and entries agree" in out
    _, out = run(capsys, folder / "F001.toml", "--json")
    assert json.loads(out)["inspection"]["Doubts"] == ["nothing"]


def test_a_setting_given_shows_what_it_changes(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    _, out = run(capsys, folder, "--json", "--setting", "nrr_derating=full")
    assert all(j["differences"] > 0 for j in json.loads(out)["jobs"])
    assert main(["review", str(folder), "--setting", "nrr_derating=none"]) == 3
    assert "accepted half, full" in capsys.readouterr().err
    for typed in ("90", "90.0", "90,0"):
        _, out = run(capsys, folder / "F001.toml", "--json", "--setting", f"noise_trigger={typed}")
        assert json.loads(out)
    assert main(["review", str(folder), "--setting", "noise_trigger=91"]) == 3
    assert "given 91, accepted 85, 90." in capsys.readouterr().err


def test_every_row_has_its_json_form() -> None:
    for row in ROWS:
        assert json.dumps(row_json(row, ["a", "b", "c"], Comparison()))
